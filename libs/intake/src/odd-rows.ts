import tzLookup from '@photostructure/tz-lookup';
import type { SeasonFile } from '../../contracts/src/index.ts';
import { checkContainerNumber } from '../../freight/src/index.ts';
import { type Day, isKnownZone, offsetMinAt, toLocalDate } from '../../kernel/src/index.ts';
import { itemMissing } from '../../readiness/src/index.ts';
import { readinessItemOf } from './build/jobs.ts';
import { templatesOfJob } from './build/visit-pattern.ts';
import { byKey } from './tables.ts';
import { type IntakeWarning, warning } from './warning.ts';

/** Rows that may be right but look wrong, seen from a day. Needs a file without faults. */
export function oddRows(file: SeasonFile, asOfDay: Day): IntakeWarning[] {
  return [
    ...oddZones(file),
    ...oddCrews(file),
    ...oddJobs(file),
    ...oddGoods(file, toLocalDate(asOfDay)),
    ...oddReadiness(file),
    ...oddMachines(file),
  ];
}

/** A place whose clocks differ, on the first of January or July of the season's year, from those that its coordinates have. */
function oddZones(file: SeasonFile): IntakeWarning[] {
  const year = Number(file.season.firstDay.slice(0, 4));
  const moments = [Date.UTC(year, 0, 1, 12), Date.UTC(year, 6, 1, 12)];
  return (['places', 'warehouses', 'weatherStations', 'sites'] as const).flatMap((table) =>
    file[table].flatMap((row) => {
      const there = tzLookup(row.lat, row.lon);
      if (
        !isKnownZone(there) ||
        moments.every((moment) => offsetMinAt(there, moment) === offsetMinAt(row.zone, moment))
      )
        return [];
      const message = `${row.name} has the time zone ${row.zone}, but its coordinates lie in ${there}. Check both: a wrong zone sends people at the wrong hour.`;
      return [warning('zone-not-at-place', table, row.key, message, { zone: row.zone, there })];
    }),
  );
}

function oddCrews(file: SeasonFile): IntakeWarning[] {
  const { firstDay, lastDay } = file.season;
  const inSeason = file.crewMembers.filter(
    (row) => row.fromDay <= lastDay && (!row.toDay || row.toDay >= firstDay),
  );
  const empty = file.crews.filter(
    (crew) => !inSeason.some((row) => row.crew === crew.key && row.role !== 'trainee'),
  );
  const idle = file.people.filter(
    (person) => person.kind === 'regular' && !inSeason.some((row) => row.person === person.key),
  );
  return [
    ...empty.map((crew) =>
      warning(
        'crew-without-members',
        'crews',
        crew.key,
        `The crew ${crew.name} has no hand in this season, so it gets no visit. Add its members.`,
      ),
    ),
    ...idle.map((person) =>
      warning(
        'hand-without-crew',
        'people',
        person.key,
        `${person.name} is in no crew in this season and is planned nowhere.`,
      ),
    ),
  ];
}

function oddJobs(file: SeasonFile): IntakeWarning[] {
  const { firstDay, lastDay } = file.season;
  return file.jobs.flatMap((row) => {
    const found: IntakeWarning[] = [];
    const say = (code: IntakeWarning['code'], message: string): void => {
      found.push(warning(code, 'jobs', row.key, message));
    };
    if (row.promisedBy && row.promisedBy < row.siteReadyFrom) {
      say(
        'promise-before-ready',
        `${row.title} is promised by ${row.promisedBy}, before the site can be worked on (${row.siteReadyFrom}); it will be late.`,
      );
    }
    if (row.siteReadyFrom > lastDay)
      say(
        'outside-season',
        `${row.title} can start on ${row.siteReadyFrom}, after the season has ended; it will not be planned.`,
      );
    if (row.pinnedStart && (row.pinnedStart < firstDay || row.pinnedStart > lastDay)) {
      say(
        'outside-season',
        `${row.title} is pinned to ${row.pinnedStart}, outside the season; no plan can keep that.`,
      );
    } else if (row.pinnedStart && row.pinnedStart < row.siteReadyFrom) {
      say(
        'pin-before-ready',
        `${row.title} is pinned to ${row.pinnedStart}, before the site can be worked on (${row.siteReadyFrom}); no plan can keep that.`,
      );
    }
    if (Boolean(row.publishedStart) !== Boolean(row.publishedCrew)) {
      say(
        'published-incomplete',
        `Of the published place of ${row.title} only the ${row.publishedStart ? 'start' : 'crew'} is given; it counts as not published.`,
      );
    }
    return found;
  });
}

