import { spawnSync } from 'node:child_process';
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { EDGE_LIBS, LEAF_LIBS, PURE_LIBS } from '../../apps/cli/tools/folder-table.mjs';

const root = path.resolve(import.meta.dirname, '../..');

/** One forbidden import a rule: [rule, importing file, import statement]. */
const PLANTED: readonly (readonly [rule: string, file: string, code: string])[] = [
  ['no-missing-module', 'libs/kernel/src/p1.ts', "import './does-not-exist.ts';"],
  ['pure-no-node', 'libs/weather/src/p2.ts', "import fs from 'node:fs'; fs;"],
  ['pure-no-edge', 'libs/season/src/p3.ts', "import '../../data/src/target.ts';"],
  ['pure-packages', 'libs/lifting/src/p4.ts', "import '@nestjs/common';"],
  ['zone-library-in-kernel', 'libs/weather/src/p5.ts', "import 'moment-timezone';"],
  ['kernel-imports', 'libs/kernel/src/p6.ts', "import '../../contracts/src/index.ts';"],
  ['contracts-imports', 'libs/contracts/src/p7.ts', "import '../../weather/src/index.ts';"],
  ['search-imports', 'libs/search/src/p8.ts', "import '../../season/src/index.ts';"],
  ['leaf-imports', 'libs/travel/src/p9.ts', "import '../../freight/src/index.ts';"],
  ['visit-imports', 'libs/visit/src/p10.ts', "import '../../season/src/index.ts';"],
  ['season-imports', 'libs/season/src/p11.ts', "import '../../contracts/src/index.ts';"],
  ['intake-imports', 'libs/intake/src/p12.ts', "import '../../search/src/index.ts';"],
  ['checker-independent', 'libs/season/src/check/p13.ts', "import '../solve/target.ts';"],
  ['checker-independent', 'libs/season/src/check/p14.ts', "import '../../../travel/src/index.ts';"],
  ['checker-describes-only', 'libs/season/src/check/p15.ts', "import { x } from '../problem.ts'; x;"],
  ['edge-siblings', 'libs/queue/src/p16.ts', "import '../../data/src/target.ts';"],
  ['edge-sees-types', 'libs/data/src/p17.ts', "import { x } from '../../season/src/index.ts'; x;"],
  ['edge-no-apps', 'libs/messages/src/p18.ts', "import '../../../apps/api/src/target.ts';"],
  ['apps-are-islands', 'apps/worker/src/p19.ts', "import '../../api/src/target.ts';"],
  ['apps-are-islands', 'apps/cli/src/p20.ts', "import '../../api/src/target.ts';"],
  ['only-cli-borrows-threads', 'apps/api/src/p37.ts', "import '../../worker/src/threads/target.ts';"],
  ['api-never-plans', 'apps/api/src/p21.ts', "import { x } from '../../../libs/season/src/index.ts'; x;"],
  ['threads-pure-only', 'apps/worker/src/threads/p22.ts', "import '../target.ts';"],
  ['threads-pure-only', 'apps/worker/src/threads/p23.ts', "import 'ioredis';"],
  ['web-imports', 'apps/web/src/p24.ts', "import '../../../libs/data/src/target.ts';"],
  ['web-no-node', 'apps/web/src/p25.ts', "import 'node:path';"],
  ['nothing-imports-tests', 'libs/kernel/src/p26.ts', "import '../../../tests/builders/target.ts';"],
  ['pure-via-index', 'apps/api/src/p27.ts', "import { x } from '../../../libs/kernel/src/target.ts'; x;"],
  ['no-barrels-in-edge', 'apps/api/src/p28.ts', "import '../../../libs/data/src/index.ts';"],
  ['data-owns-prisma', 'apps/api/src/p29.ts', "import '@prisma/client';"],
  ['data-owns-pg', 'apps/worker/src/p30.ts', "import 'pg';"],
  ['queue-owns-bullmq', 'apps/worker/src/p31.ts', "import 'bullmq';"],
  ['queue-owns-bullmq', 'libs/messages/src/p32.ts', "import 'pg-boss';"],
  ['messages-owns-nodemailer', 'apps/worker/src/p33.ts', "import 'nodemailer';"],
  ['calendar-owns-icalgenerator', 'apps/api/src/p34.ts', "import 'ical-generator';"],
  ['documents-owns-pdfkit', 'apps/cli/src/p35.ts', "import 'read-excel-file/node';"],
  ['no-dev-packages', 'apps/api/src/p36.ts', "import 'fast-check';"],
];

