import { describe, expect, it } from '@jest/globals';
import { hourText, readMetNorwayForecast } from '../../../libs/weather/src/index.ts';
import { dataFileText } from '../../builders/data-folder.ts';

/** Answers of MET Norway's Locationforecast 2.0 of July 2020 (CC BY 4.0), where the folder of open data is present. */
describe('recorded answers of the Norwegian service, where present', () => {
  it.each([
    ['metno_locationforecast_lat40.7lon-74.0altitude10_compact.json', 26.5, 3.8],
    ['metno_locationforecast_lat51.5lon-0.1altitude25_complete.json', 18.8, 2.3],
  ])('%s has as many hours as it gives by the hour', (name, tempC, windMps) => {
    const text = dataFileText('weather', name);
    if (text === null) return;
    const { data } = JSON.parse(text) as { data: { properties: { timeseries: { data: object }[] } } };
    const result = readMetNorwayForecast(data);
    if (!result.ok) throw new Error(result.problem.words);
    const { forecast, warnings } = result.value;
    const [hours] = forecast.members;
    if (!hours) throw new Error('one member');
    const hourly = data.properties.timeseries.filter((step) => 'next_1_hours' in step.data);
    expect(hours.hourIndex).toHaveLength(hourly.length);
    expect(hourText(hours.hourIndex[0] as number)).toBe('2020-07-20 11:00');
    expect(hours.tempC[0]).toBeCloseTo(tempC, 4);
    expect(hours.windMps[0]).toBeGreaterThanOrEqual(Math.fround(windMps));
    expect(forecast.issuedAt).toBe('2020-07-20T01:30:57.000Z');
    expect(warnings.map(({ code }) => code)).toEqual(['gust-missing']);
  });
});
