import { describe, expect, it } from '@jest/globals';
import {
  type CalibrateOptions,
  calibrate,
  type GeneratorMonth,
  generateYears,
  type HourlyRecord,
  monthlyTableFromHourly,
  UNKNOWN_MONTH,
} from '../index.ts';

/** Invented figures of a windy, wet coast, January first. */
const wetShares = [0.62, 0.58, 0.55, 0.48, 0.45, 0.4, 0.42, 0.45, 0.5, 0.57, 0.6, 0.63];
const windyShares = [0.5, 0.47, 0.45, 0.38, 0.3, 0.25, 0.2, 0.22, 0.32, 0.4, 0.45, 0.5];
const winds = [6.4, 6.2, 6, 5.5, 5, 4.7, 4.5, 4.6, 5.1, 5.7, 6, 6.3];
const temps = [4, 4.2, 6, 8.5, 11.5, 14, 16, 16, 14, 11, 7.5, 5];
const rains = [130, 100, 95, 70, 62, 60, 70, 85, 95, 125, 130, 135];
const coast: GeneratorMonth[] = wetShares.map((wetDayShare, month) => ({
  ...UNKNOWN_MONTH,
  wetDayShare,
  wetAfterWet: wetDayShare + 0.3 * (1 - wetDayShare),
  windyDayShare: windyShares[month] as number,
  meanTempC: temps[month] as number,
  meanWindMps: winds[month] as number,
  rainMmPerMonth: rains[month] as number,
  dailyTempRangeC: 6,
  dewPointOffsetWetC: 1.5,
  dewPointOffsetDryC: 4.5,
}));
const options: CalibrateOptions = {
  limits: { workFromHour: 7, workToHour: 17, rainMmPerHour: 0.1, gustMps: 13, gustFactor: 1.4 },
  wetShareOf: 'working-hours',
};
const place = { name: 'made up', lat: 52, lon: -9, elevationM: null };

function calibrated(months: readonly GeneratorMonth[]) {
  const answer = calibrate(months, options);
  if (!answer.known) throw new Error('figures were given');
  return answer.value;
}
const coastCalibration = calibrated(coast);
function years(months: readonly GeneratorMonth[], count: number): HourlyRecord {
  const request = { seed: 7, firstYear: 2001, years: count, place, standardOffsetMin: 0 };
  return generateYears((months === coast ? coastCalibration : calibrated(months)).parameters, request);
}
/** Sum and count of known values by calendar month. */
function byMonth(record: HourlyRecord, values: Float32Array) {
  const sums = Array.from({ length: 12 }, () => ({ sum: 0, count: 0 }));
  values.forEach((value, at) => {
    if (Number.isNaN(value)) return;
    const month = new Date((record.hourIndex[at] as number) * 3_600_000).getUTCMonth();
    const entry = sums[month] as { sum: number; count: number };
    entry.sum += value;
    entry.count += 1;
  });
  return sums;
}

