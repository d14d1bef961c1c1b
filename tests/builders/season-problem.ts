/**
 * Invented seasons for tests and benches: the same options and seed give the same problem on every machine.
 * All names, places and figures are made up.
 */
import { type Day, dayFromParts, type Rng, rngFromSeed, weekdayOf } from '../../libs/kernel/src/index.ts';
import type {
  CasualHand,
  Crew,
  EquipmentUnit,
  Hand,
  HeldTicket,
  Job,
  LiftUnit,
  SeasonProblem,
  SiteDay,
  Warehouse,
  WeatherTable,
} from '../../libs/season/src/problem.ts';

export interface RandomSeasonOptions {
  readonly seed: number;
  readonly jobs: number;
  readonly crews: number;
  /** Days of the horizon; default: room for all jobs with some slack. */
  readonly days?: number;
  readonly casualHands?: number;
  readonly lifts?: number;
  readonly equipmentUnits?: number;
  readonly warehouses?: number;
  /** Weather tables with lost and reserve days; default true. */
  readonly weather?: boolean;
  /** Share of jobs that had a published place; 0 to 1, default 0. The places are drawn at random and need not fit together. */
  readonly published?: number;
  /** Share of jobs with a pin (start, crew or both); 0 to 1, default 0. Random pins may clash. */
  readonly pinned?: number;
  /** Days from the first that are frozen; 0 (default): nothing is frozen. */
  readonly frozenDays?: number;
  /** Side of the square in which the places lie, km; default 900. */
  readonly sideKm?: number;
}

const TICKETS = ['rigger', 'electrician', 'first-aid'] as const;
const LIFT_TYPES = ['telehandler', 'crane-truck'] as const;
const EQUIPMENT_KINDS = ['levelling-set', 'vacuum-lifter'] as const;

/** A random season. The first day is a Monday; about one crew in three works on Saturdays too. */
export function randomSeasonProblem(options: RandomSeasonOptions): SeasonProblem {
  const rng = rngFromSeed(options.seed);
  const days = options.days ?? 45 + Math.ceil((options.jobs / options.crews) * 9);
  const firstDay = dayFromParts(2027, 4, 5);
  const lastDay = (firstDay + days - 1) as Day;
  const land = new Land(rng, options.sideKm ?? 900);
  const warehouses = many(options.warehouses ?? (options.jobs > 3 ? 2 : 1), (i) =>
    warehouse(rng, i, firstDay, days),
  );
  const hands: Hand[] = [];
  const crews = many(options.crews, (i) => crew(rng, i, land, hands, firstDay, days));
  const casualHands = many(options.casualHands ?? options.crews + 1, (i) =>
    casual(rng, i, land, firstDay, days),
  );
  const lifts = many(options.lifts ?? Math.max(1, options.crews), (i) => lift(rng, i, land, days));
  const equipment = many(options.equipmentUnits ?? options.crews + 1, (i) => unit(rng, i, days));
  const weatherTables: Record<string, WeatherTable> = {};
  const jobs = many(options.jobs, (i) => {
    const made = job(rng, i, land, { firstDay, days, warehouses, lifts, equipment, crews, options });
    if (made.weatherTable !== null) weatherTables[made.weatherTable] = weather(rng, days);
    return made;
  });
  return {
    formatVersion: 1,
    name: `Invented season ${options.seed}`,
    currency: 'CAD',
    firstDay,
    lastDay,
    asOfDay: firstDay,
    frozenUntil: options.frozenDays ? ((firstDay + options.frozenDays - 1) as Day) : null,
    disturbance: {
      movedCents: 15_000,
      movedPerDayCents: 2_500,
      crewChangedCents: 8_000,
      nearDays: 30,
      nearFactor: 1.5,
    },
    travel: land.table(),
    jobs,
    crews,
    hands,
    casualHands,
    lifts,
    equipment,
    warehouses,
    weatherTables,
  };
}

/**
 * A family of small seasons that the exact yardstick can solve: 4 to 7 jobs, 1 or 2 crews, 30 days, short tours, with lifts of two types,
 * equipment, casual hands, one warehouse with few bays, weather reserves, and for every third seed a published plan.
 */
