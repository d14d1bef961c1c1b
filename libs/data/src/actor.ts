/** Who makes a change, as the audit keeps it. `name` is what people read; `id` the id of the user or the link. */
export interface Actor {
  readonly kind: 'user' | 'link' | 'system';
  readonly id: string | null;
  readonly name: string;
}

/** The program itself, named after the part that acts. */
export function systemActor(part: string): Actor {
  return { kind: 'system', id: null, name: part };
}
