/** The ways in which a message can leave the house. One word is added here when a channel is built, not before. */
export type ChannelName = 'mail';

/** What the far side said when it took a message. */
export interface ChannelReceipt {
  /** Addresses that the far side took the message for. */
  readonly accepted: readonly string[];
  /** The far side's own words, to keep beside the delivery. */
  readonly response: string;
}

/**
 * Called once, when everything but the very last piece has been handed over. The far side has the message only after
 * this settles: note down "handing over" in it. If it rejects, the message is not sent.
 */
export type BeforeEnd = () => Promise<void>;

/**
 * One way of sending. `send` resolves only when the far side has taken the message, and otherwise rejects with an
 * error that says whether the message is certainly not there or may be.
 */
export interface ChannelPort<Message> {
  readonly channel: ChannelName;
  send(message: Message & { readonly beforeEnd: BeforeEnd }): Promise<ChannelReceipt>;
  /** Resolves when the far side answers and lets us in; sends nothing. */
  check(): Promise<void>;
}
