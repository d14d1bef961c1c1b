import {
  type SeasonFile,
  type SeasonRow,
  type SeasonTableName,
  seasonTableNames,
  validateSeasonFile,
} from '../../libs/contracts/src/index.ts';

/** Tables and head values that differ from the small season; a table given replaces that table. */
export type SeasonFileChanges = Partial<{ [N in SeasonTableName]: SeasonRow<N>[] }> & {
  season?: Partial<SeasonFile['season']>;
};

/**
 * A small valid season, all invented: one crew of three, one casual hand, one telehandler, two sites with a build each, goods of one job
 * by milestones and of the other by a given day. Every call gives a fresh copy.
 */
export function seasonFile(changes: SeasonFileChanges = {}): SeasonFile {
  const { season, ...tables } = changes;
  const small = smallSeason();
  const candidate = { ...small, ...tables, season: { ...small.season, ...season } };
  const result = validateSeasonFile(candidate);
  if (!result.ok)
    throw new Error(`the built season file has faults: ${JSON.stringify(result.faults, null, 2)}`);
  return result.value;
}

/** The rows of one table of a file with some of them changed: those whose cells match `where` get the cells of `change`. */
export function changeRows<N extends SeasonTableName>(
  file: SeasonFile,
  table: N,
  where: Partial<SeasonRow<N>>,
  change: Partial<SeasonRow<N>>,
): SeasonRow<N>[] {
  const rows = file[table] as SeasonRow<N>[];
  const matches = (row: SeasonRow<N>): boolean =>
    Object.entries(where).every(([name, value]) => row[name as keyof SeasonRow<N>] === value);
  if (!rows.some(matches)) throw new Error(`no row of ${table} matches ${JSON.stringify(where)}`);
  return rows.map((row) => (matches(row) ? { ...row, ...change } : row));
}

