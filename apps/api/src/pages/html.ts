/** Text that is safe inside HTML. Only `html` and `trusted` make it. */
export class SafeHtml {
  constructor(readonly text: string) {}
}

type Part = SafeHtml | string | number | null | undefined | false | readonly Part[];

const ESCAPES: Readonly<Record<string, string>> = {
  '&': '&amp;',
  '<': '&lt;',
  '>': '&gt;',
  '"': '&quot;',
  "'": '&#39;',
};

/** Escapes what would mean something in HTML text or in a quoted attribute. */
export const escapeHtml = (text: string): string =>
  text.replace(/[&<>"']/g, (sign) => ESCAPES[sign] as string);

function render(part: Part): string {
  if (part === null || part === undefined || part === false) return '';
  if (part instanceof SafeHtml) return part.text;
  if (Array.isArray(part)) return (part as readonly Part[]).map(render).join('');
  return escapeHtml(String(part));
}

/** A template for HTML: whatever is put in is escaped, unless it is itself the result of such a template. */
export function html(strings: TemplateStringsArray, ...parts: readonly Part[]): SafeHtml {
  return new SafeHtml(strings.map((text, index) => text + render(parts[index])).join(''));
}
