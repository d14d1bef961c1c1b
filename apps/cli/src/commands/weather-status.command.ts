import { type SeriesStatus, weatherStatus } from '../../../../libs/data/src/weather/weather-status.ts';
import { instantFromMs } from '../../../../libs/kernel/src/index.ts';
import type { Command } from './command.ts';
import { ORGANISATION_HELP, ORGANISATION_OPTION, withOrganisation } from './with-organisation.ts';

const factsOf = ({ series, held, feed, windows, words }: SeriesStatus) => {
  const { key, kind, name, lat, lon, source, typicalYear } = series;
  const { lastGoodAt, issuedAt, nextDueAt, fault, tries, state } = feed ?? {};
  const forecast = feed ? { state, issuedAt, lastGoodAt, nextDueAt, fault, tries } : null;
  return { key, kind, name, lat, lon, source, typicalYear, ...held, forecast, windows, words };
};

export const weatherStatusCommand: Command = {
  name: 'weather status',
  summary: 'Show every weather record and forecast: from, to, gaps, and how forecasts come in.',
  usage: '',
  help: [ORGANISATION_HELP],
  options: ORGANISATION_OPTION,
  run: (input) =>
    withOrganisation(input, { create: false }, async (db, { id: organisationId }) => {
      const all = await weatherStatus(db, { organisationId, now: instantFromMs(Date.now()) });
      const lines = all.map((status) => {
        const kept =
          status.windows === 0
            ? ''
            : `; ${status.windows === 1 ? '1 result' : `${status.windows} results`} kept`;
        return `${status.series.key} (${status.series.name}): ${status.words}${kept}`;
      });
      const none =
        'no weather yet. Read a record in with "weather import"; forecasts come by themselves once a service is set up and a visit is near.';
      return { facts: { series: all.map(factsOf) }, lines: lines.length === 0 ? [none] : lines };
    }),
};
