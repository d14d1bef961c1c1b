/** One limit of a rule set. All times in minutes. */
export type WorkTimeLimit =
  /** At least this much unbroken rest before the day's duty begins; `reducedMin` where the law lets it be shorter a few times. */
  | {
      readonly kind: 'daily-rest';
      readonly id: string;
      readonly atLeastMin: number;
      readonly reducedMin: number | null;
    }
  /** At most this much of an activity in the day; `extendedMin` where the law lets it be longer a few times. */
  | {
      readonly kind: 'day-total';
      readonly id: string;
      readonly of: 'driving' | 'work';
      readonly atMostMin: number;
      readonly extendedMin: number | null;
    }
  /**
   * After at most this much of an activity a break: in one piece of `breakMin`, or in the pieces of `split`, in that order.
   * `breakMin` null: there must be a break, its length is left to other law.
   */
  | {
      readonly kind: 'break-after';
      readonly id: string;
      readonly of: 'driving' | 'work';
      readonly afterMin: number;
      readonly breakMin: number | null;
      readonly split: readonly [number, number] | null;
      /** What counts as a break: only rest, or anything that is not the activity. */
      readonly brokenBy: 'rest' | 'anything-else';
    }
  /** No driving later than this after coming on duty. */
  | { readonly kind: 'driving-window'; readonly id: string; readonly withinMin: number }
  /** In any span of `spanMin`, at most `workMin` of work, the rest taken in unbroken pieces of at least `pieceMin`. */
  | {
      readonly kind: 'rolling-work';
      readonly id: string;
      readonly spanMin: number;
      readonly workMin: number;
      readonly roundToMin: number;
    };

/** Limits of one body of law, as data, with the date on which they were looked up: laws change. */
export interface WorkTimeRuleSet {
  readonly id: string;
  readonly name: string;
  readonly appliesTo: string;
  readonly source: string;
  readonly asOf: string;
  readonly limits: readonly WorkTimeLimit[];
}

/** EU working time: rest and breaks of all workers. */
export const EU_WORKING_TIME: WorkTimeRuleSet = {
  id: 'eu-working-time',
  name: 'EU working time',
  appliesTo: 'Workers in the European Union; national law may add to it.',
  source: 'Directive 2003/88/EC, articles 3 and 4',
  asOf: '2026-11-24',
  limits: [
    { kind: 'daily-rest', id: 'rest', atLeastMin: 660, reducedMin: null },
    {
      kind: 'break-after',
      id: 'break',
      of: 'work',
      afterMin: 360,
      breakMin: null,
      split: null,
      brokenBy: 'rest',
    },
  ],
};

/** EU driving times of goods and passenger vehicles. */
export const EU_DRIVING: WorkTimeRuleSet = {
  id: 'eu-driving',
  name: 'EU driving times',
  appliesTo: 'Drivers of vehicles under the tachograph rules of the European Union.',
  source: 'Regulation (EC) 561/2006, articles 6, 7 and 8',
  asOf: '2026-11-24',
  limits: [
    { kind: 'daily-rest', id: 'rest', atLeastMin: 660, reducedMin: 540 },
    { kind: 'day-total', id: 'day-driving', of: 'driving', atMostMin: 540, extendedMin: 600 },
    {
      kind: 'break-after',
      id: 'break',
      of: 'driving',
      afterMin: 270,
      breakMin: 45,
      split: [15, 30],
      brokenBy: 'rest',
    },
  ],
};

/** New Zealand work time in vehicles under the rule. */
export const NZ_WORK_TIME: WorkTimeRuleSet = {
  id: 'nz-work-time',
  name: 'New Zealand work time',
  appliesTo: 'Drivers under the work-time rules of New Zealand.',
  source: 'Land Transport Act 1998, part 4B, and Land Transport Rule 62001',
  asOf: '2026-11-24',
  limits: [
    { kind: 'daily-rest', id: 'rest', atLeastMin: 600, reducedMin: null },
    { kind: 'day-total', id: 'day-work', of: 'work', atMostMin: 780, extendedMin: null },
    {
      kind: 'break-after',
      id: 'break',
      of: 'work',
      afterMin: 330,
      breakMin: 30,
      split: null,
      brokenBy: 'rest',
    },
  ],
};

/** Australian heavy vehicle standard hours for a driver alone; work is rounded up and rest down to 15 minutes. */
export const AU_STANDARD_HOURS: WorkTimeRuleSet = {
  id: 'au-standard-hours',
  name: 'Australian standard hours, solo',
  appliesTo: 'Solo drivers of fatigue-regulated heavy vehicles under the national law of Australia.',
  source: 'Heavy Vehicle (Fatigue Management) National Regulation, section 5 and schedule 1',
  asOf: '2026-11-24',
  limits: [
    { kind: 'daily-rest', id: 'rest', atLeastMin: 420, reducedMin: null },
    { kind: 'day-total', id: 'day-work', of: 'work', atMostMin: 720, extendedMin: null },
    { kind: 'rolling-work', id: 'work-in-5h30', spanMin: 330, workMin: 315, roundToMin: 15 },
    { kind: 'rolling-work', id: 'work-in-8h', spanMin: 480, workMin: 450, roundToMin: 15 },
    { kind: 'rolling-work', id: 'work-in-11h', spanMin: 660, workMin: 600, roundToMin: 15 },
  ],
};

/** United States hours of service, property-carrying. */
export const US_PROPERTY: WorkTimeRuleSet = {
  id: 'us-property',
  name: 'US hours of service, property-carrying',
  appliesTo: 'Drivers of property-carrying commercial motor vehicles in the United States.',
  source: '49 CFR 395.3',
  asOf: '2026-11-24',
  limits: [
    { kind: 'daily-rest', id: 'rest', atLeastMin: 600, reducedMin: null },
    { kind: 'day-total', id: 'day-driving', of: 'driving', atMostMin: 660, extendedMin: null },
    { kind: 'driving-window', id: 'driving-window', withinMin: 840 },
    {
      kind: 'break-after',
      id: 'break',
      of: 'driving',
      afterMin: 480,
      breakMin: 30,
      split: null,
      brokenBy: 'anything-else',
    },
  ],
};

/** All rule sets that come with the program. Others are added as data. */
export const WORK_TIME_RULE_SETS: readonly WorkTimeRuleSet[] = [
  EU_WORKING_TIME,
  EU_DRIVING,
  NZ_WORK_TIME,
  AU_STANDARD_HOURS,
  US_PROPERTY,
];

/** What must be shown beside any check of working or driving time. */
export const WORK_TIME_CAUTION =
  'A planning aid. It checks one day against the named limits as they stood on the named date, not weekly totals, night work or exemptions. The law and the fitness of the person come first; tired people neither drive nor lift.';
