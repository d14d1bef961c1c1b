import type { MessageItem, MessageVisit } from '../../../../libs/data/src/visit-message.ts';
import type { StoredRun } from './stored-message.ts';

// Facts of a visit that the templates take as finished words. English, the one language that messages have.

type Site = MessageVisit['site'];

const GROUND: Readonly<Record<string, string>> = {
  sealed: 'sealed surface',
  gravel: 'gravel',
  firmSoil: 'firm soil',
  softSoil: 'soft soil',
  sand: 'sand',
  rock: 'rock',
};
const NOT_KNOWN = 'not known yet; please ask us before you choose the machine';

/** What a machine would stand on. Unknown is said, never left out. */
export function groundWords(site: Site): string {
  const ground = GROUND[site.groundKind ?? ''] ?? NOT_KNOWN;
  return site.slopePct === null ? ground : `${ground}, slope ${site.slopePct} %`;
}

/** What stands in the way of a machine; null when it is known that nothing does. */
export function obstacleWords(site: Site): string | null {
  const lines = {
    yes: 'There are power lines over or near the work.',
    no: null,
  }[site.overheadLines as 'yes' | 'no'];
  const parts = [
    lines === undefined ? 'Whether power lines are near the work is not known yet.' : lines,
    site.obstructions,
    site.accessNotes,
  ].filter((part) => part !== null && part !== '');
  return parts.length === 0 ? null : parts.join('\n');
}

export function accessWords(site: Site): string | null {
  const gate = site.gateWidthM === null ? null : `gate ${site.gateWidthM} m wide`;
  const parts = [gate, site.accessNotes].filter((part) => part !== null && part !== '');
  return parts.length === 0 ? null : parts.join('; ');
}

export function unloadingWords(run: StoredRun): string {
  if (run.truckKind === 'craneTruck') return 'with the truck’s own crane';
  if (run.forkliftOnSite === 'yes') return 'by the forklift on site';
  return 'not settled yet: a flatbed needs a forklift on site, and there is none that we know of; please ask us';
}

/** `Pad level (-3 to 3 mm)`. */
export function itemWords(item: MessageItem): string {
  const unit = item.unit === null ? '' : ` ${item.unit}`;
  const { toleranceLow: low, toleranceHigh: high } = item;
  if (low !== null && high !== null) return `${item.title} (${low} to ${high}${unit})`;
  if (low !== null) return `${item.title} (${low}${unit} or more)`;
  if (high !== null) return `${item.title} (${high}${unit} or less)`;
  return item.title;
}

export function kitWords(kit: MessageVisit['kits'][number]): string {
  return kit.count > 1 ? `${kit.count} × ${kit.name}` : kit.name;
}
