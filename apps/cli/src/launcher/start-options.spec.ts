import { describe, expect, it } from '@jest/globals';
import { readStartOptions, UsageError } from '../../bootstrap/start-options.mjs';

describe('the options of npm start', () => {
  it('have defaults that work on a fresh clone', () => {
    expect(readStartOptions([], {})).toEqual({
      data: undefined,
      port: 8080,
      host: '127.0.0.1',
      demo: true,
      help: false,
    });
  });

  it('come from arguments before the environment', () => {
    const options = readStartOptions(['--data', 'x', '--port', '9000', '--no-demo'], {
      PORT: '7000',
      HOST: '0.0.0.0',
    });
    expect(options).toEqual({ data: 'x', port: 9000, host: '0.0.0.0', demo: false, help: false });
  });

  it.each([
    ['a port that is no number', ['--port', 'abc']],
    ['a port beyond the last one', ['--port', '70000']],
    ['an option that does not exist', ['--fast']],
    ['a word too many', ['now']],
    ['an empty data folder', ['--data', '']],
  ])('refuse %s', (_what, args) => {
    expect(() => readStartOptions(args, {})).toThrow(UsageError);
  });
});
