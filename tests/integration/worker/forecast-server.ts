// A forecast service of our own on this machine, in the form of MET Norway's documented answers; the figures are invented.
import http from 'node:http';
import type { AddressInfo } from 'node:net';
import { addMinutes, type Instant } from '../../../libs/kernel/src/index.ts';

export interface ForecastServer {
  readonly url: string;
  /** Requests so far: path with query, and headers. */
  readonly asked: readonly { readonly url: string; readonly headers: http.IncomingHttpHeaders }[];
  /** What it answers from now on. */
  answer: (request: http.IncomingMessage) => ForecastAnswer;
  stop(): Promise<void>;
}

export interface ForecastAnswer {
  readonly status: number;
  readonly headers?: Readonly<Record<string, string>>;
  readonly body?: string;
}

/** A complete answer: so many hours from a moment on, with the same weather in each. */
export function metAnswer(
  issuedAt: Instant,
  hours: number,
  weather: { rainMm: number; gustMps: number },
): string {
  const timeseries = Array.from({ length: hours }, (_, at) => ({
    time: addMinutes(issuedAt, at * 60).replace('.000Z', 'Z'),
    data: {
      instant: {
        details: {
          air_temperature: 12.5,
          dew_point_temperature: 7,
          wind_speed: 4,
          wind_speed_of_gust: weather.gustMps,
        },
      },
      next_1_hours: { summary: { symbol_code: 'rain' }, details: { precipitation_amount: weather.rainMm } },
    },
  }));
  return JSON.stringify({
    type: 'Feature',
    geometry: { type: 'Point', coordinates: [-64, 45, 20] },
    properties: {
      meta: {
        updated_at: issuedAt.replace('.000Z', 'Z'),
        units: {
          air_temperature: 'celsius',
          dew_point_temperature: 'celsius',
          wind_speed: 'm/s',
          wind_speed_of_gust: 'm/s',
          precipitation_amount: 'mm',
        },
      },
      timeseries,
    },
  });
}

/** An answer in the form of Open-Meteo's documented ensembles: so many hours, one member for each rain of an hour. */
export function ensembleAnswer(from: Instant, hours: number, rains: readonly number[]): string {
  const time = Array.from({ length: hours }, (_, at) => addMinutes(from, at * 60).slice(0, 16));
  const units: Record<string, string> = { time: 'iso8601' };
  const hourly: Record<string, unknown> = { time };
  for (const [member, rain] of rains.entries()) {
    const suffix = member === 0 ? '' : `_member${String(member).padStart(2, '0')}`;
    for (const [name, unit, value] of [
      ['temperature_2m', '°C', 12],
      ['precipitation', 'mm', rain],
      ['wind_speed_10m', 'm/s', 4],
      ['wind_gusts_10m', 'm/s', 8],
    ] as const) {
      units[`${name}${suffix}`] = unit;
      hourly[`${name}${suffix}`] = time.map(() => value);
    }
  }
  return JSON.stringify({
    latitude: 45,
    longitude: -64,
    elevation: 20,
    utc_offset_seconds: 0,
    hourly_units: units,
    hourly,
  });
}

export async function startForecastServer(): Promise<ForecastServer> {
  const asked: { url: string; headers: http.IncomingHttpHeaders }[] = [];
  const service = {
    url: '',
    asked,
    answer: (_request: http.IncomingMessage): ForecastAnswer => ({ status: 500 }),
    stop: async () => {
      server.closeAllConnections();
      await new Promise((resolve) => server.close(resolve));
    },
  };
  const server = http.createServer((request, response) => {
    asked.push({ url: request.url ?? '', headers: request.headers });
    const { status, headers = {}, body = '' } = service.answer(request);
    response.writeHead(status, { 'content-type': 'application/json', ...headers });
    response.end(body);
  });
  await new Promise<void>((resolve) => server.listen(0, '127.0.0.1', resolve));
  service.url = `http://127.0.0.1:${(server.address() as AddressInfo).port}/complete`;
  return service;
}
