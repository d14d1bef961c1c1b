import { DryspellError } from '../../../kernel/src/index.ts';
import type { Database } from '../database.ts';
import { type VisitScope, visitsWithin } from '../listing/visit-page.ts';

const UUID = /^[0-9a-f]{8}(?:-[0-9a-f]{4}){3}-[0-9a-f]{12}$/i;

/** The id of a visit in a season, named by its id or by the key of its job. Throws `not-found`, also beyond the scope. */
export async function visitByName(
  db: Database,
  scope: VisitScope,
  input: { readonly season: string; readonly name: string },
): Promise<string> {
  const { season, name } = input;
  const found = await db.client.visit.findFirst({
    where: {
      AND: [
        visitsWithin(scope),
        { season: { key: season } },
        UUID.test(name) ? { OR: [{ id: name }, { job: name }] } : { job: name },
      ],
    },
    select: { id: true },
  });
  if (!found) throw new DryspellError('not-found', { visit: name });
  return found.id;
}
