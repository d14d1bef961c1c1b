/**
 * The parts of a message, in words of one language. A value stands as `{{site.name}}`, or goes through one of the
 * helpers of `spoken.ts`: `{{day visit.firstDay}}`. Text mail and HTML mail are both made from these, so they cannot say
 * different things, and whoever translates sees words only.
 */
export type Block =
  | { readonly kind: 'say'; readonly text: string }
  | { readonly kind: 'facts'; readonly rows: readonly Fact[] }
  /** One line for each entry of a list; within it `this` is the entry and `../` leads back out. */
  | { readonly kind: 'list'; readonly over: string; readonly text: string }
  | { readonly kind: 'button'; readonly label: string; readonly link: string }
  | { readonly kind: 'cautions'; readonly over: string }
  | {
      readonly kind: 'when';
      readonly path: string;
      readonly then: readonly Block[];
      readonly otherwise: readonly Block[];
    };

export interface Fact {
  readonly label: string;
  readonly text: string;
  /** Only shown when this value is there (and not false, nor an empty list). */
  readonly when?: string;
}

export interface MessageWords {
  readonly subject: string;
  /** The same in a text message of at most 300 letters, where there is one; what stands first is cut last. */
  readonly short?: readonly Block[];
  readonly blocks: readonly Block[];
}

export const say = (text: string): Block => ({ kind: 'say', text });
export const facts = (...rows: Fact[]): Block => ({ kind: 'facts', rows });
export const list = (over: string, text: string): Block => ({ kind: 'list', over, text });
export const button = (label: string, link: string): Block => ({ kind: 'button', label, link });
export const cautions = (over: string): Block => ({ kind: 'cautions', over });
export const when = (path: string, then: readonly Block[], otherwise: readonly Block[] = []): Block => ({
  kind: 'when',
  path,
  then,
  otherwise,
});
