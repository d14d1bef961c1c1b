import { afterAll, beforeAll, describe, expect, it } from '@jest/globals';
import { WORKBOOK } from '../../../libs/contracts/src/http/seasons.ts';
import { apiSeasonFile } from './api-season.ts';
import { type ApiStage, openApiStage } from './api-stage.ts';

describe('season files over HTTP', () => {
  let stage: ApiStage;
  beforeAll(async () => {
    stage = await openApiStage();
  }, 120_000);
  afterAll(async () => {
    await stage.close();
  });

  const send = (file: unknown, query = '') =>
    stage.call('POST', `/api/v1/seasons/import${query}`, { body: file });

  it('says what a file would change, and changes nothing', async () => {
    const file = apiSeasonFile();
    (file['jobs'] as { title: string }[])[0]!.title = 'Renamed';
    const report = await send(file, '?dryRun=true');
    expect(report.status).toBe(200);
    expect(report.body).toMatchObject({
      dryRun: true,
      season: 'small',
      tables: { jobs: { changed: ['hill-build'], added: [] } },
    });
    expect((await stage.call('GET', '/api/v1/seasons/small/jobs/hill-build')).body.row.title).toBe(
      'Dome at hill',
    );
  });

  it('reads a new season, and the same file again changes nothing', async () => {
    const file = apiSeasonFile();
    (file['season'] as { key: string }).key = 'second';
    expect((await send(file)).body).toMatchObject({ seasonState: 'added', dryRun: false });
    const again = await send(file);
    expect(again.body.seasonState).toBe('unchanged');
    expect(again.body.tables.jobs).toEqual({ added: [], changed: [], removed: [], unchanged: 3 });
  });

  it('refuses an unsound file with every fault, its place and what would be right', async () => {
    const file = apiSeasonFile();
    (file['sites'] as { lat: unknown }[])[1]!.lat = 'north';
    (file['jobs'] as { site: string }[])[0]!.site = 'nowhere';
    const answer = await send(file);
    expect([answer.status, answer.body.code]).toEqual([422, 'season-file-invalid']);
    const pointers = answer.body.errors.map((fault: { pointer: string }) => fault.pointer);
    expect(pointers).toEqual(expect.arrayContaining(['/body/sites/1/lat', '/body/jobs/0/site']));
    for (const fault of answer.body.errors) expect(fault.expected.length).toBeGreaterThan(3);
  });

  it('refuses what only whole tables show: a person in two crews at once', async () => {
    const file = apiSeasonFile();
    (file['crewMembers'] as unknown[]).push({
      crew: 'south',
      person: 'ana',
      role: 'hand',
      fromDay: '2026-05-01',
    });
    const answer = await send(file, '?dryRun=true');
    expect([answer.status, answer.body.code]).toEqual([422, 'season-file-invalid']);
    expect(answer.text).toContain('ana');
  });

  it('writes the season as JSON and as a workbook, and both read back as the same season', async () => {
    const json = await stage.call('GET', '/api/v1/seasons/small/export');
    expect(json.headers['content-disposition']).toBe('attachment; filename="small.json"');
    expect((await send(json.body)).body.seasonState).toBe('unchanged');
    const raw = await stage.app.inject({
      url: '/api/v1/seasons/small/export?format=xlsx',
      headers: { authorization: `Bearer ${stage.firm.tokens.manager}` },
    });
    // A workbook is a ZIP package (ECMA-376 part 2): it begins with the local file header signature "PK\3\4".
    expect(raw.rawPayload.subarray(0, 4).toString('latin1')).toBe('PK\u0003\u0004');
    const back = await stage.call('POST', '/api/v1/seasons/import', {
      bytes: { mediaType: WORKBOOK, data: raw.rawPayload },
    });
    expect([back.status, back.body.seasonState]).toEqual([200, 'unchanged']);
    for (const change of Object.values(
      back.body.tables as Record<string, { changed: string[]; removed: string[] }>,
    )) {
      expect([change.changed, change.removed]).toEqual([[], []]);
    }
  });

  it('refuses what is no workbook, another media type, and too large a file, without reading on', async () => {
    const junk = await stage.call('POST', '/api/v1/seasons/import', {
      bytes: { mediaType: WORKBOOK, data: Buffer.from('PK junk') },
    });
    expect([junk.status, junk.body.code]).toEqual([422, 'season-file-invalid']);
    const other = await stage.call('POST', '/api/v1/seasons/import', {
      bytes: { mediaType: 'image/png', data: Buffer.from('x') },
    });
    expect(other.status).toBe(415);
    const large = await stage.call('POST', '/api/v1/seasons/import', {
      bytes: { mediaType: WORKBOOK, data: Buffer.alloc(20_000_001) },
    });
    expect([large.status, large.body.code]).toEqual([413, 'too-large']);
  });

  it('reads a season file in JSON that is larger than other requests may be', async () => {
    const file = apiSeasonFile();
    const places = file['places'] as object[];
    for (let i = 0; i < 6000; i += 1) {
      places.push({
        ...places[0],
        key: `p-${i}`,
        address: 'An address that is only there to be long, '.repeat(4).trim(),
      });
    }
    expect(JSON.stringify(file).length).toBeGreaterThan(1_500_000);
    const answer = await send(file, '?dryRun=true');
    expect([answer.status, answer.body.tables.places.added.length]).toEqual([200, 6000]);
  }, 120_000);

  it('changes the season itself with the version that was seen', async () => {
    const season = await stage.call('GET', '/api/v1/seasons/small');
    const etag = season.headers['etag'] as string;
    const change = (headers: Record<string, string>) =>
      stage.call('PATCH', '/api/v1/seasons/small', {
        body: { quietFrom: '21:00', quietTo: '07:00' },
        headers,
      });
    expect((await change({})).status).toBe(428);
    const changed = await change({ 'if-match': etag });
    expect([changed.status, changed.body.row.quietFrom]).toEqual([200, '21:00']);
    expect((await change({ 'if-match': etag })).status).toBe(412);
  });
});
