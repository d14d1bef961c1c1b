// The round of a season as its people walk it: sign in, look at the draft, publish, read the mail, answer, look again.
import { randomUUID } from 'node:crypto';
import { expect } from '@jest/globals';
import { eventually } from '../../builders/eventually.ts';
import { type Answer, type Form, formsOf, HttpClient } from '../../builders/http-client.ts';
import { type ReadMail, readMail } from '../../builders/read-mail.ts';
import type { TakenMail } from '../../integration/worker/mail-server.ts';
import { type ReadEvent, readCalendar } from '../../reference/calendar/read-calendar.ts';
import type { ExpectedEntry, PlannedVisit, SeasonRows } from './expected-mail.ts';

const API = '/api/v1';

export interface Draft {
  readonly id: string;
  readonly status: string;
  readonly visits: readonly PlannedVisit[];
  readonly seasonChangesSince: number;
}

export interface PublishReport {
  readonly visits: { readonly added: number };
  readonly assignments: { readonly added: number };
  readonly deliveries: number;
  readonly reminders: number;
}

export interface DeliverySummary {
  readonly id: string;
  readonly state: string;
  readonly address: string | null;
  readonly template: string;
  readonly attempts: number;
  readonly version: number;
}

export interface WhatNextItem {
  readonly kind: string;
  readonly title: string;
  readonly nextStep: string;
  readonly subjectKind: string;
  readonly subjectId: string;
  readonly visitId: string | null;
}

export interface Visit {
  readonly id: string;
  readonly job: string;
  readonly people: readonly { readonly key: string; readonly state: string }[];
  readonly lifts: readonly { readonly id: string; readonly state: string; readonly lift: string }[];
  readonly readiness: readonly {
    readonly key: string;
    readonly title: string;
    readonly state: string;
    readonly version: number;
  }[];
}

function ok<Body>(answer: Answer<Body>, status = 200): Answer<Body> {
  if (answer.status !== status)
    throw new Error(`status ${answer.status} instead of ${status}: ${answer.text}`);
  return answer;
}

/** Opens a sign-in link as a person does: the page, then its button. Comes back with the caller that has the cookie. */
export async function signIn(link: string): Promise<HttpClient> {
  const url = new URL(link);
  const client = new HttpClient(url.origin);
  const page = ok(await client.get(url.pathname));
  const [form] = formsOf(page.text);
  if (!form) throw new Error('the page behind the sign-in link has no form');
  ok(await client.post(form.action, { form: form.values }), 303);
  return client;
}

/** The manager's part of the round, through the API. */
export class Manager {
  constructor(
    readonly client: HttpClient,
    readonly season: string,
  ) {}

  private get path(): string {
    return `${API}/seasons/${this.season}`;
  }

  /** Every item of a list, page by page. */
  async all<Item>(path: string): Promise<Item[]> {
    const items: Item[] = [];
    let cursor: string | null = null;
    do {
      const query: string = `${path.includes('?') ? '&' : '?'}limit=200${cursor === null ? '' : `&cursor=${encodeURIComponent(cursor)}`}`;
      const page = ok(await this.client.get<{ items: Item[]; nextCursor: string | null }>(path + query)).body;
      items.push(...page.items);
      cursor = page.nextCursor;
    } while (cursor !== null);
    return items;
  }

  async seasonFile(): Promise<SeasonRows> {
    return ok(await this.client.get<SeasonRows>(`${this.path}/export`)).body;
  }

  /** Messages go at any hour from here on, so that a test need not wait for the morning. */
  async dropQuietHours(): Promise<void> {
    const season = ok(await this.client.get(this.path));
    const ifMatch = season.headers.get('etag') ?? '';
    ok(await this.client.send('PATCH', this.path, { json: { quietFrom: null, quietTo: null }, ifMatch }));
  }

  async plan(id: string): Promise<{ plan: Draft; etag: string }> {
    const answer = ok(await this.client.get<Draft>(`${this.path}/plans/${id}`));
    return { plan: answer.body, etag: answer.headers.get('etag') ?? '' };
  }

  async draft(): Promise<{ plan: Draft; etag: string }> {
    const [newest] = await this.all<{ id: string }>(`${this.path}/plans?status=draft`);
    if (!newest) throw new Error('there is no draft plan');
    return this.plan(newest.id);
  }

  /** Has the season planned by the worker and waits for the draft. */
  async planAnew(options: { iterations: number; seed: number }): Promise<{ plan: Draft; etag: string }> {
    const run = ok(await this.client.post<{ id: string }>(`${this.path}/plan-runs`, { json: options }), 202);
    let last: { state: string; planId: string | null; fault: unknown } | undefined;
    await eventually(
      'the plan is made',
      async () => {
        last = ok(
          await this.client.get<NonNullable<typeof last>>(`${this.path}/plan-runs/${run.body.id}`),
        ).body;
        return last.state !== 'queued' && last.state !== 'running';
      },
      60_000,
    );
    if (last?.state !== 'done' || last.planId === null) throw new Error(`no plan: ${JSON.stringify(last)}`);
    return this.plan(last.planId);
  }

