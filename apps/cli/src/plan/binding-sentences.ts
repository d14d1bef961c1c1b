import { formatCents, toLocalDate } from '../../../../libs/kernel/src/index.ts';
import type { Binding, BindingKind, SeasonProblem } from '../../../../libs/season/src/index.ts';

type Data = Binding['data'];

/** Names of what a binding refers to. */
export interface Names {
  readonly currency: string;
  job(id: unknown): string;
  crew(id: unknown): string;
}

/** The names of a problem; an id that it does not have stands for itself. */
export function namesOf(problem: SeasonProblem): Names {
  const jobs = new Map(problem.jobs.map((job) => [job.id, job.title]));
  const crews = new Map(problem.crews.map((crew) => [crew.id, crew.name]));
  return {
    currency: problem.currency,
    job: (id) => jobs.get(String(id)) ?? String(id),
    crew: (id) => crews.get(String(id)) ?? String(id),
  };
}

const takenBy = (data: Data, names: Names): string =>
  data['job'] === undefined ? '' : `, taken by ${names.job(data['job'])}`;

const WORDS: Readonly<Record<BindingKind, (data: Data, names: Names) => string>> = {
  siteReady: () => 'the site is not ready',
  goods: () => 'the goods are not there',
  delivery: () => 'the goods cannot be delivered in time',
  crewBusy: (data, names) =>
    `${names.crew(data['crew'])} is busy${data['job'] === undefined ? '' : ` with ${names.job(data['job'])}`}`,
  crewCalendar: (data, names) => `${names.crew(data['crew'])} does not work`,
  siteClosed: () => 'the site is closed',
  hands: (data, names) => `too few hands${takenBy(data, names)}`,
  tickets: () => 'nobody present holds a ticket that is needed',
  lift: (data, names) => `no lift is free and in range${takenBy(data, names)}`,
  equipment: (data, names) => `no ${data['kind'] ?? 'equipment'} is free${takenBy(data, names)}`,
  nightsAway: (data, names) =>
    `${names.crew(data['crew'])} would be away for more than ${data['nights']} nights`,
  frozen: () => 'the day is frozen, or the job is held to its published place',
  pin: () => 'the pin names another day or crew',
  weather: (data, names) => `weather: it would cost ${money(data, names)} more`,
  cost: (data, names) => `it would cost ${money(data, names)} more`,
  horizon: () => 'the way there and back, or days held back for weather, lie outside the season',
};

/** One reason in words: the rule, the day that shows it, on how many starts it bars the job. */
export function bindingSentence(binding: Binding, names: Names): string {
  const { day, days, searched } = binding.data;
  const facts = [
    typeof day === 'number' ? `seen at ${toLocalDate(day)}` : '',
    typeof days === 'number' ? `bars ${days} of the starts tried` : '',
    searched === undefined ? '' : 'searched only in part',
  ].filter((fact) => fact !== '');
  return `${WORDS[binding.kind](binding.data, names)}${facts.length === 0 ? '' : ` (${facts.join('; ')})`}`;
}

function money(data: Data, names: Names): string {
  return typeof data['extraCents'] === 'number'
    ? formatCents(data['extraCents'], names.currency)
    : 'an unknown amount';
}
