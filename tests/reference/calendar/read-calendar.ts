import ICAL from 'ical.js';

/** One event as an independent reader (ical.js) sees it, with the zone definitions of the file itself. */
export interface ReadEvent {
  readonly uid: string;
  readonly summary: string;
  readonly description: string | null;
  readonly location: string | null;
  readonly isDate: boolean;
  readonly startMs: number;
  readonly endMs: number;
  readonly startText: string;
  readonly endText: string;
  readonly component: ICAL.Component;
}

export interface ReadCalendar {
  readonly method: unknown;
  readonly component: ICAL.Component;
  readonly zones: string[];
  readonly events: ReadEvent[];
}

/** Reads a calendar text with ical.js. A TZID without its VTIMEZONE in the file throws, for it would read as floating. */
export function readCalendar(text: string): ReadCalendar {
  const component = new ICAL.Component(ICAL.parse(text) as unknown[]);
  const zones = new Map<string, ICAL.Timezone>();
  for (const definition of component.getAllSubcomponents('vtimezone')) {
    const zone = new ICAL.Timezone(definition);
    zones.set(zone.tzid, zone);
  }
  const instantOf = (event: ICAL.Component, name: string): { ms: number; isDate: boolean; text: string } => {
    const property = event.getFirstProperty(name);
    const time = property?.getFirstValue() as ICAL.Time;
    const tzid = property?.getParameter('tzid');
    if (typeof tzid === 'string') {
      const zone = zones.get(tzid);
      if (!zone) throw new Error(`no VTIMEZONE for ${tzid}`);
      const bound = time.clone();
      bound.zone = zone;
      return { ms: bound.toUnixTime() * 1000, isDate: time.isDate, text: time.toString() };
    }
    return { ms: time.toUnixTime() * 1000, isDate: time.isDate, text: time.toString() };
  };
  const events = component.getAllSubcomponents('vevent').map((event): ReadEvent => {
    const start = instantOf(event, 'dtstart');
    const end = instantOf(event, 'dtend');
    const string = (name: string): string | null => {
      const value: unknown = event.getFirstPropertyValue(name);
      return typeof value === 'string' ? value : null;
    };
    return {
      uid: string('uid') ?? '',
      summary: string('summary') ?? '',
      description: string('description'),
      location: string('location'),
      isDate: start.isDate,
      startMs: start.ms,
      endMs: end.ms,
      startText: start.text,
      endText: end.text,
      component: event,
    };
  });
  return { method: component.getFirstPropertyValue('method'), component, zones: [...zones.keys()], events };
}
