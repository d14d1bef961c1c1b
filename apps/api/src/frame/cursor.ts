import { ProblemError } from './problem-error.ts';
import { sameMark, sign } from './secret-token.ts';

/**
 * Cursors are opaque to callers: the last row's sort keys and the query they belong to, with a mark, so that a cursor that was
 * altered or belongs to another list is refused instead of giving a page that means nothing.
 */
export class Cursors {
  constructor(private readonly secret: string) {}

  /** A cursor that goes on after the given sort keys, within the list named by `scope`. */
  write(scope: string, after: unknown): string {
    const text = Buffer.from(JSON.stringify(after)).toString('base64url');
    return `${text}.${sign(this.secret, 'cursor', scope, text).slice(0, 22)}`;
  }

  /** The sort keys in a cursor; null without one. Throws `invalid-input` for a cursor that we did not write for this list. */
  read<After>(scope: string, cursor: string | undefined): After | null {
    if (cursor === undefined) return null;
    const [text = '', mark = ''] = cursor.split('.');
    if (!sameMark(mark, sign(this.secret, 'cursor', scope, text).slice(0, 22))) {
      throw new ProblemError('invalid-input', {
        errors: [
          {
            pointer: '/query/cursor',
            message: 'This cursor does not belong to this list.',
            expected: 'the nextCursor of the page before, with the same parameters',
          },
        ],
      });
    }
    return JSON.parse(Buffer.from(text, 'base64url').toString('utf8')) as After;
  }
}