function oddGoods(file: SeasonFile, asOf: string): IntakeWarning[] {
  const jobs = byKey(file.jobs);
  const sites = byKey(file.sites);
  const numbers = file.containers.flatMap((row) => {
    const check = checkContainerNumber(row.number);
    if (check.valid) return [];
    const right =
      check.expectedCheckDigit === null ? '' : ` The last digit should be ${check.expectedCheckDigit}.`;
    return [
      warning(
        'container-number',
        'containers',
        row.number,
        `The container number ${row.number} does not pass its own check (ISO 6346).${right} Read it again from the papers.`,
        { expectedDigit: check.expectedCheckDigit ?? -1 },
      ),
    ];
  });
  const early = file.milestones
    .filter((row) => row.actual && row.actual > asOf)
    .map((row) => {
      const chain = row.consignment ?? row.container ?? '';
      return warning(
        'actual-in-future',
        'milestones',
        `${chain}/${row.kind}`,
        `"${row.kind}" of ${chain} is entered as having happened on ${row.actual}, which is after ${asOf}. Enter it as planned.`,
      );
    });
  const homeless = file.consignmentJobs
    .filter((row) => !jobs.get(row.job)?.warehouse)
    .map((row) =>
      warning(
        'goods-without-warehouse',
        'jobs',
        row.job,
        `${row.job} is in the consignment ${row.consignment}, but names no warehouse, so its goods are not planned. Name the warehouse.`,
      ),
    );
  const runs = file.deliveryRuns
    .filter(
      (row) =>
        row.truckKind === 'flatbed' &&
        row.state !== 'off' &&
        sites.get(jobs.get(row.job)?.site ?? '')?.forkliftOnSite !== 'yes',
    )
    .map((row) =>
      warning(
        'flatbed-without-forklift',
        'deliveryRuns',
        `${row.job}/${row.day}`,
        `A flatbed is to bring the goods of ${row.job} on ${row.day}, but a forklift that can work there is not known on the site. Ask, or send a crane truck.`,
      ),
    );
  return [...numbers, ...early, ...homeless, ...runs];
}

function oddReadiness(file: SeasonFile): IntakeWarning[] {
  return file.readinessItems
    .filter((row) => {
      const missing = itemMissing(readinessItemOf(row));
      return row.state === 'accepted' && (missing === 'value-outside' || missing === 'value-unknown');
    })
    .map((row) =>
      warning(
        'value-outside-tolerance',
        'readinessItems',
        `${row.job}/${row.key}`,
        `"${row.title}" of ${row.job} is accepted, but its value is missing or outside its tolerance, so it does not count as ready. Measure again.`,
      ),
    );
}

function oddMachines(file: SeasonFile): IntakeWarning[] {
  const found: IntakeWarning[] = [];
  const sites = byKey(file.sites);
  const types = byKey(file.liftTypes);
  for (const job of file.jobs) {
    const used = new Set(templatesOfJob(file, job).templates);
    const liftTypes = new Set(
      file.templateDays
        .filter((day) => used.has(day.template) && day.liftType)
        .map((day) => day.liftType as string),
    );
    for (const type of liftTypes) {
      if (!file.lifts.some((lift) => lift.type === type)) {
        found.push(
          warning(
            'no-unit',
            'jobs',
            job.key,
            `${job.title} needs a lift of the type ${type}, but no such unit is known, so it cannot be planned. Add one.`,
            { type },
          ),
        );
      }
      const site = sites.get(job.site);
      const needs = types.get(type)?.needsWidthM;
      if (needs && site?.gateWidthM && site.gateWidthM < needs) {
        found.push(
          warning(
            'gate-too-narrow',
            'sites',
            site.key,
            `A lift of the type ${type} needs ${needs} m on the way in, but the narrowest place at ${site.name} is ${site.gateWidthM} m. Find another way or another lift.`,
            { needs, gate: site.gateWidthM },
          ),
        );
      }
    }
    const kinds = new Set(
      file.templateEquipment.filter((row) => used.has(row.template)).map((row) => row.equipmentKind),
    );
    for (const kind of kinds) {
      if (file.equipmentUnits.some((unit) => unit.kind === kind)) continue;
      found.push(
        warning(
          'no-unit',
          'jobs',
          job.key,
          `${job.title} needs ${kind}, but no such unit is known, so it cannot be planned. Add one.`,
          { type: kind },
        ),
      );
    }
  }
  return found;
}
