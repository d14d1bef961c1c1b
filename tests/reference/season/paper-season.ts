/**
 * A small invented season that was worked out by hand, with its plan. Day n is written d(n); d(0) is Monday 2027-05-03.
 *
 *   n      0  1  2  3  4 | 7  8  9 10 11 | 14 15 16 17 18 | 21 ...27
 *   north     G  g  r                 X  |  x  r  r  C         (G, X outside day; r in reserve)
 *   south           E                    |                A    (E outside)
 *   lift      =  =                    =====  =                 (held: d(1)-d(2), d(3), d(11)-d(15))
 */
import { type Day, dayFromParts, hashOf } from '../../../libs/kernel/src/index.ts';
import type { CostLine, PlannedVisit, SeasonPlan } from '../../../libs/season/src/plan.ts';
import type {
  DayMask,
  HeldTicket,
  Job,
  SeasonProblem,
  SiteDay,
  WeatherTable,
} from '../../../libs/season/src/problem.ts';

const FIRST_DAY = dayFromParts(2027, 5, 3);
const DAYS = 28;

/** The day n days after the first. */
export const d = (n: number): Day => (FIRST_DAY + n) as Day;

/** A mask that is '1' where the condition holds for n. */
export const mask = (isOn: (n: number) => boolean): DayMask =>
  Array.from({ length: DAYS }, (_, n) => (isOn(n) ? '1' : '0')).join('');

const always = mask(() => true);
const mondayToFriday = mask((n) => n % 7 < 5);
const ticket = (name: string): HeldTicket => ({ ticket: name, validFrom: d(0), validTo: d(27) });

const outside: SiteDay = {
  outside: true,
  hours: 9,
  hands: 2,
  tickets: [{ ticket: 'rigger', count: 1 }],
  liftType: 'telehandler',
};
const inside: SiteDay = {
  outside: false,
  hours: 8,
  hands: 2,
  tickets: [{ ticket: 'electrician', count: 1 }],
  liftType: null,
};

/** Lost and reserve days on one start day; zero on all others. */
function weather(n: number, lostDays: number, reserveDays: number): WeatherTable {
  const on = (value: number): number[] => Array.from({ length: DAYS }, (_, day) => (day === n ? value : 0));
  return { expectedLostDays: on(lostDays), reserveDays: on(reserveDays) };
}

function job(id: string, site: string, pattern: SiteDay[], rest: Partial<Job>): Job {
  return {
    id,
    title: `Dome at ${site}`,
    visitKind: 'build',
    site,
    pattern,
    maxGapDays: 2,
    siteClosedDays: [],
    siteReadyFrom: d(0),
    goods: null,
    equipmentKinds: [],
    promisedBy: null,
    lateCentsPerDay: 20_000,
    notPlannedCents: 900_000,
    pin: null,
    published: null,
    weatherTable: null,
    ...rest,
  };
}

/** Road from a to b and back, minutes and kilometres; every pair that is not listed is 9,999 away. */
const ROADS: readonly [a: string, b: string, min: number, km: number, minBack: number, kmBack: number][] = [
  ['base-north', 'gull-point', 100, 130, 100, 131.5],
  ['base-north', 'fox-hill', 700, 900, 710, 905],
  ['fox-hill', 'cod-cove', 30, 25.25, 30, 25.25],
  ['cod-cove', 'base-north', 640, 820, 640, 820],
  ['base-south', 'elm-bay', 30, 40.5, 30, 40.5],
  ['base-south', 'ash-lake', 500, 310.25, 505, 311],
  ['elm-bay', 'ash-lake', 900, 600, 900, 600],
  ['gull-point', 'elm-bay', 90, 75.5, 90, 75.5],
  ['fox-hill', 'ash-lake', 400, 500, 410, 510],
  ['gull-point', 'fox-hill', 600, 760, 620, 780],
  ['depot', 'gull-point', 50, 60, 50, 60],
  ['depot', 'elm-bay', 50, 52, 50, 50],
  ['depot', 'fox-hill', 240, 200, 240, 205],
  ['home-kim', 'gull-point', 70, 81, 70, 81],
];

function travel(): SeasonProblem['travel'] {
  const places = [...new Set([...ROADS.map((road) => road[0]), ...ROADS.map((road) => road[1])])];
  const table = (there: 2 | 3, back: 4 | 5): number[][] =>
    places.map((from) =>
      places.map((to) => {
        if (from === to) return 0;
        const forward = ROADS.find(([a, b]) => a === from && b === to);
        const backward = ROADS.find(([a, b]) => a === to && b === from);
        return forward?.[there] ?? backward?.[back] ?? 9999;
      }),
    );
  return { places, driveMin: table(2, 4), distanceKm: table(3, 5) };
}

