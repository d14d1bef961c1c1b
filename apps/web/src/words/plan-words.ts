import { dateOfDay, shortDate } from '../format/dates.ts';
import { money } from './money.ts';
import type { SeasonNames } from './season-names.ts';

export interface CostLine {
  readonly kind: string;
  readonly job: string | null;
  readonly crew: string | null;
  readonly lift: string | null;
  readonly warehouse: string | null;
  readonly cents: number;
}

const COST_KINDS: Readonly<Record<string, string>> = {
  late: 'Later than promised',
  notPlanned: 'Jobs left out of the season',
  standby: 'Waiting for weather, on average',
  km: 'Driving',
  nights: 'Nights away',
  travelDays: 'Travel days',
  casualHands: 'Casual hands',
  liftHire: 'Lift hire',
  bays: 'Warehouse bays',
  bayOverflow: 'Goods beyond the bays of the warehouse',
  moved: 'Disturbance: visits moved',
  crewChanged: 'Disturbance: another crew',
};

/** What a kind of cost is called. */
export const costKindWords = (kind: string): string => COST_KINDS[kind] ?? kind;

/** What or whom one cost line belongs to. */
export function costSubjectWords(line: CostLine, names: SeasonNames): string {
  return [
    line.job === null ? null : names.of('job', line.job),
    line.crew === null ? null : names.of('crew', line.crew),
    line.lift === null ? null : names.of('lift', line.lift),
    line.warehouse === null ? null : names.of('warehouse', line.warehouse),
  ]
    .filter((part) => part !== null)
    .join(', ');
}

export interface Binding {
  readonly kind: string;
  readonly data: Readonly<Record<string, string | number>>;
}

/** What keeps a visit from an earlier day (or a job from any), as a sentence. An unknown kind is named, never hidden. */
export function bindingWords(binding: Binding, names: SeasonNames, currency: string): string {
  const { kind, data } = binding;
  const day = typeof data['day'] === 'number' ? ` (looking at ${shortDate(dateOfDay(data['day']))})` : '';
  const job = typeof data['job'] === 'string' ? names.of('job', data['job']) : null;
  const crew = typeof data['crew'] === 'string' ? `crew ${names.of('crew', data['crew'])}` : 'the crew';
  const extra = typeof data['extraCents'] === 'number' ? money(data['extraCents'], currency) : null;
  switch (kind) {
    case 'siteReady':
      return `The site is not ready before${day}.`;
    case 'goods':
      return `The goods have not left the warehouse by then${day}.`;
    case 'delivery':
      return `The goods cannot be brought to the site in time${day}.`;
    case 'crewBusy':
      return `${sentence(crew)} is busy${job ? ` with ${job}` : ' elsewhere'}${day}.`;
    case 'crewCalendar':
      return `${sentence(crew)} does not work on the days before.`;
    case 'siteClosed':
      return `The site is closed then${day}.`;
    case 'hands':
      return `There are not enough hands${job ? `; the casual hand who could help is at ${job}` : ''}${day}.`;
    case 'tickets':
      return `The tickets that the work asks for are not there${day}.`;
    case 'lift':
      return `No fitting lift is free${job ? `; it is at ${job}` : ''}${day}.`;
    case 'equipment':
      return `Own equipment is not free${kindOf(data, names)}${job ? `; it is at ${job}` : ''}${day}.`;
    case 'nightsAway':
      return `${sentence(crew)} would be away too many nights in a row${day}.`;
    case 'frozen':
      return 'Its days are frozen.';
    case 'pin':
      return 'It is pinned.';
    case 'weather':
      return `Earlier it is likelier that weather takes days${extra ? `; that would cost ${extra} more` : ''}${day}.`;
    case 'cost':
      return `It is possible${extra ? ` but would cost ${extra} more` : ' but would cost more'}${day}.`;
    case 'horizon':
      return `It would not fit between the first and the last day of the season${day}.`;
    default:
      return `Another reason (${kind})${day}.`;
  }
}

function kindOf(data: Binding['data'], names: SeasonNames): string {
  return typeof data['kind'] === 'string' ? ` (${names.of('equipmentKind', data['kind'])})` : '';
}

const sentence = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
