import { button, cautions, facts, list, say, when } from '../../blocks.ts';

/** Words for the codes of a brief. */
export const briefTerms = {
  'advice.go': 'GO',
  'advice.hold': 'HOLD',
  'advice.cannot-say': 'CANNOT SAY',
  'adviceSentence.go': 'From what is known, starting is the cheaper risk.',
  'adviceSentence.hold': 'From what is known, holding is the cheaper risk.',
  'adviceSentence.cannot-say':
    'Too little is known for an advice. Please decide yourself, with the figures below.',
  'oddsFrom.blend': 'the forecast, blended with past years',
  'oddsFrom.forecast': 'the forecast alone; there is no record of past years for the site',
  'oddsFrom.records': 'past years alone; no forecast was used',
  'weightBasis.default':
    'the usual weight for a forecast this many days ahead; not yet checked against what came here',
  'weightBasis.part-fitted': 'partly fitted to how earlier forecasts turned out here',
  'weightBasis.fitted': 'fitted to how earlier forecasts turned out here',
  'limit.gustMps': 'Gust at the load, m/s',
  'limit.windMps': 'Mean wind at the load, m/s',
  'limit.rainMm': 'Rain in an hour, mm',
  'limit.tempMinC': 'Temperature, at least °C',
  'limit.tempMaxC': 'Temperature, at most °C',
  'limit.dewPointMarginC': 'Margin over the dew point, at least °C',
  'cost.crew-day': 'the crew’s day',
  'cost.casual-hands': 'casual hands',
  'cost.lift-day': 'the lift’s day',
  'cost.lift-delivery': 'bringing and fetching the lift',
  'cost.truck': 'the truck',
  'cost.beds': 'beds',
  'cost.driving': 'the way there and back',
  'cost.travel-days': 'travel days',
  'cost.moved-visit': 'moving the visit',
  'cost.late': 'lateness',
  'reason.fail-chance-above-ratio':
    'The chance of failing is above cost of holding / cost of a failed start.',
  'reason.fail-chance-below-ratio':
    'The chance of failing is below cost of holding / cost of a failed start.',
  'reason.fail-chance-at-ratio': 'Both cost the same in the mean.',
  'reason.holding-never-pays': 'Holding costs more than a failed start.',
  'reason.odds-unknown': 'The odds cannot be said: neither forecast nor past years speak of the day.',
  'reason.failed-start-cost-unknown': 'What a failed start costs is not wholly known.',
  'reason.holding-cost-unknown': 'What holding costs is not wholly known.',
  'reason.fee-after-deadline-unknown': 'The fee for calling off this late is not known.',
  'reason.forecast-stale': 'The newest forecast is too old to advise from.',
  'reason.forecast-missing': 'There is no forecast.',
  'reason.odds-from-records-only': 'The odds are those of past years alone.',
  'reason.records-alone-never-say-go': 'Past years alone never say go.',
  'reason.odds-without-records': 'There is no record of past years for the site.',
  'reason.deadline-past': 'The last moment to call off without a fee is past.',
  'reason.deadline-unknown': 'No last moment for calling off is known.',
} as const;

