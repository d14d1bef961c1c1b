import { type ReactNode, useId } from 'react';

type Facts = Readonly<Record<string, string>>;

interface Props {
  readonly facts: Facts;
  readonly onChange: (facts: Facts) => void;
}

/** What a table of hours may not say itself; all of it may stay empty. */
export function TableFacts({ facts, onChange }: Props): ReactNode {
  const id = useId();
  const set = (name: string, value: string): void => onChange({ ...facts, [name]: value });
  const text = (name: string, label: string, hint: string): ReactNode => (
    <div className="field">
      <label htmlFor={`${id}-${name}`}>{label}</label>
      <input
        id={`${id}-${name}`}
        type="text"
        maxLength={name === 'columns' ? 2000 : 100}
        value={facts[name] ?? ''}
        aria-describedby={`${id}-${name}-hint`}
        onChange={(event) => set(name, event.target.value)}
      />
      <p className="field-hint" id={`${id}-${name}-hint`}>
        {hint}
      </p>
    </div>
  );
  const choice = (
    name: string,
    label: string,
    options: readonly (readonly [string, string])[],
  ): ReactNode => (
    <div className="field">
      <label htmlFor={`${id}-${name}`}>{label}</label>
      <select
        id={`${id}-${name}`}
        value={facts[name] ?? ''}
        onChange={(event) => set(name, event.target.value)}
      >
        {options.map(([value, words]) => (
          <option key={value} value={value}>
            {words}
          </option>
        ))}
      </select>
    </div>
  );
  return (
    <details className="difference">
      <summary>CSV: columns, units and clock that the file does not name</summary>
      {text(
        'columns',
        'Columns',
        'Only where the headers do not name field and unit: Header=field:unit with semicolons between, such as When=time;Wind=windMps:km/h;Rain=rainMm:mm. Then no other column is read.',
      )}
      {text(
        'zone',
        'Time zone of the times',
        'Such as America/Halifax; only where the times carry no offset of their own.',
      )}
      {text(
        'utcOffsetMin',
        'Or minutes that the clock is ahead of UTC',
        'For a clock without summer time: -240 is four hours behind UTC all year.',
      )}
      {choice('stampIs', 'A time names', [
        ['', 'the start of its hour'],
        ['end', 'the end of its hour'],
      ])}
      {choice('dateOrder', 'Dates are written', [
        ['', 'told from the file'],
        ['ymd', 'year, month, day'],
        ['dmy', 'day, month, year'],
        ['mdy', 'month, day, year'],
      ])}
      {text('linesBeforeHeader', 'Lines before the row of headers', 'A whole number; empty means none.')}
    </details>
  );
}
