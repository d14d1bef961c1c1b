import { type Answer, cannotSay, known } from '../../../kernel/src/index.ts';
import type { MonthWeather } from '../monthly-table.ts';
import { fitRain } from './calibrate-rain.ts';
import { fitWind } from './calibrate-wind.ts';
import { checkFigures } from './check-figures.ts';
import {
  type CalibrateOptions,
  GENERATOR_ASSUMPTIONS,
  type GeneratorAssumptions,
  type GeneratorMonth,
  type GeneratorParameters,
  type MonthParameters,
} from './generator-parameters.ts';
import { midMonthValues } from './mid-month.ts';

/** Something that a monthly figure did not say and that was put in its place; month 1 to 12, null for the whole year. */
export interface AssumedFigure {
  readonly month: number | null;
  readonly name: keyof GeneratorAssumptions | 'meanWindMps';
  readonly value: number;
}

/** A figure that the generator cannot have together with the others, and what it has instead. */
export interface FigureNotMet {
  readonly month: number;
  readonly name: 'windyDayShare' | 'rainMmPerMonth' | 'meanWetHours';
  readonly wanted: number;
  readonly got: number;
}

/** A calibrated generator and everything that a reader of its results must know. */
export interface Calibration {
  readonly parameters: GeneratorParameters;
  readonly assumed: readonly AssumedFigure[];
  readonly notMet: readonly FigureNotMet[];
  /** Parts of months that stay unknown and are missing in every hour made. */
  readonly unknown: readonly {
    readonly month: number;
    readonly part: 'rain' | 'wind' | 'temperature';
    readonly missing: string;
  }[];
  /** Figures given that no generated hour reflects. */
  readonly notUsed: readonly { readonly month: number; readonly name: keyof MonthWeather }[];
}

/**
 * Fits a generator of hours to twelve months of figures, January first. A wet-day share is needed for rain, mean wind or a
 * share of windy days for wind, a mean temperature for temperature: a month without stays unknown in that part. Everything
 * else that is missing is assumed as stated, and listed. Cannot say when no month knows any part. Throws `invalid-input` for
 * figures that are impossible by themselves: shares outside 0..1, negative amounts, a persistence that no chain has.
 */
export function calibrate(
  months: readonly GeneratorMonth[],
  options: CalibrateOptions,
): Answer<Calibration, 'weather-unknown'> {
  checkFigures(months, options);
  const { limits, wetShareOf } = options;
  const assumptions: GeneratorAssumptions = { ...GENERATOR_ASSUMPTIONS, ...options.assumptions };
  const assumed: AssumedFigure[] = [];
  const notMet: FigureNotMet[] = [];
  const unknown: Calibration['unknown'][number][] = [];
  const notUsed: Calibration['notUsed'][number][] = [];
  const take = (
    month: number,
    value: number | null | undefined,
    name: keyof GeneratorAssumptions,
  ): number => {
    if (value !== null && value !== undefined) return value;
    assumed.push({ month, name, value: assumptions[name] });
    return assumptions[name];
  };

  const rainOf = (figures: GeneratorMonth, month: number): MonthParameters['rain'] => {
    const fitted = fitRain(figures, month, limits, assumptions);
    if (fitted === null) {
      unknown.push({ month, part: 'rain', missing: 'wetDayShare' });
      return null;
    }
    for (const name of fitted.assumed) assumed.push({ month, name, value: assumptions[name] });
    notMet.push(...fitted.notMet.map((figure) => ({ month, ...figure })));
    return fitted.rain;
  };

  const windOf = (figures: GeneratorMonth, month: number): MonthParameters['wind'] => {
    const { windyDayShare, meanWindMps = null } = figures;
    const fitted = fitWind({ meanWindMps, windyDayShare }, limits, assumptions);
    if (fitted === null) {
      unknown.push({ month, part: 'wind', missing: 'meanWindMps or windyDayShare' });
      return null;
    }
    const values = {
      windShape: fitted.wind.shape,
      windDailySwing: fitted.wind.dailySwing,
      meanWindMps: fitted.meanWindMps,
    };
    for (const name of fitted.assumed) assumed.push({ month, name, value: values[name] });
    if (!fitted.met && windyDayShare !== null)
      notMet.push({ month, name: 'windyDayShare', wanted: windyDayShare, got: fitted.windyDayShare });
    return fitted.wind;
  };

  const temperatureOf = (figures: GeneratorMonth, month: number): MonthParameters['temperature'] => {
    if (figures.meanTempC === null) {
      unknown.push({ month, part: 'temperature', missing: 'meanTempC' });
      return null;
    }
    return {
      sdC: assumptions.tempSdC,
      dailyRangeC: take(month, figures.dailyTempRangeC, 'dailyTempRangeC'),
      dewPointOffsetWetC: take(month, figures.dewPointOffsetWetC, 'dewPointOffsetWetC'),
      dewPointOffsetDryC: take(month, figures.dewPointOffsetDryC, 'dewPointOffsetDryC'),
    };
  };

  const fitted = months.map((figures, index): MonthParameters => {
    for (const name of ['coldDayShare', 'badDayShare', 'badAfterBad'] as const)
      if (figures[name] !== null) notUsed.push({ month: index + 1, name });
    return {
      rain: rainOf(figures, index + 1),
      wind: windOf(figures, index + 1),
      temperature: temperatureOf(figures, index + 1),
    };
  });
  const any = (part: keyof MonthParameters): boolean => fitted.some((month) => month[part] !== null);
  if (!any('rain') && !any('wind') && !any('temperature'))
    return cannotSay('weather-unknown', ['wetDayShare', 'meanWindMps', 'windyDayShare', 'meanTempC']);
  const structure: (keyof GeneratorAssumptions)[] = [
    ...(any('rain') ? (['rainShape'] as const) : []),
    ...(any('wind') ? (['windAutocorrelation', 'windDailySwing'] as const) : []),
    ...(any('temperature') ? (['tempSdC', 'tempAutocorrelation'] as const) : []),
    ...(any('wind') || any('temperature') ? (['peakHour'] as const) : []),
  ];
  for (const name of structure) assumed.push({ month: null, name, value: assumptions[name] });
  const { windAutocorrelation, peakHour, tempAutocorrelation } = assumptions;
  return known({
    parameters: {
      limits,
      wetShareOf,
      months: fitted,
      midMonthC: midMonthValues(filledRound(months.map(({ meanTempC }) => meanTempC))),
      windAutocorrelation,
      peakHour,
      tempAutocorrelation,
    },
    assumed,
    notMet,
    unknown,
    notUsed,
  });
}

/** Unknown months on straight lines between known ones, round the year: only so that known neighbours have a slope. */
function filledRound(values: readonly (number | null)[]): number[] {
  return values.map((value, month) => {
    if (value !== null) return value;
    const find = (step: number): { value: number; away: number } => {
      for (let away = 1; away < 12; away += 1) {
        const found = values[(month + step * away + 24) % 12];
        if (found !== null && found !== undefined) return { value: found, away };
      }
      return { value: 0, away: 1 };
    };
    const [before, after] = [find(-1), find(1)];
    return (before.value * after.away + after.value * before.away) / (before.away + after.away);
  });
}
