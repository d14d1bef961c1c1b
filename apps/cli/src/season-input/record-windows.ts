import path from 'node:path';
import type { SeasonFile } from '../../../../libs/contracts/src/index.ts';
import {
  computeWindow,
  type RecordPlace,
  type WindowNeed,
  type WindowTables,
  whyNoRecord,
  windowNeeds,
  windowTablesOf,
} from '../../../../libs/intake/src/index.ts';
import { hashOf } from '../../../../libs/kernel/src/index.ts';
import { geodesicKm } from '../../../../libs/travel/src/index.ts';
import type { HourlyRecord } from '../../../../libs/weather/src/index.ts';
import { type CommandInput, UsageError } from '../commands/command.ts';
import { PlainError } from '../program/plain-error.ts';
import { readWeatherFile } from '../weather-io/read-weather-file.ts';
import { BadInput } from './bad-input.ts';

interface NamedRecord {
  readonly key: string;
  readonly file: string;
}

/** The odds by date of the jobs whose sites the option `--record` names, straight from hourly files. Throws BadInput, PlainError or UsageError. */
export async function recordWindows(
  file: SeasonFile,
  source: string,
  input: CommandInput,
): Promise<WindowTables> {
  const named = recordOptions(input);
  if (named.length === 0) return {};
  const recordOfSite = new Map<string, string>();
  const records = new Map<string, HourlyRecord>();
  for (const { key, file: weatherFile } of named) {
    const found = sitesNaming(file, key);
    if (!found) {
      throw new BadInput(
        `--record names "${key}", but no site of ${source} has that key, that weather station or that weather area.`,
      );
    }
    for (const site of found.sites) recordOfSite.set(site.key, found.record);
    const record = await readRecordFile(weatherFile, found.place, input);
    records.set(found.record, record);
    const named = path.basename(weatherFile);
    input.say(`${named} stands for ${found.sites.map((site) => site.key).join(', ')}`);
    const [farthest] = found.sites
      .map((site) => ({ name: site.name, km: Math.round(geodesicKm(record.place, site)) }))
      .sort((a, b) => b.km - a.km);
    if (farthest && farthest.km > 0)
      input.say(
        `${named} was recorded ${farthest.km} km from ${farthest.name}, the farthest of them; judge whether it stands for it`,
      );
  }
  const windows = windowNeeds(file, { recordOfSite }).map((need: WindowNeed) => ({
    need,
    id: hashOf([need.record, need.content]),
    result: computeWindow(need.content, records.get(need.record) as HourlyRecord),
  }));
  return windowTablesOf(windows);
}

async function readRecordFile(file: string, target: RecordPlace, input: CommandInput): Promise<HourlyRecord> {
  const { reading } = await readWeatherFile({
    file,
    format: 'auto',
    target,
    table: {},
    keepGood: false,
    say: input.say,
  });
  if (reading.record === null)
    throw new PlainError(`${file} cannot be planned with. ${whyNoRecord(reading)}`);
  return reading.record;
}

/** The sites that a key stands for: the site itself, those of a weather station, or those of a weather area. */
function sitesNaming(
  file: SeasonFile,
  key: string,
): { record: string; sites: SeasonFile['sites']; place: RecordPlace } | null {
  const areas = file.weatherAreas.filter((area) => area.station === key).map((area) => area.key);
  const kinds = [
    { kind: 'site', sites: file.sites.filter((site) => site.key === key) },
    {
      kind: 'station',
      sites: file.sites.filter(({ weatherStation, weatherArea }) =>
        weatherStation ? weatherStation === key : Boolean(weatherArea && areas.includes(weatherArea)),
      ),
    },
    { kind: 'area', sites: file.sites.filter((site) => site.weatherArea === key) },
  ];
  const found = kinds.find(({ sites }) => sites.length > 0);
  const [first] = found?.sites ?? [];
  if (!found || !first) return null;
  const { name, lat, lon, elevationM } = first;
  const place = { name, lat, lon, elevationM: elevationM ?? null, source: null };
  return { record: `${found.kind}.${key}`, sites: found.sites, place };
}

function recordOptions({ values }: CommandInput): NamedRecord[] {
  const given = values['record'];
  const pairs = (Array.isArray(given) ? given : []).map((text) => {
    const parts = /^([^=]+)=(.+)$/.exec(String(text));
    if (!parts) throw new UsageError(`--record is written KEY=FILE; got "${text}"`);
    return { key: parts[1] as string, file: parts[2] as string };
  });
  const twice = pairs.find(({ key }, at) => pairs.findIndex((pair) => pair.key === key) < at);
  if (twice) throw new UsageError(`--record names "${twice.key}" twice`);
  return pairs;
}
