import type { MessageVisit, VisitMessage } from '../../../../libs/data/src/visit-message.ts';
import type { LocalDate } from '../../../../libs/kernel/src/index.ts';
import type { TemplateData } from '../../../../libs/messages/src/template-registry.ts';
import { kitWords } from './spoken-facts.ts';

type CrewVisit = TemplateData<'crew-assignment'>['visit'];
type Arrival = TemplateData<'arrival-notice'>['visit'];
type VisitKind = CrewVisit['kind'];

/** Hours of a site day for which the season names none. Common practice, not a published figure. */
const USUAL_HOURS = 8;
/** How long after the start of the working day a crew may still arrive. Common practice, not a published figure. */
const ARRIVAL_WINDOW_MIN = 60;

/** `HH:MM` some minutes later, at most 23:59 of the same day. */
export function laterTime(time: string, min: number): string {
  const [hours = 0, minutes = 0] = time.split(':').map(Number);
  const total = Math.min(24 * 60 - 1, Math.round(hours * 60 + minutes + min));
  return `${String(Math.floor(total / 60)).padStart(2, '0')}:${String(total % 60).padStart(2, '0')}`;
}

/** First and last day on which somebody is held for a visit. */
interface Held {
  readonly fromDay: LocalDate;
  readonly toDay: LocalDate;
}

/** The site days of a visit on which somebody is there, with the wall times of the site. */
export function visitDays(visit: MessageVisit, { fromDay, toDay }: Held): CrewVisit['days'] {
  const own = visit.work.filter(({ day }) => fromDay <= day && day <= toDay);
  return own.map(({ day, outside, hours }) => ({
    date: day,
    start: visit.workdayStart,
    end: laterTime(visit.workdayStart, (hours > 0 ? hours : USUAL_HOURS) * 60),
    work: outside ? ('outside' as const) : ('inside' as const),
  }));
}

/** The visit as one of its crew hears of it: the days of this `person`, who is left out of those who come along. */
export function crewVisit({ visit }: VisitMessage, person: string, held: Held): CrewVisit {
  const { site } = visit;
  return {
    kind: visit.visitKind as VisitKind,
    siteName: site.name,
    siteAddress: site.address,
    zone: site.zone,
    days: visitDays(visit, held),
    kits: visit.kits.map(kitWords),
    crewName: visit.crew,
    leadName: leadOf(visit)?.name ?? null,
    mates: visit.people.map(({ name }) => name).filter((name) => name !== person),
    bring: [...visit.equipment],
    note: site.accessNotes || null,
    // Lines that may be there count as there.
    hazards: site.overheadLines === 'no' ? [] : ['electricity'],
  };
}

/** The visit as the customer hears of it. */
export function arrival({ visit }: VisitMessage): Arrival {
  const { site } = visit;
  return {
    kind: visit.visitKind as VisitKind,
    siteName: site.name,
    siteAddress: site.address,
    zone: site.zone,
    firstDay: visit.startDay,
    lastDay: visit.endDay,
    arriveFrom: visit.workdayStart,
    arriveTo: laterTime(visit.workdayStart, ARRIVAL_WINDOW_MIN),
    people: visit.people.length,
    leadName: leadOf(visit)?.name ?? null,
    leadPhone: leadOf(visit)?.phone ?? null,
    mayMoveForWeather: visit.work.some(({ outside }) => outside),
    ready: [],
    note: null,
    hazards: [],
  };
}

/** Where and when, without the details; for what it was before or what is called off. */
export function placeAndDays(
  visit: MessageVisit,
  days: readonly LocalDate[],
): { siteName: string; firstDay: LocalDate; lastDay: LocalDate } {
  return {
    siteName: visit.site.name,
    firstDay: days[0] ?? visit.startDay,
    lastDay: days.at(-1) ?? visit.endDay,
  };
}

function leadOf(visit: MessageVisit) {
  return visit.people.find(({ role }) => role === 'lead');
}
