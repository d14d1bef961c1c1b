import { spawn } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { writeSeason } from '../../../apps/cli/src/season-io/write-season.ts';
import { type PlanFile, type SeasonFile } from '../../../libs/contracts/src/index.ts';
import { changeRows, seasonFile } from '../../builders/season-file.ts';
import {
  BUDGET,
  dryspell,
  facts,
  folder,
  inFolder,
  Run,
  readPlan,
  removeFolder,
  root,
  save,
} from './plan-stage.ts';

let season: string;

beforeAll(() => {
  season = save('season.json', seasonFile());
});

afterAll(removeFolder);

describe('plan', () => {
  it('writes a plan that the check passes, and shows visits, costs, bound and cautions', async () => {
    const run = await dryspell('plan', season, ...BUDGET, '--out', inFolder('plan.json'));
    expect(run.code).toBe(0);
    const plan = readPlan('plan.json');
    for (const { title, days } of plan.visits) {
      expect(run.out).toContain(title);
      expect(run.out).toContain(String(days[0]));
    }
    expect(run.out).toMatch(/Telehandler 1/);
    expect(run.out).toMatch(/\ntotal +CAD [\d,]+\.\d\d\n/);
    expect(run.out).toContain('no valid plan can cost less than CAD');
    expect(run.out).toContain('first come, first served would cost CAD');
    expect(run.out).toContain('licensed or competent person');
    expect(run.out).toContain('Odd or assumed');
    const check = await dryspell('check', season, inFolder('plan.json'));
    expect([check.code, check.out]).toEqual([0, expect.stringContaining('valid: 2 visits of 2 jobs')]);
  }, 60_000);

  it('gives the same plan for the same seed and tries, on one thread and on two', async () => {
    const plans = await Promise.all(
      ['1', '2'].map((threads) => facts<{ plan: PlanFile }>('plan', season, ...BUDGET, '--threads', threads)),
    );
    expect(plans[0]?.plan.visits).toHaveLength(2);
    expect(plans[1]?.plan).toEqual(plans[0]?.plan);
  }, 60_000);

  it('reads the same season from a workbook and from a folder of CSV files', async () => {
    for (const name of ['season.xlsx', 'season-csv']) await writeSeason(seasonFile(), inFolder(name));
    const hashes = await Promise.all(
      [season, inFolder('season.xlsx'), inFolder('season-csv')].map(
        async (source) =>
          (await facts<{ plan: PlanFile }>('plan', source, '--iterations', '0')).plan.problemHash,
      ),
    );
    expect(new Set(hashes).size).toBe(1);
  }, 60_000);

  it('says every fault with table, row, column, value and what would be right, and writes nothing', async () => {
    const broken = JSON.parse(JSON.stringify(seasonFile()));
    broken.jobs[1].site = 'nowhere';
    broken.sites[0].lat = 'north';
    broken.crews[0].dayCent = 5;
    const source = save('broken.json', broken);
    const out = inFolder('never.json');
    const answer = await facts<{ outcome: string; faults: Record<string, unknown>[] }>(
      'plan',
      source,
      '--out',
      out,
    );
    expect([answer.code, answer.outcome]).toEqual([1, 'bad-input']);
    const found = answer.faults.map(({ table, row, column, value }) => ({ table, row, column, value }));
    expect(found).toEqual(
      expect.arrayContaining([
        { table: 'jobs', row: 2, column: 'site', value: 'nowhere' },
        { table: 'sites', row: 1, column: 'lat', value: 'north' },
        { table: 'crews', row: 1, column: 'dayCent', value: 5 },
      ]),
    );
    expect(found).toHaveLength(3);
    for (const { expected } of answer.faults) expect(String(expected)).not.toBe('');
    const people = await dryspell('plan', source);
    expect([people.code, people.out]).toEqual([1, expect.stringContaining('jobs, row 2, site: ')]);
    expect(fs.existsSync(out)).toBe(false);
  });

  it('finds faults between rows too', async () => {
    const file = seasonFile();
    const source = save('no-template.json', { ...file, kitTemplates: [] });
    const run = await dryspell('plan', source);
    expect([run.code, run.out]).toEqual([1, expect.stringContaining('jobs, row 1')]);
  });

  it('answers 2 and names both jobs when their pins clash, and writes nothing', async () => {
    const file = seasonFile();
    const pin = { pinnedStart: '2027-06-21', pinnedCrew: 'larch' };
    let jobs: SeasonFile['jobs'] = changeRows(file, 'jobs', { key: 'gull-point' }, pin);
    jobs = changeRows({ ...file, jobs }, 'jobs', { key: 'salt-marsh' }, pin);
    const source = save('pins.json', { ...file, jobs });
    const out = inFolder('refused.json');
    const run = await dryspell('plan', source, ...BUDGET, '--out', out);
    expect(run.code).toBe(2);
    expect(run.out).toContain('Wren dome at Gull Point [gull-point]');
    expect(run.out).toContain('Heron dome at Salt Marsh [salt-marsh]');
    expect(run.out).toContain('seen at 2027-06-21');
    const answer = await facts<{ outcome: string; clashes: { jobs: string[] }[] }>('plan', source, ...BUDGET);
    expect(answer.outcome).toBe('refused');
    expect(answer.clashes[0]?.jobs.sort()).toEqual(['gull-point', 'salt-marsh']);
    expect(fs.existsSync(out)).toBe(false);
  }, 60_000);

  it('says why a job has no date', async () => {
    const file = seasonFile();
    const jobs = changeRows(file, 'jobs', { key: 'salt-marsh' }, { goodsFrom: '2027-07-30' });
    const run = await dryspell('plan', save('late-goods.json', { ...file, jobs }), ...BUDGET);
    expect(run.code).toBe(0);
    expect(run.out).toContain('1 of 2 jobs planned');
    expect(run.out).toMatch(
      /not planned \(1\):\n {2}Heron dome at Salt Marsh \[salt-marsh\]\n {4}the goods are not there/,
    );
  }, 60_000);

  it('refuses a place for the plan before it searches, and replaces nothing but a plan', async () => {
    const kept = save('notes.txt', 'my own notes');
    const place = async (out: string): Promise<Run> =>
      dryspell('plan', season, '--seconds', '86400', '--out', out);
    expect(await place(folder)).toMatchObject({ code: 1, out: expect.stringContaining('is a folder') });
    expect(await place(inFolder('none/plan.json'))).toMatchObject({
      code: 1,
      out: expect.stringContaining('nothing can be written'),
    });
    for (const file of [kept, season])
      expect(await place(file)).toMatchObject({ code: 1, out: expect.stringContaining('no plan file') });
    expect(fs.readFileSync(kept, 'utf8')).toBe('my own notes');
    const again = save('again.json', { format: 'dryspell-plan' });
    expect((await dryspell('plan', season, '--iterations', '0', '--out', again)).code).toBe(0);
    expect(readPlan('again.json').visits).toHaveLength(2);
    expect(fs.readdirSync(folder).filter((name) => name.endsWith('.part'))).toEqual([]);
  }, 60_000);

  it.each([
    ['both budgets', ['--seconds', '5', '--iterations', '5']],
    ['no time at all', ['--seconds', '0']],
    ['a day that does not exist', ['--today', '2027-02-30']],
    ['weather without a file', ['--weather', 'coast']],
    ['weather of one area twice', ['--weather', 'coast=a.epw', '--weather', 'coast=b.epw']],
    ['working hours that end before they begin', ['--work-hours', '17-8']],
    ['a gust limit of nothing', ['--gust-limit', '0']],
  ])('answers 2 with the help for %s', async (_what, options) => {
    const run = await dryspell('plan', season, ...options);
    expect([run.code, run.err]).toEqual([2, expect.stringContaining('npm run dryspell -- plan')]);
  });

  it('keeps the best plan so far on Ctrl-C', async () => {
    const child = spawn(
      process.execPath,
      [
        '--import',
        path.join(root, 'apps/cli/tools/register-ts.mjs'),
        path.join(root, 'apps/cli/src/main.ts'),
        'plan',
        path.join(root, 'prisma/demo/larch-and-loon-south-2027.json'),
        '--seconds',
        '3600',
        '--out',
        inFolder('stopped.json'),
      ],
      { stdio: ['ignore', 'pipe', 'pipe'] },
    );
    let [out, err, isSent] = ['', '', false];
    child.stdout.on('data', (chunk) => {
      out += chunk;
    });
    const code = await new Promise((resolve) => {
      child.stderr.on('data', (chunk) => {
        err += chunk;
        // The first progress line says that the search is on.
        if (isSent || !/tries {2}best AUD/.test(err)) return;
        isSent = true;
        // Twice for one press, as it comes when npm passes it on.
        child.kill('SIGINT');
        setTimeout(() => child.kill('SIGINT'), 50);
      });
      child.once('close', resolve);
    });
    expect([code, err, out]).toEqual([
      0,
      expect.stringContaining('the best plan so far is kept'),
      expect.stringContaining('stopped early'),
    ]);
    expect(readPlan('stopped.json').visits.length).toBeGreaterThan(0);
  }, 120_000);
});

