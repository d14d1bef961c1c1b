import type { MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import type { BriefInput } from '../../../intake/src/index.ts';
import type { Instant } from '../../../kernel/src/index.ts';
import type { Forecast } from '../../../weather/src/index.ts';

// Older forecasts are thinned out in time, so the hours that a brief went by are kept with it, as plain JSON.

type Column = 'tempC' | 'dewPointC' | 'rainMm' | 'windMps' | 'gustMps';

interface KeptMember extends Readonly<Record<Column, readonly (number | null)[]>> {
  readonly standardOffsetMin: number;
  readonly hourIndex: readonly number[];
  readonly thunder: readonly number[];
}

interface KeptForecast {
  readonly series: string;
  readonly source: string;
  readonly issuedAt: Instant | null;
  readonly members: readonly KeptMember[];
}

/** The forecasts of a brief's input as they are kept. */
export function forecastsToKeep(forecasts: BriefInput['forecasts']): KeptForecast[] {
  return forecasts.map(({ forecast, ...facts }) => ({
    ...facts,
    issuedAt: forecast?.issuedAt ?? null,
    members: (forecast?.members ?? []).map((member) => ({
      standardOffsetMin: member.standardOffsetMin,
      hourIndex: [...member.hourIndex],
      tempC: figures(member.tempC),
      dewPointC: figures(member.dewPointC),
      rainMm: figures(member.rainMm),
      windMps: figures(member.windMps),
      gustMps: figures(member.gustMps),
      thunder: [...member.thunder],
    })),
  }));
}

/** The forecast that a brief went by, from what was kept with it; null where nothing was. */
export function keptForecast(input: unknown, brief: MorningBrief): Forecast | null {
  const { forecasts = [] } = input as { forecasts?: readonly KeptForecast[] };
  const kept = forecasts.find(({ series }) => series === brief.forecast.series);
  if (!kept || kept.issuedAt === null || kept.members.length === 0) return null;
  const { siteName: name } = brief.visit;
  // Where the place is does not matter to hours that are held against limits.
  const place = { name, lat: 0, lon: 0, elevationM: null };
  const { source, issuedAt } = kept;
  return {
    source,
    issuedAt,
    members: kept.members.map((member) => ({
      place,
      source,
      typicalYear: false,
      standardOffsetMin: member.standardOffsetMin,
      hourIndex: Int32Array.from(member.hourIndex),
      tempC: column(member.tempC),
      dewPointC: column(member.dewPointC),
      rainMm: column(member.rainMm),
      windMps: column(member.windMps),
      gustMps: column(member.gustMps),
      thunder: Int8Array.from(member.thunder),
    })),
  };
}

/** Hundredths; unknown is null. */
function figures(values: Float32Array): (number | null)[] {
  return Array.from(values, (value) => (Number.isNaN(value) ? null : Math.round(value * 100) / 100));
}

const column = (values: readonly (number | null)[]): Float32Array =>
  Float32Array.from(values, (value) => value ?? Number.NaN);
