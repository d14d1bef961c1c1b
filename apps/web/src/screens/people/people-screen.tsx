import { type ReactNode, useState } from 'react';
import { count } from '../../format/counts.ts';
import { longDate, shortDate, spanWords } from '../../format/dates.ts';
import { dateAt } from '../../format/times.ts';
import { Caution } from '../../parts/caution.tsx';
import { Loading } from '../../parts/loading.tsx';
import { SearchField } from '../../parts/search-field.tsx';
import { type SeasonData, useSeason } from '../../shell/season-scope.tsx';

/** Regular and casual hands, with their tickets and the days on which they are away. */
export function PeopleScreen(): ReactNode {
  const { file } = useSeason();
  const [text, setText] = useState('');
  return (
    <>
      <h1>People</h1>
      <SearchField label="Find a person, a crew or a ticket" text={text} onChange={setText} />
      <Loading from={file} what="the people">
        {(data) => <PeopleTable data={data} text={text} />}
      </Loading>
      <Caution about={['height', 'driving']} />
    </>
  );
}

function PeopleTable({ data, text }: { data: SeasonData; text: string }): ReactNode {
  const { season } = useSeason();
  const today = data.file.season.asOfDay ?? dateAt(Date.now(), season.row.zone);
  const wanted = text.trim().toLowerCase();
  const rows = data.file.people
    .map((person) => ({
      person,
      crews: crewsOf(data, person.key),
      tickets: ticketsOf(data, person.key, today),
    }))
    .filter(({ person, crews, tickets }) =>
      [person.key, person.name, ...crews, ...tickets].join(' ').toLowerCase().includes(wanted),
    );
  return (
    <>
      <p className="muted small" role="status">
        {count(rows.length, 'person', 'people')}, as of {longDate(today)}.
      </p>
      <div className="scroll-x">
        <table className="cards">
          <caption className="unseen">People</caption>
          <thead>
            <tr>
              <th scope="col">Name</th>
              <th scope="col">Kind</th>
              <th scope="col">Crew</th>
              <th scope="col">Tickets</th>
              <th scope="col">Away</th>
              <th scope="col">Mail and telephone</th>
            </tr>
          </thead>
          <tbody>
            {rows.map(({ person, crews, tickets }) => (
              <tr key={person.key}>
                <th scope="row">{person.name}</th>
                <td data-head="Kind">{person.kind === 'casual' ? 'casual hand' : 'regular hand'}</td>
                <td data-head="Crew">{crews.join(', ') || 'none'}</td>
                <td data-head="Tickets">
                  <Lines lines={tickets} none="no ticket is known" />
                </td>
                <td data-head="Away">
                  <Lines
                    lines={data.file.leave
                      .filter((row) => row.person === person.key && row.toDay >= today)
                      .map((row) => spanWords(row.fromDay, row.toDay))}
                    none="no day is known"
                  />
                </td>
                <td data-head="Mail and telephone">
                  {person.email ?? '▲ no mail address: messages are held'}
                  <br />
                  {person.phoneE164 ?? 'no telephone number'}
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
    </>
  );
}

function Lines({ lines, none }: { lines: readonly string[]; none: string }): ReactNode {
  if (lines.length === 0) return none;
  return (
    <ul className="tight">
      {lines.map((line) => (
        <li key={line}>{line}</li>
      ))}
    </ul>
  );
}

function crewsOf({ file, names }: SeasonData, person: string): string[] {
  return file.crewMembers
    .filter((row) => row.person === person)
    .map(
      (row) =>
        `${names.of('crew', row.crew)} (${row.role}${row.toDay ? `, until ${shortDate(row.toDay)}` : ''})`,
    );
}

/** A ticket that has run out, or has not begun, says so. */
function ticketsOf({ file, names }: SeasonData, person: string, today: string): string[] {
  return file.tickets
    .filter((row) => row.person === person)
    .map((row) => {
      const name = names.of('ticket', row.ticket);
      if (row.validFrom > today) return `○ ${name}, only from ${longDate(row.validFrom)}`;
      if (row.expiresOn == null) return `${name}, no end`;
      if (row.expiresOn < today) return `✕ ${name}, ran out ${longDate(row.expiresOn)}`;
      return `${name}, until ${longDate(row.expiresOn)}`;
    });
}
