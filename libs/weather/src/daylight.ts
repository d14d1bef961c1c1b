import { Body, Equator, Horizon, MakeTime, Observer, SearchRiseSet, SiderealTime } from 'astronomy-engine';
import { DryspellError, dayFromParts } from '../../kernel/src/index.ts';

/** A stretch of daylight, in minutes of UTC since 1970-01-01T00:00Z. */
export interface LightSpan {
  readonly fromMin: number;
  readonly toMin: number;
}

/** 2000-01-01T12:00Z, from which the astronomy library counts days. */
const J2000_MIN = 946_728_000 / 60;
/** The sun's upper edge is on the horizon when its centre is 50 arc minutes below it: 34 of refraction and 16 of radius. */
const RISE_ALTITUDE_DEG = -50 / 60;
const MINUTES_A_DAY = 1440;
const RADIANS = Math.PI / 180;

/**
 * When the sun is up between two moments, in order; whole for the polar day, empty for the polar night. Rise and set are those of almanacs: upper
 * edge of the sun on a level horizon with 34' of refraction. Hills and trees are not looked at. Throws `invalid-input` for impossible coordinates.
 */
export function lightSpans(
  place: { readonly lat: number; readonly lon: number },
  fromMin: number,
  toMin: number,
): LightSpan[] {
  const observer = observerAt(place);
  const spans: LightSpan[] = [];
  let at = fromMin;
  let up = isUp(observer, fromMin);
  while (at < toMin) {
    const event = SearchRiseSet(Body.Sun, observer, up ? -1 : 1, timeAt(at), (toMin - at) / MINUTES_A_DAY);
    const next = event === null ? toMin : Math.min(toMin, minuteOf(event.ut));
    if (up && next > at) spans.push({ fromMin: at, toMin: next });
    if (event === null) break;
    // Past the event by a second, so that the same one is not found again.
    at = Math.max(next, at) + 1 / 60;
    up = !up;
  }
  return spans;
}

/** For each of the 366 dates of a year (29 February is entry 59, and as 28 February where the year has none), minutes after midnight of the record's clock between which it is light. */
export interface LightTable {
  readonly fromMin: Int16Array;
  /** Equal to `fromMin` where it does not get light, 1440 where it stays light. */
  readonly toMin: Int16Array;
}

/** North and south of this the sun grazes the horizon and each date is searched by itself. */
const STEADY_LATITUDE = 60;

/**
 * Daylight of a whole year by a clock that stays `standardOffsetMin` ahead of UTC, the longest stretch of each date, whole minutes: light is
 * rounded to begin late and end early. In middle latitudes from the hour angle of the sun's place on the date; the specs hold that against a search
 * for each rise and set (within a minute).
 */
export function lightTable(
  place: { readonly lat: number; readonly lon: number },
  year: number,
  standardOffsetMin: number,
): LightTable {
  const firstDay = dayFromParts(year, 1, 1);
  const leap = dayFromParts(year + 1, 1, 1) - firstDay === 366;
  const fromMin = new Int16Array(366);
  const toMin = new Int16Array(366);
  const sun = Math.abs(place.lat) <= STEADY_LATITUDE ? sunOfYear(firstDay) : null;
  for (let date = 0; date < 366; date += 1) {
    const day = leap || date < 59 ? date : date - 1;
    const dayStart = (firstDay + day) * MINUTES_A_DAY - standardOffsetMin;
    const [from, to] = sun
      ? byHourAngle(place, sun, dayStart - firstDay * MINUTES_A_DAY)
      : longest(lightSpans(place, dayStart, dayStart + MINUTES_A_DAY), dayStart);
    fromMin[date] = Math.ceil(Math.max(0, from));
    toMin[date] = Math.max(fromMin[date] as number, Math.floor(Math.min(MINUTES_A_DAY, to)));
  }
  return { fromMin, toMin };
}

/** The sun's declination and how far it is ahead of the mean sun, at each midnight UTC from the day before the year to two days after it. */
interface SunOfYear {
  readonly declinationRad: Float64Array;
  readonly aheadMin: Float64Array;
}