describe('generated years', () => {
  const count = 20;
  const record = years(coast, count);
  const table = monthlyTableFromHourly(record, options.limits);

  it('have the wet days and their persistence that the months were given, counted from the hours again', () => {
    // Within 4 standard errors; a mean of days with correlation 0.3 has a variance larger by 1.3 / 0.7.
    table.forEach((month, at) => {
      const exact = wetShares[at] as number;
      const error = Math.sqrt(((exact * (1 - exact)) / month.days) * (1.3 / 0.7));
      expect(Math.abs((month.wetDayShare ?? 9) - exact)).toBeLessThan(4 * error);
      const stay = exact + 0.3 * (1 - exact);
      expect(Math.abs((month.wetAfterWet ?? 9) - stay)).toBeLessThan(
        4 * Math.sqrt((stay * (1 - stay)) / (exact * month.days)),
      );
    });
  });

  it('have the windy days and the mean wind that the months were given', () => {
    const found = byMonth(record, record.windMps);
    table.forEach((month, at) => {
      const exact = windyShares[at] as number;
      // Wind of one day and the next is correlated by 0.95^24 = 0.29 in normal scores; the share of days by less than that.
      const error = Math.sqrt(((exact * (1 - exact)) / month.days) * (1.3 / 0.7));
      expect(Math.abs((month.windyDayShare ?? 9) - exact)).toBeLessThan(4 * error);
      const { sum, count: hours } = found[at] as { sum: number; count: number };
      const mean = winds[at] as number;
      // Hours are correlated by 0.95: one in 39, (1 + 0.95) / (1 - 0.95), counts; the spread of wind is at most 0.7 of its mean here.
      expect(Math.abs(sum / hours - mean)).toBeLessThan((4 * 0.7 * mean) / Math.sqrt(hours / 39));
    });
  });

  it('have the rain of the months, in amounts of the gamma shape', () => {
    byMonth(record, record.rainMm).forEach(({ sum }, at) => {
      const exact = rains[at] as number;
      const wetDays = (wetShares[at] as number) * ((table[at]?.days ?? 0) / count);
      // A month's rain is a random sum: per wet day the variance is that of the gamma part (mean^2 / shape at most), plus
      // that of the count.
      const perDay = exact / wetDays;
      const variance = wetDays * (perDay ** 2 / 0.75 + perDay ** 2 * (1.3 / 0.7));
      expect(Math.abs(sum / count - exact)).toBeLessThan(4 * Math.sqrt(variance / count));
    });
  });

  it('have the temperature of the months and its daily course', () => {
    byMonth(record, record.tempC).forEach(({ sum, count: hours }, at) => {
      // Hours are correlated by 0.97: one in 66 counts; the standard deviation is 3, the daily course adds up to nothing.
      expect(Math.abs(sum / hours - (temps[at] as number))).toBeLessThan((4 * 3) / Math.sqrt(hours / 66));
    });
    const ofHour = (hour: number): number => {
      let sum = 0;
      for (let at = hour; at < record.tempC.length; at += 24) sum += record.tempC[at] as number;
      return sum / (record.tempC.length / 24);
    };
    // Between the hours about the peak (14 and 15) and half a day later (2 and 3) lies nearly the whole range of 6.
    expect((ofHour(14) + ofHour(15) - ofHour(2) - ofHour(3)) / 2).toBeCloseTo(6 * Math.cos(Math.PI / 24), 0);
  });

  it('never have a dew point above the temperature, nor a gust that is not the factor times the wind', () => {
    // Counted first: an assertion for each of a quarter of a million hours would take longer than the years themselves.
    const counts = { above: 0, saturated: 0, wrongGust: 0 };
    record.tempC.forEach((temp, at) => {
      const dewPoint = record.dewPointC[at] as number;
      if (dewPoint > temp) counts.above += 1;
      if (dewPoint === temp) counts.saturated += 1;
      const off = (record.gustMps[at] as number) - 1.4 * (record.windMps[at] as number);
      if (!(Math.abs(off) < 1e-4)) counts.wrongGust += 1;
    });
    expect(counts).toEqual({ above: 0, saturated: expect.any(Number), wrongGust: 0 });
    expect(counts.saturated).toBeGreaterThan(0);
    expect(new Set(record.thunder)).toEqual(new Set([-1]));
  });

  it('hold each hour once, leap days too, and say how gusts came about', () => {
    expect(record.hourIndex).toHaveLength(24 * (20 * 365 + 5));
    expect(record.hourIndex[0]).toBe(Date.UTC(2001, 0, 1) / 3_600_000);
    expect(
      record.hourIndex.every((hour, at) => at === 0 || hour === (record.hourIndex[at - 1] as number) + 1),
    ).toBe(true);
    expect(record.source).toContain('gust = mean wind x 1.4');
  });
});

