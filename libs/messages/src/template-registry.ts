import { z } from 'zod';
import { morningBrief } from './brief-data.ts';
import {
  arrival,
  clockTime,
  common,
  crewVisit,
  day,
  delivery,
  type Hazard,
  lift,
  lines,
  link,
  moment,
  preparation,
  words,
  zone,
} from './message-data.ts';

const answerLink = z.strictObject({ answer: link });
const noLink = z.strictObject({});
const reason = lines.nullable();
const answerBy = day.nullable();
/** Dangers that a message to a partner always touches. */
const HAZARDS_OF: Readonly<Record<'lift' | 'delivery', readonly Hazard[]>> = {
  lift: ['lifting', 'wind'],
  delivery: ['lifting', 'driving'],
};
const withoutDetails = z.strictObject({ siteName: words, firstDay: day, lastDay: day });

const entry = <Data extends z.ZodType, Links extends z.ZodType>(data: Data, links: Links) => ({
  data,
  links,
});

/** Every message that can be sent: what it must be told, and which links it carries. */
export const TEMPLATES = {
  'crew-assignment': entry(z.strictObject({ ...common, visit: crewVisit, answerBy }), answerLink),
  'crew-assignment-changed': entry(
    z.strictObject({ ...common, visit: crewVisit, before: withoutDetails, reason, answerBy }),
    answerLink,
  ),
  'crew-assignment-cancelled': entry(z.strictObject({ ...common, visit: withoutDetails, reason }), noLink),
  'crew-reminder': entry(
    z.strictObject({ ...common, visit: crewVisit, answered: z.boolean(), answerBy }),
    answerLink,
  ),
  'arrival-notice': entry(z.strictObject({ ...common, visit: arrival, answerBy }), answerLink),
  'arrival-changed': entry(
    z.strictObject({ ...common, visit: arrival, before: withoutDetails, reason, answerBy }),
    answerLink,
  ),
  'arrival-cancelled': entry(z.strictObject({ ...common, visit: withoutDetails, reason }), noLink),
  'site-preparation': entry(
    z.strictObject({
      ...common,
      siteName: words,
      visitFirstDay: day.nullable(),
      items: z.array(preparation).min(1),
    }),
    answerLink,
  ),
  'site-preparation-reminder': entry(
    z
      .strictObject({
        ...common,
        siteName: words,
        visitFirstDay: day.nullable(),
        items: z.array(preparation).min(1),
      })
      .transform((data) => ({
        ...data,
        overdueItems: data.items.filter((item) => item.overdue),
        openItems: data.items.filter((item) => !item.overdue),
      })),
    answerLink,
  ),
  'lift-request': entry(
    z
      .strictObject({ ...common, lift, answerBy })
      .transform((data) => ({ ...data, hazards: HAZARDS_OF.lift })),
    answerLink,
  ),
  'lift-request-cancelled': entry(
    z.strictObject({ ...common, lift: withoutDetails.extend({ kind: words }), reason }),
    noLink,
  ),
  'delivery-request': entry(
    z
      .strictObject({ ...common, delivery, answerBy })
      .transform((data) => ({ ...data, hazards: HAZARDS_OF.delivery })),
    answerLink,
  ),
  'delivery-request-cancelled': entry(
    z.strictObject({
      ...common,
      delivery: z.strictObject({ siteName: words, arriveOn: day, goods: words }),
      reason,
    }),
    noLink,
  ),
  'partner-reminder': entry(
    z
      .strictObject({
        ...common,
        about: z.enum(['lift', 'delivery']),
        summary: words,
        siteName: words,
        neededOn: day,
        startTime: clockTime.nullable(),
        zone,
        answerBy,
      })
      .transform((data) => ({ ...data, hazards: HAZARDS_OF[data.about] })),
    answerLink,
  ),
  'morning-brief': entry(
    z.strictObject({ ...common, brief: morningBrief }),
    z.strictObject({ open: link.nullable() }),
  ),
  'sign-in-link': entry(z.strictObject({ ...common, expires: moment }), z.strictObject({ signIn: link })),
  'answer-received': entry(
    z
      .strictObject({
        ...common,
        who: words,
        role: z.enum(['crew', 'customer', 'partner']),
        /** What was asked, in a few words: `build at Signal Ridge School, 9 June`. */
        about: words,
        answer: z.enum(['yes', 'no', 'other-date']),
        proposedDay: day.nullable(),
        note: lines.nullable(),
        received: moment,
      })
      .transform((data) => ({ ...data, needsDecision: data.answer !== 'yes' })),
    z.strictObject({ open: link }),
  ),
} as const;

export type TemplateId = keyof typeof TEMPLATES;
/** What a template must be handed, before it is checked. */
export type TemplateData<Id extends TemplateId> = z.input<(typeof TEMPLATES)[Id]['data']>;
export type TemplateLinks<Id extends TemplateId> = z.input<(typeof TEMPLATES)[Id]['links']>;

export const TEMPLATE_IDS = Object.keys(TEMPLATES) as TemplateId[];

/** Whether a text names a template. */
export function isTemplateId(text: string): text is TemplateId {
  return Object.hasOwn(TEMPLATES, text);
}
