import { DryspellError, type LocalDate } from '../../../../libs/kernel/src/index.ts';
import { morningBriefData } from '../../../../libs/messages/src/brief-data.ts';
import type {
  TemplateData,
  TemplateId,
  TemplateLinks,
} from '../../../../libs/messages/src/template-registry.ts';
import { isTemplateId } from '../../../../libs/messages/src/template-registry.ts';
import {
  accessWords,
  groundWords,
  itemWords,
  kitWords,
  obstacleWords,
  unloadingWords,
} from './spoken-facts.ts';
import type {
  StoredAnswerNotice,
  StoredBrief,
  StoredCrewMessage,
  StoredCustomerMessage,
  StoredLift,
  StoredPartnerMessage,
  StoredRun,
  StoredSignInMessage,
} from './stored-message.ts';
import { arrival, crewVisit, laterTime, placeAndDays } from './visit-facts.ts';

/** What is needed beside the stored data. */
export interface FillContext {
  /** Name to greet by. */
  readonly to: string;
  /** Address that answers by mail go to. */
  readonly firmMail: string | null;
  /** Today in the zone of the site. */
  readonly today: LocalDate;
  /** The page of the message's link; null when it has none. */
  readonly linkUrl: string | null;
  /** The program's own first page. */
  readonly homeUrl: string;
}

export interface FilledMessage<Id extends TemplateId = TemplateId> {
  readonly template: Id;
  readonly data: TemplateData<Id>;
  readonly links: TemplateLinks<Id>;
}

type Filler<Id extends TemplateId> = (
  stored: never,
  common: Common,
  context: FillContext,
) => { data: TemplateData<Id>; links: TemplateLinks<Id> };
type Common = Pick<TemplateData<'sign-in-link'>, 'firm' | 'to'>;

/** Lorries come in the first part of the working day. Common practice, not a published figure. */
const DELIVERY_WINDOW_MIN = 240;

const answer = (context: FillContext) => ({ answer: context.linkUrl as string });

function crewMessage(stored: StoredCrewMessage, common: Common) {
  return { ...common, visit: crewVisit(stored, stored.person, stored.assignment), answerBy: null };
}

function preparation(stored: StoredCustomerMessage, common: Common, { today }: FillContext) {
  return {
    ...common,
    siteName: stored.visit.site.name,
    visitFirstDay: stored.visit.startDay,
    items: (stored.items ?? []).map((item) => {
      const by = item.dueOn ?? stored.visit.startDay;
      const proof = { number: 'measurement', photo: 'photo', document: 'document' }[item.evidence] ?? 'none';
      return { what: itemWords(item), by, proof: proof as 'none', overdue: by < today };
    }),
  };
}

function liftWanted({ visit }: StoredPartnerMessage, lift: StoredLift): TemplateData<'lift-request'>['lift'] {
  const heights = visit.kits.flatMap((kit) => (kit.liftHeightM === null ? [] : [kit.liftHeightM]));
  return {
    kind: lift.typeName,
    siteName: visit.site.name,
    siteAddress: visit.site.address,
    zone: visit.site.zone,
    firstDay: lift.fromDay,
    lastDay: lift.toDay,
    startTime: visit.workdayStart,
    heaviestKg: Math.max(0, ...visit.kits.map((kit) => kit.heaviestPartKg)),
    radiusM: lift.workingRadiusM,
    hookHeightM: heights.length === 0 ? null : Math.max(...heights),
    gustLimitMps: lift.maxGustMps,
    // Asking for an operator with a ticket is the careful side; the season does not say who works the lift.
    withOperator: true,
    ground: groundWords(visit.site),
    note: obstacleWords(visit.site),
  };
}

function deliveryWanted(
  { visit }: StoredPartnerMessage,
  run: StoredRun,
): TemplateData<'delivery-request'>['delivery'] {
  const { site, warehouse } = visit;
  // Without its kits nobody could choose a truck: better no message, and shown, than one with nothing to carry.
  if (visit.kits.length === 0)
    throw new DryspellError('invalid-input', { missing: [`kits of the job ${visit.job}`] });
  return {
    goods: visit.kits.map((kit) => ({
      what: kitWords(kit),
      pieces: Math.max(1, kit.pallets) * kit.count,
      massKg: kit.massKg * kit.count,
      longestM: kit.longestPartM,
    })),
    collectFrom: warehouse
      ? [warehouse.name, warehouse.address].filter(Boolean).join(', ')
      : 'not settled yet; please ask us',
    siteName: site.name,
    siteAddress: site.address,
    zone: site.zone,
    arriveOn: run.day,
    arriveFrom: visit.workdayStart,
    arriveTo: laterTime(visit.workdayStart, DELIVERY_WINDOW_MIN),
    unloading: unloadingWords(run),
    access: accessWords(site),
    contactName: visit.customer,
    contactPhone: null,
    note: obstacleWords(site),
  };
}

function reminderOf(stored: StoredPartnerMessage, common: Common): TemplateData<'partner-reminder'> {
  const { visit, lift, run } = stored;
  const about = stored.about ?? 'lift';
  const neededOn = (about === 'lift' ? lift?.fromDay : run?.day) ?? visit.startDay;
  const goods = visit.kits.map(kitWords).join(', ');
  return {
    ...common,
    about,
    summary: about === 'lift' ? (lift?.typeName ?? visit.title) : goods || visit.title,
    siteName: visit.site.name,
    neededOn,
    startTime: about === 'lift' ? visit.workdayStart : null,
    zone: visit.site.zone,
    answerBy: null,
  };
}