export function smallSeasonProblem(seed: number): SeasonProblem {
  const problem = randomSeasonProblem({
    seed,
    jobs: 4 + (seed % 4),
    crews: 1 + (seed % 2),
    days: 30,
    sideKm: 500,
    casualHands: 3,
    lifts: 2,
    equipmentUnits: 3,
    warehouses: 1,
    published: seed % 3 === 0 ? 0.5 : 0,
  });
  return {
    ...problem,
    crews: problem.crews.map((crew) => ({ ...crew, maxNightsAway: Math.min(8, crew.maxNightsAway) })),
  };
}

/** The same season moved by a whole number of weeks, so that every weekday stays what it was. */
export function shiftedByWeeks(problem: SeasonProblem, weeks: number): SeasonProblem {
  const by = (day: Day): Day => (day + weeks * 7) as Day;
  const tickets = (held: readonly HeldTicket[]): HeldTicket[] =>
    held.map((ticket) => ({ ...ticket, validFrom: by(ticket.validFrom), validTo: by(ticket.validTo) }));
  return {
    ...problem,
    firstDay: by(problem.firstDay),
    lastDay: by(problem.lastDay),
    asOfDay: by(problem.asOfDay),
    frozenUntil: problem.frozenUntil === null ? null : by(problem.frozenUntil),
    hands: problem.hands.map((hand) => ({ ...hand, tickets: tickets(hand.tickets) })),
    casualHands: problem.casualHands.map((hand) => ({ ...hand, tickets: tickets(hand.tickets) })),
    jobs: problem.jobs.map((job) => ({
      ...job,
      siteClosedDays: job.siteClosedDays.map(by),
      siteReadyFrom: by(job.siteReadyFrom),
      goods: job.goods && { ...job.goods, goodsFrom: by(job.goods.goodsFrom) },
      promisedBy: job.promisedBy === null ? null : by(job.promisedBy),
      pin: job.pin && { ...job.pin, start: job.pin.start === null ? null : by(job.pin.start) },
      published: job.published && { ...job.published, start: by(job.published.start) },
    })),
  };
}

function many<Item>(count: number, make: (index: number) => Item): Item[] {
  return Array.from({ length: count }, (_, index) => make(index));
}

/** Places on a square; driving is a little dearer one way than the other, so that nothing may rely on symmetry. */
class Land {
  private readonly rng: Rng;
  private readonly sideKm: number;
  private readonly names: string[] = [];
  private readonly at: [number, number][] = [];

  constructor(rng: Rng, sideKm: number) {
    this.rng = rng;
    this.sideKm = sideKm;
  }

  place(name: string, near?: string): string {
    const origin = near === undefined ? undefined : this.at[this.names.indexOf(near)];
    const spot = (axis: 0 | 1): number =>
      origin ? origin[axis] + (this.rng.uniform() - 0.5) * 80 : this.rng.uniform() * this.sideKm;
    this.names.push(name);
    this.at.push([spot(0), spot(1)]);
    return name;
  }

  any(): string {
    return this.rng.pick(this.names);
  }

  table(): SeasonProblem['travel'] {
    const km = this.at.map(([x, y]) =>
      this.at.map(([u, v]) => Math.round(Math.hypot(x - u, y - v) * 12.7) / 10),
    );
    const driveMin = km.map((row, i) => row.map((length, j) => Math.round(length * (i < j ? 0.72 : 0.75))));
    return { places: [...this.names], driveMin, distanceKm: km };
  }
}

function mask(
  rng: Rng,
  days: number,
  gap: { chance: number; longest: number },
  start = 0,
  end = days,
): string {
  const open = Array.from({ length: days }, (_, d) => d >= start && d < end);
  if (rng.uniform() < gap.chance) {
    const from = rng.integer(0, days - 1);
    open.fill(false, from, Math.min(days, from + rng.integer(1, gap.longest)));
  }
  return open.map((is) => (is ? '1' : '0')).join('');
}

function weekdayMask(rng: Rng, firstDay: number, days: number, saturdays: boolean): string {
  return Array.from({ length: days }, (_, d) => {
    const weekday = weekdayOf(firstDay + d);
    const holiday = rng.uniform() < 0.02;
    return !holiday && (weekday <= 5 || (weekday === 6 && saturdays)) ? '1' : '0';
  }).join('');
}

