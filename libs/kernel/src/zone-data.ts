import { FixedOffsetZone, Zone } from 'luxon';
import moment from 'moment-timezone';
import { DryspellError } from './dryspell-error.ts';

// Kept as it is now: another package may load its own older copy of the data, which replaces `moment.tz` for everybody.
const { tz } = moment;

/** The release of the IANA time zone data in force in this program, such as `2026f`. */
export const tzDataVersion: string = tz.dataVersion;

/** The last year for which the packed data lists clock changes; later dates keep that year's last offset. */
export const TZ_DATA_LAST_YEAR = 2037;

const names = new Set(tz.names());
const zones = new Map<string, IanaZone>();

/** A Luxon zone that answers from the packed data and never asks the machine. */
class IanaZone extends Zone {
  readonly #name: string;
  readonly #data: moment.MomentZone;

  constructor(name: string, data: moment.MomentZone) {
    super();
    this.#name = name;
    this.#data = data;
  }

  override get type(): string {
    return 'packed-iana';
  }

  override get name(): string {
    return this.#name;
  }

  get ianaName(): string {
    return this.#name;
  }

  override get isUniversal(): boolean {
    return this.#data.offsets.length === 1;
  }

  override get isValid(): boolean {
    return true;
  }

  override offsetName(epochMs: number): string {
    return this.#data.abbr(epochMs);
  }

  override formatOffset(epochMs: number, format: 'narrow' | 'short' | 'techie'): string {
    return FixedOffsetZone.instance(Math.round(this.offset(epochMs))).formatOffset(epochMs, format);
  }

  override offset(epochMs: number): number {
    // The data counts minutes west of Greenwich and gives -0 for UTC.
    return 0 - this.#data.utcOffset(epochMs);
  }

  /** The offsets in force at some moment of a span, oldest first. */
  offsetsBetween(fromMs: number, toMs: number): number[] {
    const { untils, offsets } = this.#data;
    const found = [this.offset(fromMs)];
    let low = 0;
    let high = untils.length;
    while (low < high) {
      const middle = (low + high) >> 1;
      if ((untils[middle] as number) <= fromMs) low = middle + 1;
      else high = middle;
    }
    for (let at = low; at + 1 < offsets.length && (untils[at] as number) <= toMs; at++)
      found.push(0 - (offsets[at + 1] as number));
    return [...new Set(found)];
  }

  override equals(other: Zone): boolean {
    return other instanceof IanaZone && other.name === this.#name;
  }
}

/** Whether a text is a zone name of the IANA data, links included, in its exact spelling. */
export function isKnownZone(zone: string): boolean {
  return names.has(zone);
}

/** All zone names that are known, links included, in order. */
export function zoneNames(): string[] {
  return [...names].sort();
}

/**
 * A Luxon zone for an IANA name, for formatting with Luxon: `DateTime.fromMillis(ms, { zone: luxonZone(name) })`.
 * Throws `unknown-zone`. Never hand Luxon the bare name: it would then ask the machine's own data, which may differ.
 */
export function luxonZone(zone: string): Zone {
  return ianaZone(zone);
}

function ianaZone(zone: string): IanaZone {
  const cached = zones.get(zone);
  if (cached) return cached;
  const data = names.has(zone) ? tz.zone(zone) : null;
  if (!data) throw new DryspellError('unknown-zone', { zone });
  const made = new IanaZone(zone, data);
  zones.set(zone, made);
  return made;
}

/** Minutes that the zone's clocks are ahead of UTC at an epoch time in milliseconds. */
export function offsetMinAt(zone: string, epochMs: number): number {
  return luxonZone(zone).offset(epochMs);
}

/** The offsets, in minutes ahead of UTC, that are in force at some moment of a span of epoch milliseconds. */
export function offsetsMinBetween(zone: string, fromMs: number, toMs: number): number[] {
  return ianaZone(zone).offsetsBetween(fromMs, toMs);
}
