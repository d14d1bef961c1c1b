import type { Schema } from '../../api/client.ts';

export type WeatherImport = Schema<'WeatherImport'>;

/** What a file is read in for, and how; what is left out is told from the file itself. */
export interface WeatherFileChoice {
  readonly target: 'station' | 'site';
  readonly key: string;
  readonly keepGood: boolean;
  readonly replace: boolean;
  /** What a table of hours does not say itself, by the names of the API; empty texts are left out. */
  readonly table: Readonly<Record<string, string>>;
}

interface Upload {
  readonly season: string;
  readonly file: File;
  readonly choice: WeatherFileChoice;
  readonly onProgress: (sentBytes: number) => void;
  readonly signal: AbortSignal;
}

interface Answered {
  readonly data?: WeatherImport;
  readonly error?: unknown;
  readonly response: Response;
}

/**
 * Sends the bytes of a weather file and says how many have left. By XMLHttpRequest, because `fetch` tells nothing of an
 * upload on its way. Rejects with a TypeError where the server cannot be reached or the upload was stopped.
 */
export function sendWeatherFile({ season, file, choice, onProgress, signal }: Upload): Promise<Answered> {
  const { table, ...plain } = choice;
  const query = new URLSearchParams({ fileName: file.name });
  for (const [name, value] of Object.entries({ ...plain, ...table }))
    if (String(value) !== '') query.set(name, String(value));
  return new Promise((resolve, reject) => {
    const request = new XMLHttpRequest();
    request.open('POST', `/api/v1/seasons/${encodeURIComponent(season)}/weather-imports?${query}`);
    request.setRequestHeader(
      'Content-Type',
      /\.(csv|txt)$/i.test(file.name) ? 'text/csv' : 'application/octet-stream',
    );
    request.upload.addEventListener('progress', (event) => onProgress(event.loaded));
    request.addEventListener('load', () => {
      const body = readable(request.responseText);
      const response = new Response(null, { status: request.status });
      resolve(response.ok ? { data: body as WeatherImport, response } : { error: body, response });
    });
    for (const name of ['error', 'abort', 'timeout'])
      request.addEventListener(name, () =>
        reject(new TypeError('network: the upload ended before it was whole')),
      );
    signal.addEventListener('abort', () => request.abort(), { once: true });
    request.send(file);
  });
}

function readable(text: string): unknown {
  try {
    return JSON.parse(text);
  } catch {
    return null;
  }
}
