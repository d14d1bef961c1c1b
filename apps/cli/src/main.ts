import { backupCommand } from './commands/backup.command.ts';
import { checkCommand } from './commands/check.command.ts';
import type { Command } from './commands/command.ts';
import { migrateCommand } from './commands/migrate.command.ts';
import { planCommand } from './commands/plan.command.ts';
import { restoreCommand } from './commands/restore.command.ts';
import { runCommand } from './commands/run-command.ts';
import { weatherMonthsCommand } from './commands/weather-months.command.ts';

const COMMANDS: readonly Command[] = [
  planCommand,
  checkCommand,
  weatherMonthsCommand,
  migrateCommand,
  backupCommand,
  restoreCommand,
];

const args = process.argv.slice(2);
if (args[0] === 'start') {
  const { startDryspell } = await import('./launcher/start.ts');
  await startDryspell(args.slice(1));
} else {
  process.exitCode = await runCommand(COMMANDS, args, process.env, {
    out: (text) => process.stdout.write(`${text}\n`),
    err: (text) => process.stderr.write(`${text}\n`),
  });
}
