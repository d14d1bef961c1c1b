// npm test                      everything, in order from small to large
// npm test -- libs/kernel       only these specs (any arguments of Jest pass through)
// The last line is always "N passed, N failed", summed over all runs of Jest.
import os from 'node:os';
import path from 'node:path';
import {
  buildProgram,
  buildServer,
  checkoutRoot,
  generateClient,
  installPackages,
} from '../bootstrap/program.mjs';
import { isPure, PURE_LIBS } from './folder-table.mjs';

const say = (line) => console.log(`\n== ${line}`);
const workers = Math.max(1, Math.min(4, os.availableParallelism()));

const PHASES = [
  { title: 'unit: libraries', folders: ['libs/'], workers },
  { title: 'unit: applications', folders: ['apps/'], workers },
  { title: 'house rules', folders: ['tests/house/', 'tests/builders/'], workers },
  { title: 'against references', folders: ['tests/reference/'], workers },
  { title: 'integration', folders: ['tests/integration/'], workers },
  { title: 'end to end', folders: ['tests/e2e/'], workers: 1 },
  { title: 'faults', folders: ['tests/faults/'], workers: 1 },
];
/** Zones in which the pure libraries must give the same answers: far east with a clock change, and a half-hour zone. */
const OTHER_ZONES = ['Pacific/Auckland', 'America/St_Johns'];

const totals = { passed: 0, failed: 0, skipped: 0, problems: [] };
function add(title, result) {
  totals.passed += result.passed;
  totals.failed += result.failed;
  totals.skipped += result.skipped;
  totals.problems.push(...result.problems.map((problem) => `${title}: ${problem}`));
}

const relative = (file) => path.relative(checkoutRoot, file).replaceAll(path.sep, '/');
const stops = [];

/** Whole programs are only started by these: the others need no web client. */
const startsPrograms = (spec) => /^tests\/(e2e|faults)\//.test(relative(spec));

async function provideServices(specs) {
  await (specs.some(startsPrograms) ? buildProgram({ say }) : buildServer({ say }));
  const { provideChromium, providePostgres, provideRedis } = await import('./services.mjs');
  const env = {};
  if (specs.every((spec) => isPure(relative(spec)))) return env;
  const redis = await provideRedis(say);
  stops.push(redis.stop);
  const postgres = await providePostgres(say);
  stops.push(postgres.stop);
  env.DRYSPELL_TEST_REDIS_URL = redis.url;
  env.DRYSPELL_TEST_DATABASE_URL = postgres.url;
  if (specs.some((spec) => relative(spec).startsWith('tests/e2e/')))
    env.DRYSPELL_TEST_CHROMIUM = provideChromium(say);
  return env;
}

async function stopServices() {
  for (const stop of stops.splice(0).reverse()) await stop();
}
for (const signal of ['SIGINT', 'SIGTERM']) {
  process.once(signal, async () => {
    const { stopJest } = await import('./jest-run.mjs');
    stopJest();
    await stopServices();
    process.exit(130);
  });
}

async function runEverything(run) {
  const { listSpecs } = await import('./jest-run.mjs');
  const specs = (await listSpecs([])).sort();
  const env = await provideServices(specs);
  for (const phase of PHASES) {
    const chosen = specs.filter((spec) => phase.folders.some((folder) => relative(spec).startsWith(folder)));
    if (chosen.length === 0) continue;
    say(`${phase.title} (${chosen.length} files)`);
    add(phase.title, await run({ args: ['--runTestsByPath', ...chosen], env, workers: phase.workers }));
  }
  const pure = specs.filter((spec) => isPure(relative(spec)));
  for (const zone of pure.length === 0 ? [] : OTHER_ZONES) {
    say(
      `the ${PURE_LIBS.length} pure libraries with the machine's clock set to ${zone} (${pure.length} files)`,
    );
    add(zone, await run({ args: ['--runTestsByPath', ...pure], env, workers, zone }));
  }
  if (totals.skipped > 0) totals.problems.push(`${totals.skipped} tests are skipped; a test runs or goes`);
}

async function runChosen(run, args) {
  const { listSpecs } = await import('./jest-run.mjs');
  const specs = await listSpecs(args);
  if (specs.length === 0) throw new Error(`no spec matches: ${args.join(' ')}`);
  const env = await provideServices(specs);
  const alone = specs.some(startsPrograms);
  add('chosen specs', await run({ args, env, workers: alone ? 1 : workers }));
}

try {
  await installPackages({ say });
  await generateClient({ say });
  const { runJest } = await import('./jest-run.mjs');
  const args = process.argv.slice(2);
  if (args.length === 0) await runEverything(runJest);
  else await runChosen(runJest, args);
} catch (error) {
  totals.problems.push(error.message);
} finally {
  await stopServices();
}
console.log('');
for (const problem of totals.problems) console.log(`problem: ${problem}`);
const ok = totals.failed === 0 && totals.problems.length === 0 && totals.passed > 0;
// A problem that is no test (a leak, a missing service) must show in the last line too.
const failed = totals.failed > 0 || ok ? totals.failed : Math.max(1, totals.problems.length);
console.log(`${totals.passed} passed, ${failed} failed`);
process.exit(ok ? 0 : 1);