function required<T>(value: T | undefined, name: string): T {
  if (value === undefined) throw new DryspellError('invalid-input', { missing: [name] });
  return value;
}

const FILLERS = {
  'crew-assignment': (stored: StoredCrewMessage, common, context) => ({
    data: crewMessage(stored, common),
    links: answer(context),
  }),
  'crew-assignment-changed': (stored: StoredCrewMessage, common, context) => ({
    data: {
      ...crewMessage(stored, common),
      before: placeAndDays(stored.visit, daysOf(stored.before)),
      reason: null,
    },
    links: answer(context),
  }),
  'crew-assignment-cancelled': (stored: StoredCrewMessage, common) => ({
    data: { ...common, visit: placeAndDays(stored.visit, daysOf(stored.before)), reason: null },
    links: {},
  }),
  'crew-reminder': (stored: StoredCrewMessage, common, context) => ({
    data: { ...crewMessage(stored, common), answered: stored.answered === true },
    links: answer(context),
  }),
  'arrival-notice': (stored: StoredCustomerMessage, common, context) => ({
    data: { ...common, visit: arrival(stored), answerBy: null },
    links: answer(context),
  }),
  'arrival-changed': (stored: StoredCustomerMessage, common, context) => ({
    data: {
      ...common,
      visit: arrival(stored),
      before: placeAndDays(stored.visit, stored.before?.siteDays ?? []),
      reason: null,
      answerBy: null,
    },
    links: answer(context),
  }),
  'arrival-cancelled': (stored: StoredCustomerMessage, common) => ({
    data: { ...common, visit: placeAndDays(stored.visit, stored.before?.siteDays ?? []), reason: null },
    links: {},
  }),
  'site-preparation': (stored: StoredCustomerMessage, common, context) => ({
    data: preparation(stored, common, context),
    links: answer(context),
  }),
  'site-preparation-reminder': (stored: StoredCustomerMessage, common, context) => ({
    data: preparation(stored, common, context),
    links: answer(context),
  }),
  'lift-request': (stored: StoredPartnerMessage, common, context) => ({
    data: { ...common, lift: liftWanted(stored, required(stored.lift, 'lift')), answerBy: null },
    links: answer(context),
  }),
  'lift-request-cancelled': (stored: StoredPartnerMessage, common) => {
    const lift = required(stored.lift, 'lift');
    const days = stored.before ? daysOf(stored.before) : [lift.fromDay, lift.toDay];
    return {
      data: { ...common, lift: { ...placeAndDays(stored.visit, days), kind: lift.typeName }, reason: null },
      links: {},
    };
  },
  'delivery-request': (stored: StoredPartnerMessage, common, context) => ({
    data: { ...common, delivery: deliveryWanted(stored, required(stored.run, 'run')), answerBy: null },
    links: answer(context),
  }),
  'delivery-request-cancelled': (stored: StoredPartnerMessage, common) => ({
    data: {
      ...common,
      delivery: {
        siteName: stored.visit.site.name,
        arriveOn: required(stored.run, 'run').day,
        goods: stored.visit.kits.map(kitWords).join(', ') || stored.visit.title,
      },
      reason: null,
    },
    links: {},
  }),
  'partner-reminder': (stored: StoredPartnerMessage, common, context) => ({
    data: reminderOf(stored, common),
    links: answer(context),
  }),
  'morning-brief': (stored: StoredBrief, common, context) => ({
    data: { ...common, brief: morningBriefData(stored.brief, stored.turnedFrom) },
    links: { open: context.homeUrl },
  }),
  'sign-in-link': (stored: StoredSignInMessage, common, context) => ({
    data: { ...common, expires: stored.expires },
    links: { signIn: context.linkUrl as string },
  }),
  'answer-received': (stored: StoredAnswerNotice, common, context) => ({
    data: {
      ...common,
      who: stored.who.name ?? stored.who.key,
      role: ({ customer: 'customer', partner: 'partner' } as const)[stored.who.kind as 'partner'] ?? 'crew',
      about: stored.about,
      answer: stored.answer,
      proposedDay: stored.proposedDay,
      note: noteOf(stored),
      received: stored.received,
    },
    links: { open: context.homeUrl },
  }),
} as const satisfies { readonly [Id in TemplateId]: Filler<Id> };

/** A measured value has no line of its own in the message. */
function noteOf({ value, note }: StoredAnswerNotice): string | null {
  const parts = [value === null || value === undefined ? null : `Value: ${value}`, note].filter(
    (part) => part !== null,
  );
  return parts.length === 0 ? null : parts.join('\n');
}

function daysOf(span: { from: LocalDate; to: LocalDate } | null | undefined): LocalDate[] {
  return span ? [span.from, span.to] : [];
}

/**
 * What a template needs, from what is kept with a delivery. Throws `invalid-input` for a template that it does not
 * know; whether the values fit is checked by the template itself.
 */
export function fillTemplate(template: string, stored: object, context: FillContext): FilledMessage {
  if (!isTemplateId(template))
    throw new DryspellError('invalid-input', { template, expected: 'a known template' });
  const { organisation, isDemo } = stored as { organisation: string; isDemo: boolean };
  const common: Common = {
    firm: {
      name: isDemo ? `${organisation} (demo: all names are invented)` : organisation,
      phone: null,
      mail: context.firmMail,
    },
    to: { name: context.to },
  };
  const filled = (FILLERS[template] as Filler<TemplateId>)(stored as never, common, context);
  return { template, ...filled };
}
