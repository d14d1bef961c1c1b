import { describe, expect, it } from '@jest/globals';
import fc from 'fast-check';
import { DryspellError } from '../../kernel/src/index.ts';
import { messageSamples } from './message-samples.ts';
import { type RenderedMessage, type RenderParams, renderMessage } from './render-message.ts';
import { TEMPLATE_IDS, type TemplateId } from './template-registry.ts';

type Json = null | string | number | boolean | Json[] | { [key: string]: Json };

const sample = (template: TemplateId, language = 'en'): RenderParams<TemplateId> =>
  ({ template, language, ...structuredClone(messageSamples[template]) }) as RenderParams<TemplateId>;

/** The paths of all values that are not lists or objects. */
function leaves(value: Json, path: (string | number)[] = []): (string | number)[][] {
  if (typeof value !== 'object' || value === null) return [path];
  return Object.entries(value).flatMap(([key, inner]) =>
    leaves(inner, [...path, Array.isArray(value) ? Number(key) : key]),
  );
}

function edited(
  params: RenderParams<TemplateId>,
  path: readonly (string | number)[],
  edit: (holder: never, key: never) => void,
) {
  const copy = structuredClone(params);
  let holder: unknown = copy;
  for (const key of path.slice(0, -1)) holder = Reflect.get(holder as object, key);
  edit(holder as never, path.at(-1) as never);
  return copy;
}

const unescaped = (html: string): string =>
  html
    .replace(/<[^>]*>/g, '\n')
    .replaceAll('&lt;', '<')
    .replaceAll('&gt;', '>')
    .replaceAll('&quot;', '"')
    .replaceAll('&#x27;', "'")
    .replaceAll('&#x3D;', '=')
    .replaceAll('&#x60;', '`')
    .replaceAll('&amp;', '&');
const squeezed = (text: string): string => text.replace(/\s+/g, ' ').trim();