/** Imports that the rules must let through. */
const ALLOWED: readonly (readonly [file: string, code: string])[] = [
  ['libs/season/src/check/ok1.ts', "import type { x } from '../problem.ts'; export type X = typeof x;"],
  ['libs/season/src/check/ok2.ts', "import '../../../kernel/src/index.ts';"],
  [
    'apps/api/src/ok3.ts',
    "import type { x } from '../../../libs/season/src/index.ts'; export type X = typeof x;",
  ],
  ['apps/cli/src/ok4.ts', "import '../../worker/src/threads/target.ts';"],
  ['libs/queue/src/ok5.ts', "import 'pg';"],
  ['libs/data/src/ok6.ts', "import '@prisma/client';"],
  ['apps/worker/src/threads/ok7.ts', "import '../../../../libs/season/src/index.ts';"],
  ['apps/web/src/ok8.ts', "import '../../../libs/contracts/src/jobs/index.ts';"],
];

interface Violation {
  readonly rule: { readonly name: string };
  readonly from: string;
}

let folder: string;
let violations: readonly Violation[];

function write(file: string, text: string): void {
  const full = path.join(folder, file);
  fs.mkdirSync(path.dirname(full), { recursive: true });
  fs.writeFileSync(full, text);
}

beforeAll(() => {
  folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-rules-'));
  for (const file of ['.dependency-cruiser.cjs', 'tsconfig.json', 'package.json']) {
    fs.copyFileSync(path.join(root, file), path.join(folder, file));
  }
  fs.symlinkSync(path.join(root, 'node_modules'), path.join(folder, 'node_modules'));
  const target = 'export const x = 1;\n';
  for (const lib of PURE_LIBS) write(`libs/${lib}/src/index.ts`, target);
  for (const lib of EDGE_LIBS) write(`libs/${lib}/src/target.ts`, target);
  for (const app of ['api', 'worker', 'cli', 'web']) write(`apps/${app}/src/target.ts`, target);
  for (const file of [
    'libs/contracts/src/jobs/index.ts',
    'libs/kernel/src/target.ts',
    'libs/data/src/index.ts',
    'libs/season/src/problem.ts',
    'libs/season/src/solve/target.ts',
    'apps/worker/src/threads/target.ts',
    'tests/builders/target.ts',
  ]) {
    write(file, target);
  }
  for (const [, file, code] of PLANTED) write(file, `${code}\n`);
  for (const [file, code] of ALLOWED) write(file, `${code}\n`);
  write('libs/visit/src/round-a.ts', "import './round-b.ts';\nexport const a = 1;\n");
  write('libs/visit/src/round-b.ts', "import './round-a.ts';\nexport const b = 1;\n");

  const cruiser = path.join(root, 'node_modules/dependency-cruiser/bin/dependency-cruise.mjs');
  const args = ['--config', '.dependency-cruiser.cjs', '--output-type', 'json', 'apps', 'libs', 'tests'];
  const run = spawnSync(process.execPath, [cruiser, ...args], {
    cwd: folder,
    encoding: 'utf8',
    maxBuffer: 64 * 1024 * 1024,
  });
  expect(run.stderr).toBe('');
  violations = (JSON.parse(run.stdout) as { summary: { violations: Violation[] } }).summary.violations;
}, 60_000);

afterAll(() => fs.rmSync(folder, { recursive: true, force: true }));

describe('the import rules', () => {
  it.each(PLANTED)('%s catches %s: %s', (rule, file) => {
    expect(violations.filter(({ from }) => from === file).map((violation) => violation.rule.name)).toContain(
      rule,
    );
  });

  it('no-cycles catches two files that import each other', () => {
    expect(
      violations.filter((violation) => violation.rule.name === 'no-cycles').map(({ from }) => from),
    ).toEqual(expect.arrayContaining(['libs/visit/src/round-a.ts']));
  });

  it.each(ALLOWED)('lets through %s: %s', (file) => {
    expect(violations.filter(({ from }) => from === file)).toEqual([]);
  });

  it('have a planted violation each', async () => {
    const config = (await import(path.join(root, '.dependency-cruiser.cjs'))) as {
      default: { forbidden: { name: string }[] };
    };
    const planted = new Set([...PLANTED.map(([rule]) => rule), 'no-cycles']);
    expect(config.default.forbidden.map(({ name }) => name).filter((name) => !planted.has(name))).toEqual([]);
  });

  it('name the same libraries as the folder table and the disk', () => {
    const text = fs.readFileSync(path.join(root, '.dependency-cruiser.cjs'), 'utf8');
    const listed = (name: string): string[] =>
      (new RegExp(`const ${name} = .(.*).;`).exec(text)?.[1] ?? '')
        .replace(`\${LEAF}`, LEAF_LIBS.join('|'))
        .split('|');
    expect(listed('LEAF').sort()).toEqual([...LEAF_LIBS].sort());
    expect(listed('PURE').sort()).toEqual([...PURE_LIBS].sort());
    expect(listed('EDGE').sort()).toEqual([...EDGE_LIBS].sort());
    const known = new Set([...PURE_LIBS, ...EDGE_LIBS]);
    expect(fs.readdirSync(path.join(root, 'libs')).filter((lib) => !known.has(lib))).toEqual([]);
  });
});