export function paperProblem(): SeasonProblem {
  const crew = { works: mondayToFriday, sameDayDriveMin: 120, driveMinPerDay: 480, heads: 2 };
  return {
    formatVersion: 1,
    name: 'Season on paper',
    currency: 'CAD',
    firstDay: d(0),
    lastDay: d(27),
    asOfDay: d(0),
    frozenUntil: d(1),
    disturbance: {
      movedCents: 15_000,
      movedPerDayCents: 2_500,
      crewChangedCents: 8_000,
      nearDays: 20,
      nearFactor: 1,
    },
    travel: travel(),
    jobs: [
      job('gull', 'gull-point', [{ ...outside, hands: 3 }, inside], {
        goods: { warehouse: 'quay', goodsFrom: d(-2), deliveryLeadDays: 0, siteStorageDays: 1, bays: 2 },
        equipmentKinds: ['levelling-set'],
        promisedBy: d(1),
        published: { start: d(1), crew: 'north' },
        weatherTable: 'gull',
      }),
      job('fox', 'fox-hill', [outside, inside], {
        goods: { warehouse: 'quay', goodsFrom: d(2), deliveryLeadDays: 3, siteStorageDays: 2, bays: 3 },
        equipmentKinds: ['levelling-set'],
        siteReadyFrom: d(10),
        promisedBy: d(20),
        published: { start: d(8), crew: 'south' },
        weatherTable: 'fox',
      }),
      job('cod', 'cod-cove', [{ ...inside, hands: 1 }], { visitKind: 'service' }),
      job('elm', 'elm-bay', [outside], { weatherTable: 'elm', siteClosedDays: [d(4)] }),
      job('ash', 'ash-lake', [inside], {
        goods: { warehouse: 'quay', goodsFrom: d(17), deliveryLeadDays: 1, siteStorageDays: 0, bays: 1 },
        equipmentKinds: ['levelling-set'],
        pin: { start: d(18), crew: 'south' },
      }),
      job('owl', 'elm-bay', [inside], {
        goods: { warehouse: 'quay', goodsFrom: d(4), deliveryLeadDays: 1, siteStorageDays: 1, bays: 3 },
        published: { start: d(20), crew: 'south' },
      }),
    ],
    crews: [
      {
        ...crew,
        id: 'north',
        name: 'North crew',
        base: 'base-north',
        members: [
          { hand: 'ada', belongs: always },
          { hand: 'ben', belongs: always },
        ],
        dayCents: 100_000,
        standbyDayCents: 80_000,
        perKmCents: 60,
        nightPerHeadCents: 15_000,
        maxNightsAway: 10,
      },
      {
        ...crew,
        id: 'south',
        name: 'South crew',
        base: 'base-south',
        members: [
          { hand: 'cal', belongs: always },
          { hand: 'dee', belongs: always },
        ],
        dayCents: 90_000,
        standbyDayCents: 70_000,
        perKmCents: 61,
        nightPerHeadCents: 14_000,
        maxNightsAway: 5,
      },
    ],
    hands: [
      { id: 'ada', name: 'Ada', available: always, tickets: [ticket('rigger')] },
      { id: 'ben', name: 'Ben', available: always, tickets: [ticket('electrician')] },
      { id: 'cal', name: 'Cal', available: always, tickets: [ticket('rigger'), ticket('electrician')] },
      { id: 'dee', name: 'Dee', available: always, tickets: [] },
    ],
    casualHands: [
      {
        id: 'kim',
        name: 'Kim',
        available: always,
        tickets: [],
        home: 'home-kim',
        rangeKm: 81,
        dayCents: 30_000,
        travelFixedCents: 2_500,
        travelPerKmCents: 45.5,
      },
    ],
    lifts: [
      {
        id: 'tele-1',
        name: 'Telehandler 1',
        type: 'telehandler',
        depot: 'depot',
        rangeKm: 200,
        available: always,
        mobiliseFixedCents: 30_000,
        mobilisePerKmCents: 110,
        dayCents: 25_000,
        minDays: 2,
      },
    ],
    equipment: [
      { id: 'set-1', kind: 'levelling-set', name: 'Levelling set 1', usable: always },
      { id: 'set-2', kind: 'levelling-set', name: 'Levelling set 2', usable: always },
      { id: 'cart-1', kind: 'cart', name: 'Cart 1', usable: always },
    ],
    warehouses: [
      { id: 'quay', bays: 4, works: mondayToFriday, bayDayCents: 1_500, overflowBayDayCents: 4_000 },
    ],
    weatherTables: { gull: weather(1, 0.35123, 1), fox: weather(11, 0.5, 2), elm: weather(3, 0.1, 0) },
  };
}

function visit(jobId: string, crew: string, days: number[], rest: Partial<PlannedVisit> = {}): PlannedVisit {
  return {
    job: jobId,
    crew,
    days: days.map(d),
    reserve: [],
    casualHands: [],
    liftUnit: null,
    equipment: [],
    deliveryDay: null,
    fromBase: true,
    bindings: [],
    ...rest,
  };
}

const line = (kind: CostLine['kind'], subject: Partial<CostLine>, cents: number): CostLine => ({
  kind,
  job: null,
  crew: null,
  lift: null,
  warehouse: null,
  ...subject,
  cents,
});

