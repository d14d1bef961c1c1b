// npm start: makes sure that the program is there, then hands over to it. Plain Node, nothing installed yet.

import { locateProgram } from './locate-program.mjs';
import { requireNodeVersion } from './node-version.mjs';
import { runBuilt } from './run-built.mjs';
import { HELP, readStartOptions, UsageError } from './start-options.mjs';

try {
  requireNodeVersion();
  // npm runs scripts in the program's folder; what people type is meant from where they are.
  if (process.env.INIT_CWD) process.chdir(process.env.INIT_CWD);
  const options = readStartOptions(process.argv.slice(2));
  if (options.help) {
    console.log(HELP);
    process.exit(0);
  }
  const root = await locateProgram({ data: options.data, say: (line) => console.log(`· ${line}`) });
  await runBuilt(root, ['start', ...process.argv.slice(2)]);
} catch (error) {
  console.error(error instanceof UsageError ? `${error.message}\n\n${HELP}` : error.message);
  process.exit(error instanceof UsageError ? 2 : 1);
}
