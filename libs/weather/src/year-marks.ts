const WORD_BITS = 32;
/** As many years as a record may span, in words of bits. */
const WORDS = 5;
const FIRST_BIT = 2;

/** Which years each date of the year was seen in. */
export class YearMarks {
  readonly #dates: number;
  readonly #bits: Int32Array;
  #firstYear: number | null = null;
  readonly #found = new Int32Array(WORDS);

  constructor(dates: number) {
    this.#dates = dates;
    this.#bits = new Int32Array(dates * WORDS);
  }

  /** Years come in order; the years of a typical year mean nothing, and all count as one. */
  add(date: number, year: number | null): void {
    if (this.#firstYear === null && year !== null) this.#firstYear = year;
    const bit = year === null ? 0 : year - (this.#firstYear as number) + FIRST_BIT;
    const word = date * WORDS + Math.floor(bit / WORD_BITS);
    this.#bits[word] = (this.#bits[word] as number) | (1 << (bit % WORD_BITS));
  }

  /** Different years among the dates around a date. Late December and early January around one new year count as one year. */
  around(date: number, halfWidth: number): number {
    const found = this.#found.fill(0);
    for (let off = -halfWidth; off <= halfWidth; off += 1) {
      const raw = date + off;
      const at = (raw + this.#dates) % this.#dates;
      // A date beyond the new year is of the year after; one before it, of the year before.
      const turn = raw < 0 ? 1 : raw >= this.#dates ? -1 : 0;
      for (let word = 0; word < WORDS; word += 1) {
        const bits = this.#bits[at * WORDS + word] as number;
        if (bits === 0) continue;
        found[word] =
          (found[word] as number) | (turn === 0 ? bits : turned(this.#bits, at * WORDS, word, turn));
        if (turn === 1 && word + 1 < WORDS) found[word + 1] = (found[word + 1] as number) | (bits >>> 31);
        if (turn === -1 && word > 0) found[word - 1] = (found[word - 1] as number) | ((bits & 1) << 31);
      }
    }
    let years = 0;
    for (const bits of found) years += countBits(bits);
    return years;
  }
}

/** One word of years moved by one year; the mark of a typical year stays where it is. */
function turned(bits: Int32Array, first: number, word: number, turn: 1 | -1): number {
  const here = bits[first + word] as number;
  if (word > 0) return turn === 1 ? here << 1 : here >>> 1;
  const typical = here & 1;
  const years = here & ~1;
  return typical | (turn === 1 ? years << 1 : years >>> 1);
}

function countBits(word: number): number {
  let left = word - ((word >>> 1) & 0x55555555);
  left = (left & 0x33333333) + ((left >>> 2) & 0x33333333);
  return (((left + (left >>> 4)) & 0x0f0f0f0f) * 0x01010101) >>> 24;
}
