import { formatCents } from '../../../../libs/kernel/src/index.ts';

/** The parts of stderr that progress needs. */
export interface ProgressStream {
  readonly isTTY?: boolean;
  readonly columns?: number;
  write(text: string): unknown;
}

export interface PlanningState {
  readonly iterations: number;
  readonly bestCents: number;
  readonly fraction: number;
  readonly elapsedMs: number;
}

const TERMINAL_PAUSE_MS = 150;
const LINES_PAUSE_MS = 5_000;

/** Shows how a plan gets on: one line that changes on a terminal, else a plain line now and then. */
export class ProgressLine {
  private readonly stream: ProgressStream;
  private readonly currency: string;
  private shownAtMs = Number.NEGATIVE_INFINITY;
  private shownWidth = 0;

  constructor(stream: ProgressStream, currency: string) {
    this.stream = stream;
    this.currency = currency;
  }

  show(state: PlanningState): void {
    const pause = this.stream.isTTY ? TERMINAL_PAUSE_MS : LINES_PAUSE_MS;
    if (state.elapsedMs - this.shownAtMs < pause) return;
    this.shownAtMs = state.elapsedMs;
    const text = this.textOf(state);
    if (!this.stream.isTTY) {
      this.stream.write(`· ${text}\n`);
      return;
    }
    const line = `· ${text}`.slice(0, Math.max(20, (this.stream.columns || 80) - 1));
    this.stream.write(`\r${line.padEnd(this.shownWidth)}`);
    this.shownWidth = line.length;
  }

  /** Ends the changing line, so that what follows starts on its own. */
  end(): void {
    if (this.shownWidth > 0) this.stream.write('\n');
    this.shownWidth = 0;
  }

  private textOf({ iterations, bestCents, fraction, elapsedMs }: PlanningState): string {
    const percent = Math.min(100, Math.floor(fraction * 100));
    const best = Number.isSafeInteger(bestCents) ? formatCents(bestCents, this.currency) : 'none yet';
    return `${percent} %  ${(elapsedMs / 1000).toFixed(0)} s  ${iterations} tries  best ${best}`;
  }
}
