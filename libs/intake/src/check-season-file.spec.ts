import { describe, expect, it } from '@jest/globals';
import { changeRows, seasonFile } from '../../../tests/builders/season-file.ts';
import type { SeasonFile } from '../../contracts/src/index.ts';
import { parseLocalDate, toDay } from '../../kernel/src/index.ts';
import { checkSeasonFile, oddRows } from './index.ts';

const sound = seasonFile();
const faultsOf = (file: SeasonFile) =>
  checkSeasonFile(file).map(({ table, row, column, code }) => [table, row, column, code]);

describe('checkSeasonFile', () => {
  it('finds nothing in a sound file', () => {
    expect(checkSeasonFile(sound)).toEqual([]);
  });

  it('finds a time zone that does not exist, also in a wrong spelling', () => {
    const sites = changeRows(sound, 'sites', { key: 'salt-marsh' }, { zone: 'America/halifax' });
    expect(faultsOf(seasonFile({ sites, season: { zone: 'Mars/Olympus' } }))).toEqual([
      ['season', 1, 'zone', 'unknown-zone'],
      ['sites', 2, 'zone', 'unknown-zone'],
    ]);
  });

  it('finds a casual hand in a crew', () => {
    const crewMembers = [
      ...sound.crewMembers,
      { crew: 'larch', person: 'dot', role: 'hand' as const, fromDay: '2027-05-01' },
    ];
    expect(faultsOf(seasonFile({ crewMembers }))).toEqual([['crewMembers', 4, 'person', 'not-possible']]);
  });

  it('finds a template without a first day, and one without any', () => {
    const templateDays = sound.templateDays.filter(
      (row) => !(row.template === 'heron-build' && row.dayNumber === 1),
    );
    const templateDayTickets = sound.templateDayTickets.filter((row) => row.template !== 'heron-build');
    const faults = checkSeasonFile(seasonFile({ templateDays, templateDayTickets }));
    expect(faults.map(({ code, message }) => [code, message])).toEqual([
      ['not-possible', 'The template heron-build has no site day 1, though it has a day 2.'],
    ]);
  });

  it('finds steps that wait for each other, and times that contradict each other', () => {
    const ring = [
      ...sound.stepPrecedence,
      { template: 'wren-build', before: 'raise', after: 'seal', minLagMin: 0 },
    ];
    const faults = checkSeasonFile(seasonFile({ stepPrecedence: ring }));
    expect(faults.map(({ table, row, code }) => [table, row, code])).toEqual([
      ['stepPrecedence', 1, 'cycle'],
    ]);
    expect(faults[0]?.message).toMatch(/seal, raise|raise, seal/);
    const tight = [
      { template: 'wren-build', before: 'seal', after: 'raise', minLagMin: 0 },
      { template: 'wren-build', before: 'raise', after: 'wire', minLagMin: 0 },
      { template: 'wren-build', before: 'seal', after: 'wire', minLagMin: 0, maxLagMin: 60 },
    ];
    expect(faultsOf(seasonFile({ stepPrecedence: tight }))).toEqual([
      ['stepPrecedence', 1, 'after', 'cycle'],
    ]);
  });

  it('finds a step that comes first on a later site day', () => {
    const stepPrecedence = [{ template: 'wren-build', before: 'wire', after: 'raise', minLagMin: 0 }];
    expect(faultsOf(seasonFile({ stepPrecedence }))).toEqual([['stepPrecedence', 1, 'after', 'wrong-order']]);
  });

  it('finds a job that nobody knows how to do', () => {
    expect(faultsOf(seasonFile({ kitTemplates: sound.kitTemplates.slice(0, 1) }))).toEqual([
      ['jobs', 2, 'template', 'no-template'],
    ]);
    expect(faultsOf(seasonFile({ jobKits: sound.jobKits.slice(0, 1) }))).toEqual([
      ['jobs', 2, 'template', 'no-template'],
    ]);
    const jobs = changeRows(
      sound,
      'jobs',
      { key: 'gull-point' },
      { visitKind: 'service', template: 'wren-build' },
    );
    expect(faultsOf(seasonFile({ jobs }))).toEqual([['jobs', 1, 'template', 'not-possible']]);
  });

  it('finds a job that needs two types of lift', () => {
    const liftTypes = [...sound.liftTypes, { key: 'crane', name: 'Mobile crane' }];
    const templateDays = changeRows(
      sound,
      'templateDays',
      { template: 'wren-build', dayNumber: 1 },
      { liftType: 'crane' },
    );
    const jobKits = [...sound.jobKits, { job: 'salt-marsh', kit: 'wren', count: 1 }];
    expect(faultsOf(seasonFile({ liftTypes, templateDays, jobKits }))).toEqual([
      ['jobs', 2, 'key', 'not-possible'],
    ]);
  });

  it('finds goods that go to another warehouse', () => {
    const warehouses = [...sound.warehouses, { ...sound.warehouses[0]!, key: 'other' }];
    const consignments = [{ key: 'lot-1', warehouse: 'other' }];
    expect(faultsOf(seasonFile({ warehouses, consignments }))).toEqual([
      ['jobs', 1, 'warehouse', 'not-possible'],
    ]);
  });

  it('finds milestones that run backwards', () => {
    const milestones = changeRows(sound, 'milestones', { kind: 'arrived' }, { actual: '2027-04-02' });
    expect(faultsOf(seasonFile({ milestones }))).toEqual([['milestones', 2, 'actual', 'wrong-order']]);
  });

  it('finds a chance of wet after wet that the share of wet days does not allow', () => {
    const weatherMonths = changeRows(
      sound,
      'weatherMonths',
      { month: 1 },
      { wetDayShare: 0.8, wetAfterWet: 0.6 },
    );
    const [fault] = checkSeasonFile(seasonFile({ weatherMonths }));
    expect(fault).toMatchObject({
      table: 'weatherMonths',
      row: 1,
      column: 'wetAfterWet',
      code: 'bad-value',
      expected: 'at least 0.750',
    });
  });
});

