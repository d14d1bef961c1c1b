/** Something that went wrong, in words for the person who must go on from here. */
export interface Trouble {
  /** Code of the table of problems, or `offline` and `unreadable` for what never reached the server or came back broken. */
  readonly code: string;
  readonly status: number;
  readonly title: string;
  readonly detail: string;
  readonly nextStep: string;
  readonly faults: readonly {
    readonly where: string;
    readonly message: string;
    readonly expected: string | null;
  }[];
  /** Names and numbers that the server gave with it. */
  readonly facts: Readonly<Record<string, unknown>>;
  /** Quoted when somebody asks for help; null: the server never saw the request. */
  readonly reference: string | null;
}

/** Thrown by every call to the server that did not bring what was asked for. */
export class TroubleError extends Error {
  readonly trouble: Trouble;

  constructor(trouble: Trouble) {
    super(trouble.code);
    this.name = 'TroubleError';
    this.trouble = trouble;
  }
}

const offline: Trouble = {
  code: 'offline',
  status: 0,
  title: 'The server cannot be reached.',
  detail: 'Nothing was changed by this attempt as far as this page can tell.',
  nextStep: 'Check the network, then try again.',
  faults: [],
  facts: {},
  reference: null,
};

/** What went wrong, from whatever was thrown. */
export function troubleOf(thrown: unknown): Trouble {
  if (thrown instanceof TroubleError) return thrown.trouble;
  if (thrown instanceof TypeError && /fetch|network|load failed/i.test(thrown.message)) return offline;
  console.error(thrown);
  return {
    ...offline,
    code: 'page-fault',
    title: 'This page made a mistake.',
    detail: 'What was asked for could not be shown.',
    nextStep: 'Load the page again. If it happens again, tell whoever runs the server what you did.',
  };
}

/** Problem details (RFC 9457) as they came from the server, made into a trouble. */
export function troubleFromProblem(body: unknown, status: number): Trouble {
  const problem = (typeof body === 'object' && body !== null ? body : {}) as Record<string, unknown>;
  const text = (name: string): string | null =>
    typeof problem[name] === 'string' ? (problem[name] as string) : null;
  const title = text('title');
  if (title === null) {
    return {
      code: 'unreadable',
      status,
      title: `The server answered with status ${status} and nothing readable.`,
      detail: 'It may be starting or stopping.',
      nextStep: 'Wait a little and try again.',
      faults: [],
      facts: {},
      reference: null,
    };
  }
  const errors = Array.isArray(problem['errors']) ? (problem['errors'] as Record<string, unknown>[]) : [];
  return {
    code: text('code') ?? 'unknown',
    status,
    title,
    detail: text('detail') ?? title,
    nextStep: text('nextStep') ?? '',
    faults: errors.map((error) => ({
      where: String(error['pointer'] ?? ''),
      message: String(error['message'] ?? ''),
      expected: typeof error['expected'] === 'string' ? error['expected'] : null,
    })),
    facts: (problem['facts'] ?? {}) as Record<string, unknown>,
    reference: text('instance'),
  };
}
