/** One line of the doctor. */
export interface Finding {
  readonly subject: string;
  readonly ok: boolean;
  readonly said: string;
}
