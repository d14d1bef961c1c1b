import {
  DryspellError,
  type Instant,
  instantToLocal,
  type LocalDate,
  localToInstant,
  toDay,
} from '../../kernel/src/index.ts';
import type { Language } from './language.ts';

const MS_PER_DAY = 86_400_000;

/** Says values in a language. `locale` is the reader's full tag (`en-CA`), which decides the order of dates. */
export interface Speaker {
  readonly language: Language;
  readonly locale: string;
}

/** A date in words with its weekday: `Tuesday, June 9, 2026`. */
export function sayDay(speaker: Speaker, date: LocalDate): string {
  return plainBlanks(
    // The date is already local, so it is formatted as if it were UTC and no zone can move it.
    new Intl.DateTimeFormat(speaker.locale, {
      weekday: 'long',
      day: 'numeric',
      month: 'long',
      year: 'numeric',
      timeZone: 'UTC',
    }).format(new Date(toDay(date) * MS_PER_DAY)),
  );
}

/** One date, or both ends of a range. */
export function sayDays(speaker: Speaker, first: LocalDate, last: LocalDate): string {
  return first === last
    ? sayDay(speaker, first)
    : `${sayDay(speaker, first)} ${speaker.language.rangeTo} ${sayDay(speaker, last)}`;
}

/** A wall time: `7:30 AM`, or as the locale writes it. */
export function sayTime(speaker: Speaker, time: string): string {
  const [hour, minute] = time.split(':').map(Number) as [number, number];
  return plainBlanks(
    new Intl.DateTimeFormat(speaker.locale, { hour: 'numeric', minute: '2-digit', timeZone: 'UTC' }).format(
      new Date((hour * 60 + minute) * 60_000),
    ),
  );
}

/**
 * A zone by its name in words and the offset in force at a wall time: `Newfoundland Time, UTC-2:30`. The name is asked
 * of the machine and the offset of the kernel, so an old machine may use an old name but never a wrong hour.
 */
export function sayZone(speaker: Speaker, zone: string, date: LocalDate, time: string): string {
  const { offsetMin } = instantToLocal(localToInstant({ date, time, zone }).instant, zone);
  const offset = sayOffset(offsetMin);
  let name: string | undefined;
  try {
    name = new Intl.DateTimeFormat(speaker.locale, { timeZone: zone, timeZoneName: 'longGeneric' })
      .formatToParts(new Date(toDay(date) * MS_PER_DAY))
      .find((part) => part.type === 'timeZoneName')?.value;
  } catch {
    // A zone newer than the machine's own list: its IANA name is a name too.
    name = undefined;
  }
  // Zones without a name come back as an offset of the machine's, which must not be shown beside ours.
  return name === undefined || /\d/.test(name)
    ? `${zone.replaceAll('_', ' ')}, ${offset}`
    : `${name}, ${offset}`;
}

/** An instant as date and time of a zone, with the name of the zone. */
export function sayMoment(speaker: Speaker, at: Instant, zone: string): string {
  const { date, time } = instantToLocal(at, zone);
  return `${sayDay(speaker, date)}, ${sayTime(speaker, time)} (${sayZone(speaker, zone, date, time)})`;
}

/** A number with at most two decimals, in the locale's digits and marks. */
export function sayNumber(speaker: Speaker, value: number): string {
  return plainBlanks(new Intl.NumberFormat(speaker.locale, { maximumFractionDigits: 2 }).format(value));
}

/** The word of a closed list. Throws `internal` when the language lacks it. */
export function sayTerm(speaker: Speaker, list: string, value: string): string {
  const term = speaker.language.terms[`${list}.${value}`];
  if (term === undefined)
    throw new DryspellError('internal', { language: speaker.language.tag, term: `${list}.${value}` });
  return term;
}

function sayOffset(offsetMin: number): string {
  const whole = Math.abs(offsetMin);
  const minutes = whole % 60 === 0 ? '' : `:${String(whole % 60).padStart(2, '0')}`;
  return offsetMin === 0 ? 'UTC' : `UTC${offsetMin < 0 ? '-' : '+'}${Math.floor(whole / 60)}${minutes}`;
}

/** Formatters put narrow and unbreakable blanks into times, which some mail readers show as boxes. */
function plainBlanks(text: string): string {
  return text.replace(/[\u00a0\u2009\u202f]/g, ' ');
}