function heldTickets(rng: Rng, firstDay: number, days: number, chance: number): HeldTicket[] {
  return TICKETS.filter(() => rng.uniform() < chance).map((ticket) => ({
    ticket,
    validFrom: (firstDay - 200) as Day,
    validTo: (rng.uniform() < 0.15 ? firstDay + rng.integer(10, days) : firstDay + days + 300) as Day,
  }));
}

function crew(rng: Rng, index: number, land: Land, hands: Hand[], firstDay: number, days: number): Crew {
  const base = land.place(`base-${index + 1}`);
  const size = rng.uniform() < 0.7 ? 3 : 2;
  const members = many(size, (m) => {
    const id = `hand-${index + 1}-${m + 1}`;
    const tickets = heldTickets(rng, firstDay, days, m === 0 ? 0.95 : 0.5);
    hands.push({
      id,
      name: `Hand ${id}`,
      available: mask(rng, days, { chance: 0.25, longest: 10 }),
      tickets,
    });
    return {
      hand: id,
      belongs: rng.uniform() < 0.95 ? '1'.repeat(days) : mask(rng, days, { chance: 1, longest: 20 }),
    };
  });
  return {
    id: `crew-${index + 1}`,
    name: `Crew ${index + 1}`,
    base,
    works: weekdayMask(rng, firstDay, days, rng.uniform() < 0.33),
    members,
    heads: size,
    dayCents: size * 32_000,
    standbyDayCents: size * 32_000,
    perKmCents: 95,
    nightPerHeadCents: 14_500,
    maxNightsAway: rng.integer(6, 16),
    sameDayDriveMin: 150,
    driveMinPerDay: 540,
  };
}

function casual(rng: Rng, index: number, land: Land, firstDay: number, days: number): CasualHand {
  return {
    id: `casual-${index + 1}`,
    name: `Casual hand ${index + 1}`,
    available: mask(rng, days, { chance: 0.6, longest: 15 }),
    tickets: heldTickets(rng, firstDay, days, 0.6),
    home: land.place(`home-${index + 1}`),
    rangeKm: rng.integer(350, 1200),
    dayCents: rng.integer(28, 42) * 1000,
    travelFixedCents: rng.integer(0, 8) * 1000,
    travelPerKmCents: 61,
  };
}

function lift(rng: Rng, index: number, land: Land, days: number): LiftUnit {
  return {
    id: `lift-${index + 1}`,
    name: `Lift ${index + 1}`,
    type: LIFT_TYPES[index % LIFT_TYPES.length] as string,
    depot: land.place(`depot-${index + 1}`),
    rangeKm: rng.integer(600, 2000),
    available: mask(rng, days, { chance: 0.5, longest: 12 }),
    mobiliseFixedCents: rng.integer(20, 60) * 1000,
    mobilisePerKmCents: rng.integer(150, 320),
    dayCents: rng.integer(35, 90) * 1000,
    minDays: rng.integer(1, 3),
  };
}

function unit(rng: Rng, index: number, days: number): EquipmentUnit {
  const kind = EQUIPMENT_KINDS[index % EQUIPMENT_KINDS.length] as string;
  return {
    id: `unit-${index + 1}`,
    kind,
    name: `${kind} ${index + 1}`,
    usable: mask(rng, days, { chance: 0.4, longest: 8 }),
  };
}

function warehouse(rng: Rng, index: number, firstDay: number, days: number): Warehouse {
  return {
    id: `warehouse-${index + 1}`,
    bays: rng.integer(1, 4),
    works: weekdayMask(rng, firstDay, days, false),
    bayDayCents: 1_200,
    overflowBayDayCents: 4_500,
  };
}

function weather(rng: Rng, days: number): WeatherTable {
  const worst = 0.6 + rng.uniform() * 2.2;
  const best = rng.uniform() * 0.3;
  const calm = days * (0.4 + rng.uniform() * 0.3);
  const expectedLostDays = many(days, (d) => {
    const away = Math.min(1, Math.abs(d - calm) / (days * 0.6));
    return Math.round((best + (worst - best) * away ** 1.5) * 1000) / 1000;
  });
  return { expectedLostDays, reserveDays: expectedLostDays.map((lost) => Math.ceil(lost * 1.25 - 0.25)) };
}

