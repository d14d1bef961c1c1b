import { describe, expect, it } from '@jest/globals';
import { checkForecasts } from './check-forecasts.ts';

describe('the doctor on forecasts', () => {
  const met = { DRYSPELL_FORECAST_MET_URL: 'https://met.example.org/complete' };
  const contact = { DRYSPELL_FORECAST_CONTACT: 'office@example.org' };

  it('says whether and from where they are fetched, and what is missing', () => {
    expect(checkForecasts({})).toMatchObject({
      ok: true,
      said: expect.stringMatching(/^none are fetched; set/),
    });
    expect(checkForecasts(met)).toMatchObject({
      ok: false,
      said: expect.stringMatching(/CONTACT is missing/),
    });
    expect(checkForecasts({ ...contact, DRYSPELL_FORECAST_MET_URL: 'met' })).toMatchObject({ ok: false });
    const both = {
      ...met,
      ...contact,
      DRYSPELL_FORECAST_ENSEMBLE_URL: 'https://e.example.org/v1?apikey=secret',
    };
    expect(checkForecasts(both).said).toMatch(/^fetched from met\.example\.org and e\.example\.org /);
    expect(checkForecasts(both).said).not.toContain('secret');
  });
});