export const brief = {
  'morning-brief': {
    subject: '{{term advice brief.advice}}: {{brief.siteName}}, {{day brief.date}}',
    short: [
      say('{{term advice brief.advice}} {{brief.siteShort}} {{brief.date}} {{brief.shiftFrom}}.'),
      when('brief.noForecastSince', [say('NO FRESH FORECAST.')]),
      when('brief.neverForecast', [say('NO FORECAST.')]),
      when('brief.odds', [say('Good day {{brief.odds.chance}}.')]),
      say('Fail {{brief.failedStart.short}}, hold {{brief.holding.short}}.'),
      when('brief.firstLimit', [
        say(
          '{{term limit brief.firstLimit.limit}}: {{brief.firstLimit.middle}}, allowed {{brief.firstLimit.allowed}}, from {{brief.firstLimit.from}}.',
        ),
      ]),
      say('The competent person on site decides, from measured wind and the maker’s chart.'),
    ],
    blocks: [
      when('brief.turnedFrom', [
        say(
          'This has changed: the brief before said {{term advice brief.turnedFrom}}, and now it is {{term advice brief.advice}}.',
        ),
      ]),
      say('{{term advice brief.advice}} for {{brief.title}}. {{term adviceSentence brief.advice}}'),
      when('brief.noForecastSince', [
        say(
          'No forecast since {{moment brief.noForecastSince}}. What follows rests on what is older than that.',
        ),
      ]),
      when('brief.neverForecast', [say('There is no forecast for this site at all.')]),
      facts(
        { label: 'Where', text: '{{brief.siteName}}' },
        {
          label: 'When',
          text: '{{day brief.date}}, {{time brief.shiftFrom}} to {{time brief.shiftTo}} ({{zone brief.zone brief.date brief.shiftFrom}})',
        },
        { label: 'Crew', text: '{{brief.crew}}' },
        {
          label: 'Odds of a good day',
          text: '{{brief.odds.chance}}, from {{term oddsFrom brief.odds.from}}',
          when: 'brief.odds',
        },
        {
          label: 'Runs of the forecast',
          text: '{{brief.runs.good}} of {{brief.runs.known}} with a good day',
          when: 'brief.runs',
        },
        {
          label: 'Weight of the forecast',
          text: '{{brief.weight.share}}; {{term weightBasis brief.weight.basis}}',
          when: 'brief.weight',
        },
        {
          label: 'Past years',
          text: '{{brief.records.share}} of such days were good (years that were counted: {{brief.records.years}})',
          when: 'brief.records',
        },
        { label: 'A failed start costs', text: '{{brief.failedStart.sum}}' },
        { label: 'Holding costs', text: '{{brief.holding.sum}}' },
      ),
      when('brief.failedStart.missing', [
        say('Nobody has entered these, so a failed start costs more than that:'),
        list('brief.failedStart.missing', '{{term cost this}}'),
      ]),
      when('brief.holding.missing', [
        say('Nobody has entered these, so holding costs more than that:'),
        list('brief.holding.missing', '{{term cost this}}'),
      ]),
      say(
        'The rule: hold when the chance of failing is above the cost of holding divided by the cost of a failed start.',
      ),
      facts({
        label: 'Here',
        text: 'chance of failing {{brief.rule.failChance}}, cost of holding / cost of a failed start {{brief.rule.ratio}}',
        when: 'brief.rule',
      }),
      say('Why:'),
      list('brief.reasons', '{{term reason this}}'),
      facts(
        {
          label: 'Decide by',
          text: '{{moment brief.deadline.by}}: {{brief.deadline.what}}',
          when: 'brief.deadline',
        },
        {
          label: 'No last moment is known for',
          text: '{{join brief.deadlinesUnknown}}',
          when: 'brief.deadlinesUnknown',
        },
        { label: 'Latest workable start', text: '{{time brief.latestStart}}', when: 'brief.latestStart' },
        { label: 'Sunrise', text: '{{time brief.sunrise}}', when: 'brief.sunrise' },
        { label: 'Sunset', text: '{{time brief.sunset}}', when: 'brief.sunset' },
      ),
      when(
        'brief.limits',
        [
          say('Limits that the forecast breaks in working hours:'),
          list(
            'brief.limits',
            '{{term limit this.limit}}: allowed {{this.allowed}}, expected {{this.middle}}, at worst {{this.worst}}; from {{time this.from}}, {{this.hours}} h, in {{this.members}} of {{this.ofMembers}} runs',
          ),
        ],
        [
          when('brief.forecast', [
            say('No run of the forecast breaks a limit of wind, rain or temperature.'),
          ]),
        ],
      ),
      facts({
        label: 'Thunder in the forecast',
        text: 'from {{time brief.thunderFrom}}; outside work stops',
        when: 'brief.thunderFrom',
      }),
      facts(
        {
          label: 'Forecast',
          text: '{{brief.forecast.source}}, issued {{moment brief.forecast.issued}}',
          when: 'brief.forecast',
        },
        {
          label: 'The last try to fetch one failed',
          text: '{{brief.forecastFault}}',
          when: 'brief.forecastFault',
        },
      ),
      when('brief.unknown', [say('Assumed or not known:'), list('brief.unknown', '{{this}}')]),
      say(
        'Whatever this brief says: on the day the competent person on site decides, from the wind measured at the height of the load and the maker’s chart.',
      ),
      when('links.open', [button('Open the plan', 'links.open')]),
      cautions('brief.hazards'),
    ],
  },
} as const;
