import { type ReactNode, useId } from 'react';

interface Props {
  readonly label: string;
  readonly text: string;
  readonly onChange: (text: string) => void;
}

/** Narrows a list while one types. */
export function SearchField({ label, text, onChange }: Props): ReactNode {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input id={id} type="search" value={text} onChange={(event) => onChange(event.target.value)} />
    </div>
  );
}
