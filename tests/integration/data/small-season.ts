import { type Day, parseLocalDate, toDay } from '../../../libs/kernel/src/index.ts';
import type { PlannedVisit, SeasonPlan } from '../../../libs/season/src/plan.ts';
import type { SeasonProblem, SiteDay } from '../../../libs/season/src/problem.ts';

const inHalifax = { zone: 'America/Halifax' };
const site = (key: string, lat: number, lon: number, zone = 'America/Halifax') => ({
  key,
  name: `Site ${key}`,
  customer: `${key}-school`,
  lat,
  lon,
  zone,
  overheadLines: 'no',
  forkliftOnSite: 'no',
  foundationKind: 'pad',
  siteStorageDays: 5,
});
const job = (key: string, at: string) => ({
  key,
  site: at,
  visitKind: 'build',
  title: `Dome at ${at}`,
  siteReadyFrom: '2026-05-01',
  promisedBy: '2026-08-31',
  lateCentsPerDay: 5000,
  notPlannedCents: 900000,
  warehouse: 'shed',
  goodsFrom: '2026-05-10',
});
const item = (of: string, key: string, title: string, dueDaysBefore: number) => ({
  job: of,
  key,
  title,
  dueDaysBefore,
  responsible: 'customer',
  evidence: 'tick',
  mustBeTrue: true,
  state: 'open',
});
const crew = (key: string) => ({
  key,
  name: `Crew ${key}`,
  base: 'yard',
  weekdays: '1111100',
  dayCents: 120000,
  standbyDayCents: 60000,
  perKmCents: 90,
  nightPerHeadCents: 15000,
  maxNightsAway: 12,
  sameDayDriveMin: 90,
  driveMinPerDay: 480,
});
const person = (key: string, email: string | null = `${key}@example.org`) => ({
  key,
  name: key.toUpperCase(),
  email,
  language: 'en',
  kind: 'regular',
});
const member = (of: string, who: string, role: string) => ({
  crew: of,
  person: who,
  role,
  fromDay: '2026-04-01',
});

/** Two crews of two, a casual hand, three sites in two zones, one lift, one trailer, one known haulier. Invented. */
export function smallSeasonFile(): Record<string, unknown> {
  return {
    format: 'dryspell-season',
    formatVersion: 1,
    season: {
      key: 'small',
      name: 'Small season',
      organisationName: 'Larch & Loon Domes (invented)',
      ...inHalifax,
      isDemo: true,
      firstDay: '2026-05-01',
      lastDay: '2026-09-30',
      currency: 'CAD',
      goodsConfidence: 0.8,
      reserveConfidence: 0.8,
      movedCents: 20000,
      movedPerDayCents: 1000,
      crewChangedCents: 5000,
      nearDays: 21,
      nearFactor: 2,
    },
    places: [{ key: 'yard', name: 'Yard', lat: 44.6, lon: -63.6, ...inHalifax }],
    warehouses: [
      {
        key: 'shed',
        name: 'Shed',
        lat: 44.7,
        lon: -63.5,
        ...inHalifax,
        bays: 4,
        bayDayCents: 500,
        overflowBayDayCents: 2500,
        weekdays: '1111100',
        deliveryLeadDays: 1,
      },
    ],
    people: [
      person('ana'),
      person('ben'),
      person('cat'),
      person('dov', null),
      { ...person('eli'), kind: 'casual' },
    ],
    crews: [crew('north'), crew('south')],
    crewMembers: [
      member('north', 'ana', 'lead'),
      member('north', 'ben', 'hand'),
      member('south', 'cat', 'lead'),
      member('south', 'dov', 'hand'),
    ],
    customers: ['hill', 'lake', 'cape'].map((key) => ({
      key: `${key}-school`,
      name: `${key} school`,
      email: `${key}@example.org`,
      language: 'en',
    })),
    partners: [
      { key: 'hoist', name: 'Hoist hire', kind: 'liftHire', email: 'hoist@example.org', language: 'en' },
      { key: 'haul', name: 'Haulage', kind: 'haulier', email: 'haul@example.org', language: 'en' },
    ],
    sites: [site('hill', 45, -64), site('lake', 46, -66), site('cape', 47.5, -52.7, 'America/St_Johns')],
    liftTypes: [{ key: 'crane', name: 'Mobile crane' }],
    lifts: [
      {
        key: 'crane-1',
        name: 'Crane 1',
        type: 'crane',
        depotLat: 44.6,
        depotLon: -63.6,
        partner: 'hoist',
        rangeKm: 900,
        mobiliseFixedCents: 20000,
        mobilisePerKmCents: 300,
        dayCents: 90000,
        minDays: 1,
      },
    ],
    equipmentKinds: [{ key: 'trailer', name: 'Tool trailer' }],
    equipmentUnits: [
      { key: 'trailer-1', kind: 'trailer', name: 'Trailer 1', base: 'yard', needsInspection: false },
    ],
    jobs: [job('hill-build', 'hill'), job('lake-build', 'lake'), job('cape-build', 'cape')],
    readinessItems: [
      item('hill-build', 'pad', 'The pad is finished and level', 14),
      item('hill-build', 'power', 'Power is on', 2),
      item('lake-build', 'pad', 'The pad is finished and level', 14),
    ],
    deliveryRuns: [
      { job: 'hill-build', day: '2026-05-20', haulier: 'haul', truckKind: 'craneTruck', state: 'needed' },
    ],
  };
}

const patternDay = (outside: boolean, liftType: string | null): SiteDay => ({
  outside,
  hours: 8,
  hands: 2,
  tickets: [],
  liftType,
});

/** What publishing asks of the problem: two days, the first outside; a lift is needed at the hill and the lake. */
export const smallPatterns = {
  jobs: ['hill-build', 'lake-build', 'cape-build'].map((id) => ({
    id,
    pattern: [patternDay(true, id === 'cape-build' ? null : 'crane'), patternDay(false, null)],
  })),
} as unknown as Pick<SeasonProblem, 'jobs'>;

export type VisitSketch = Partial<Omit<PlannedVisit, 'days' | 'reserve' | 'deliveryDay'>> & {
  readonly job: string;
  readonly crew: string;
  readonly days: readonly string[];
  readonly reserve?: readonly string[];
  readonly deliveryDay?: string;
};

/** A plan written down as dates. */
export function planOf(visits: readonly VisitSketch[], totalCents = 1_000_000): SeasonPlan {
  const dayOf = (date: string): Day => toDay(parseLocalDate(date));
  return {
    formatVersion: 1,
    problemHash: 'not-asked-here',
    visits: visits.map((visit) => ({
      casualHands: [],
      liftUnit: null,
      equipment: [],
      fromBase: true,
      bindings: [],
      ...visit,
      days: visit.days.map(dayOf),
      reserve: (visit.reserve ?? []).map(dayOf),
      deliveryDay: visit.deliveryDay === undefined ? null : dayOf(visit.deliveryDay),
    })),
    notPlanned: [],
    costLines: [],
    totalCents,
    bound: null,
    made: { seed: 1, iterations: 0, method: 'by hand' },
  };
}
