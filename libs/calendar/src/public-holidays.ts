import { createRequire } from 'node:module';
import type Holidays from 'date-holidays';
import { addDays, DryspellError, type LocalDate, parseLocalDate } from '../../kernel/src/index.ts';

const require = createRequire(import.meta.url);

export interface PublicHoliday {
  readonly date: LocalDate;
  readonly name: string;
}

export interface PublicHolidaysParams {
  /** ISO 3166-1 code of two letters. */
  readonly country: string;
  /** The part after the dash of an ISO 3166-2 code, such as NS for CA-NS; null for the whole country. */
  readonly region: string | null;
  readonly year: number;
  /** Language of the names; the country's own when it has none in that language. */
  readonly language?: string;
}

/**
 * The public holidays of a year, in order, as a help when closed days are entered. It is a proposal: what a site, a
 * port or a crew really keeps is for people to say. Throws `invalid-input` for an unknown country or region.
 */
export function publicHolidays(params: PublicHolidaysParams): PublicHoliday[] {
  const { country, region, year } = params;
  if (!Number.isInteger(year) || year < 1990 || year > 2099) {
    throw new DryspellError('invalid-input', { field: 'year', expected: 'a year from 1990 to 2099' });
  }
  const data = new (holidayData())();
  if (!Object.hasOwn(data.getCountries(), country)) {
    throw new DryspellError('invalid-input', {
      field: 'country',
      expected: 'a country of two capital letters that is known',
    });
  }
  if (region !== null && !Object.hasOwn(data.getStates(country) ?? {}, region)) {
    throw new DryspellError('invalid-input', {
      field: 'region',
      expected: 'a region of the country that is known',
    });
  }
  if (region === null) data.init(country);
  else data.init(country, region);

  const found = new Map<string, PublicHoliday>();
  for (const holiday of data.getHolidays(year, params.language)) {
    if (holiday.type !== 'public') continue;
    const first = parseLocalDate(holiday.date.slice(0, 10));
    // Some last several days; the end is the first moment after.
    const days = Math.max(1, Math.round((holiday.end.getTime() - holiday.start.getTime()) / 86_400_000));
    for (let offset = 0; offset < days; offset += 1) {
      const date = addDays(first, offset);
      found.set(`${date} ${holiday.name}`, { date, name: holiday.name });
    }
  }
  return [...found.values()].sort((a, b) => (a.date < b.date ? -1 : a.date > b.date ? 1 : 0));
}

/**
 * Loaded at the first call, never at import: this package carries an older copy of the zone data and puts it in the
 * place that the whole process shares. By then the kernel has taken its own.
 */
function holidayData(): typeof Holidays {
  const loaded: unknown = require('date-holidays');
  return (loaded as { default?: typeof Holidays }).default ?? (loaded as typeof Holidays);
}
