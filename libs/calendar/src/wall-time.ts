import type { ICalLuxonDateTimeStub } from 'ical-generator';
import { type Instant, instantToMs, type LocalDate } from '../../kernel/src/index.ts';

/**
 * A wall time that is written as it stands. The calendar writer converts whatever it is given with the machine's own
 * zone data, which may be older than ours; an object with these few methods is the form that it leaves alone.
 */
export function asWritten(date: LocalDate, time: string, instant: Instant): ICalLuxonDateTimeStub {
  const formats: Record<string, string> = {
    yyyyLLdd: date.replaceAll('-', ''),
    HHmmss: `${time.replaceAll(':', '')}000000`.slice(0, 6),
  };
  const moment: ICalLuxonDateTimeStub = {
    isValid: true,
    zone: { type: 'fixed' },
    setZone: () => moment,
    toFormat: (format) => {
      const text = formats[format];
      if (text === undefined) throw new Error(`The calendar writer asked for the unknown format ${format}`);
      return text;
    },
    toJSDate: () => new Date(instantToMs(instant)),
    toJSON: () => instant,
  };
  return moment;
}
