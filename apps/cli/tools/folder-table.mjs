// Which library is of which kind; read by the import rules, the pure-library lint and the test runner.

/** Rule leaves: one subject each, they see only the kernel. */
export const LEAF_LIBS = ['weather', 'lifting', 'work-time', 'travel', 'freight', 'readiness'];

/** Libraries that compute: no framework, clock, random, database, network, or Node module. */
export const PURE_LIBS = ['kernel', 'contracts', 'search', ...LEAF_LIBS, 'visit', 'season', 'intake'];

/** Libraries that touch the world, each with the packages that it alone may use. */
export const EDGE_LIBS = ['data', 'queue', 'messages', 'calendar', 'documents', 'forecast'];

/** Whether a path (from the root, with forward slashes) lies in a pure library. */
export function isPure(file) {
  return PURE_LIBS.some((lib) => file.startsWith(`libs/${lib}/`));
}