/** Every line by hand; the working stands above each. */
export const PAPER_LINES: readonly CostLine[] = [
  // Last site day d(2), promised by d(1): 1 day x 20,000.
  line('late', { job: 'gull' }, 20_000),
  line('notPlanned', { job: 'owl' }, 900_000),
  // 0.35123 lost days x (80,000 crew + 25,000 lift) = 36,879.15.
  line('standby', { job: 'gull', crew: 'north' }, 36_879),
  // 0.5 x (80,000 + 25,000).
  line('standby', { job: 'fox', crew: 'north' }, 52_500),
  // 0.1 x (70,000 + 25,000).
  line('standby', { job: 'elm', crew: 'south' }, 9_500),
  // Out 130 and back 131.5; out to fox 900, on to cod 25.25, back 820: 2,006.75 km x 60 = 120,405.
  line('km', { crew: 'north' }, 120_405),
  // 40.5 + 40.5; 310.25 + 311: 702.25 km x 61 = 42,837.25.
  line('km', { crew: 'south' }, 42_837),
  // First tour: leaves d(1) (100 min, no travel day), back on its release day d(3): 2 nights.
  // Second: 700 min to fox = ceil(580 / 480) = 2 travel days, leaves d(9); cod d(17) and 640 min back = ceil(520 / 480) = 2
  // travel days, back d(19): 10 nights. (2 + 10) x 2 heads x 15,000.
  line('nights', { crew: 'north' }, 360_000),
  // Elm d(3) and back: 0 nights. Ash: 500 min = 1 travel day, leaves d(17); 505 min = 1, back d(19): 2 x 2 x 14,000.
  line('nights', { crew: 'south' }, 56_000),
  // (2 + 0 + 2) x 100,000 and (1 + 1) x 90,000, from the travel days above.
  line('travelDays', { crew: 'north' }, 400_000),
  line('travelDays', { crew: 'south' }, 180_000),
  // Kim, 2 site days (the reserve day is not paid): 2 x 30,000 + 2,500 + 45.5 x 2 x 81 = 60,000 + 2,500 + 7,371.
  line('casualHands', { job: 'gull' }, 69_871),
  // Gull is held d(1)-d(2) (outside day d(1), one reserve day), elm d(3): one hire, d(1) to d(3) = 3 days,
  // 30,000 + 110 x (60 + 75.5 + 50) + 3 x 25,000 = 30,000 + 20,405 + 75,000 = 125,405.
  // Fox is held d(11)-d(15) but needed on d(11) only: 1 day, 2 at least, 30,000 + 110 x (200 + 205) + 2 x 25,000 = 124,550.
  line('liftHire', { lift: 'tele-1' }, 249_955),
  // Gull: 2 bays on d(0), leaves d(1). Fox: 3 bays d(2)-d(6), leaves d(10) - 3 = d(7). Owl: 3 bays d(4)-d(27).
  // Ash: comes and leaves on d(17), none. Of 4 bays used: 2 + 3 + 3 + 4 + 4 + 4 (2 over each) + 21 x 3 = 83 x 1,500.
  line('bays', { warehouse: 'quay' }, 124_500),
  // d(4), d(5), d(6): 6 used, 2 over: 6 x 4,000.
  line('bayOverflow', { warehouse: 'quay' }, 24_000),
  // Moved 3 days from d(8): (15,000 + 3 x 2,500) x (1 + 1 x (1 - 8/20)) = 22,500 x 1.6.
  line('moved', { job: 'fox' }, 36_000),
  // No longer planned, was on d(20): 15,000 x (1 + (1 - 20/20)).
  line('moved', { job: 'owl' }, 15_000),
  // Fox was with the south crew.
  line('crewChanged', { job: 'fox' }, 8_000),
];

/** 20,000 + 900,000 + 98,879 + 163,242 + 416,000 + 580,000 + 69,871 + 249,955 + 148,500 + 51,000 + 8,000. */
export const PAPER_TOTAL_CENTS = 2_705_447;

export function paperPlan(problem: SeasonProblem = paperProblem()): SeasonPlan {
  return {
    formatVersion: 1,
    problemHash: hashOf(problem),
    visits: [
      visit('gull', 'north', [1, 2], {
        reserve: [d(3)],
        casualHands: ['kim'],
        liftUnit: 'tele-1',
        equipment: ['set-1'],
        deliveryDay: d(1),
      }),
      // Friday and Monday: the weekend may lie before the inside day.
      visit('fox', 'north', [11, 14], {
        reserve: [d(15), d(16)],
        liftUnit: 'tele-1',
        equipment: ['set-1'],
        deliveryDay: d(10),
      }),
      visit('cod', 'north', [17], { fromBase: false }),
      visit('elm', 'south', [3], { liftUnit: 'tele-1' }),
      // The set comes from fox, released d(16): 400 min for the south crew = 1 travel day, so d(18) is the earliest.
      visit('ash', 'south', [18], { equipment: ['set-1'], deliveryDay: d(18) }),
    ],
    notPlanned: [{ job: 'owl', bindings: [] }],
    costLines: PAPER_LINES,
    totalCents: PAPER_TOTAL_CENTS,
    bound: { cents: 1_000_000, method: 'worked out on paper' },
    made: { seed: 1, iterations: 0, method: 'by hand' },
  };
}