function expectNoHoles({ subject, text, html }: RenderedMessage): void {
  for (const part of [subject, text, html]) {
    expect(part).not.toMatch(/\{\{|\}\}|undefined|\bnull\b|\bNaN\b|\bfalse\b|\[object/);
  }
  expect(subject).not.toBe('');
  expect(text).not.toMatch(/^[^\n:]+: *$/m); // a label with nothing behind it, but for links
  expect(html).not.toMatch(/<strong>[^<]*<\/strong>\s*<\/p>\s*<p style="margin:0 0 8px/);
}

const codedRefusal = (run: () => unknown): DryspellError => {
  try {
    run();
  } catch (error) {
    expect(error).toBeInstanceOf(DryspellError);
    expect((error as DryspellError).code).toBe('invalid-input');
    return error as DryspellError;
  }
  throw new Error('was not refused');
};

describe.each(TEMPLATE_IDS)('%s', (template) => {
  it('is written in text and HTML that say the same', () => {
    for (const language of ['en', 'en-CA', 'en-GB', 'fr', 'not a language', '']) {
      const message = renderMessage(sample(template, language));
      expect(message.language).toBe('en');
      const visible = squeezed(unescaped(message.html));
      for (const line of message.text.split('\n')) {
        const bare = squeezed(line.replace(/^- /, '').replace(/:$/, ''));
        for (const piece of bare.split(/(?<=^[A-Z][\w’ ]{1,30}:) /)) expect(visible).toContain(piece);
      }
    }
  });

  it('has no holes, greets by name and names the firm', () => {
    const message = renderMessage(sample(template));
    expectNoHoles({ ...message, text: message.text.replace(/:\nhttps/g, ' https').replace(/:\n/g, '\n') });
    const { to, firm } = messageSamples[template].data;
    expect(message.text.startsWith(`Hello ${to.name},\n`)).toBe(true);
    expect(message.text).toContain(firm.name);
  });

  it('sets parts apart by one blank line in the text', () => {
    const { text } = renderMessage(sample(template));
    expect(text).not.toContain('\n\n\n');
    expect(text).toContain('\n\nKind regards,\nLarch & Loon Domes\n\nPhone: ');
  });

  it('carries each link, once in the text, and only http addresses', () => {
    const message = renderMessage(sample(template));
    const links = Object.values(messageSamples[template].links) as string[];
    for (const link of links) {
      expect(message.text.split(link)).toHaveLength(2);
      expect(unescapedAttributes(message.html)).toContain(link);
      for (const key of Object.keys(messageSamples[template].links)) {
        const bad = edited(
          sample(template),
          ['links', key],
          (holder: Record<string, string>, name: string) => {
            holder[name] = 'javascript:alert(1)';
          },
        );
        codedRefusal(() => renderMessage(bad));
      }
    }
    if (links.length === 0) expect(message.html).not.toContain('href');
  });

  it('refuses when any one value is missing, and names it', () => {
    const params = sample(template);
    for (const part of ['data', 'links'] as const) {
      for (const path of leaves(params[part] as Json)) {
        if (typeof path.at(-1) === 'number') continue;
        const without = edited(params, [part, ...path], (holder: object, key: string) => {
          Reflect.deleteProperty(holder, key);
        });
        const error = codedRefusal(() => renderMessage(without));
        const name = [...(part === 'links' ? ['links'] : []), ...path].join('.');
        expect(error.data).toMatchObject({ template, missing: [name] });
      }
    }
  });

  it('either refuses a null or leaves the line out', () => {
    const params = sample(template);
    for (const path of leaves(params.data as Json)) {
      const withNull = edited(params, ['data', ...path], (holder: Record<string, unknown>, key: string) => {
        holder[key] = null;
      });
      try {
        const message = renderMessage(withNull);
        expectNoHoles({
          ...message,
          text: message.text.replace(/:\nhttps/g, ' https').replace(/:\n/g, '\n'),
        });
      } catch (error) {
        expect(error).toMatchObject({ code: 'invalid-input', data: { bad: [{ value: path.join('.') }] } });
      }
    }
  });

  it('refuses a value that it does not know', () => {
    const params = sample(template);
    codedRefusal(() => renderMessage({ ...params, data: { ...params.data, surprise: 'x' } as never }));
  });

  it('never lets words become HTML or a header', () => {
    const nasty = '<img src=x onerror="a()">\r\nBcc: x@y.test\u2028&amp; {{firm.name}} {{{x}}}';
    for (const path of leaves(messageSamples[template].data as unknown as Json)) {
      const params = edited(
        sample(template),
        ['data', ...path],
        (holder: Record<string, unknown>, key: string) => {
          if (typeof holder[key] === 'string') holder[key] = nasty;
        },
      );
      let message: RenderedMessage;
      try {
        message = renderMessage(params);
      } catch (error) {
        expect(error).toMatchObject({ code: 'invalid-input' });
        continue;
      }
      expect(message.html).not.toContain('<img');
      // Marks of the template language in a value stay what they are: words.
      if (message.html.includes('&lt;img')) expect(message.html).toContain('{{firm.name}} {{{x}}}');
      expect(message.subject).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
    }
  });
});

function unescapedAttributes(html: string): string {
  return html.replaceAll('&#x3D;', '=').replaceAll('&amp;', '&');
}

describe('any words at all', () => {
  it('come out whole in the text, escaped in the HTML, on one line in the subject', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', minLength: 1, maxLength: 120 }), (name) => {
        const params = sample('crew-assignment') as RenderParams<'crew-assignment'>;
        params.data.visit.siteName = name;
        const line = name.replace(/[\s\p{Cc}\u2028\u2029]+/gu, ' ').trim();
        if (line === '') {
          codedRefusal(() => renderMessage(params));
          return;
        }
        const message = renderMessage(params);
        expect(message.text).toContain(`Where: ${line}\n`);
        expect(squeezed(unescaped(message.html))).toContain(squeezed(`Where: ${line}`));
        expect(message.subject).not.toMatch(/[\p{Cc}\u2028\u2029]/u);
        expect([...message.subject].length).toBeLessThanOrEqual(180);
      }),
      { numRuns: 300 },
    );
  });
});

