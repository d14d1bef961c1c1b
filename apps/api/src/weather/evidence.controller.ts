import { Controller, Inject } from '@nestjs/common';
import * as endpoints from '../../../../libs/contracts/src/http/briefs.ts';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import { listEvidence } from '../../../../libs/data/src/brief/evidence.repository.ts';
import { leadCases } from '../../../../libs/data/src/brief/forecast-cases.ts';
import { makeEvidence, outsideVisit } from '../../../../libs/data/src/brief/make-evidence.ts';
import { visitByName } from '../../../../libs/data/src/brief/visit-by-name.ts';
import type { Database } from '../../../../libs/data/src/database.ts';
import { getSeason } from '../../../../libs/data/src/season.repository.ts';
import { briefCore } from '../../../../libs/intake/src/index.ts';
import type { Clock } from '../../../../libs/kernel/src/index.ts';
import {
  brierParts,
  type Evidence,
  evidenceCsv,
  fitLeadWeights,
  type LeadCase,
  type LeadWeights,
  reliabilityPicture,
  reliabilityTable,
  type StatedChance,
} from '../../../../libs/weather/src/index.ts';
import { DATABASE } from '../data/database.token.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Reply } from '../frame/reply.ts';
import { CLOCK } from '../tokens.ts';
import { scopeOf } from '../visits/visit.service.ts';

/** What was forecast and what came: day by day for a visit, and how good the odds of the firm were in all. */
@Controller()
export class EvidenceController {
  constructor(
    @Inject(DATABASE) private readonly db: Database,
    @Inject(CLOCK) private readonly clock: Clock,
  ) {}

  @Bind(endpoints.getWeatherEvidence)
  async evidence(input: InputOf<typeof endpoints.getWeatherEvidence>, call: Call) {
    return { days: await this.days(input.params, call) };
  }

  @Bind(endpoints.getWeatherEvidenceCsv)
  async csv(input: InputOf<typeof endpoints.getWeatherEvidenceCsv>, call: Call): Promise<Reply> {
    const days = await this.days(input.params, call);
    const tables = days.map(({ evidence }) => evidenceCsv(evidence as unknown as Evidence));
    // Days of one visit have the same columns: the first line of the later ones says nothing new.
    const text = tables.map((table, at) => (at === 0 ? table : table.slice(table.indexOf('\r\n') + 2)));
    return Reply.raw(200, 'text/csv; charset=utf-8', text.join(''), {
      'content-disposition': `attachment; filename="weather-evidence-${input.params.visit}.csv"`,
    });
  }

  @Bind(endpoints.getForecastVerification)
  async verification(input: InputOf<typeof endpoints.getForecastVerification>, call: Call) {
    const { weights, stated, table } = await this.verified(input.params.season, call);
    const parts = brierParts(stated);
    const rows = ({ byLead }: LeadWeights) => byLead.map((lead) => ({ ...lead }));
    return {
      cases: stated.length,
      weights: { single: rows(weights.single), ensemble: rows(weights.ensemble) },
      score: parts.known ? parts.value : null,
      reliability: table,
      words:
        stated.length === 0
          ? 'No site day has both a stored forecast and a record of what came yet, so the stated default weights are used.'
          : `${stated.length} forecasts of site days that have passed, held against the record.`,
    };
  }

  @Bind(endpoints.getReliabilityPicture)
  async picture(input: InputOf<typeof endpoints.getReliabilityPicture>, call: Call): Promise<Reply> {
    const { stated, table } = await this.verified(input.params.season, call);
    const parts = brierParts(stated);
    const svg = reliabilityPicture(table, parts.known ? { parts: parts.value } : {});
    return Reply.raw(200, 'image/svg+xml; charset=utf-8', svg);
  }

  /** What is kept; where nothing is kept of the first outside day, what can be said of it now. */
  private async days(params: { season: string; visit: string }, call: Call) {
    const { season, visit } = params;
    const visitId = await visitByName(this.db, scopeOf(call), { season, name: visit });
    const kept = await listEvidence(this.db, visitId);
    if (kept.length > 0) return kept;
    const outside = await outsideVisit(this.db, briefCore, visitId);
    const now = await makeEvidence(this.db, briefCore, outside, this.clock.now());
    return [{ ...now, kept: false }];
  }

  private async verified(season: string, call: Call) {
    const { organisationId } = call.user;
    await getSeason(this.db, organisationId, season);
    const cases = await leadCases(this.db, organisationId);
    const weights = {
      single: fitLeadWeights(cases.single, 'single'),
      ensemble: fitLeadWeights(cases.ensemble, 'ensemble'),
    };
    const stated = [...statedBy(cases.single, weights.single), ...statedBy(cases.ensemble, weights.ensemble)];
    return { weights, stated, table: reliabilityTable(stated) };
  }
}

/** The odds that these weights give each case, beside what came. */
function statedBy(cases: readonly LeadCase[], { byLead }: LeadWeights): StatedChance[] {
  return cases.map(({ leadDays, forecastShare, recordShare, good }) => {
    const weight = byLead[leadDays]?.weight ?? 0;
    return { chance: weight * forecastShare + (1 - weight) * recordShare, happened: good };
  });
}
