import type { Finding } from './finding.ts';

/** Whether forecasts are fetched, and from where; without a service they are not, which is no fault. */
export function checkForecasts(environment: Readonly<Record<string, string | undefined>>): Finding {
  const subject = 'forecasts';
  const urls = ['DRYSPELL_FORECAST_MET_URL', 'DRYSPELL_FORECAST_ENSEMBLE_URL'].flatMap((name) => {
    const url = environment[name];
    return url ? [{ name, url }] : [];
  });
  if (urls.length === 0) {
    return {
      subject,
      ok: true,
      said: 'none are fetched; set DRYSPELL_FORECAST_MET_URL or DRYSPELL_FORECAST_ENSEMBLE_URL, and DRYSPELL_FORECAST_CONTACT',
    };
  }
  const odd = urls.find(({ url }) => !URL.canParse(url));
  if (odd) return { subject, ok: false, said: `${odd.name} is no address; write it with https://` };
  if (!environment['DRYSPELL_FORECAST_CONTACT']) {
    const said =
      'DRYSPELL_FORECAST_CONTACT is missing: a mail or web address at which the services can reach you';
    return { subject, ok: false, said };
  }
  const hosts = urls.map(({ url }) => new URL(url).host).join(' and ');
  return {
    subject,
    ok: true,
    said: `fetched from ${hosts} for sites with a visit near; "weather status" shows how it goes`,
  };
}
