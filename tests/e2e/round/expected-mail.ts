// Who must hear of a published plan, and what must stand in their calendars: worked out from the season file and the
// plan alone, by the rules that people are told (docs, libs/data/README.md), not by the code that sends.

export interface SeasonRows {
  readonly season: { readonly key: string; readonly workdayStart?: string };
  readonly [table: string]: unknown;
}

export interface PlannedVisit {
  readonly job: string;
  readonly crew: string;
  readonly days: readonly string[];
  readonly reserve: readonly string[];
  readonly casualHands: readonly string[];
  readonly liftUnit: string | null;
}

type Row = Readonly<Record<string, string | number | boolean | null | undefined>>;

const rowsOf = (season: SeasonRows, table: string): readonly Row[] =>
  (season[table] as Row[] | undefined) ?? [];

function rowOf(season: SeasonRows, table: string, key: unknown): Row {
  const found = rowsOf(season, table).find((row) => row['key'] === key);
  if (!found) throw new Error(`no row ${String(key)} in ${table}`);
  return found;
}

const addressOf = (season: SeasonRows, table: string, key: unknown): string => {
  const address = rowOf(season, table, key)['email'];
  if (typeof address !== 'string') throw new Error(`${table} ${String(key)} has no mail address`);
  return address;
};

const within = (day: string, from: unknown, to: unknown): boolean =>
  (from === undefined || from === null || String(from) <= day) && (!to || day <= String(to));

/** The site days of a visit on which somebody of its crew is there; members who are away on all of them are left out. */
function peopleOn(season: SeasonRows, visit: PlannedVisit): { person: string; days: string[] }[] {
  const members = rowsOf(season, 'crewMembers').filter((row) => row['crew'] === visit.crew);
  const regular = members.map((member) => ({
    person: String(member['person']),
    days: visit.days.filter(
      (day) =>
        within(day, member['fromDay'], member['toDay']) &&
        !rowsOf(season, 'leave').some(
          (leave) =>
            leave['person'] === member['person'] && within(day, leave['fromDay'], leave['toDay'] ?? null),
        ),
    ),
  }));
  return [
    ...regular.filter(({ days }) => days.length > 0),
    ...visit.casualHands.map((person) => ({ person, days: [...visit.days] })),
  ];
}

/** How many messages each address must get when a first plan is published. */
export function expectedCounts(season: SeasonRows, visits: readonly PlannedVisit[]): Map<string, number> {
  if (rowsOf(season, 'deliveryRuns').length > 0) throw new Error('deliveries are not reckoned with here');
  const counts = new Map<string, number>();
  const add = (address: string): void => void counts.set(address, (counts.get(address) ?? 0) + 1);
  for (const visit of visits) {
    // Each member of the crew is asked.
    for (const { person } of peopleOn(season, visit)) add(addressOf(season, 'people', person));
    // The customer is told when the crew comes, and what is to be made ready when there is anything.
    const site = rowOf(season, 'sites', rowOf(season, 'jobs', visit.job)['site']);
    const customer = addressOf(season, 'customers', site['customer']);
    add(customer);
    const asked = rowsOf(season, 'readinessItems').some(
      (row) => row['job'] === visit.job && row['responsible'] === 'customer' && row['state'] !== 'waived',
    );
    if (asked) add(customer);
    // The hire firm of the lift is asked for it.
    if (visit.liftUnit !== null)
      add(addressOf(season, 'partners', rowOf(season, 'lifts', visit.liftUnit)['partner']));
  }
  return counts;
}

/** An entry that must come to somebody's calendar: whole days (dates) or a time (moments in UTC). */
export interface ExpectedEntry {
  readonly address: string;
  readonly start: string;
  readonly end: string;
}

/**
 * Offset of the local time from UTC in the summer half of the year, in the zones of the demo. Published rules: daylight
 * time from the second Sunday of March to the first Sunday of November (United States: Energy Policy Act of 2005,
 * section 110; Nova Scotia and Newfoundland and Labrador keep the same days), one hour ahead of the standard times of
 * UTC-4, UTC-5 and UTC-3:30 (IANA time zone database, file "northamerica").
 */
const SUMMER_OFFSETS: Readonly<Record<string, string>> = {
  'America/Halifax': '-03:00',
  'America/New_York': '-04:00',
  'America/St_Johns': '-02:30',
};

/** The nth Sunday of a month as a date. */
function nthSunday(year: number, month: number, nth: number): string {
  const first = new Date(Date.UTC(year, month - 1, 1)).getUTCDay();
  const day = 1 + ((7 - first) % 7) + 7 * (nth - 1);
  return new Date(Date.UTC(year, month - 1, day)).toISOString().slice(0, 10);
}

function summerOffset(zone: string, day: string): string {
  const year = Number(day.slice(0, 4));
  const offset = SUMMER_OFFSETS[zone];
  if (offset === undefined || day <= nthSunday(year, 3, 2) || day >= nthSunday(year, 11, 1))
    throw new Error(`no published offset is noted here for ${zone} on ${day}`);
  return offset;
}

/** Time zone of the site of a job. */
export function zoneOf(season: SeasonRows, job: string): string {
  return String(rowOf(season, 'sites', rowOf(season, 'jobs', job)['site'])['zone']);
}

const dayAfter = (day: string): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + 86_400_000).toISOString().slice(0, 10);

/** Hours of work of one site day of a job that follows one template. */
function hoursOf(season: SeasonRows, job: Row, dayNumber: number): number {
  const kits = rowsOf(season, 'jobKits').filter((row) => row['job'] === job['key']);
  const byKit = rowsOf(season, 'kitTemplates').filter(
    (row) => row['visitKind'] === job['visitKind'] && kits.some((kit) => kit['kit'] === row['kit']),
  );
  const templates = new Set(job['template'] ? [job['template']] : byKit.map((row) => row['template']));
  const days = rowsOf(season, 'templateDays').filter(
    (row) => templates.has(row['template']) && row['dayNumber'] === dayNumber,
  );
  if (templates.size !== 1 || days.length !== 1)
    throw new Error(`the hours of ${String(job['key'])} are not those of one template`);
  return Number(days[0]?.['hours']);
}

/** The calendar entries that the crew must get: one day on site with its hours, several as whole days. */
export function expectedEntries(season: SeasonRows, visits: readonly PlannedVisit[]): ExpectedEntry[] {
  const workdayStart = season.season.workdayStart ?? '08:00';
  return visits.flatMap((visit) => {
    const job = rowOf(season, 'jobs', visit.job);
    const zone = zoneOf(season, visit.job);
    return peopleOn(season, visit).map(({ person, days }) => {
      const address = addressOf(season, 'people', person);
      const [first = '', last = ''] = [days[0], days.at(-1)];
      if (days.length > 1) return { address, start: first, end: dayAfter(last) };
      const startMs = Date.parse(`${first}T${workdayStart}:00${summerOffset(zone, first)}`);
      const endMs = startMs + hoursOf(season, job, visit.days.indexOf(first) + 1) * 3_600_000;
      return { address, start: new Date(startMs).toISOString(), end: new Date(endMs).toISOString() };
    });
  });
}
