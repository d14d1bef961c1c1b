import { DryspellError } from '../../kernel/src/index.ts';
import type { Block, MessageWords } from './blocks.ts';
import { htmlPage, HTML_STYLE as style } from './html-page.ts';
import type { Language } from './language.ts';

// Turns words into the two Handlebars sources of a message. Every value is printed through a helper that refuses
// to print nothing, and carries its own name for the error.

/** The sources of one message in one language. */
export interface Sources {
  readonly subject: string;
  readonly text: string;
  readonly html: string;
  /** Null: the message has no short form. */
  readonly short: string | null;
}

/** Puts a message together with the greeting and the closing that all messages share. */
export function compose(language: Language, words: MessageWords): Sources {
  const blocks: Block[] = [
    { kind: 'say', text: language.greeting },
    ...words.blocks,
    { kind: 'say', text: language.closing },
    {
      kind: 'facts',
      rows: [
        { label: language.phoneLabel, text: '{{firm.phone}}', when: 'firm.phone' },
        { label: language.mailLabel, text: '{{firm.mail}}', when: 'firm.mail' },
      ],
    },
  ];
  return {
    subject: values(words.subject),
    text: blocks.map((block) => textOf(language, block)).join(''),
    html: htmlPage({
      language: language.tag,
      direction: language.direction,
      title: htmlWords(words.subject),
      body: blocks.map((block) => htmlOf(language, block)).join('\n'),
    }),
    short: words.short?.map((block) => textOf(language, block)).join('') ?? null,
  };
}

function textOf(language: Language, block: Block): string {
  switch (block.kind) {
    case 'say':
      return `${values(block.text)}\n\n`;
    case 'facts':
      return `${block.rows.map((row) => guarded(row.when, `${row.label}: ${values(row.text)}\n`)).join('')}\n`;
    case 'list':
      return `{{#each ${block.over}}}- ${values(block.text)}\n{{/each}}\n`;
    case 'button':
      return `${block.label}:\n${values(`{{${block.link}}}`)}\n\n`;
    case 'cautions':
      return guarded(
        block.over,
        `${language.cautionLead}\n{{#each ${block.over}}}- ${values('{{caution this}}')}\n{{/each}}\n`,
      );
    case 'when':
      return conditional(block, (inner) => textOf(language, inner));
  }
}

function htmlOf(language: Language, block: Block): string {
  switch (block.kind) {
    case 'say':
      return `<p style="${style.paragraph}">${htmlWords(block.text)}</p>`;
    case 'facts':
      return block.rows
        .map((row) =>
          guarded(
            row.when,
            `<p style="${style.fact}"><strong>${escapeHtml(row.label)}:</strong> ${htmlWords(row.text)}</p>`,
          ),
        )
        .join('\n');
    case 'list':
      return guarded(
        block.over,
        `<ul style="${style.list}">{{#each ${block.over}}}<li style="${style.item}">${htmlWords(block.text)}</li>{{/each}}</ul>`,
      );
    case 'button': {
      const link = values(`{{${block.link}}}`);
      return (
        `<p style="${style.paragraph}"><a href="${link}" style="${style.button}">${escapeHtml(block.label)}</a></p>\n` +
        `<p style="${style.small}"><a href="${link}" style="${style.link}">${link}</a></p>`
      );
    }
    case 'cautions':
      return guarded(
        block.over,
        `<div style="${style.caution}"><p style="${style.cautionLead}"><strong>${escapeHtml(language.cautionLead)}</strong></p>` +
          `<ul style="${style.list}">{{#each ${block.over}}}<li style="${style.item}">${values('{{caution this}}')}</li>{{/each}}</ul></div>`,
      );
    case 'when':
      return conditional(block, (inner) => htmlOf(language, inner));
  }
}

function conditional(block: Extract<Block, { kind: 'when' }>, write: (inner: Block) => string): string {
  const otherwise = block.otherwise.length === 0 ? '' : `{{else}}${block.otherwise.map(write).join('')}`;
  return `{{#if ${block.path}}}${block.then.map(write).join('')}${otherwise}{{/if}}`;
}

function guarded(path: string | undefined, source: string): string {
  return path === undefined ? source : `{{#if ${path}}}${source}{{/if}}`;
}

/** `{{a.b}}` becomes `{{value a.b name="a.b"}}`, and every helper is handed the name of what it prints. */
function values(text: string): string {
  return text.replace(/\{\{([^{}]*)\}\}/g, (_all, inner: string) => {
    const parts = inner.trim().split(/\s+/);
    if (!parts.every((part) => /^(\.\.\/)*[A-Za-z][\w.-]*$/.test(part))) {
      throw new DryspellError('internal', { template: 'words', found: inner });
    }
    const [helper, ...args] = parts.length === 1 ? ['value', ...parts] : parts;
    // The first word after these two is the name of a list of terms and no value.
    const list = helper === 'term' || helper === 'known' ? ` "${args.shift()}"` : '';
    return `{{${helper}${list} ${args.join(' ')} name="${args.join(' ')}"}}`;
  });
}

/** Words for HTML: what stands between the values is escaped here, the values when they are printed. */
function htmlWords(text: string): string {
  return text
    .split(/(\{\{[^{}]*\}\})/)
    .map((piece) => (piece.startsWith('{{') ? values(piece) : escapeHtml(piece).replaceAll('\n', '<br>')))
    .join('');
}

function escapeHtml(text: string): string {
  return text
    .replaceAll('&', '&amp;')
    .replaceAll('<', '&lt;')
    .replaceAll('>', '&gt;')
    .replaceAll('"', '&quot;');
}