function smallSeason(): SeasonFile {
  const empty = Object.fromEntries(seasonTableNames.map((name) => [name, []])) as unknown as {
    [N in SeasonTableName]: SeasonRow<N>[];
  };
  const atlantic = { zone: 'America/Halifax' } as const;
  const language = 'en';
  const month = (at: number): SeasonRow<'weatherMonths'> => ({
    area: 'coast',
    month: at,
    wetDayShare: at >= 5 && at <= 9 ? 0.35 : 0.5,
    wetAfterWet: 0.55,
    windyDayShare: 0.1,
    coldDayShare: at >= 5 && at <= 10 ? 0 : 0.4,
    meanTempC: 9,
    source: 'invented',
  });
  const item = (
    job: string,
    key: string,
    state: SeasonRow<'readinessItems'>['state'],
    expectedOn?: string,
  ): SeasonRow<'readinessItems'> => ({
    job,
    key,
    title: `Ready: ${key}`,
    dueDaysBefore: 14,
    responsible: 'customer',
    evidence: 'tick',
    mustBeTrue: true,
    state,
    ...(expectedOn ? { expectedOn } : {}),
  });
  return {
    format: 'dryspell-season',
    formatVersion: 1,
    season: {
      key: 'small-2027',
      name: 'Small season (invented)',
      organisationName: 'Larch & Loon Domes (invented)',
      zone: 'America/Halifax',
      isDemo: true,
      firstDay: '2027-05-03',
      lastDay: '2027-07-30',
      currency: 'CAD',
      asOfDay: '2027-04-26',
      goodsConfidence: 0.8,
      reserveConfidence: 0.8,
      movedCents: 15_000,
      movedPerDayCents: 2500,
      crewChangedCents: 12_000,
      nearDays: 28,
      nearFactor: 2,
      workdayStart: '08:00',
    },
    ...empty,
    places: [{ key: 'yard', name: 'Yard at Truro', lat: 45.36, lon: -63.28, ...atlantic }],
    warehouses: [
      {
        key: 'store',
        name: 'Store at Halifax',
        lat: 44.65,
        lon: -63.6,
        ...atlantic,
        bays: 4,
        bayDayCents: 1500,
        overflowBayDayCents: 4000,
        weekdays: '1111100',
        deliveryLeadDays: 1,
      },
    ],
    weatherAreas: [{ key: 'coast', name: 'Coast' }],
    weatherMonths: Array.from({ length: 12 }, (_, at) => month(at + 1)),
    ticketKinds: [
      { key: 'lead', name: 'Build lead' },
      { key: 'telehandler', name: 'Telehandler operator' },
    ],
    people: [
      { key: 'ada', name: 'Ada (invented)', language, kind: 'regular' },
      { key: 'ben', name: 'Ben (invented)', language, kind: 'regular' },
      { key: 'cleo', name: 'Cleo (invented)', language, kind: 'regular' },
      {
        key: 'dot',
        name: 'Dot (invented)',
        language,
        kind: 'casual',
        homeLat: 44.7,
        homeLon: -63.5,
        rangeKm: 400,
        dayCents: 28_000,
        travelFixedCents: 5000,
        travelPerKmCents: 60,
        weekdays: '1111110',
      },
    ],
    tickets: [
      { person: 'ada', ticket: 'lead', validFrom: '2025-01-01', expiresOn: '2027-12-31' },
      { person: 'ben', ticket: 'telehandler', validFrom: '2025-01-01' },
    ],
    leave: [{ person: 'cleo', fromDay: '2027-06-14', toDay: '2027-06-18' }],
    crews: [
      {
        key: 'larch',
        name: 'Larch',
        base: 'yard',
        weekdays: '1111100',
        dayCents: 180_000,
        standbyDayCents: 120_000,
        perKmCents: 95,
        nightPerHeadCents: 14_000,
        maxNightsAway: 9,
        sameDayDriveMin: 90,
        driveMinPerDay: 480,
      },
    ],
    crewMembers: [
      { crew: 'larch', person: 'ada', role: 'lead', fromDay: '2027-01-01' },
      { crew: 'larch', person: 'ben', role: 'hand', fromDay: '2027-01-01' },
      { crew: 'larch', person: 'cleo', role: 'hand', fromDay: '2027-01-01' },
    ],
    crewClosedDays: [{ crew: 'larch', fromDay: '2027-05-24', toDay: '2027-05-24', reason: 'Public holiday' }],
    customers: [
      { key: 'school', name: 'Gull Point School (invented)', language, email: 'office@gull-point.example' },
    ],
    sites: [
      {
        key: 'gull-point',
        name: 'Gull Point',
        customer: 'school',
        lat: 45.88,
        lon: -64.3,
        ...atlantic,
        overheadLines: 'no',
        forkliftOnSite: 'no',
        foundationKind: 'pad',
        siteStorageDays: 5,
        weatherArea: 'coast',
      },
      {
        key: 'salt-marsh',
        name: 'Salt Marsh',
        customer: 'school',
        lat: 44.38,
        lon: -64.5,
        ...atlantic,
        overheadLines: 'unknown',
        forkliftOnSite: 'unknown',
        foundationKind: 'deck',
        siteStorageDays: 3,
        weatherArea: 'coast',
      },
    ],
    siteClosedDays: [{ site: 'gull-point', fromDay: '2027-06-01', toDay: '2027-06-04', reason: 'Exams' }],
    liftTypes: [{ key: 'handler', name: 'Telehandler', maxGustMps: 12 }],
    lifts: [
      {
        key: 'handler-1',
        name: 'Telehandler 1',
        type: 'handler',
        depotLat: 45.1,
        depotLon: -63.5,
        rangeKm: 300,
        mobiliseFixedCents: 25_000,
        mobilisePerKmCents: 300,
        dayCents: 42_000,
        minDays: 1,
      },
    ],
    liftUnavailable: [{ lift: 'handler-1', fromDay: '2027-07-01', toDay: '2027-07-02' }],
    equipmentKinds: [{ key: 'levelling-set', name: 'Levelling and sealing set' }],
    equipmentUnits: [
      {
        key: 'level-1',
        kind: 'levelling-set',
        name: 'Levelling set 1',
        base: 'yard',
        needsInspection: true,
        inspectedUntil: '2027-07-09',
      },
    ],
    buildTemplates: [
      { key: 'wren-build', name: 'Wren build, two days', visitKind: 'build', maxGapDays: 2 },
      { key: 'heron-build', name: 'Heron build, two days', visitKind: 'build', maxGapDays: 3 },
    ],
    templateDays: [
      { template: 'wren-build', dayNumber: 1, outside: true, hours: 9, hands: 3 },
      { template: 'wren-build', dayNumber: 2, outside: false, hours: 6, hands: 2 },
      { template: 'heron-build', dayNumber: 1, outside: true, hours: 9.5, hands: 3, liftType: 'handler' },
      { template: 'heron-build', dayNumber: 2, outside: false, hours: 8, hands: 2 },
    ],
    templateDayTickets: [
      { template: 'wren-build', dayNumber: 1, ticket: 'lead', count: 1 },
      { template: 'heron-build', dayNumber: 1, ticket: 'lead', count: 1 },
      { template: 'heron-build', dayNumber: 1, ticket: 'telehandler', count: 1 },
    ],
    templateEquipment: [
      { template: 'wren-build', equipmentKind: 'levelling-set' },
      { template: 'heron-build', equipmentKind: 'levelling-set' },
    ],
    steps: [
      {
        template: 'wren-build',
        key: 'seal',
        name: 'Set and seal the base',
        dayNumber: 1,
        durationMin: 240,
        minHands: 2,
        maxHands: 3,
        outside: true,
        interruptible: false,
        holdPoint: true,
        needsDaylight: true,
      },
      {
        template: 'wren-build',
        key: 'raise',
        name: 'Raise the shell',
        dayNumber: 1,
        durationMin: 120,
        minHands: 3,
        maxHands: 3,
        outside: true,
        interruptible: false,
        holdPoint: false,
        gustLimitMps: 8,
        needsDaylight: true,
      },
      {
        template: 'wren-build',
        key: 'wire',
        name: 'Cabling',
        dayNumber: 2,
        durationMin: 180,
        minHands: 1,
        maxHands: 2,
        outside: false,
        interruptible: true,
        holdPoint: false,
        needsDaylight: false,
      },
    ],
    stepPrecedence: [
      { template: 'wren-build', before: 'seal', after: 'raise', minLagMin: 30, maxLagMin: 120 },
      { template: 'wren-build', before: 'raise', after: 'wire', minLagMin: 0 },
    ],
    kits: [
      {
        key: 'wren',
        name: 'Wren dome',
        diameterM: 2.8,
        massKg: 410,
        pallets: 1,
        bays: 1,
        heaviestPartKg: 58,
        panelAreaM2: 3.1,
      },
      {
        key: 'heron',
        name: 'Heron dome',
        diameterM: 3.9,
        massKg: 980,
        pallets: 2,
        bays: 2,
        heaviestPartKg: 165,
        panelAreaM2: 6.8,
      },
    ],
    kitTemplates: [
      { kit: 'wren', visitKind: 'build', template: 'wren-build' },
      { kit: 'heron', visitKind: 'build', template: 'heron-build' },
    ],
    jobs: [
      {
        key: 'gull-point',
        site: 'gull-point',
        visitKind: 'build',
        title: 'Wren dome at Gull Point',
        siteReadyFrom: '2027-05-10',
        promisedBy: '2027-06-18',
        lateCentsPerDay: 26_000,
        notPlannedCents: 2_200_000,
        warehouse: 'store',
      },
      {
        key: 'salt-marsh',
        site: 'salt-marsh',
        visitKind: 'build',
        title: 'Heron dome at Salt Marsh',
        siteReadyFrom: '2027-05-17',
        promisedBy: '2027-06-30',
        lateCentsPerDay: 17_000,
        notPlannedCents: 3_400_000,
        warehouse: 'store',
        goodsFrom: '2027-05-12',
      },
    ],
    jobKits: [
      { job: 'gull-point', kit: 'wren', count: 1 },
      { job: 'salt-marsh', kit: 'heron', count: 1 },
    ],
    readinessItems: [
      item('gull-point', 'foundation', 'accepted'),
      item('gull-point', 'power', 'open', '2027-05-13'),
      item('salt-marsh', 'foundation', 'waived'),
    ],
    consignments: [{ key: 'lot-1', warehouse: 'store' }],
    consignmentJobs: [{ consignment: 'lot-1', job: 'gull-point' }],
    containers: [{ number: 'CSQU3054383', consignment: 'lot-1', freeDays: 5, dayCostCents: 18_500 }],
    milestones: [
      { consignment: 'lot-1', kind: 'sailed', planned: '2027-04-01', actual: '2027-04-03' },
      {
        consignment: 'lot-1',
        kind: 'arrived',
        lowDays: 16,
        likelyDays: 19,
        highDays: 27,
        actual: '2027-04-22',
      },
      { consignment: 'lot-1', kind: 'released', lowDays: 2, likelyDays: 4, highDays: 10 },
      { consignment: 'lot-1', kind: 'readyToGo', lowDays: 1, likelyDays: 2, highDays: 4 },
    ],
    travelOverrides: [
      { fromPlace: 'yard', toPlace: 'gull-point', km: 110, driveMin: 80, waitMin: 15, source: 'invented' },
    ],
  };
}
