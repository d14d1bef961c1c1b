import { type CloudLayer, cloudGroup, type Visibility, visibilityGroup } from './report-sight.ts';
import { type WeatherCode, weatherGroup } from './report-weather.ts';
import { type ReportWind, windGroup } from './report-wind.ts';

/** What a report, a trend or a part of a forecast says of wind, sight, weather and cloud; what it does not say is null or empty. */
export interface ReportState {
  /** Null when nothing is said of the wind, or it is marked as missing. */
  readonly wind: ReportWind | null;
  readonly visibility: Visibility | null;
  /** The least visibility in any direction, where one is given. */
  readonly leastVisibilityM: number | null;
  readonly weather: readonly WeatherCode[];
  readonly recentWeather: readonly WeatherCode[];
  /** Weather was marked as not observed. */
  readonly weatherMissing: boolean;
  /** No significant weather any more (NSW). */
  readonly noWeather: boolean;
  readonly clouds: readonly CloudLayer[];
  /** Sight of 10 km, no cloud that matters, no weather (CAVOK). */
  readonly cavok: boolean;
}

/** Takes the groups of a state one by one. */
export interface StateTaker {
  /** How many words from `at` were read as a group: 0 when it is none that is known, or one that was there already. */
  take(words: readonly string[], at: number): number;
  state(): ReportState;
}

const NO_CLOUD = new Set(['SKC', 'CLR', 'NSC', 'NCD']);
/** Groups that are well formed and of no use here: runway sight and state, wind shear, sea, a range of directions. */
const PASSED_OVER = [
  /^R\d{2}[LCR]{0,2}\/\S+$/,
  /^WS\d{3}\/\d{5,6}(G\d{2,3})?(KT|MPS)$/,
  /^W(M?\d{2}|\/\/)\/[SH](\d{1,3}|\/{1,3})$/,
  /^\d{3}V\d{3}$/,
  /^\/+(SM)?$/,
];

export function stateTaker(): StateTaker {
  let wind: ReportWind | null = null;
  let windSeen = false;
  let visibility: Visibility | null = null;
  let visibilitySeen = false;
  let leastVisibilityM: number | null = null;
  const weather: WeatherCode[] = [];
  const recentWeather: WeatherCode[] = [];
  const clouds: CloudLayer[] = [];
  let weatherMissing = false;
  let noWeather = false;
  let cavok = false;

  return {
    take(words, at) {
      const word = words[at] as string;
      const blow = windGroup(word);
      if (blow !== null) {
        if (windSeen) return 0;
        windSeen = true;
        wind = blow === 'missing' ? null : blow;
        return 1;
      }
      if (word === 'CAVOK') cavok = true;
      else if (word === 'NSW') noWeather = true;
      else if (word === '//') weatherMissing = true;
      else if (word === 'WS') return shearWords(words, at);
      else if (NO_CLOUD.has(word) || PASSED_OVER.some((shape) => shape.test(word))) return 1;
      else return takeRest(words, at);
      return 1;
    },
    state: () => ({
      wind,
      visibility,
      leastVisibilityM,
      weather,
      recentWeather,
      weatherMissing,
      noWeather,
      clouds,
      cavok,
    }),
  };

  function takeRest(words: readonly string[], at: number): number {
    const word = words[at] as string;
    const sight = visibilityGroup(words, at);
    if (sight) {
      if (sight.toward) leastVisibilityM = Math.min(leastVisibilityM ?? sight.metres, sight.metres);
      else if (visibilitySeen) return 0;
      else {
        visibilitySeen = true;
        visibility = { metres: sight.metres, bound: sight.bound };
      }
      return sight.words;
    }
    const layer = cloudGroup(word);
    if (layer) clouds.push(layer);
    const code = layer ? null : weatherGroup(word);
    if (code) (code.recent ? recentWeather : weather).push(code);
    return layer || code ? 1 : 0;
  }
}

/** `WS ALL RWY`, `WS RWY22L`, `WS R18C`. */
function shearWords(words: readonly string[], at: number): number {
  if (words[at + 1] === 'ALL' && words[at + 2] === 'RWY') return 3;
  return /^(RWY|R)\d{2}[LCR]?$/.test(words[at + 1] ?? '') ? 2 : 0;
}
