const NEEDED = [20, 19];

/** Throws with the next step when this Node is older than the program needs. */
export function requireNodeVersion(version = process.versions.node) {
  const [major, minor] = version.split('.').map(Number);
  if (major > NEEDED[0] || (major === NEEDED[0] && minor >= NEEDED[1])) return;
  throw new Error(
    `Dryspell needs Node ${NEEDED.join('.')} or newer; this is ${version}. Install a newer Node and start again.`,
  );
}