/** Whether a comma follows the weekday, and a zero leads the hour, differs between releases of the locale data. */
const saidAs = (text: string): string =>
  text.replace(/(?<=[a-z]day), (?=\d)/g, ' ').replace(/\b0(?=\d:\d\d)/g, '');

describe('dates and times in words', () => {
  const crew = (zone: string, date: string, language: string) => {
    const params = sample('crew-assignment', language) as RenderParams<'crew-assignment'>;
    params.data.visit.zone = zone;
    params.data.visit.days = [{ date, start: '07:30', end: '16:00', work: 'outside' }];
    return renderMessage(params).text;
  };

  // Weekdays by the Gregorian calendar: 9 June 2026 is a Tuesday, 15 January 2026 a Thursday (from memory, and by
  // counting from 1 January 1970, a Thursday). Offsets: IANA data, Newfoundland -3:30 and -2:30 in summer.
  it('say the weekday, the month by name and the zone with its offset that day', () => {
    expect(crew('America/St_Johns', '2026-06-09', 'en-CA')).toContain(
      'Tuesday, June 9, 2026, 7:30 a.m. to 4:00 p.m. (Newfoundland Time, UTC-2:30), outside work',
    );
    expect(saidAs(crew('America/St_Johns', '2026-01-15', 'en-GB'))).toContain(
      'Thursday 15 January 2026, 7:30 to 16:00 (Newfoundland Time, UTC-3:30), outside work',
    );
  });

  it('keep to the program’s own zone data where the machine’s is older', () => {
    // IANA data of 2026: British Columbia stays at UTC-7 in winter.
    expect(crew('America/Vancouver', '2026-12-05', 'en')).toContain('UTC-7)');
    expect(crew('America/Vancouver', '2026-01-15', 'en')).toContain('UTC-8)');
  });

  it('name a zone that has no words by its IANA name', () => {
    expect(crew('Etc/UTC', '2026-06-09', 'en')).toContain('(Etc/UTC, UTC)');
  });

  it('say an instant in the reader’s zone', () => {
    const { text } = renderMessage(sample('sign-in-link', 'en-CA'));
    expect(text).toContain('Friday, May 1, 2026, 9:45 a.m. (Newfoundland Time, UTC-2:30)');
  });

  it('give one date where first and last are the same', () => {
    const { text } = renderMessage(sample('lift-request', 'en-GB'));
    expect(saidAs(text)).toContain('When: Tuesday 9 June 2026\n');
    expect(saidAs(renderMessage(sample('crew-assignment', 'en-GB')).text)).toContain(
      'When: Tuesday 9 June 2026 to Wednesday 10 June 2026\n',
    );
  });
});

