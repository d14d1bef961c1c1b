import { Controller, Inject } from '@nestjs/common';
import type { InputOf } from '../../../../libs/contracts/src/http/endpoint.ts';
import * as endpoints from '../../../../libs/contracts/src/http/weather.ts';
import {
  basisWords,
  goodDayWords,
  localStartOf,
  overnightWords,
  placeWarnings,
  RAIN_TOTALS_WORDS,
} from '../../../../libs/intake/src/index.ts';
import { oddsCalendarPicture, type WindowRow } from '../../../../libs/weather/src/index.ts';
import { Bind } from '../frame/bind.decorator.ts';
import type { Call } from '../frame/call.ts';
import { Reply } from '../frame/reply.ts';
import { OddsCalendarService, type SiteCalendar } from './odds-calendar.service.ts';

@Controller()
export class OddsCalendarController {
  constructor(@Inject(OddsCalendarService) private readonly service: OddsCalendarService) {}

  @Bind(endpoints.getOddsCalendar)
  async get(input: InputOf<typeof endpoints.getOddsCalendar>, call: Call) {
    const calendar = await this.service.calendar(input.params, input.query, call);
    const { site, what, series, need, result } = calendar;
    const { basis } = result;
    return {
      site: site.key,
      siteName: site.name,
      what,
      record: { key: series.key, name: series.name, source: series.source },
      years: result.years,
      typicalYear: basis.typicalYear,
      shift: need.content.shift,
      reserveConfidence: need.content.reserveConfidence,
      gustFactor: basis.gustFactor,
      gustEstimatedShare: basis.hours === 0 ? 0 : basis.gustEstimatedHours / basis.hours,
      statements: statementsOf(calendar),
      rows: result.rows.map((row) => rowOf(calendar, row)),
    };
  }

  @Bind(endpoints.getOddsCalendarPicture)
  async picture(input: InputOf<typeof endpoints.getOddsCalendarPicture>, call: Call): Promise<Reply> {
    const calendar = await this.service.calendar(input.params, input.query, call);
    const { site, what, series, need, result } = calendar;
    const svg = oddsCalendarPicture({
      rows: result.rows,
      title: `${what.includes(site.name) ? what : `${what}, at ${site.name}`}: odds of a good day`,
      subtitle: `Odds of a day on which the outside work can be done, for each date; from ${basisWords(result)}`,
      goodDay: goodDayWords(need.content),
      statements: remarksOf(calendar),
      source: `${series.name} (${series.source}), ${series.lat}, ${series.lon}`,
      startBy: (row) => localStartOf(need.content, result, row),
    });
    return Reply.raw(200, 'image/svg+xml; charset=utf-8', svg);
  }
}

/** What must be known before the odds are used. */
function remarksOf({ site, series, need, result }: SiteCalendar): string[] {
  return [
    ...placeWarnings(series, site).map(({ words }) => words),
    ...(result.rainAtFixedHours ? [RAIN_TOTALS_WORDS] : []),
    ...overnightWords(need.content.work),
    ...need.warnings.map(({ message }) => message),
  ];
}

function statementsOf(calendar: SiteCalendar): string[] {
  const { need, result } = calendar;
  return [
    `A day is good if ${goodDayWords(need.content)}`,
    `The odds are counted from ${basisWords(result)}.`,
    ...remarksOf(calendar),
    'Planning aid from past weather. Whether work goes ahead is decided on the day, from measured wind, by the competent person and the maker’s limits.',
  ];
}

function rowOf({ need, result }: SiteCalendar, row: WindowRow) {
  const { month, dayOfMonth, date, latestStartMin: _latest, middleLatestStartMin: _middle, ...odds } = row;
  const two = (value: number) => String(value).padStart(2, '0');
  return {
    ...odds,
    date: `${two(month)}-${two(dayOfMonth)}`,
    reserveDays: result.reserveDays[date] ?? null,
    latestStart: localStartOf(need.content, result, row),
  };
}
