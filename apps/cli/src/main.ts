import { backupCommand } from './commands/backup.command.ts';
import { checkCommand } from './commands/check.command.ts';
import type { Command } from './commands/command.ts';
import { doctorCommand } from './commands/doctor.command.ts';
import { exportCommand } from './commands/export.command.ts';
import { importCommand } from './commands/import.command.ts';
import { migrateCommand } from './commands/migrate.command.ts';
import { planCommand } from './commands/plan.command.ts';
import { restoreCommand } from './commands/restore.command.ts';
import { runCommand } from './commands/run-command.ts';
import { userAddCommand } from './commands/user-add.command.ts';
import { weatherMonthsCommand } from './commands/weather-months.command.ts';

const COMMANDS: readonly Command[] = [
  importCommand,
  exportCommand,
  planCommand,
  checkCommand,
  weatherMonthsCommand,
  userAddCommand,
  migrateCommand,
  backupCommand,
  restoreCommand,
  doctorCommand,
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
