import { DryspellError } from '../../../kernel/src/index.ts';
import type { CalibrateOptions, GeneratorMonth } from './generator-parameters.ts';

const SHARES = ['wetDayShare', 'wetAfterWet', 'windyDayShare'] as const;
const AMOUNTS = [
  'rainMmPerMonth',
  'meanWindMps',
  'dailyTempRangeC',
  'dewPointOffsetWetC',
  'dewPointOffsetDryC',
  'meanWetHours',
] as const;
const BELOW_ONE = [
  'wetDayCorrelation',
  'windAutocorrelation',
  'windDailySwing',
  'tempAutocorrelation',
] as const;

/** Throws `invalid-input`, with month and name, for figures or options that are impossible by themselves. */
export function checkFigures(
  months: readonly GeneratorMonth[],
  { limits, assumptions }: CalibrateOptions,
): void {
  const need = (holds: boolean, field: string, value: unknown, expected: string): void => {
    if (!holds) throw new DryspellError('invalid-input', { field, value, expected });
  };
  need(months.length === 12, 'months', months.length, 'twelve months');
  months.forEach((figures, index) => {
    for (const name of SHARES) {
      const value = figures[name];
      need(
        value === null || (value >= 0 && value <= 1),
        `${index + 1}.${name}`,
        value,
        'a share from 0 to 1',
      );
    }
    for (const name of AMOUNTS) {
      const value = figures[name] ?? 1;
      need(value >= 0 && value < Number.POSITIVE_INFINITY, `${index + 1}.${name}`, value, '0 or more');
    }
    const { meanWetHours, meanWindMps } = figures;
    const hours = meanWetHours ?? 1;
    need(hours >= 1 && hours <= 24, `${index + 1}.meanWetHours`, hours, '1 to 24 hours');
    need(meanWindMps !== 0, `${index + 1}.meanWindMps`, meanWindMps, 'above 0');
  });
  for (const name of ['rainMmPerHour', 'gustMps', 'gustFactor'] as const)
    need(limits[name] > 0, name, limits[name], 'above 0');
  const { workFromHour, workToHour } = limits;
  need(
    workFromHour >= 0 && workToHour <= 24 && workFromHour < workToHour,
    'workFromHour',
    workFromHour,
    'working hours within the day',
  );
  for (const name of BELOW_ONE) {
    const value = assumptions?.[name] ?? 0;
    need(value >= 0 && value < 1, name, value, 'from 0 to below 1');
  }
}
