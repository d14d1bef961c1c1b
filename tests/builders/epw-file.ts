/** What happens in one hour of an invented year; `hour` is the hour of the day in which it begins, 0 to 23. */
export interface EpwHour {
  readonly month: number;
  readonly dayOfMonth: number;
  readonly hour: number;
}

export interface EpwChoices {
  readonly rainMm?: (at: EpwHour) => number;
  readonly windMps?: (at: EpwHour) => number;
  readonly tempC?: (at: EpwHour) => number;
}

const DAYS_IN_MONTH = [31, 28, 31, 30, 31, 30, 31, 31, 30, 31, 30, 31];

/**
 * The text of an EPW file of one invented year of 365 days: eight header lines, then 35 fields an hour, in the order of the EPW data
 * dictionary of the EnergyPlus documentation. Fields that nobody reads here carry the values that mean "missing" there.
 */
export function epwText({ rainMm = () => 0, windMps = () => 2, tempC = () => 15 }: EpwChoices): string {
  const lines = [
    'LOCATION,Gull Point (invented),-,CAN,Invented,000000,45.9,-64.3,-4.0,12.0',
    'DESIGN CONDITIONS,0',
    'TYPICAL/EXTREME PERIODS,0',
    'GROUND TEMPERATURES,0',
    'HOLIDAYS/DAYLIGHT SAVINGS,No,0,0,0',
    'COMMENTS 1,Invented',
    'COMMENTS 2,Invented',
    'DATA PERIODS,1,1,Data,Sunday, 1/ 1,12/31',
  ];
  for (const [index, days] of DAYS_IN_MONTH.entries()) {
    for (let dayOfMonth = 1; dayOfMonth <= days; dayOfMonth += 1) {
      for (let hour = 0; hour < 24; hour += 1) {
        const at = { month: index + 1, dayOfMonth, hour };
        const fields = [2023, at.month, dayOfMonth, hour + 1, 0, '?9?9?9?9E0', tempC(at), 5, 60, 101_300];
        fields.push(9999, 9999, 9999, 9999, 9999, 9999, 999_999, 999_999, 999_999, 9999, 180, windMps(at));
        fields.push(99, 99, 9999, 99_999, 9, 999_999_999, 999, 0.999, 999, 99, 999, rainMm(at), 99);
        lines.push(fields.join(','));
      }
    }
  }
  return `${lines.join('\n')}\n`;
}
