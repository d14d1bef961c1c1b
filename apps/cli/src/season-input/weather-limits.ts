import { type ReadingPolicy, USUAL_LIMITS, type WorkableLimits } from '../../../../libs/weather/src/index.ts';
import { type CommandInput, type OptionDefinitions, optionalText, UsageError } from '../commands/command.ts';

export const LIMIT_OPTIONS: OptionDefinitions = {
  'work-hours': { type: 'string' },
  'rain-limit': { type: 'string' },
  'gust-limit': { type: 'string' },
  'gust-factor': { type: 'string' },
  'keep-good': { type: 'boolean' },
};

export const LIMIT_HELP: readonly string[] = [
  '  --work-hours <from-to>  working hours in local standard time (default: 8-17)',
  '  --rain-limit <mm>       a working hour with at least this much rain makes the day wet (default: 0.2)',
  '  --gust-limit <m/s>      a stronger gust in a working hour makes the day too windy (default: 9)',
  '  --gust-factor <n>       gust = mean wind x this; EPW files have no gusts (default: 1.4, open ground at 10 m)',
  '  --keep-good             leave bad lines of the file out instead of refusing it',
];

/** The limits that the options name, the defaults for the rest. Throws UsageError for what is no limit. */
export function limitsOf(input: CommandInput): WorkableLimits {
  const [workFromHour, workToHour] = hoursOf(optionalText(input, 'work-hours'));
  return {
    workFromHour,
    workToHour,
    rainMmPerHour: measure(input, 'rain-limit', {
      above: 0,
      most: 100,
      fallback: USUAL_LIMITS.rainMmPerHour,
    }),
    gustMps: measure(input, 'gust-limit', { above: 0, most: 60, fallback: USUAL_LIMITS.gustMps }),
    gustFactor: measure(input, 'gust-factor', { above: 0.99, most: 4, fallback: USUAL_LIMITS.gustFactor }),
  };
}

/** Whether bad lines of a weather file may be left out. */
export function readingPolicyOf({ values }: CommandInput): ReadingPolicy {
  return { keepGood: values['keep-good'] === true };
}

/** The limits in words. */
export function limitWords(limits: WorkableLimits): string {
  const { workFromHour, workToHour, rainMmPerHour, gustMps, gustFactor } = limits;
  return `working hours ${workFromHour}-${workToHour} local standard time; wet from ${rainMmPerHour} mm in an hour; too windy above a gust of ${gustMps} m/s, gust = mean wind x ${gustFactor}`;
}

function hoursOf(text: string | undefined): [number, number] {
  if (text === undefined) return [USUAL_LIMITS.workFromHour, USUAL_LIMITS.workToHour];
  const parts = /^(\d{1,2})-(\d{1,2})$/.exec(text.trim());
  const [from, to] = [Number(parts?.[1]), Number(parts?.[2])];
  if (!parts || from >= to || to > 24)
    throw new UsageError(`--work-hours is two whole hours such as 8-17; got "${text}"`);
  return [from, to];
}

function measure(
  input: CommandInput,
  name: string,
  range: { above: number; most: number; fallback: number },
): number {
  const text = optionalText(input, name);
  if (text === undefined) return range.fallback;
  const value = Number(text);
  if (!/^\d+(\.\d+)?$/.test(text.trim()) || value <= range.above || value > range.most)
    throw new UsageError(`--${name} is a number above ${range.above}, at most ${range.most}; got "${text}"`);
  return value;
}
