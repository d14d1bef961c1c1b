/** How far one can see. */
export interface Visibility {
  readonly metres: number;
  /** `at-least` for 9999 (10 km and more) and P6SM, `below` for M1/4SM. */
  readonly bound: 'exact' | 'at-least' | 'below';
}

export interface CloudLayer {
  readonly cover: 'FEW' | 'SCT' | 'BKN' | 'OVC' | 'VV' | null;
  readonly baseFt: number | null;
  /** Cumulonimbus or towering cumulus, the clouds of thunderstorms. */
  readonly towering: 'CB' | 'TCU' | null;
}

const MILE_M = 1609.344;

/**
 * A visibility from word `at` on: `0600`, `9999`, `1200NE`, `9999NDV`, `20KM`, `10SM`, `P6SM`, `M1/4SM`, `1 1/2SM` (two words). Null when
 * it is none; `11/2SM`, which may be 5.5 or 1.5 miles, is none.
 */
export function visibilityGroup(
  words: readonly string[],
  at: number,
): (Visibility & { readonly words: number; readonly toward: boolean }) | null {
  const word = words[at] as string;
  const metric = /^(\d{4})(NDV|N|NE|E|SE|S|SW|W|NW)?$/.exec(word);
  // Coded in steps of 50 m and more (WMO-No. 306, FM 15): 0507 is a time that lost its place.
  if (metric && (metric[1] === '9999' || Number(metric[1]) % 50 === 0)) {
    const toward = metric[2] !== undefined && metric[2] !== 'NDV';
    const metres = Number(metric[1]);
    return metres === 9999
      ? { metres: 10_000, bound: 'at-least', words: 1, toward }
      : { metres, bound: 'exact', words: 1, toward };
  }
  const kilometres = /^(\d{1,2})KM$/.exec(word);
  if (kilometres) return { metres: Number(kilometres[1]) * 1000, bound: 'exact', words: 1, toward: false };
  const next = words[at + 1] ?? '';
  const whole = /^\d$/.test(word) && /^\d\/\d{1,2}SM$/.test(next) ? Number(word) : 0;
  const miles = /^([PM])?(?:(\d{1,2})|(\d)\/(\d{1,2}))SM$/.exec(whole > 0 ? next : word);
  if (!miles || Number(miles[4]) === 0) return null;
  const amount = miles[2] === undefined ? Number(miles[3]) / Number(miles[4]) : Number(miles[2]);
  if (miles[2] === undefined && amount >= 1) return null;
  const bound = miles[1] === 'P' ? 'at-least' : miles[1] === 'M' ? 'below' : 'exact';
  return { metres: Math.round((whole + amount) * MILE_M), bound, words: whole > 0 ? 2 : 1, toward: false };
}

/** A cloud group such as `BKN005CB`, `VV002`, `BKN037///`, `//////CB`; null when it is none. */
export function cloudGroup(word: string): CloudLayer | null {
  const parts = /^(FEW|SCT|BKN|OVC|VV|\/\/\/)(\d{3}|\/\/\/)(CB|TCU|\/\/\/|AC|AS|CC|CI|CS|CU|NS|SC|ST)?$/.exec(
    word,
  );
  if (!parts) return null;
  return {
    cover: parts[1] === '///' ? null : (parts[1] as CloudLayer['cover']),
    baseFt: parts[2] === '///' ? null : Number(parts[2]) * 100,
    towering: parts[3] === 'CB' || parts[3] === 'TCU' ? parts[3] : null,
  };
}
