import { DryspellError } from '../../kernel/src/index.ts';
import { addEvent, type CalendarEvent } from './calendar-event.ts';
import { calendarText, newCalendar } from './write-calendar.ts';

export interface FeedParams {
  readonly name: string;
  readonly events: readonly CalendarEvent[];
  /** How often a reader should look again, minutes; an hour unless told otherwise. */
  readonly refreshMin?: number;
}

/**
 * A calendar to follow by its address: events only, no METHOD and no people.
 * Throws `invalid-input` for two events with one uid, and what `addEvent` throws.
 */
export function feed(params: FeedParams): string {
  const seen = new Set<string>();
  for (const { uid } of params.events) {
    if (seen.has(uid))
      throw new DryspellError('invalid-input', { field: 'events', expected: 'each uid once', uid });
    seen.add(uid);
  }
  const calendar = newCalendar({ name: params.name, refreshMin: params.refreshMin ?? 60 }, params.events);
  for (const event of params.events) addEvent(calendar, event);
  return calendarText(calendar);
}
