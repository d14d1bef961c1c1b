import type { Evidence, EvidenceBreach, EvidenceHour, MemberSpread } from './evidence.ts';

/** Columns of numbers, by name and by where they stand in an hour. */
const NUMBERS: readonly [string, (hour: EvidenceHour) => number | null][] = [
  ...(['gustMps', 'windMps', 'rainMm'] as const).flatMap((quantity) => [
    column(`forecast ${quantity} median`, ({ forecast }) => forecast[quantity]?.median),
    column(`forecast ${quantity} worst`, ({ forecast }) => forecast[quantity]?.highest),
  ]),
  column('forecast tempC median', ({ forecast }) => forecast.tempC?.median),
  column('forecast tempC lowest', ({ forecast }) => forecast.tempC?.lowest),
  column('forecast tempC highest', ({ forecast }) => forecast.tempC?.highest),
  column('forecast dewPointMarginC median', ({ forecast }) => forecast.dewPointMarginC?.median),
  column('forecast dewPointMarginC worst', ({ forecast }) => forecast.dewPointMarginC?.lowest),
  column('forecast members known', ({ forecast }) => mostKnown(Object.values(forecast))),
  ...(['gustMps', 'windMps', 'rainMm', 'tempC', 'dewPointMarginC'] as const).map((quantity) =>
    column(`observed ${quantity}`, ({ observed }) => observed[quantity]),
  ),
];

/**
 * Evidence as CSV text: one row an hour, each with where its numbers come from, so that a row can stand alone. RFC 4180:
 * commas, CRLF, quotes where needed. A text that a spreadsheet program would take for a formula, or that begins with an
 * apostrophe, gets an apostrophe in front. Unknown is an empty cell, and named in the column `unknown of what came`.
 */
export function evidenceCsv(evidence: Evidence): string {
  const { hours, totals, issuedAt, forecastSource, observedSource, members, gustFactor } = evidence;
  const steps = totals.map(({ step }) => step);
  const head = [
    'hour (UTC)',
    'local time',
    'minutes ahead of UTC',
    ...NUMBERS.map(([name]) => name),
    'observed thunder',
    'gust estimated',
    ...steps.map((step) => `verdict ${step}`),
    'limits broken by what came',
    'limits that members of the forecast broke',
    'unknown of what came',
    'forecast source',
    'forecast issued',
    'forecast members',
    'observed source',
  ];
  const rows = hours.map((hour) => [
    hour.hour,
    hour.localTime,
    hour.offsetMin,
    ...NUMBERS.map(([, of]) => of(hour)),
    hour.observed.thunder === null ? null : hour.observed.thunder ? 'yes' : 'no',
    estimated(hour, gustFactor),
    ...hour.verdicts.map(({ verdict }) => verdict),
    hour.breaches
      .filter(({ observedBy }) => observedBy !== null)
      .map(observedWords)
      .join('; '),
    hour.breaches
      .filter(({ membersBreaking }) => membersBreaking > 0)
      .map(forecastWords)
      .join('; '),
    hour.unknown.join(' '),
    forecastSource,
    issuedAt,
    members,
    observedSource,
  ]);
  return [head, ...rows].map((cells) => `${cells.map(cell).join(',')}\r\n`).join('');
}

/** `lift: gustMps 12.4 at 20 m, limit 9, beyond by 3.4` */
function observedWords(breach: EvidenceBreach): string {
  if (breach.limit === 'thunder') return `${breach.step}: thunder`;
  const { observedValue, observedBy } = breach;
  return `${breach.step}: ${breach.limit} ${observedValue}${atHeight(breach)}, limit ${breach.limitValue}, beyond by ${observedBy}`;
}

function forecastWords(breach: EvidenceBreach): string {
  const count = `${breach.membersBreaking} of ${breach.membersKnown} members`;
  if (breach.limit === 'thunder') return `${breach.step}: thunder, ${count}`;
  const { forecastWorst, limitValue } = breach;
  return `${breach.step}: ${breach.limit} worst ${forecastWorst}${atHeight(breach)}, limit ${limitValue}, ${count}`;
}

function atHeight({ loadHeightM }: EvidenceBreach): string {
  return loadHeightM === null ? '' : ` at ${loadHeightM} m`;
}

function estimated({ gustEstimated }: EvidenceHour, factor: number): string | null {
  const which = [
    ...(gustEstimated.forecast ? ['forecast'] : []),
    ...(gustEstimated.observed ? ['observed'] : []),
  ];
  return which.length === 0 ? null : `${which.join(' and ')}: mean wind x ${factor}`;
}

function mostKnown(spreads: readonly (MemberSpread | null)[]): number {
  return Math.max(0, ...spreads.map((spread) => spread?.knownMembers ?? 0));
}

function column(
  name: string,
  of: (hour: EvidenceHour) => number | null | undefined,
): [string, (hour: EvidenceHour) => number | null] {
  return [name, (hour) => of(hour) ?? null];
}

/** What spreadsheet programs take for a formula, also in full width, and what could be taken for the apostrophe put before it. */
const RISKY_START = /^['=+\-@\t\r\n\uFF1D\uFF0B\uFF0D\uFF20]/;

function cell(value: string | number | null): string {
  if (value === null) return '';
  // Numbers are not texts: a negative temperature keeps its sign as it is.
  if (typeof value === 'number') return String(value);
  const guarded = RISKY_START.test(value) ? `'${value}` : value;
  return /[",\r\n]/.test(guarded) ? `"${guarded.replaceAll('"', '""')}"` : guarded;
}
