// npm run dryspell -- <command>: makes sure that the program is there, then hands over to it.
import { locateProgram } from './locate-program.mjs';
import { requireNodeVersion } from './node-version.mjs';
import { runBuilt } from './run-built.mjs';

try {
  requireNodeVersion();
  // npm runs scripts in the program's folder; what people type is meant from where they are.
  if (process.env.INIT_CWD) process.chdir(process.env.INIT_CWD);
  const args = process.argv.slice(2);
  const at = args.indexOf('--data');
  const data = at === -1 ? undefined : args[at + 1];
  // Progress goes to stderr: stdout belongs to the command, which may be asked for JSON.
  const root = await locateProgram({ data, say: (line) => console.error(`· ${line}`) });
  await runBuilt(root, args);
} catch (error) {
  console.error(error.message);
  process.exit(1);
}
