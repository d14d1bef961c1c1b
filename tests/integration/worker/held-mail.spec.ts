// On a server without mail, messages never look as if they were on their way, and their words can be read and told in person.
import { afterAll, beforeAll, describe, expect, it, jest } from '@jest/globals';
import { readConfig } from '../../../apps/worker/src/config.ts';
import { type RunningWorker, startWorker } from '../../../apps/worker/src/worker.ts';
import { linkToken } from '../../../libs/data/src/action-link.repository.ts';
import { addRow } from '../../../libs/data/src/season-rows.repository.ts';
import { addMinutes, fixedClock, instantToMs } from '../../../libs/kernel/src/index.ts';
import { actor, hill, linkSecret, now, openStage, publish, type Stage } from '../data/stage.ts';
import { recordedLog, until } from './worker-bench.ts';

jest.setTimeout(60_000);

describe('messages without a mail server', () => {
  let stage: Stage;
  let worker: RunningWorker;
  const { log } = recordedLog();

  beforeAll(async () => {
    stage = await openStage();
    const masses = { massKg: 1240, heaviestPartKg: 310 };
    const kit = {
      key: 'dome-46',
      name: '4.6 m dome',
      diameterM: 4.6,
      ...masses,
      pallets: 1,
      bays: 1,
      panelAreaM2: 3,
    };
    await addRow(stage.db, { seasonId: stage.seasonId, table: 'kits', row: kit, actor });
    const jobKit = { job: 'hill-build', kit: 'dome-46', count: 1 };
    await addRow(stage.db, { seasonId: stage.seasonId, table: 'jobKits', row: jobKit, actor });
    await publish(stage, [hill]);
    // As if it were night for everybody: nothing is due for hours, and no job stands in the queue.
    const morning = new Date(instantToMs(addMinutes(now, 600)));
    await stage.db.client.delivery.updateMany({ data: { notBefore: morning } });
    await stage.db.client.outboxRow.deleteMany();
    const environment = {
      DATABASE_URL: stage.url,
      DRYSPELL_PUBLIC_URL: 'https://plan.example.org',
      DRYSPELL_SECRET: linkSecret,
    };
    worker = await startWorker(readConfig(environment), log, fixedClock(addMinutes(now, 1)));
    await until(
      'no message waits',
      async () => (await stage.db.client.delivery.count({ where: { state: { not: 'held' } } })) === 0,
      40_000,
    );
  });
  afterAll(async () => {
    await worker.stop();
    await stage.close();
  });

  it('are held at once, also at night, and say why', async () => {
    const rows = await stage.db.client.delivery.findMany();
    expect(rows.length).toBeGreaterThan(4);
    for (const row of rows) {
      expect(row.sentAt).toBeNull();
      expect(row.lastFault).toBe(row.address === null ? 'no address is known' : 'No mail server is set up.');
    }
  });

  it('can be read, with every link masked', async () => {
    const rows = await stage.db.client.delivery.findMany();
    const links = await stage.db.client.actionLink.findMany();
    expect(links.length).toBeGreaterThan(0);
    for (const { subject, body } of rows) {
      expect(subject?.length).toBeGreaterThan(10);
      expect(body?.length).toBeGreaterThan(100);
      for (const { id } of links) expect(body).not.toContain(linkToken(linkSecret, id));
    }
    const forAna = rows.find((row) => row.recipientKey === 'ana' && row.template === 'crew-assignment');
    expect(forAna?.body).toContain('https://plan.example.org/l/***');
  });
});
