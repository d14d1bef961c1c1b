/** Rule 3: the site is ready and open, the goods have left the warehouse and stand at the site in time. */
import type { GoodsNeed } from '../problem.ts';
import { dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { VisitFacts } from './visit-facts.ts';

export function checkReady(visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const { job, start } = visit;
  if (!(start >= job.siteReadyFrom)) {
    const message = `Job ${job.id}: it starts on ${dateText(start)}, the site is ready from ${dateText(job.siteReadyFrom)}.`;
    findings.add(3, 'siteNotReady', { job: job.id, day: start }, message);
  }
  for (const day of visit.siteDays) {
    if (job.siteClosedDays.some((closed) => closed === day)) {
      findings.add(
        3,
        'siteClosed',
        { job: job.id, day },
        `Job ${job.id}: the site is closed on its site day ${dateText(day)}.`,
      );
    }
  }
  if (job.goods) checkGoods(visit, job.goods, facts, findings);
  else if (visit.stated.deliveryDay !== null) {
    const message = `Job ${job.id}: a delivery on ${dateText(visit.stated.deliveryDay)} is written, the job needs no goods.`;
    findings.add(3, 'deliveryWithoutGoods', { job: job.id, day: visit.stated.deliveryDay }, message);
  }
}

function checkGoods(visit: VisitFacts, goods: GoodsNeed, facts: SeasonFacts, findings: Findings): void {
  const { job, start } = visit;
  const delivery = visit.stated.deliveryDay;
  if (delivery === null) {
    findings.add(
      3,
      'deliveryMissing',
      { job: job.id },
      `Job ${job.id}: it needs goods, no delivery day is written.`,
    );
    return;
  }
  const at = { job: job.id, day: delivery };
  const found = (code: string, text: string): void => findings.add(3, code, at, `Job ${job.id}: ${text}`);
  const delivered = `the goods stand at the site on ${dateText(delivery)}`;
  if (!(delivery <= start)) found('deliveryLate', `${delivered}, after the start on ${dateText(start)}.`);
  if (!(delivery >= start - goods.siteStorageDays)) {
    const first = dateText(start - goods.siteStorageDays);
    found(
      'deliveryTooEarly',
      `${delivered}, the site can store them from ${first} (${goods.siteStorageDays} days before the start).`,
    );
  }
  if (!(delivery >= job.siteReadyFrom)) {
    found('deliveryBeforeReady', `${delivered}, the site is ready from ${dateText(job.siteReadyFrom)}.`);
  }
  if (job.siteClosedDays.some((closed) => closed === delivery)) {
    found('deliveryOnClosedDay', `${delivered}, on which the site is closed.`);
  }
  const dispatch = delivery - goods.deliveryLeadDays;
  const leaves = `the goods leave the warehouse on ${dateText(dispatch)}`;
  if (!(dispatch >= goods.goodsFrom))
    found('goodsNotThere', `${leaves}, they are there from ${dateText(goods.goodsFrom)}.`);
  if (!facts.inHorizon(dispatch)) {
    found('dispatchOutsideHorizon', `${leaves}, outside the season's days.`);
    return;
  }
  const warehouse = facts.warehouses.get(goods.warehouse);
  if (warehouse && !facts.on(warehouse.works, dispatch)) {
    found('warehouseClosed', `${leaves}, on which warehouse ${warehouse.id} does not work.`);
  }
}
