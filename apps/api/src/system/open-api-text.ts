import { allEndpoints } from '../../../../libs/contracts/src/http/all.ts';
import { buildOpenApi } from '../../../../libs/contracts/src/http/openapi.ts';
import { API_VERSION } from '../version.ts';

let text: string | null = null;

/** The OpenAPI document of this server, as text; the same in every process of one version. */
export function openApiText(): string {
  text ??= JSON.stringify(
    buildOpenApi(allEndpoints, {
      title: 'Dryspell',
      version: API_VERSION,
      description:
        'Plans a season of visits by crews that build prefabricated observatory domes, and sees that everyone hears of it. ' +
        'Its figures on lifting, wind, electricity, height, driving and fatigue are planning aids: the manufacturer, local law and ' +
        'licensed people decide. Problems are told by RFC 9457.',
      serverUrl: '/',
    }),
    null,
    2,
  );
  return text;
}
