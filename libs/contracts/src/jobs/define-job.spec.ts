import { z } from 'zod';
import { defineJob, deliverySend, JOBS } from './index.ts';

describe('job definitions', () => {
  it('have names that are unique and fit both queues', () => {
    const names = JOBS.map((job) => job.name);
    expect(new Set(names).size).toBe(names.length);
    // BullMQ reserves ':' in queue names and job ids.
    for (const name of names) expect(name).not.toContain(':');
  });

  it('refuse a name that is not thing.action', () => {
    for (const name of ['send', 'Delivery.send', 'delivery:send', 'delivery.send.now', '']) {
      expect(() => defineJob({ name, version: 1, payload: z.object({}), retry: 'quick' })).toThrow(
        'thing.action',
      );
    }
  });

  it('refuse a version below one or broken', () => {
    for (const version of [0, -1, 1.5, Number.NaN]) {
      expect(() => defineJob({ name: 'a.b', version, payload: z.object({}), retry: 'quick' })).toThrow(
        'version',
      );
    }
  });

  it('carry ids and nothing else', () => {
    const deliveryId = '0197a1f0-7c11-7d6e-9c1f-2f6f1f9c0001';
    expect(deliverySend.payload.parse({ deliveryId })).toEqual({ deliveryId });
    expect(() => deliverySend.payload.parse({ deliveryId, to: 'someone@example.org' })).toThrow();
  });
});