describe('what must be said', () => {
  it('cautions wherever a message speaks of a danger: load chart, local law, who decides', () => {
    const crew = renderMessage(sample('crew-assignment'));
    for (const part of [crew.text, crew.html]) {
      for (const start of ['Lifting:', 'Wind:', 'Electricity:', 'Work at height:', 'Driving:', 'Rest:'])
        expect(part).toContain(start);
    }
    for (const template of [
      'lift-request',
      'partner-reminder',
      'delivery-request',
      'arrival-notice',
    ] as const) {
      const { text } = renderMessage(sample(template));
      expect(text).toContain('load chart');
      expect(text).toContain('local law');
      expect(text).toContain('a competent person on site decides');
    }
  });

  it('brings the dangers of a build even if nobody lists them', () => {
    const params = sample('crew-assignment') as RenderParams<'crew-assignment'>;
    params.data.visit.hazards = [];
    const { text } = renderMessage(params);
    expect(text).toContain('Lifting:');
    expect(text).toContain('Wind:');
    params.data.visit.kind = 'survey';
    params.data.visit.days = [{ date: '2026-06-09', start: '07:30', end: '12:00', work: 'inside' }];
    expect(renderMessage(params).text).not.toContain('Lifting:');
  });

  it('an unknown measure is said to be unknown', () => {
    const { text } = renderMessage(sample('lift-request'));
    expect(text).toContain('Reach from the machine: 8.5 m');
    expect(text).toContain('Hook height: not known yet');
  });

  it('tells the customer what must be ready by which day', () => {
    const { text } = renderMessage(sample('arrival-notice', 'en-GB'));
    expect(saidAs(text)).toContain('- Pad finished and level: by Friday 29 May 2026');
    const reminder = saidAs(renderMessage(sample('site-preparation-reminder', 'en-GB')).text);
    expect(reminder).toMatch(
      /Past their day:\n\n- Pad finished and level: was due by Friday 29 May 2026 \(send us the measured value\)/,
    );
    expect(reminder).toMatch(
      /Still to come:\n\n- Power on at the pad: by Friday 5 June 2026 \(send us a photo\)/,
    );
  });

  it('asks the manager to decide only where the answer is not yes', () => {
    const params = sample('answer-received') as RenderParams<'answer-received'>;
    expect(renderMessage(params).text).toContain('decide');
    params.data.answer = 'yes';
    params.data.proposedDay = null;
    expect(renderMessage(params).text).not.toContain('decide');
  });

  it('does not repeat a secret link in an error', () => {
    const params = sample('sign-in-link') as RenderParams<'sign-in-link'>;
    params.links.signIn = 'ftp://plan.larchandloon.test/in/SECRET';
    const error = codedRefusal(() => renderMessage(params));
    expect(`${error.message}${JSON.stringify(error.data)}${error.stack}`).not.toContain('SECRET');
  });
});

describe('the HTML page', () => {
  const { html } = renderMessage(sample('crew-assignment'));

  it('loads nothing and runs nothing', () => {
    expect(html).not.toMatch(/<(img|script|link|iframe|svg|style|form)\b|url\(|@import|\son\w+=/i);
    expect(html).toContain('<meta name="viewport" content="width=device-width, initial-scale=1">');
    expect(html).toContain('<html lang="en" dir="ltr">');
  });

  it('has a contrast of at least 4.5 to 1 for every ink on its ground (WCAG 2.2, 1.4.3)', () => {
    // Relative luminance and contrast ratio as defined by WCAG 2.2.
    const luminance = (hex: string): number => {
      const [r, g, b] = [1, 3, 5]
        .map((at) => Number.parseInt(hex.slice(at, at + 2), 16) / 255)
        .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4)) as [
        number,
        number,
        number,
      ];
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const contrast = (a: string, b: string): number => {
      const [light, dark] = [luminance(a), luminance(b)].sort((x, y) => y - x) as [number, number];
      return (light + 0.05) / (dark + 0.05);
    };
    // Known values: black on white is 21 to 1, and a colour on itself 1 to 1.
    expect(contrast('#000000', '#ffffff')).toBeCloseTo(21, 5);
    expect(contrast('#0b5cad', '#0b5cad')).toBeCloseTo(1, 5);
    // Walk the elements in order, carrying ink and ground inwards.
    const stack = [{ ink: '#000000', ground: '#ffffff' }];
    let pairs = 0;
    for (const [tag, closing, attributes] of html.matchAll(/<(\/?)[a-z]+([^>]*)>/gi)) {
      if (tag.startsWith('<meta') || tag.startsWith('<br')) continue;
      if (closing) {
        stack.pop();
        continue;
      }
      const outer = stack.at(-1) as { ink: string; ground: string };
      const ink = /[^-]color:(#[0-9a-f]{6})/.exec(` ${attributes}`)?.[1] ?? outer.ink;
      const ground = /background-color:(#[0-9a-f]{6})/.exec(attributes ?? '')?.[1] ?? outer.ground;
      stack.push({ ink, ground });
      if (ink !== outer.ink || ground !== outer.ground) pairs += 1;
      expect(contrast(ink, ground)).toBeGreaterThanOrEqual(4.5);
    }
    expect(pairs).toBeGreaterThanOrEqual(4);
  });
});
