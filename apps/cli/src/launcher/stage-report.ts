const PROGRESS_EVERY_MS = 2_000;

/** Prints the stages of a start, one line each, with how long each took. */
export class StageReport {
  private lastProgressMs = Number.NEGATIVE_INFINITY;

  constructor(private readonly write: (line: string) => void) {}

  /** A line about work under way, at most one every two seconds. */
  progress(line: string): void {
    if (performance.now() - this.lastProgressMs < PROGRESS_EVERY_MS) return;
    this.lastProgressMs = performance.now();
    this.say(line);
  }

  say(line: string): void {
    this.write(`· ${line}`);
  }

  /** Runs one stage and prints its name with what it says about itself. */
  async stage<T>(name: string, work: () => Promise<{ value: T; said: string }>): Promise<T> {
    const startedAt = performance.now();
    const { value, said } = await work();
    const seconds = ((performance.now() - startedAt) / 1000).toFixed(1);
    this.write(`✓ ${name.padEnd(11)} ${said} (${seconds} s)`);
    return value;
  }

  line(text = ''): void {
    this.write(text);
  }
}
