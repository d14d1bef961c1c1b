import type { Fault, SeasonFile } from '../../../contracts/src/index.ts';
import { byKey, numbered } from '../tables.ts';
import { fault } from './fault.ts';

/** Casual hands belong to no crew. (That a person is in one crew at a time is checked with the tables themselves.) */
export function checkCrewMembers(file: SeasonFile): Fault[] {
  const people = byKey(file.people);
  return numbered(file, 'crewMembers').flatMap(({ row, number }) => {
    if (people.get(row.person)?.kind !== 'casual') return [];
    const message = `${row.person} is a casual hand and cannot be a member of the crew ${row.crew}.`;
    return [
      fault(
        { table: 'crewMembers', row: number, column: 'person', value: row.person },
        'not-possible',
        message,
        'a regular hand',
      ),
    ];
  });
}
