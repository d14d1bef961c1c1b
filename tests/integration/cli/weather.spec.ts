// A user reads weather files into the records of a season and sees what is there.
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { COMMANDS } from '../../../apps/cli/src/commands/all-commands.ts';
import { runCommand } from '../../../apps/cli/src/commands/run-command.ts';
import { epwText } from '../../builders/epw-file.ts';
import { openStage, type Stage } from '../data/stage.ts';

let stage: Stage;
let folder: string;

beforeAll(async () => {
  stage = await openStage();
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-weather-'));
  const row = { seasonId: stage.seasonId, key: 'gull', name: 'Gull Point (invented)', lat: 45.9, lon: -64.3 };
  await stage.db.client.weatherStation.create({ data: { ...row, zone: 'America/Halifax' } });
}, 60_000);
afterAll(async () => {
  fs.rmSync(folder, { recursive: true, force: true });
  await stage.close();
});

async function dryspell(...args: string[]) {
  let out = '';
  let err = '';
  const streams = {
    out: (text: string) => {
      out += text;
    },
    err: (text: string) => {
      err += `${text}\n`;
    },
  };
  const code = await runCommand(COMMANDS, ['weather', ...args], { DATABASE_URL: stage.url }, streams);
  return { code, out, err };
}
function file(name: string, text: string): string {
  const at = path.join(folder, name);
  fs.writeFileSync(at, text);
  return at;
}
const epw = epwText({
  rainMm: ({ hour }) => (hour === 6 ? 1.5 : 0),
  windMps: ({ hour }) => hour / 4,
  tempC: ({ hour }) => 10 + hour,
});

describe('weather by the command line', () => {
  it('says that there is nothing yet, and what to do', async () => {
    const { code, out } = await dryspell('status');
    expect([code, out]).toEqual([0, expect.stringMatching(/no weather yet.*weather import/)]);
  });

  it('reads a file in once; again it changes nothing; --dry-run never does', async () => {
    const name = file('gull.epw', epw);
    const dry = await dryspell('import', name, '--station', 'gull', '--dry-run');
    expect([dry.code, dry.out]).toEqual([
      0,
      '8760 hours would be read in as station.gull; nothing was changed',
    ]);
    const first = await dryspell('import', name, '--station', 'gull');
    expect(first.out).toBe('station.gull: 8760 hours read in (8760 new, 0 changed, 0 as they were)');
    expect(first.err).toMatch(/8760 of 8760 hours stored/);
    const again = await dryspell('import', name, '--station', 'gull', '--json');
    expect(JSON.parse(again.out)).toMatchObject({
      series: 'station.gull',
      dryRun: false,
      lines: 8768,
      goodHours: 8760,
      badLineCount: 0,
      stored: { added: 0, changed: 0, same: 8760, removed: 0 },
    });
  });

  it('shows bad lines with number, reason and value, and keeps the good ones only when told to', async () => {
    const lines = epw.split('\n');
    lines[99] = (lines[99] as string).replace(/^2023,1,\d+,\d+/, '2023,1,4,99');
    const name = file('bad.epw', lines.join('\n'));
    const refused = await dryspell('import', name, '--site', 'hill');
    expect(refused.code).toBe(1);
    expect(refused.out).toMatch(/line 100: hour is not 1 to 24/);
    expect(refused.out).toMatch(/nothing was read in: .*pass --keep-good to keep the 8759 good hours/);
    const kept = await dryspell('import', name, '--site', 'hill', '--keep-good');
    expect(kept.out).toMatch(
      /1 hour is missing in 1 gap[\s\S]*km from Site hill[\s\S]*8759 hours read in \(8759 new/,
    );
  });

  it('reads a table whose units and clock are named by hand', async () => {
    const name = file('mast.csv', 'When;Wind\n03/06/2025 14:00;36,0\n03/06/2025 15:00;18,0\n');
    const unsaid = await dryspell('import', name, '--site', 'cape');
    expect([unsaid.code, unsaid.out]).toEqual([1, expect.stringMatching(/nothing was read in/)]);
    const args = [
      '--column',
      'When=time',
      '--column',
      'Wind=windMps:km/h',
      '--zone',
      'America/St_Johns',
      '--date-order',
      'dmy',
    ];
    const read = await dryspell('import', name, '--site', 'cape', ...args, '--json');
    expect(JSON.parse(read.out)).toMatchObject({ series: 'site.cape', stored: { added: 2 } });
    const odd = await dryspell('import', name, '--site', 'cape', '--column', 'Wind=speed');
    expect([odd.code, odd.err]).toEqual([2, expect.stringMatching(/--column is Header=field/)]);
  });

  it('refuses what it cannot do with the next step', async () => {
    const name = file('gull2.epw', epw);
    expect(await dryspell('import', name)).toMatchObject({
      code: 2,
      err: expect.stringMatching(/--station.*or --site/),
    });
    expect(await dryspell('import', name, '--station', 'nowhere')).toMatchObject({
      code: 1,
      err: expect.stringMatching(/season small has no weather station "nowhere"\. Put it/),
    });
    expect(await dryspell('import', path.join(folder, 'none.epw'), '--site', 'hill')).toMatchObject({
      code: 1,
      err: expect.stringMatching(/there is no weather file at/),
    });
    expect(await dryspell('import', name, '--site', 'hill', '--format', 'pdf')).toMatchObject({ code: 2 });
    const help = await dryspell('import', '--help');
    expect([help.code, help.out]).toEqual([0, expect.stringMatching(/--keep-good[\s\S]*--dry-run/)]);
  });

  it('shows every record with its hours, gaps and what it lacks', async () => {
    const { out } = await dryspell('status');
    expect(out.split('\n')).toEqual([
      'site.cape (Site cape): 2025-06-03 to 2025-06-03, 2 hours; no rain, no gusts: they are estimated from the mean wind',
      'site.hill (Site hill): 2023-01-01 to 2024-01-01, 8759 hours, 1 missing in 1 gap; no gusts: they are estimated from the mean wind',
      'station.gull (Gull Point (invented)): 2023-01-01 to 2024-01-01, 8760 hours; no gusts: they are estimated from the mean wind',
    ]);
    const { series } = JSON.parse((await dryspell('status', '--json')).out) as { series: unknown[] };
    expect(series[2]).toMatchObject({
      key: 'station.gull',
      hours: 8760,
      missingHours: 0,
      rainHours: 8760,
      forecast: null,
      windows: 0,
    });
  });
});