const SUN_DAYS = 370;
/** The sun of a year is the same for every place, so it is kept; a planning season asks for one or two years. */
const keptSuns = new Map<number, SunOfYear>();

function sunOfYear(firstDay: number): SunOfYear {
  const kept = keptSuns.get(firstDay);
  if (kept) return kept;
  const greenwich = new Observer(0, 0, 0);
  const declinationRad = new Float64Array(SUN_DAYS);
  const aheadMin = new Float64Array(SUN_DAYS);
  for (let at = 0; at < SUN_DAYS; at += 1) {
    const time = timeAt((firstDay + at - 1) * MINUTES_A_DAY);
    const { ra, dec } = Equator(Body.Sun, time, greenwich, true, true);
    declinationRad[at] = dec * RADIANS;
    // Hour angle at Greenwich at mean midnight, in minutes from the true midnight.
    const hours = SiderealTime(time) - ra + 12;
    aheadMin[at] = (((hours + 36) % 24) - 12) * 60;
  }
  const sun = { declinationRad, aheadMin };
  if (keptSuns.size > 8) keptSuns.clear();
  keptSuns.set(firstDay, sun);
  return sun;
}

/** Rise and set after `dayStart` (minutes after the year's first midnight UTC), relative to it: twice round, as the sun moves a little until then. */
function byHourAngle(
  { lat, lon }: { readonly lat: number; readonly lon: number },
  sun: SunOfYear,
  dayStart: number,
): readonly [number, number] {
  const phi = lat * RADIANS;
  const event = (side: -1 | 1): number => {
    // The noon that lies within the day of the clock, near its middle for a clock that fits the place.
    let at = dayStart + MINUTES_A_DAY / 2;
    for (let round = 0; round < 3; round += 1) {
      const place = at / MINUTES_A_DAY + 1;
      const declination = between(sun.declinationRad, place);
      const noon = noonNear(dayStart + MINUTES_A_DAY / 2, lon, between(sun.aheadMin, place));
      const cosine =
        (Math.sin(RISE_ALTITUDE_DEG * RADIANS) - Math.sin(phi) * Math.sin(declination)) /
        (Math.cos(phi) * Math.cos(declination));
      const half = (Math.acos(Math.max(-1, Math.min(1, cosine))) / RADIANS) * 4;
      at = noon + side * half;
    }
    return at - dayStart;
  };
  return [event(-1), event(1)];
}

/** The true noon nearest to a minute. */
function noonNear(minute: number, lon: number, aheadMin: number): number {
  const noon = MINUTES_A_DAY / 2 - lon * 4 - aheadMin;
  return noon + Math.round((minute - noon) / MINUTES_A_DAY) * MINUTES_A_DAY;
}

function between(values: Float64Array, at: number): number {
  const low = Math.max(0, Math.min(values.length - 2, Math.floor(at)));
  const share = at - low;
  return (values[low] as number) * (1 - share) + (values[low + 1] as number) * share;
}

function longest(spans: readonly LightSpan[], dayStart: number): readonly [number, number] {
  let best: LightSpan = { fromMin: dayStart, toMin: dayStart };
  for (const span of spans) if (span.toMin - span.fromMin > best.toMin - best.fromMin) best = span;
  return [best.fromMin - dayStart, best.toMin - dayStart];
}

function observerAt({ lat, lon }: { readonly lat: number; readonly lon: number }): Observer {
  if (!(Math.abs(lat) <= 90 && Math.abs(lon) <= 180))
    throw new DryspellError('invalid-input', {
      field: 'place',
      value: `${lat}, ${lon}`,
      expected: 'a latitude from -90 to 90 and a longitude from -180 to 180',
    });
  return new Observer(lat, lon, 0);
}

function isUp(observer: Observer, minute: number): boolean {
  const time = timeAt(minute);
  const { ra, dec } = Equator(Body.Sun, time, observer, true, true);
  return Horizon(time, observer, ra, dec).altitude > RISE_ALTITUDE_DEG;
}

const timeAt = (minute: number) => MakeTime((minute - J2000_MIN) / MINUTES_A_DAY);
const minuteOf = (ut: number): number => ut * MINUTES_A_DAY + J2000_MIN;