  /** Publishes without looking whether it goes well. */
  tryPublish(
    draft: { plan: Draft; etag: string },
    idempotencyKey = randomUUID() as string,
  ): Promise<Answer<PublishReport>> {
    return this.client.post<PublishReport>(`${this.path}/plans/${draft.plan.id}/publish`, {
      json: { seasonChangesSeen: draft.plan.seasonChangesSince },
      ifMatch: draft.etag,
      idempotencyKey,
    });
  }

  async publish(draft: { plan: Draft; etag: string }, idempotencyKey?: string): Promise<PublishReport> {
    return ok(await this.tryPublish(draft, idempotencyKey)).body;
  }

  deliveries(): Promise<DeliverySummary[]> {
    return this.all<DeliverySummary>(`${API}/deliveries?season=${this.season}`);
  }

  /** Waits until no message of the season is on its way any more; comes back with all of them. */
  async allSettled(waitMs = 60_000): Promise<DeliverySummary[]> {
    let all: DeliverySummary[] = [];
    await eventually(
      'no message waits',
      async () => {
        all = await this.deliveries();
        return all.every(({ state }) => !['pending', 'sending', 'handing_over'].includes(state));
      },
      waitMs,
    );
    return all;
  }

  async whatNext(): Promise<{ items: WhatNextItem[]; more: Record<string, number> }> {
    return ok(
      await this.client.get<{ items: WhatNextItem[]; more: Record<string, number> }>(
        `${API}/what-next?season=${this.season}`,
      ),
    ).body;
  }

  async visitOf(job: string): Promise<Visit> {
    const visits = await this.all<{ id: string; job: string }>(`${API}/visits?season=${this.season}`);
    const found = visits.find((visit) => visit.job === job);
    if (!found) throw new Error(`there is no visit for ${job}`);
    return ok(await this.client.get<Visit>(`${API}/visits/${found.id}`)).body;
  }

  visits(): Promise<{ id: string; job: string; site: { key: string } }[]> {
    return this.all(`${API}/visits?season=${this.season}`);
  }

  /** The secret address of a calendar to follow. */
  async feed(kind: string, key: string): Promise<string> {
    const answer = await this.client.post<{ url: string }>(`${API}/calendar-feeds`, {
      json: { season: this.season, kind, key },
    });
    return ok(answer, 201).body.url;
  }
}

/** A mail and who got it. */
export interface Received extends ReadMail {
  readonly to: string;
}

export const received = (mails: readonly TakenMail[]): Received[] =>
  mails.map((mail) => ({ ...readMail(mail.raw), to: mail.to.join() }));

/** How many mails each address got. */
export function countsOf(mails: readonly { readonly to: readonly string[] | string }[]): Map<string, number> {
  const counts = new Map<string, number>();
  for (const address of mails.flatMap(({ to }) => to)) counts.set(address, (counts.get(address) ?? 0) + 1);
  return counts;
}

export const sorted = (counts: ReadonlyMap<string, number>): [string, number][] =>
  [...counts].sort(([a], [b]) => (a < b ? -1 : 1));

/** What ical.js reads of the calendar entry of a mail, in the form of what is expected. */
export function entryOf(mail: Received): ExpectedEntry {
  const [calendar] = mail.calendars;
  if (!calendar) throw new Error(`the mail "${mail.subject}" has no calendar part`);
  const read = readCalendar(calendar.content);
  const [event] = read.events as [ReadEvent];
  expect(read.events).toHaveLength(1);
  expect(read.method).toBe('REQUEST');
  const text = (ms: number, date: string): string => (event.isDate ? date : new Date(ms).toISOString());
  return {
    address: mail.to,
    start: text(event.startMs, event.startText),
    end: text(event.endMs, event.endText),
  };
}

/** The address of the page to which a mail leads, in its text part. */
export function linkIn(mail: ReadMail): string {
  const found = /https?:\/\/[^\s/]+\/l\/[A-Za-z0-9_-]{43}/.exec(mail.text);
  if (!found) throw new Error(`the mail "${mail.subject}" has no link:\n${mail.text}`);
  return found[0];
}

/** The page behind a link, and a way to send one of its forms. */
export async function openLink(link: string): Promise<{
  text: string;
  form(about: string): Form;
  send(about: string, values: Record<string, string | string[]>): Promise<Answer>;
}> {
  const url = new URL(link);
  const client = new HttpClient(url.origin);
  const { text } = ok(await client.get(url.pathname));
  const form = (about: string): Form => {
    const found = formsOf(text).find((each) => each.values['about'] === about);
    if (!found) throw new Error(`the page has no form for ${about}:\n${text}`);
    return found;
  };
  return {
    text,
    form,
    send: async (about, values) => {
      const own = form(about);
      const answer = await client.post(own.action, { form: { ...own.values, ...values } });
      if (answer.status !== 303) return ok(answer);
      return ok(await client.get(answer.headers.get('location') ?? url.pathname));
    },
  };
}
