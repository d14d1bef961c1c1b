/** Asks again and again until `check` answers true; throws with `what`, and with what `check` last threw, after `waitMs`. */
export async function eventually(
  what: string,
  check: () => Promise<boolean> | boolean,
  waitMs = 30_000,
): Promise<void> {
  const giveUpAt = Date.now() + waitMs;
  for (;;) {
    if (await check()) return;
    if (Date.now() > giveUpAt) throw new Error(`not within ${waitMs} ms: ${what}`);
    await new Promise((resolve) => setTimeout(resolve, 100));
  }
}
