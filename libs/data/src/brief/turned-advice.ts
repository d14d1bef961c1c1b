import type { MorningBrief } from '../../../contracts/src/http/brief-schema.ts';
import { addDays } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import type { WhatNextItem, WhatNextQuery } from '../listing/what-next.ts';
import { toInstant } from '../moments.ts';
import { dateFromDatabase, dateToDatabase } from '../season-tables.ts';

/** Visits whose last brief no longer says go although the one before it did, for days that are not over; few, so all are read. */
export async function turnedAdvice(db: Database, query: WhatNextQuery): Promise<WhatNextItem[]> {
  const rows = await db.client.visitBrief.findMany({
    where: {
      season: {
        organisationId: query.organisationId,
        ...(query.season === undefined ? {} : { key: query.season }),
      },
      // Yesterday too: further west the day may still go on.
      day: { gte: dateToDatabase(addDays(query.today, -1)) },
      visit: { state: { in: ['planned', 'underway'] } },
    },
    orderBy: [{ madeAt: 'desc' }, { id: 'desc' }],
    distinct: ['visitId', 'day'],
    include: { season: { select: { key: true } }, visit: { include: { jobRow: true } } },
  });
  return rows.flatMap((row): WhatNextItem[] => {
    if (row.turnedFrom !== 'go') return [];
    const brief = row.content as unknown as MorningBrief;
    return [
      {
        kind: 'advice-turned',
        facts: {
          job: row.visit.jobRow.title,
          from: row.turnedFrom,
          to: row.advice,
          day: dateFromDatabase(row.day),
          why: whyTurned(brief),
        },
        since: toInstant(row.madeAt),
        dueOn: dateFromDatabase(row.day),
        subjectKind: 'visit',
        subjectId: row.visitId,
        season: row.season.key,
        job: row.visit.job,
        visitId: row.visitId,
      },
    ];
  });
}

/** The first limit that breaks, else what is not known. */
function whyTurned({ limits, odds, reasons, visit }: MorningBrief): string {
  const [first] = limits;
  const chance = odds === null ? '' : `; odds of a good day ${Math.round(odds.goodChance * 100)} %`;
  if (first === undefined) return `${reasons.map(({ code }) => code).join(', ')}${chance}`;
  const value = first.medianValue === null ? 'unknown' : first.medianValue;
  const said =
    first.limitValue === null ? first.limit : `${first.limit} ${value}, allowed ${first.limitValue}`;
  return `${said} at ${visit.siteName}, in ${first.members} of ${first.ofMembers} runs${chance}`;
}
