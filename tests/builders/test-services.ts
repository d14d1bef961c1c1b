const HOW = 'Run it through the runner, which starts what it needs: npm test -- <path of the spec>';

function required(name: string, what: string): string {
  const value = process.env[name];
  if (value === undefined || value === '')
    throw new Error(`this test needs ${what} (${name} is not set). ${HOW}`);
  return value;
}

/** Admin URL of the PostgreSQL server of this test run. Throws with one clear line when a spec is run without it. */
export function testPostgresUrl(): string {
  return required('DRYSPELL_TEST_DATABASE_URL', 'a real PostgreSQL');
}

/** URL of the Redis of this test run; shared by all specs, so keys need a prefix of the spec's own. */
export function testRedisUrl(): string {
  return required('DRYSPELL_TEST_REDIS_URL', 'a real Redis');
}

/** Path of the Chromium that browser tests drive. */
export function testChromiumPath(): string {
  return required('DRYSPELL_TEST_CHROMIUM', 'Chromium');
}
