import { api, type Schema, take } from '../../api/client.ts';

export type ImportReport = Schema<'ImportReport'>;

const WORKBOOK = 'application/vnd.openxmlformats-officedocument.spreadsheetml.sheet';

/** The media type of a season file by the end of its name; null: it cannot be read. */
export function mediaTypeOf(name: string): string | null {
  if (/\.json$/i.test(name)) return 'application/json';
  if (/\.xlsx$/i.test(name)) return WORKBOOK;
  return null;
}

/** Sends a season file. With `dryRun` nothing changes. A file with faults is refused with all of them. */
export async function sendFile(file: File, dryRun: boolean): Promise<ImportReport> {
  const mediaType = mediaTypeOf(file.name) ?? 'application/json';
  return take(
    api.POST('/api/v1/seasons/import', {
      params: { query: { dryRun: dryRun ? 'true' : 'false' } },
      body: file as never,
      // The bytes go as they are: read by the server, so that its faults name the rows of the file.
      bodySerializer: (body: unknown) => body as File,
      headers: { 'Content-Type': mediaType },
    }),
  );
}
