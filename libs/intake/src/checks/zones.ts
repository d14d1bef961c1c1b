import type { Fault, SeasonFile } from '../../../contracts/src/index.ts';
import { isKnownZone } from '../../../kernel/src/index.ts';
import { fault } from './fault.ts';

const TABLES = ['places', 'warehouses', 'weatherStations', 'sites', 'people', 'partners'] as const;

/** Every time zone must be one that the zone data knows. Looks at that cell alone, so the rest of the row may be at fault. */
export function checkZones(file: SeasonFile): Fault[] {
  const faults: Fault[] = [];
  const check = (table: (typeof TABLES)[number] | 'season', row: number, zone: unknown): void => {
    if (typeof zone !== 'string' || zone === '' || isKnownZone(zone)) return;
    const message = `There is no time zone named "${zone}".`;
    faults.push(
      fault(
        { table, row, column: 'zone', value: zone },
        'unknown-zone',
        message,
        'an IANA time zone name in its exact spelling, such as America/Halifax',
      ),
    );
  };
  check('season', 1, file.season.zone);
  for (const table of TABLES) {
    for (const [index, row] of file[table].entries()) check(table, index + 1, row.zone);
  }
  return faults;
}
