import os from 'node:os';

/** What one bench found: ours beside a yardstick of the same run. */
export interface BenchResult {
  readonly name: string;
  readonly yardstick: string;
  /** Ours by the yardstick's. */
  readonly ratio: number;
  /** Which way is better; left out: below 1 is better than the yardstick. */
  readonly better?: 'lower' | 'higher';
  readonly figures: Readonly<Record<string, number | string>>;
  readonly machine: string;
}

/** The machine and how busy it was, for a result. */
export function machineWords(): string {
  const cpu = os.cpus()[0]?.model.trim() ?? 'unknown processor';
  const gib = Math.round(os.totalmem() / 2 ** 30);
  return `${os.cpus().length} x ${cpu}, ${gib} GiB, Node ${process.version}, load ${os.loadavg()[0]?.toFixed(1)} at the end`;
}

/** The middle value; of an even number the mean of the two in the middle. */
export function median(values: readonly number[]): number {
  const sorted = [...values].sort((a, b) => a - b);
  const middle = sorted.length / 2;
  if (sorted.length === 0) throw new RangeError('no values');
  return Number.isInteger(middle)
    ? ((sorted[middle - 1] as number) + (sorted[middle] as number)) / 2
    : (sorted[Math.floor(middle)] as number);
}

/** Three digits that mean something. */
export function rounded(value: number): number {
  return Number(value.toPrecision(3));
}
