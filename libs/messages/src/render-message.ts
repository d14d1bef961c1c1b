import Handlebars from 'handlebars';
import { DryspellError, type Instant, type LocalDate } from '../../kernel/src/index.ts';
import { compose } from './compose.ts';
import type { Language } from './language.ts';
import { english } from './languages/en/index.ts';
import type { Hazard } from './message-data.ts';
import { type Speaker, sayDay, sayDays, sayMoment, sayNumber, sayTerm, sayTime, sayZone } from './spoken.ts';
import {
  isTemplateId,
  TEMPLATES,
  type TemplateData,
  type TemplateId,
  type TemplateLinks,
} from './template-registry.ts';

const LANGUAGES: readonly Language[] = [english];
const MAX_SUBJECT = 180;
const MAX_SHORT = 300;

export interface RenderParams<Id extends TemplateId> {
  readonly template: Id;
  readonly data: TemplateData<Id>;
  readonly links: TemplateLinks<Id>;
  /** The reader's language, as a tag of BCP 47 such as `en-CA`; English where we have no words in it. */
  readonly language: string;
}

export interface RenderedMessage {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  /** For a text message, at most 300 letters on one line; null where the message has no short form. */
  readonly short: string | null;
  /** The language that it is really in. */
  readonly language: string;
}

/**
 * Writes a message. Throws `invalid-input` with the names of the values that are missing or cannot be used; a message
 * with a hole in it is never returned. Values themselves are not repeated in the error: links are secrets.
 */
export function renderMessage<Id extends TemplateId>(params: RenderParams<Id>): RenderedMessage {
  const { template } = params;
  if (!isTemplateId(template))
    throw new DryspellError('invalid-input', { field: 'template', expected: 'a known template' });
  const context = {
    ...(checked(template, 'data', params.data) as Record<string, unknown>),
    links: checked(template, 'links', params.links),
  };
  const speaker = speakerFor(params.language);
  const helpers = helpersFor(template, speaker);
  const ready = compiled(speaker.language, template);
  return {
    subject: oneLine(ready.subject(context, { helpers }), MAX_SUBJECT),
    text: tidyText(ready.text(context, { helpers })),
    html: ready.html(context, { helpers }),
    short: ready.short && oneLine(ready.short(context, { helpers }), MAX_SHORT),
    language: speaker.language.tag,
  };
}

function checked(template: TemplateId, part: 'data' | 'links', given: unknown): unknown {
  const read = TEMPLATES[template][part].safeParse(given);
  if (read.success) return read.data;
  const issues = read.error.issues.map((issue) => ({
    value: [...(part === 'links' ? ['links'] : []), ...issue.path].join('.'),
    missing: issue.path.length > 0 && valueAt(given, issue.path) === undefined,
    expected: issue.message,
  }));
  const missing = issues.filter((issue) => issue.missing).map((issue) => issue.value);
  const bad = issues.filter((issue) => !issue.missing).map(({ value, expected }) => ({ value, expected }));
  throw new DryspellError('invalid-input', { template, missing, bad });
}

function valueAt(given: unknown, path: readonly PropertyKey[]): unknown {
  let value: unknown = given;
  for (const key of path)
    value = typeof value === 'object' && value !== null ? Reflect.get(value, key) : undefined;
  return value;
}

/** The language we have for a tag, with the full tag for dates; both fall back together, so they never mix. */
function speakerFor(tag: string): Speaker {
  try {
    const locale = new Intl.Locale(tag);
    const language = LANGUAGES.find((known) => known.tag === locale.language);
    if (language) return { language, locale: locale.baseName };
  } catch {
    // Not a tag at all: as good as a language that we do not have.
  }
  return { language: english, locale: english.tag };
}

interface Compiled {
  readonly subject: Handlebars.TemplateDelegate;
  readonly text: Handlebars.TemplateDelegate;
  readonly html: Handlebars.TemplateDelegate;
  readonly short: Handlebars.TemplateDelegate | null;
}

// Of our own, so that nothing registered elsewhere in the process can reach our templates.
const handlebars = Handlebars.create();
const ready = new Map<string, Compiled>();

const HELPERS = [
  'value',
  'day',
  'days',
  'time',
  'zone',
  'moment',
  'number',
  'join',
  'term',
  'known',
  'caution',
] as const;

function compiled(language: Language, template: TemplateId): Compiled {
  const key = `${language.tag} ${template}`;
  const before = ready.get(key);
  if (before) return before;
  const sources = compose(language, language.templates[template]);
  const knownHelpers = Object.fromEntries([...HELPERS, 'if', 'each'].map((name) => [name, true]));
  // Line ends are part of the text mail, so a block that stands alone on its line must not swallow one.
  const options = { strict: true, knownHelpers, knownHelpersOnly: true, ignoreStandalone: true };
  const made = {
    subject: handlebars.compile(sources.subject, { ...options, noEscape: true }),
    text: handlebars.compile(sources.text, { ...options, noEscape: true }),
    html: handlebars.compile(sources.html, options),
    short: sources.short === null ? null : handlebars.compile(sources.short, { ...options, noEscape: true }),
  };
  ready.set(key, made);
  return made;
}

type Helper = (...args: unknown[]) => string;

function helpersFor(template: TemplateId, speaker: Speaker): Record<(typeof HELPERS)[number], Helper> {
  /** Wraps a helper so that it refuses absent values, naming them, and never prints nothing. */
  const sure =
    (write: (...values: never[]) => string): Helper =>
    (...args) => {
      const { hash } = args.at(-1) as Handlebars.HelperOptions;
      const values = args.slice(0, -1);
      const name = String(hash['name']);
      const absent = values.some((value) => value === undefined || value === null || value === '');
      const text = absent ? '' : write(...(values as never[]));
      if (text === '') throw new DryspellError('invalid-input', { template, missing: [name], bad: [] });
      return text;
    };
  return {
    value: sure((value: unknown) => {
      if (typeof value === 'string') return value;
      if (typeof value === 'number') return sayNumber(speaker, value);
      throw new DryspellError('internal', { template, expected: 'a text or a number' });
    }),
    day: sure((date: LocalDate) => sayDay(speaker, date)),
    days: sure((first: LocalDate, last: LocalDate) => sayDays(speaker, first, last)),
    time: sure((time: string) => sayTime(speaker, time)),
    zone: sure((zone: string, date: LocalDate, time: string) => sayZone(speaker, zone, date, time)),
    moment: sure((moment: { at: Instant; zone: string }) => sayMoment(speaker, moment.at, moment.zone)),
    number: sure((value: number) => sayNumber(speaker, value)),
    join: sure((items: readonly string[]) => items.join(', ')),
    term: sure((list: string, value: string) => sayTerm(speaker, list, value)),
    // The one helper that has words for an absent value, and says that it is not known.
    known: (list, value) =>
      typeof value === 'number'
        ? sayTerm(speaker, 'known', String(list)).replace('{value}', sayNumber(speaker, value))
        : sayTerm(speaker, 'unknown', String(list)),
    caution: sure((hazard: Hazard) => speaker.language.cautions[hazard]),
  };
}

/** One line that cannot begin another header, cut to a length that can be shown. */
function oneLine(text: string, most: number): string {
  const line = text.replace(/[\s\p{Cc}\u2028\u2029]+/gu, ' ').trim();
  const letters = [...line];
  return letters.length <= most
    ? line
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}

function tidyText(text: string): string {
  return `${text.replace(/\n{3,}/g, '\n\n').trim()}\n`;
}
