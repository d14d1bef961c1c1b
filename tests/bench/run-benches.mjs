// npm run bench                    every bench, one after the other
// npm run bench -- planner         only this one (a part of a name is enough)
// npm run bench -- --write         docs/bench.md is written anew with what came out
import { spawn, spawnSync } from 'node:child_process';
import fs from 'node:fs';
import path from 'node:path';
import { checkoutRoot, prepareProgram } from '../../apps/cli/bootstrap/program.mjs';
import { providePostgres, provideRedis } from '../../apps/cli/tools/services.mjs';

const say = (line) => console.error(`· ${line}`);
const folder = import.meta.dirname;
const args = process.argv.slice(2);
const isWriting = args.includes('--write');
const names = args.filter((arg) => !arg.startsWith('--'));
const wrong = args.filter((arg) => arg.startsWith('--') && arg !== '--write');

const all = fs.readdirSync(folder).flatMap((file) => /^(.+)\.bench\.ts$/.exec(file)?.[1] ?? []);
const chosen = names.length === 0 ? all : all.filter((name) => names.some((part) => name.includes(part)));
if (wrong.length > 0 || chosen.length === 0 || (isWriting && names.length > 0)) {
  if (isWriting && names.length > 0)
    console.error('--write goes with all benches, so that one page is one run');
  console.error(`npm run bench -- [name] [--write]\nthere are: ${all.join(', ')}`);
  process.exit(2);
}

let running;

function runOne(name, env) {
  const child = spawn(
    process.execPath,
    [
      '--import',
      path.join(checkoutRoot, 'apps/cli/tools/register-ts.mjs'),
      path.join(folder, 'run-one.ts'),
      path.join(folder, `${name}.bench.ts`),
    ],
    {
      cwd: checkoutRoot,
      stdio: ['ignore', 'inherit', 'inherit', 'ipc'],
      env: { ...process.env, TZ: 'UTC', NODE_NO_WARNINGS: '1', ...env },
    },
  );
  running = child;
  return new Promise((resolve, reject) => {
    let result;
    child.once('message', (message) => {
      result = message;
    });
    child.once('error', reject);
    child.once('close', (code) =>
      code === 0 && result ? resolve(result) : reject(new Error(`the bench ${name} ended with ${code}`)),
    );
  });
}

function lines({ name, yardstick, ratio, better = 'lower', figures, machine }) {
  const wanted = better === 'lower' ? 'below 1 is better than it' : 'above 1 is better than it';
  return [
    `${name}: ${ratio} of the yardstick (${yardstick}; ${wanted})`,
    ...Object.entries(figures).map(([figure, value]) => `  ${figure}: ${value}`),
    `  machine: ${machine}`,
  ];
}

/** A table as the formatter writes it, so that the page passes the lint as it is. */
function table(rows) {
  const widths = [0, 1].map((at) => Math.max(...rows.map((row) => row[at].length)));
  const line = (row) => `| ${row.map((cell, at) => cell.padEnd(widths[at])).join(' | ')} |`;
  const [head, ...body] = rows;
  return [line(head), line(widths.map((width) => '-'.repeat(width))), ...body.map(line)];
}

function page(results) {
  const commit = spawnSync('git', ['rev-parse', '--short', 'HEAD'], { cwd: checkoutRoot, encoding: 'utf8' });
  const day = new Date().toISOString().slice(0, 10);
  const about = [
    '# Benches',
    '',
    'Written by `npm run bench -- --write`; not edited by hand. Every figure is one run on one machine, beside a yardstick in the same',
    'run; what is worse than the yardstick stands here too. What each bench does, and what it does not say, is in',
    '[tests/bench](../tests/bench/README.md).',
    '',
    `Made on ${day}, at ${commit.status === 0 ? commit.stdout.trim() : 'an unknown revision'}.`,
  ];
  const parts = results.flatMap(({ name, yardstick, ratio, better = 'lower', figures, machine }) => [
    '',
    `## ${name}`,
    '',
    `- Yardstick: ${yardstick}`,
    `- Ratio, ours by the yardstick's: **${ratio}** (${better === 'lower' ? 'below' : 'above'} 1 is better than it)`,
    `- Machine: ${machine}`,
    `- Command: \`npm run bench -- ${name}\``,
    '',
    ...table([['figure', 'value'], ...Object.entries(figures).map((row) => row.map(String))]),
  ]);
  return `${[...about, ...parts].join('\n')}\n`;
}

const stops = [];
let exitCode = 0;
async function stopServices() {
  for (const stop of stops.splice(0).reverse()) await stop();
}
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, async () => {
    running?.kill('SIGTERM');
    await stopServices();
    process.exit(130);
  });
}
try {
  await prepareProgram({ say });
  const postgres = await providePostgres(say);
  stops.push(postgres.stop);
  const env = { DRYSPELL_TEST_DATABASE_URL: postgres.url };
  // Not installed for a bench: without Redis its part is left out, and the result says so.
  const hasRedis =
    process.env.REDIS_URL || spawnSync('redis-server', ['--version'], { stdio: 'ignore' }).status === 0;
  if (hasRedis) {
    const redis = await provideRedis(say);
    stops.push(redis.stop);
    env.DRYSPELL_TEST_REDIS_URL = redis.url;
  }
  const results = [];
  for (const name of chosen) {
    say(`bench ${name}`);
    const result = await runOne(name, env);
    results.push(result);
    console.log(`\n${lines(result).join('\n')}`);
  }
  if (isWriting) fs.writeFileSync(path.join(checkoutRoot, 'docs/bench.md'), page(results));
} catch (error) {
  console.error(error.message);
  exitCode = 1;
} finally {
  await stopServices();
}
process.exit(exitCode);
