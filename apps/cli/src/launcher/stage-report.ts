/** Prints the stages of a start, one line each, with how long each took. */
export class StageReport {
  constructor(private readonly write: (line: string) => void) {}

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
