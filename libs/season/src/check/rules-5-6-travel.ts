/** Rule 5, time to travel between visits and from and to base, and rule 6, nights away. */
import type { CrewSeason, Tour } from './crew-season.ts';
import { counted, dateText, type Findings } from './findings.ts';
import type { SeasonFacts } from './season-facts.ts';
import type { VisitFacts } from './visit-facts.ts';

export function checkTravel(season: CrewSeason, facts: SeasonFacts, findings: Findings): void {
  const { crew, visits } = season;
  visits.forEach((visit, index) => {
    const previous = visits[index - 1];
    if (previous) checkBetween(previous, visit, facts, findings);
    else if (!visit.stated.fromBase) {
      const message = `Job ${visit.job.id}: it is the first visit of crew ${crew.id}, which comes from its base, but fromBase is false.`;
      findings.add(5, 'firstNotFromBase', { job: visit.job.id, day: visit.start }, message);
    }
  });
  for (const tour of season.tours) checkHorizon(tour, facts, findings);
}

function checkBetween(previous: VisitFacts, visit: VisitFacts, facts: SeasonFacts, findings: Findings): void {
  const { crew, job } = visit;
  const fromBase = visit.stated.fromBase;
  const travelDays = fromBase
    ? facts.travelDays(crew, previous.job.site, crew.base) + facts.travelDays(crew, crew.base, job.site)
    : facts.travelDays(crew, previous.job.site, job.site);
  const earliest = previous.release + travelDays + 1;
  if (visit.start >= earliest) return;
  const way = fromBase ? 'by way of base' : 'straight on';
  const message =
    `Job ${job.id}: crew ${crew.id} starts on ${dateText(visit.start)}; it is released from job ${previous.job.id} on ` +
    `${dateText(previous.release)} and needs ${counted(travelDays, 'travel day')} ${way}, so ${dateText(earliest)} is the earliest.`;
  findings.add(5, 'travelTooShort', { job: job.id, day: visit.start }, message, {
    crew: crew.id,
    previousJob: previous.job.id,
    travelDays,
  });
}

function checkHorizon(tour: Tour, facts: SeasonFacts, findings: Findings): void {
  const first = tour.visits[0] as VisitFacts;
  const last = tour.visits.at(-1) as VisitFacts;
  const { firstDay, lastDay } = facts.problem;
  if (!(tour.departure >= firstDay)) {
    const message =
      `Job ${first.job.id}: crew ${first.crew.id} would leave its base on ${dateText(tour.departure)}, ` +
      `before the first day ${dateText(firstDay)}.`;
    findings.add(5, 'departureOutsideHorizon', { job: first.job.id, day: tour.departure }, message);
  }
  if (!(tour.return <= lastDay)) {
    const message =
      `Job ${last.job.id}: crew ${last.crew.id} would be back at its base on ${dateText(tour.return)}, ` +
      `after the last day ${dateText(lastDay)}.`;
    findings.add(5, 'returnOutsideHorizon', { job: last.job.id, day: tour.return }, message);
  }
}

export function checkNights(season: CrewSeason, findings: Findings): void {
  for (const tour of season.tours) {
    const nights = tour.return - tour.departure;
    const { maxNightsAway } = season.crew;
    if (nights <= maxNightsAway) continue;
    const first = tour.visits[0] as VisitFacts;
    const message =
      `Job ${first.job.id}: the tour of crew ${season.crew.id} from ${dateText(tour.departure)} to ${dateText(tour.return)} ` +
      `is ${counted(nights, 'night')} away, at most ${maxNightsAway} are allowed.`;
    findings.add(6, 'nightsAway', { job: first.job.id, day: tour.departure }, message, {
      nights,
      maxNightsAway,
    });
  }
}