describe('check', () => {
  beforeAll(async () => {
    await dryspell('plan', season, ...BUDGET, '--out', inFolder('sound.json'));
  }, 60_000);

  it('names each broken rule with job, day and numbers, and puts the costs side by side', async () => {
    const plan = readPlan('sound.json');
    const visit = plan.visits.find(({ job }) => job === 'salt-marsh');
    if (!visit) throw new Error('the job is planned');
    visit.deliveryDay = '2027-05-03' as typeof visit.deliveryDay;
    visit.liftUnit = null;
    plan.totalCents -= 12_345;
    const edited = save('edited.json', plan);
    const run = await dryspell('check', season, edited);
    expect(run.code).toBe(1);
    expect(run.out).toMatch(/^not valid: \d+ breaches/);
    expect(run.out).toMatch(/rule 3, Heron dome at Salt Marsh \[salt-marsh\], 2027-0\d-\d\d: /);
    expect(run.out).toMatch(/rule 7, Heron dome at Salt Marsh \[salt-marsh\]/);
    expect(run.out).toContain(`The plan's total is ${plan.totalCents} cents`);
    expect(run.out).toMatch(/lift hire +CAD 0\.00 +CAD [\d,.]+ +CAD [\d,.]+\n/);
    const answer = await facts<{ violations: { rule: number; job: string | null }[] }>(
      'check',
      season,
      edited,
    );
    expect(answer.violations).toEqual(
      expect.arrayContaining([expect.objectContaining({ rule: 7, job: 'salt-marsh' })]),
    );
  });

  it('tells a plan of another season from a plan of this one', async () => {
    const other = save('other.json', seasonFile({ season: { reserveConfidence: 0.95 } }));
    const run = await dryspell('check', other, inFolder('sound.json'));
    expect([run.code, run.out]).toEqual([1, expect.stringContaining('The plan was made for problem')]);
  });

  it('answers 2 for a plan or season that cannot be used', async () => {
    const latin = inFolder('latin.json');
    fs.writeFileSync(latin, Buffer.from([0x7b, 0x22, 0xe9, 0x22, 0x7d]));
    const refused: [string, string, string][] = [
      [season, inFolder('none.json'), 'there is no plan file at'],
      [season, folder, 'is a folder'],
      [season, season, 'is a season file, not a plan file'],
      [season, save('cut.json', '{\n  "format": "dryspell-plan", oh'), 'is not JSON at line 2, column 30'],
      [season, save('empty.json', ' '), 'is empty'],
      [season, latin, 'is not text in UTF-8'],
      [season, save('half.json', { format: 'dryspell-plan', visits: 7 }), 'visits: '],
      [inFolder('none.json'), inFolder('sound.json'), 'there is no file or folder'],
      [inFolder('sound.json'), inFolder('sound.json'), 'format: '],
    ];
    for (const [source, plan, words] of refused) {
      const run = await dryspell('check', source, plan);
      expect([plan, run.code, run.out]).toEqual([plan, 2, expect.stringContaining(words)]);
    }
  });
});
