import { type BeforeApplicationShutdown, Injectable } from '@nestjs/common';

/** Streams that would go on for ever: they are told to end when the server does. */
@Injectable()
export class OpenStreams implements BeforeApplicationShutdown {
  private readonly ending = new AbortController();

  /** Ends when the server begins to shut down. */
  get signal(): AbortSignal {
    return this.ending.signal;
  }

  beforeApplicationShutdown(): void {
    this.ending.abort();
  }
}
