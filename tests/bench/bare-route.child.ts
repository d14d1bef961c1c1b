// The yardstick of the requests bench: Fastify and one SQL statement, without sign-in, checks or contracts.
import fastify from 'fastify';
import pg from 'pg';

const { DATABASE_URL: connectionString, SEASON_ID: seasonId } = process.env;
const pool = new pg.Pool({ connectionString, max: 10 });
const server = fastify({ logger: false });

const PAGE = `
  SELECT version, key, site, visit_kind AS "visitKind", title, template, site_ready_from::text AS "siteReadyFrom",
    promised_by::text AS "promisedBy", late_cents_per_day::float8 AS "lateCentsPerDay",
    not_planned_cents::float8 AS "notPlannedCents", warehouse, goods_from::text AS "goodsFrom",
    pinned_start::text AS "pinnedStart", pinned_crew AS "pinnedCrew", pin_reason AS "pinReason",
    published_start::text AS "publishedStart", published_crew AS "publishedCrew", notes
  FROM jobs WHERE season_id = $1 ORDER BY key LIMIT 51`;

server.get('/jobs', async () => {
  const { rows } = await pool.query({ name: 'page', text: PAGE, values: [seasonId] });
  const items = rows.slice(0, 50).map(({ version, ...row }) => ({ version, row }));
  return { items, nextCursor: rows.length > 50 ? items.at(-1)?.row.key : null };
});

await server.listen({ host: '127.0.0.1', port: 0 });
process.send?.({ url: `http://127.0.0.1:${(server.server.address() as { port: number }).port}` });
process.on('SIGTERM', () => process.exit(0));