describe('oddRows', () => {
  const asOf = toDay(parseLocalDate('2027-04-26'));
  const codesOf = (file: SeasonFile) => oddRows(file, asOf).map(({ code, key }) => [code, key]);

  it('finds nothing odd in the small season', () => {
    expect(oddRows(sound, asOf)).toEqual([]);
  });

  it('notices a zone that its place does not have, but not another name for the same clocks', () => {
    const sites = changeRows(sound, 'sites', { key: 'gull-point' }, { zone: 'America/St_Johns' });
    expect(codesOf(seasonFile({ sites }))).toEqual([['zone-not-at-place', 'gull-point']]);
    expect(
      codesOf(
        seasonFile({ sites: changeRows(sound, 'sites', { key: 'gull-point' }, { zone: 'America/Moncton' }) }),
      ),
    ).toEqual([]);
  });

  it('notices a container number that fails its own check, and says the right digit', () => {
    const file = seasonFile({ containers: [{ ...sound.containers[0]!, number: 'CSQU3054384' }] });
    expect(oddRows(file, asOf)).toMatchObject([
      { code: 'container-number', key: 'CSQU3054384', data: { expectedDigit: 3 } },
    ]);
  });

  it('notices people and crews that will not be planned', () => {
    const crewMembers = changeRows(sound, 'crewMembers', { person: 'cleo' }, { toDay: '2027-02-01' });
    expect(codesOf(seasonFile({ crewMembers }))).toEqual([['hand-without-crew', 'cleo']]);
    const crews = [...sound.crews, { ...sound.crews[0]!, key: 'loon' }];
    expect(codesOf(seasonFile({ crews }))).toEqual([['crew-without-members', 'loon']]);
  });

  it('notices promises and pins that cannot be kept, and half a published place', () => {
    const jobs = changeRows(
      sound,
      'jobs',
      { key: 'gull-point' },
      { promisedBy: '2027-05-01', pinnedStart: '2027-05-07', publishedStart: '2027-05-11' },
    );
    expect(codesOf(seasonFile({ jobs })).map(([code]) => code)).toEqual([
      'promise-before-ready',
      'pin-before-ready',
      'published-incomplete',
    ]);
    const outside = changeRows(sound, 'jobs', { key: 'gull-point' }, { pinnedStart: '2027-12-01' });
    expect(codesOf(seasonFile({ jobs: outside }))).toEqual([['outside-season', 'gull-point']]);
  });

  it('notices goods, trucks, lifts and values that do not fit', () => {
    const milestones = changeRows(sound, 'milestones', { kind: 'arrived' }, { actual: '2027-04-30' });
    expect(codesOf(seasonFile({ milestones }))).toEqual([['actual-in-future', 'lot-1/arrived']]);
    const deliveryRuns = [
      { job: 'salt-marsh', day: '2027-05-20', truckKind: 'flatbed' as const, state: 'needed' as const },
    ];
    expect(codesOf(seasonFile({ deliveryRuns }))).toEqual([
      ['flatbed-without-forklift', 'salt-marsh/2027-05-20'],
    ]);
    const sites = changeRows(sound, 'sites', { key: 'salt-marsh' }, { gateWidthM: 2.4 });
    const liftTypes = [{ ...sound.liftTypes[0]!, needsWidthM: 2.6 }];
    expect(codesOf(seasonFile({ sites, liftTypes }))).toEqual([['gate-too-narrow', 'salt-marsh']]);
    const noMachines = seasonFile({ lifts: [], liftUnavailable: [], equipmentUnits: [] });
    expect(codesOf(noMachines).map(([code]) => code)).toEqual(['no-unit', 'no-unit', 'no-unit']);
    const level = changeRows(
      sound,
      'readinessItems',
      { job: 'gull-point', key: 'foundation' },
      { evidence: 'number', toleranceLow: 0, toleranceHigh: 3, value: 4 },
    );
    expect(codesOf(seasonFile({ readinessItems: level }))).toEqual([
      ['value-outside-tolerance', 'gull-point/foundation'],
    ]);
    const jobs = changeRows(sound, 'jobs', { key: 'gull-point' }, { warehouse: null });
    expect(codesOf(seasonFile({ jobs }))).toEqual([['goods-without-warehouse', 'gull-point']]);
  });
});
