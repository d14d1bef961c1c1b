/** Weather of now, of the hour before or nearby, as the code of WMO-No. 306 (4678) writes it. */
export interface WeatherCode {
  readonly text: string;
  readonly intensity: 'light' | 'moderate' | 'heavy';
  /** Within sight of the station but not at it (VC). */
  readonly nearby: boolean;
  /** Of the time before the report and over now (RE). */
  readonly recent: boolean;
  readonly descriptor: string | null;
  /** Two letters each, such as RA, SN, FG. */
  readonly phenomena: readonly string[];
}

const SHAPE =
  /^(RE)?([+-]|VC)?(MI|PR|BC|DR|BL|SH|TS|FZ)?((?:DZ|RA|SN|SG|IC|PL|GR|GS|UP|BR|FG|FU|VA|DU|SA|HZ|PO|SQ|FC|SS|DS)*)$/;
const PRECIPITATION = new Set(['DZ', 'RA', 'SN', 'SG', 'IC', 'PL', 'GR', 'GS', 'UP']);

/** A weather group such as `+TSRA`, `VCSH`, `RETS`, `FZFG`; null when it is none. Only TS and SH may stand without a phenomenon. */
export function weatherGroup(word: string): WeatherCode | null {
  const parts = SHAPE.exec(word);
  if (!parts || word === '') return null;
  const [, re, sign, descriptor, letters] = parts;
  if (!letters && descriptor !== 'TS' && descriptor !== 'SH') return null;
  return {
    text: word,
    intensity: sign === '+' ? 'heavy' : sign === '-' ? 'light' : 'moderate',
    nearby: sign === 'VC',
    recent: re !== undefined,
    descriptor: descriptor ?? null,
    phenomena: letters?.match(/../g) ?? [],
  };
}

/** Thunder at the station or nearby, which for people in the open is the same. */
export function isThunder(code: WeatherCode): boolean {
  return code.descriptor === 'TS';
}

/** Anything that falls, at the station. A shower without a named phenomenon counts. */
export function isPrecipitation(code: WeatherCode): boolean {
  return (
    !code.nearby &&
    (code.descriptor === 'SH' || code.phenomena.some((phenomenon) => PRECIPITATION.has(phenomenon)))
  );
}
