import type { ReactNode } from 'react';
import type { Schema } from '../../api/client.ts';
import { count } from '../../format/counts.ts';
import { daysFromTo, shortDate, spanWords } from '../../format/dates.ts';
import { money, moneyChange } from '../../words/money.ts';
import type { SeasonNames } from '../../words/season-names.ts';

type Difference = Schema<'PlanDifference'>;
type Place = Difference['moved'][number]['from'];

interface Props {
  readonly difference: Difference;
  readonly currency: string;
  readonly names: SeasonNames;
  readonly published: boolean;
}

/** What a plan changes: moved, crew changed, added, dropped, and what that does to the total. */
export function DifferenceView({ difference, currency, names, published }: Props): ReactNode {
  const { added, moved, dropped, unchanged, fromTotalCents, toTotalCents } = difference;
  const otherDays = moved.filter(({ from, to }) => from.start !== to.start);
  const otherCrew = moved.filter(({ from, to }) => from.start === to.start && from.crew !== to.crew);
  const placeWords = (place: Place) =>
    `${spanWords(place.start, place.end)}, crew ${names.of('crew', place.crew)}`;
  return (
    <>
      <h2>{published ? 'What publishing it changed' : 'Against the published plan'}</h2>
      <p>
        {fromTotalCents === null
          ? `Nothing was published before. The total is ${money(toTotalCents, currency)}.`
          : `Total: ${money(toTotalCents, currency)}, ${moneyChange(fromTotalCents, toTotalCents, currency)}. `}
        {unchanged > 0 && `${count(unchanged, 'visit')} stay${unchanged === 1 ? 's' : ''} as they are.`}
      </p>
      <Group title="Moved" number={otherDays.length}>
        {otherDays.map(({ job, from, to }) => (
          <li key={job}>
            {names.of('job', job)}: from {shortDate(from.start)} to <strong>{placeWords(to)}</strong> (
            {shiftWords(from.start, to.start)})
            {from.crew !== to.crew && `, before crew ${names.of('crew', from.crew)}`}
          </li>
        ))}
      </Group>
      <Group title="Same days, another crew" number={otherCrew.length}>
        {otherCrew.map(({ job, from, to }) => (
          <li key={job}>
            {names.of('job', job)}: <strong>{placeWords(to)}</strong>, before crew{' '}
            {names.of('crew', from.crew)}
          </li>
        ))}
      </Group>
      <Group title="Added" number={added.length}>
        {added.map(({ job, to }) => (
          <li key={job}>
            {names.of('job', job)}: {placeWords(to)}
          </li>
        ))}
      </Group>
      <Group title="Dropped" number={dropped.length}>
        {dropped.map(({ job, from }) => (
          <li key={job}>
            {names.of('job', job)}: was {placeWords(from)}
          </li>
        ))}
      </Group>
    </>
  );
}

function Group({
  title,
  number,
  children,
}: {
  title: string;
  number: number;
  children: ReactNode;
}): ReactNode {
  if (number === 0) return null;
  return (
    <details className="difference" open={number <= 12}>
      <summary>
        {title}: {number}
      </summary>
      <ul className="tight">{children}</ul>
    </details>
  );
}

function shiftWords(from: string, to: string): string {
  const days = daysFromTo(from, to);
  return days > 0 ? `${count(days, 'day')} later` : `${count(-days, 'day')} earlier`;
}
