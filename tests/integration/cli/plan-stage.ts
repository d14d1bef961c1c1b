/** A folder of their own for the specs of `plan`, `check` and `weather-months`, and the commands run in this process. */
import fs from 'node:fs';
import os from 'node:os';
import path from 'node:path';
import { COMMANDS } from '../../../apps/cli/src/commands/all-commands.ts';
import { runCommand } from '../../../apps/cli/src/commands/run-command.ts';
import { type PlanFile, planFileSchema } from '../../../libs/contracts/src/index.ts';

export const root = path.resolve(import.meta.dirname, '../../..');

export const folder = fs.mkdtempSync(path.join(os.tmpdir(), 'dryspell-plan-'));
export const inFolder = (name: string): string => path.join(folder, name);
export const removeFolder = (): void => fs.rmSync(folder, { recursive: true, force: true });

export interface Run {
  readonly code: number;
  readonly out: string;
  readonly err: string;
}

/** Runs a command in this process, with no database anywhere. */
export async function dryspell(...args: string[]): Promise<Run> {
  let [out, err] = ['', ''];
  const streams = {
    out: (text: string) => {
      out += `${text}\n`;
    },
    err: (text: string) => {
      err += `${text}\n`;
    },
  };
  const code = await runCommand(COMMANDS, args, { DATABASE_URL: 'not even an address' }, streams);
  return { code, out, err };
}

export async function facts<T>(...args: string[]): Promise<T & { code: number }> {
  const { code, out } = await dryspell(...args, '--json');
  return { ...(JSON.parse(out) as T), code };
}

export function save(name: string, content: unknown): string {
  const file = inFolder(name);
  fs.writeFileSync(file, typeof content === 'string' ? content : JSON.stringify(content));
  return file;
}

export function readPlan(name: string): PlanFile {
  return planFileSchema.parse(JSON.parse(fs.readFileSync(inFolder(name), 'utf8')));
}

/** Two days of rain at ten o'clock at the start of each month, one windy noon on the tenth. */
export const invented = {
  rainMm: ({ dayOfMonth, hour }: { dayOfMonth: number; hour: number }) =>
    dayOfMonth <= 2 && hour === 10 ? 2 : 0,
  windMps: ({ dayOfMonth, hour }: { dayOfMonth: number; hour: number }) =>
    dayOfMonth === 10 && hour === 12 ? 7 : 2,
};
export const BUDGET = ['--iterations', '24', '--seed', '3'];
