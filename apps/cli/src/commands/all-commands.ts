import { backupCommand } from './backup.command.ts';
import { blankCommand } from './blank.command.ts';
import { briefCommand } from './brief.command.ts';
import { checkCommand } from './check.command.ts';
import type { Command } from './command.ts';
import { doctorCommand } from './doctor.command.ts';
import { exportCommand } from './export.command.ts';
import { importCommand } from './import.command.ts';
import { migrateCommand } from './migrate.command.ts';
import { planCommand } from './plan.command.ts';
import { restoreCommand } from './restore.command.ts';
import { stepsCommand } from './steps.command.ts';
import { userAddCommand } from './user-add.command.ts';
import { weatherImportCommand } from './weather-import.command.ts';
import { weatherMonthsCommand } from './weather-months.command.ts';
import { weatherStatusCommand } from './weather-status.command.ts';
import { windowsCommand } from './windows.command.ts';

/** Every command, in the order in which they are listed. */
export const COMMANDS: readonly Command[] = [
  importCommand,
  exportCommand,
  blankCommand,
  planCommand,
  checkCommand,
  stepsCommand,
  weatherMonthsCommand,
  windowsCommand,
  briefCommand,
  weatherImportCommand,
  weatherStatusCommand,
  userAddCommand,
  migrateCommand,
  backupCommand,
  restoreCommand,
  doctorCommand,
];