interface JobSurroundings {
  readonly firstDay: number;
  readonly days: number;
  readonly warehouses: readonly Warehouse[];
  readonly lifts: readonly LiftUnit[];
  readonly equipment: readonly EquipmentUnit[];
  readonly crews: readonly Crew[];
  readonly options: RandomSeasonOptions;
}

function siteDay(rng: Rng, outside: boolean, liftType: string | null): SiteDay {
  const tickets = [];
  if (outside && rng.uniform() < 0.7) tickets.push({ ticket: 'rigger', count: rng.uniform() < 0.2 ? 2 : 1 });
  if (!outside && rng.uniform() < 0.5) tickets.push({ ticket: 'electrician', count: 1 });
  return { outside, hours: 8, hands: outside ? (rng.uniform() < 0.15 ? 4 : 3) : 2, tickets, liftType };
}

function pattern(rng: Rng, liftTypes: readonly string[]): SiteDay[] {
  const kind = rng.uniform();
  const liftType = liftTypes.length > 0 && rng.uniform() < 0.45 ? rng.pick(liftTypes) : null;
  if (kind < 0.1) return [siteDay(rng, false, null)];
  if (kind < 0.85) return [siteDay(rng, true, liftType), siteDay(rng, false, null)];
  return [siteDay(rng, true, null), siteDay(rng, true, liftType), siteDay(rng, false, null)];
}

function job(rng: Rng, index: number, land: Land, around: JobSurroundings): Job {
  const { firstDay, days, options } = around;
  const at = (offset: number): Day => (firstDay + Math.round(offset)) as Day;
  const siteDays = pattern(rng, [...new Set(around.lifts.map((unit) => unit.type))]);
  const ready = rng.uniform() * days * 0.6;
  const hasGoods = around.warehouses.length > 0 && siteDays.length > 1;
  const lot = Math.floor(rng.uniform() * 4);
  const kinds = [...new Set(around.equipment.map((unit) => unit.kind))].sort();
  const outside = siteDays.some((day) => day.outside);
  const id = `job-${String(index + 1).padStart(2, '0')}`;
  const near = index > 2 && rng.uniform() < 0.45 ? `site-${rng.integer(1, index)}` : undefined;
  const crewId = (): string => rng.pick(around.crews).id;
  const pinned = rng.uniform() < (options.pinned ?? 0);
  const pinsCrew = rng.uniform() < 0.5;
  return {
    id,
    title: `Invented dome ${index + 1}`,
    visitKind: siteDays.length === 1 ? 'service' : 'build',
    site: land.place(`site-${index + 1}`, near),
    pattern: siteDays,
    maxGapDays: rng.pick([0, 2, 3]),
    siteClosedDays: rng.uniform() < 0.3 ? many(rng.integer(1, 4), () => at(rng.uniform() * (days - 1))) : [],
    siteReadyFrom: at(ready - 5),
    goods: hasGoods
      ? {
          warehouse: rng.pick(around.warehouses).id,
          goodsFrom: at(lot * days * 0.12 + rng.integer(-3, 3)),
          deliveryLeadDays: rng.integer(0, 3),
          siteStorageDays: rng.integer(0, 10),
          bays: rng.integer(1, 2),
        }
      : null,
    equipmentKinds: kinds.filter(() => rng.uniform() < 0.35),
    promisedBy: rng.uniform() < 0.8 ? at(ready + rng.integer(5, 35)) : null,
    lateCentsPerDay: rng.integer(5, 40) * 1000,
    notPlannedCents: rng.integer(8, 25) * 100_000,
    pin: pinned
      ? {
          start: rng.uniform() < 0.7 ? at(ready + rng.integer(0, 15)) : null,
          crew: pinsCrew ? crewId() : null,
        }
      : null,
    published:
      rng.uniform() < (options.published ?? 0)
        ? { start: at(ready + rng.integer(0, 20)), crew: crewId() }
        : null,
    weatherTable: outside && (options.weather ?? true) ? `weather-${id}` : null,
  };
}
