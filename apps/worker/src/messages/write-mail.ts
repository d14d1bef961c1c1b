import type { DeliveryWork } from '../../../../libs/data/src/delivery.repository.ts';
import { type Instant, instantToLocal } from '../../../../libs/kernel/src/index.ts';
import type { Mailbox, MailMessage } from '../../../../libs/messages/src/mail-message.ts';
import { type RenderedMessage, renderMessage } from '../../../../libs/messages/src/render-message.ts';
import { crewInvitation } from './crew-invitation.ts';
import { fillTemplate } from './fill-template.ts';
import { type LinkContext, linkUrlOf } from './message-link.ts';
import type {
  StoredAnswerNotice,
  StoredCrewMessage,
  StoredPartnerMessage,
  StoredSignInMessage,
} from './stored-message.ts';

export interface MailContext extends LinkContext {
  readonly now: Instant;
  /** Whom messages come from and answers by mail go to. */
  readonly from: Mailbox;
}

/**
 * The words of a delivery, written now from what was kept with it; it may lack an address. Throws `invalid-input` naming
 * what is missing or does not fit; links and other values are never in the error.
 */
export function writeWords(context: MailContext, delivery: DeliveryWork): RenderedMessage {
  const visit = (delivery.data as Partial<StoredCrewMessage>).visit;
  const filled = fillTemplate(delivery.template, delivery.data as object, {
    to: nameOf(delivery),
    firmMail: context.from.address,
    today: instantToLocal(context.now, visit?.site.zone ?? 'UTC').date,
    linkUrl: linkUrlOf(context, delivery),
    homeUrl: `${context.publicUrl}/`,
  });
  return renderMessage({ ...filled, language: delivery.language });
}

/** The mail for a delivery that has an address. Throws as `writeWords` does. */
export function writeMail(context: MailContext, delivery: DeliveryWork): MailMessage {
  const written = writeWords(context, delivery);
  const organizer = {
    name: (delivery.data as { organisation: string }).organisation,
    mail: context.from.address,
  };
  const calendar = crewInvitation(delivery, organizer);
  return {
    to: { name: nameOf(delivery), address: delivery.address as string },
    subject: written.subject,
    text: written.text,
    html: written.html,
    ...(calendar ? { calendar } : {}),
    messageId: delivery.messageId,
  };
}

function nameOf({ data, address }: DeliveryWork): string {
  const stored = data as Partial<
    StoredCrewMessage & StoredPartnerMessage & StoredSignInMessage & StoredAnswerNotice
  >;
  // The recipient's own name stands under a word that says who they are.
  return (
    stored.person ??
    stored.partner ??
    stored.manager ??
    stored.name ??
    stored.visit?.customer ??
    (address as string)
  );
}
