const JUMP = [0x8764000b, 0xf542d2d3, 0x6fa035c3, 0x77f2db5b] as const;
const MASK_64 = 0xffff_ffff_ffff_ffffn;

/** The whole state of a generator, four unsigned 32-bit words, not all zero; plain data that can be stored. */
export type RngState = readonly [number, number, number, number];

/** Random numbers that are the same for the same seed on every machine. Not for secrets. */
export interface Rng {
  /** The next whole number of 0..2^32-1. */
  nextUint32(): number;
  /** A number of at least 0 and below 1, with 53 random bits. */
  uniform(): number;
  /** A whole number of low..high, both included, without bias. Needs high >= low and fewer than 2^32 values. */
  integer(low: number, high: number): number;
  /** One of the items. The list must not be empty. */
  pick<Item>(items: readonly Item[]): Item;
  /** Mixes the list in place (Fisher-Yates) and gives it back. */
  shuffle<Item>(items: Item[]): Item[];
  /** Steps over 2^64 numbers, so that what follows overlaps with nothing drawn before. */
  jump(): void;
  /**
   * A generator of its own for a named or numbered stream, made from the state now: derive streams before drawing.
   * Neither moves the other.
   */
  derive(stream: string | number): Rng;
  /** The state now; `rngFromState` goes on from it. */
  state(): RngState;
}

/**
 * A generator for a seed: xoshiro128** (Blackman and Vigna), state filled by SplitMix64 as its authors advise.
 * The seed is any safe whole number.
 */
export function rngFromSeed(seed: number): Rng {
  return fromSeed64(BigInt.asUintN(64, BigInt(Math.trunc(seed))));
}

/** A generator that goes on from a stored state. The four words must not all be zero. */
export function rngFromState(state: RngState): Rng {
  let [a, b, c, d] = state.map((word) => word >>> 0) as [number, number, number, number];

  const nextUint32 = (): number => {
    const result = Math.imul(rotateLeft(Math.imul(b, 5), 7), 9) >>> 0;
    const shifted = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= shifted;
    d = rotateLeft(d, 11);
    return result;
  };
  const integer = (low: number, high: number): number => {
    const range = high - low + 1;
    // Draws that would make some values likelier than others are thrown away.
    const limit = Math.floor(2 ** 32 / range) * range;
    let draw = nextUint32();
    while (draw >= limit) draw = nextUint32();
    return low + (draw % range);
  };
  const jump = (): void => {
    const sum: [number, number, number, number] = [0, 0, 0, 0];
    for (const word of JUMP) {
      for (let bit = 0; bit < 32; bit += 1) {
        if ((word >>> bit) & 1) {
          sum[0] ^= a;
          sum[1] ^= b;
          sum[2] ^= c;
          sum[3] ^= d;
        }
        nextUint32();
      }
    }
    [a, b, c, d] = sum;
  };

  return {
    nextUint32,
    integer,
    jump,
    uniform: () => ((nextUint32() >>> 5) * 2 ** 26 + (nextUint32() >>> 6)) / 2 ** 53,
    pick: (items) => items[integer(0, items.length - 1)] as (typeof items)[number],
    shuffle: (items) => {
      for (let last = items.length - 1; last > 0; last -= 1) {
        const other = integer(0, last);
        [items[last], items[other]] = [
          items[other] as (typeof items)[number],
          items[last] as (typeof items)[number],
        ];
      }
      return items;
    },
    derive: (stream) => fromSeed64(mixStream([a, b, c, d], String(stream))),
    state: () => [a >>> 0, b >>> 0, c >>> 0, d >>> 0],
  };
}

function rotateLeft(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

/** SplitMix64 (Steele, Lea, Flood 2014): the next state and its output. */
export function splitMix64(state: bigint): { state: bigint; output: bigint } {
  const next = (state + 0x9e37_79b9_7f4a_7c15n) & MASK_64;
  let mixed = next;
  mixed = ((mixed ^ (mixed >> 30n)) * 0xbf58_476d_1ce4_e5b9n) & MASK_64;
  mixed = ((mixed ^ (mixed >> 27n)) * 0x94d0_49bb_1331_11ebn) & MASK_64;
  return { state: next, output: mixed ^ (mixed >> 31n) };
}

function fromSeed64(seed: bigint): Rng {
  const first = splitMix64(seed);
  const second = splitMix64(first.state);
  const words = [first.output, first.output >> 32n, second.output, second.output >> 32n];
  return rngFromState(words.map((word) => Number(word & 0xffff_ffffn)) as unknown as RngState);
}

/** A seed for a stream: the parent's state and the stream's name run through SplitMix64 word by word. */
function mixStream(state: RngState, stream: string): bigint {
  let mixed = 0n;
  const absorb = (word: number): void => {
    mixed = splitMix64(mixed ^ BigInt(word >>> 0)).output;
  };
  for (const word of state) absorb(word);
  for (const character of stream) absorb(character.codePointAt(0) as number);
  absorb(stream.length);
  return mixed;
}