describe('calibration', () => {
  it('assumes nothing silently', () => {
    const { assumed, notMet, unknown } = coastCalibration;
    expect(notMet).toEqual([]);
    expect(unknown).toEqual([]);
    expect(assumed.filter(({ month }) => month !== null).every(({ name }) => name === 'meanWetHours')).toBe(
      true,
    );
    expect(assumed.filter(({ month }) => month === null).map(({ name }) => name)).toEqual([
      'rainShape',
      'windAutocorrelation',
      'windDailySwing',
      'tempSdC',
      'tempAutocorrelation',
      'peakHour',
    ]);
    const bare = calibrated(
      coast.map(({ wetDayShare }) => ({ ...UNKNOWN_MONTH, wetDayShare, meanWindMps: 5 })),
    );
    expect(bare.assumed).toContainEqual({ month: 3, name: 'wetDayCorrelation', value: 0.3 });
    expect(bare.assumed).toContainEqual({ month: 3, name: 'rainMmPerWetDay', value: 5 });
    expect(bare.assumed).toContainEqual({ month: 3, name: 'windShape', value: 2 });
    expect(bare.unknown).toContainEqual({ month: 3, part: 'temperature', missing: 'meanTempC' });
  });

  it('finds a mean wind from the share of windy days alone, and says that it did', () => {
    const months = windyShares.map((windyDayShare) => ({ ...UNKNOWN_MONTH, windyDayShare }));
    const { assumed } = calibrated(months);
    expect(assumed.filter(({ name }) => name === 'meanWindMps')).toHaveLength(12);
    const table = monthlyTableFromHourly(years(months, 12), options.limits);
    table.forEach((month, at) => {
      const exact = windyShares[at] as number;
      const error = Math.sqrt(((exact * (1 - exact)) / month.days) * (1.3 / 0.7));
      expect(Math.abs((month.windyDayShare ?? 9) - exact)).toBeLessThan(4 * error);
    });
  });

  it('lets the wind swing more over the day where no shape has so many windy days, and says so', () => {
    const months = coast.map((month) => ({ ...month, meanWindMps: 4.5, windyDayShare: 0.45 }));
    const { assumed, notMet } = calibrated(months);
    expect(notMet).toEqual([]);
    const swings = assumed.filter(({ month, name }) => month !== null && name === 'windDailySwing');
    expect(swings).toHaveLength(12);
    expect(swings[0]?.value).toBeGreaterThan(0.25);
    const record = years(months, 10);
    const windy = monthlyTableFromHourly(record, options.limits).map(
      ({ windyDayShare }) => windyDayShare ?? 9,
    );
    const share = windy.reduce((sum, each) => sum + each, 0) / 12;
    expect(Math.abs(share - 0.45)).toBeLessThan(4 * Math.sqrt(((0.45 * 0.55) / 3652) * (1.3 / 0.7)) + 0.005);
    const mean = record.windMps.reduce((sum, wind) => sum + wind, 0) / record.windMps.length;
    expect(Math.abs(mean - 4.5)).toBeLessThan((4 * 0.9 * 4.5) / Math.sqrt(record.windMps.length / 39));
  });

  it('names figures that contradict each other and what the hours have instead', () => {
    // A mean of 12 m/s with a limit of 13 m/s for gusts cannot leave four days in five calm; ten wet days cannot share 0.5 mm
    // of rain in wet hours.
    const months = coast.map((month) => ({
      ...month,
      meanWindMps: 12,
      windyDayShare: 0.2,
      rainMmPerMonth: 0.5,
    }));
    const { notMet } = calibrated(months);
    const july = notMet.filter(({ month }) => month === 7);
    expect(july.map(({ name }) => name).sort()).toEqual(['meanWetHours', 'rainMmPerMonth', 'windyDayShare']);
    expect(july.find(({ name }) => name === 'windyDayShare')?.got).toBeGreaterThan(0.5);
    expect(july.find(({ name }) => name === 'rainMmPerMonth')?.got).toBeGreaterThan(0.5);
  });

  it('says which figures it does not use', () => {
    const months = coast.map((month) => ({ ...month, coldDayShare: 0.1, badDayShare: 0.6 }));
    expect(calibrated(months).notUsed.filter(({ month }) => month === 1)).toEqual([
      { month: 1, name: 'coldDayShare' },
      { month: 1, name: 'badDayShare' },
    ]);
  });

  it('cannot say when nothing is known, and keeps unknown months missing', () => {
    const nothing = Array.from({ length: 12 }, () => UNKNOWN_MONTH);
    expect(calibrate(nothing, options)).toMatchObject({ known: false, reason: 'weather-unknown' });
    const gap = coast.map((month, at) => (at === 3 ? UNKNOWN_MONTH : month));
    const table = monthlyTableFromHourly(years(gap, 2), options.limits);
    expect(table[3]).toMatchObject({ wetDayShare: null, windyDayShare: null, meanTempC: null });
    expect(table[4]?.wetDayShare).not.toBeNull();
    const noRain = years(
      coast.map((month) => ({ ...month, wetDayShare: null })),
      1,
    );
    expect(noRain.rainMm.every(Number.isNaN)).toBe(true);
    expect(noRain.dewPointC.every(Number.isNaN)).toBe(true);
    expect(noRain.tempC.some(Number.isNaN)).toBe(false);
  });

  it('refuses figures that are impossible by themselves, with month and name', () => {
    const wrong = (figures: Partial<GeneratorMonth>, field: string): void => {
      const months = coast.map((month, at) => (at === 5 ? { ...month, ...figures } : month));
      expect(() => calibrate(months, options)).toThrow(
        expect.objectContaining({ code: 'invalid-input', data: expect.objectContaining({ field }) }),
      );
    };
    wrong({ wetDayShare: 1.2 }, '6.wetDayShare');
    wrong({ rainMmPerMonth: -3 }, '6.rainMmPerMonth');
    wrong({ meanWetHours: 30 }, '6.meanWetHours');
    wrong({ meanWindMps: 0 }, '6.meanWindMps');
    wrong({ wetDayShare: 0.9, wetAfterWet: 0.5 }, 'badAfterBad');
    expect(() => calibrate(coast.slice(1), options)).toThrow(
      expect.objectContaining({ code: 'invalid-input' }),
    );
    const noLimit = { ...options, limits: { ...options.limits, rainMmPerHour: 0 } };
    expect(() => calibrate(coast, noLimit)).toThrow(expect.objectContaining({ code: 'invalid-input' }));
  });
});
