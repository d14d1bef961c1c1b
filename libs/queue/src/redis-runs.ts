/** The runs of this process and how long ago Redis confirmed that they are still its own. */
export class RedisRuns {
  readonly #runs = new Map<string, { abort: AbortController; jobName: string; confirmedAt: number }>();
  readonly #timers: NodeJS.Timeout[] = [];

  begin(jobName: string, jobId: string): AbortSignal {
    const abort = new AbortController();
    this.#runs.set(`${jobName} ${jobId}`, { abort, jobName, confirmedAt: Date.now() });
    return abort.signal;
  }

  end(jobName: string, jobId: string, signal: AbortSignal): void {
    // The same job may run here a second time after it was lost; only its own entry goes.
    if (this.#runs.get(`${jobName} ${jobId}`)?.abort.signal === signal)
      this.#runs.delete(`${jobName} ${jobId}`);
  }

  renewed(jobName: string, jobIds: readonly string[]): void {
    for (const jobId of jobIds) {
      const run = this.#runs.get(`${jobName} ${jobId}`);
      if (run) run.confirmedAt = Date.now();
    }
  }

  abort(jobName: string, jobIds: readonly string[], reason: string): void {
    for (const jobId of jobIds) this.#runs.get(`${jobName} ${jobId}`)?.abort.abort(reason);
  }

  abortAll(reason: string): void {
    for (const run of this.#runs.values()) run.abort.abort(reason);
  }

  /** Aborts runs of a kind as lost once Redis has been silent for a whole lock span. */
  watch(jobName: string, lockMs: number): void {
    this.#timers.push(
      setInterval(() => {
        const now = Date.now();
        for (const run of this.#runs.values()) {
          if (run.jobName === jobName && now - run.confirmedAt > lockMs) run.abort.abort('lost');
        }
      }, lockMs / 3),
    );
  }

  dispose(): void {
    for (const timer of this.#timers) clearInterval(timer);
  }
}
