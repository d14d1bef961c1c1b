import type { Instant } from '../../../kernel/src/index.ts';
import type { Prisma } from '../../generated/client.ts';
import type { Database } from '../database.ts';
import { toDate } from '../moments.ts';
import { importOf, type WeatherImport } from '../weather/imports.repository.ts';
import { afterWhere, type OrderColumn, orderByOf } from './keyset.ts';

/** A page of the weather files of a season that are or were read in, the newest first, at most `limit + 1` of them. */
export async function pageImports(
  db: Database,
  query: {
    organisationId: string;
    season: string;
    after: { createdAt: Instant; id: string } | null;
    limit: number;
  },
): Promise<WeatherImport[]> {
  const order: OrderColumn[] = [
    { name: 'createdAt', direction: 'desc', nullable: false },
    { name: 'id', direction: 'asc', nullable: false },
  ];
  const { after } = query;
  const rows = await db.client.weatherImport.findMany({
    where: {
      organisationId: query.organisationId,
      season: query.season,
      AND: after ? [afterWhere(order, { createdAt: toDate(after.createdAt), id: after.id })] : [],
    },
    orderBy: orderByOf(order) as Prisma.WeatherImportOrderByWithRelationInput[],
    take: query.limit + 1,
  });
  return rows.map(importOf);
}
