import type { Fault, SeasonFile } from '../../../contracts/src/index.ts';
import { numbered } from '../tables.ts';
import { fault } from './fault.ts';

/** The chance of wet after wet must be possible with the share of wet days: at least (2 share - 1) / share. */
export function checkWeatherMonths(file: SeasonFile): Fault[] {
  return numbered(file, 'weatherMonths').flatMap(({ row, number }) => {
    if (row.wetDayShare === 0 || row.wetDayShare === 1) return [];
    const least = 2 - 1 / row.wetDayShare;
    if (row.wetAfterWet >= least - 1e-12) return [];
    const message = `In month ${row.month} of ${row.area} ${row.wetDayShare} of the days are wet; then at least ${least.toFixed(3)} of the days after a wet one are, not ${row.wetAfterWet}.`;
    return [
      fault(
        { table: 'weatherMonths', row: number, column: 'wetAfterWet', value: row.wetAfterWet },
        'bad-value',
        message,
        `at least ${least.toFixed(3)}`,
      ),
    ];
  });
}
