import type { MessageWords } from './blocks.ts';
import type { Hazard } from './message-data.ts';
import type { TemplateId } from './template-registry.ts';

/** All words of one language. The compiler refuses a language that lacks a template. */
export interface Language {
  /** Primary tag of BCP 47, such as `en`. */
  readonly tag: string;
  readonly direction: 'ltr' | 'rtl';
  readonly greeting: string;
  /** Closing lines; see `frame.ts` for the values they may use. */
  readonly closing: string;
  readonly phoneLabel: string;
  readonly mailLabel: string;
  /** Said once above the cautions. */
  readonly cautionLead: string;
  readonly cautions: Readonly<Record<Hazard, string>>;
  /** Words for values of closed lists. */
  readonly terms: Readonly<Record<string, string>>;
  /** Between two ends of a range, such as dates. */
  readonly rangeTo: string;
  readonly templates: Readonly<Record<TemplateId, MessageWords>>;
}
