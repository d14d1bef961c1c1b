// Who may import whom. The table is in DEVELOPERS.md; tests/house plants one violation of each rule and sees it caught.
// The lists of libraries are in apps/cli/tools/folder-table.mjs; here they are again because this file must be CommonJS,
// and a test holds the two together.
const LEAF = 'weather|lifting|work-time|travel|freight|readiness';
const PURE = `kernel|contracts|search|${LEAF}|visit|season|intake`;
const EDGE = 'data|queue|messages|calendar|documents|forecast';
const PLANNING = 'season|visit|search|intake';

const SPEC = '\\.spec\\.ts$';
const TYPES = { dependencyTypesNot: ['type-only'] };
const rule = (name, comment, from, to) => ({ name, comment, severity: 'error', from, to });
const packageNamed = (names) => `(^|/)node_modules/(${names})(/|$)`;

/** libs/<lib> may import only itself and these libraries. */
const onlyLibs = (lib, allowed, comment) =>
  rule(
    `${lib}-imports`,
    comment,
    { path: `^libs/${lib}/` },
    {
      path: '^libs/',
      pathNot: `^libs/(${[lib, ...allowed].join('|')})/`,
    },
  );

/** Packages that one library alone may use. `also` adds path patterns with the same right. */
const ownedBy = (owner, packages, also = []) =>
  rule(
    `${owner}-owns-${packages[0].replace(/[^a-z]/g, '')}`,
    `Only libs/${owner} talks to ${packages.join(', ')}.`,
    { pathNot: [`^libs/${owner}/`, '^tests/', ...also] },
    { path: packageNamed(packages.join('|')) },
  );

module.exports = {
  forbidden: [
    rule(
      'no-cycles',
      'A cycle has no bottom to start reading at.',
      {},
      {
        circular: true,
        viaOnly: { dependencyTypesNot: ['type-only'] },
      },
    ),
    rule(
      'no-missing-module',
      'Every import leads somewhere.',
      { pathNot: '^libs/data/generated/' },
      {
        couldNotResolve: true,
        pathNot: '^virtual:',
      },
    ),

    rule(
      'pure-no-node',
      'A pure library uses no Node module.',
      { path: `^libs/(${PURE})/src/`, pathNot: SPEC },
      {
        dependencyTypes: ['core'],
      },
    ),
    rule(
      'pure-no-edge',
      'A pure library knows no edge library, application or schema.',
      { path: `^libs/(${PURE})/` },
      {
        path: `^(libs/(${EDGE})|apps|prisma)/`,
      },
    ),
    rule(
      'pure-packages',
      'A pure library uses no package but the schema library, the zone library and its data, and calculation.',
      { path: `^libs/(${PURE})/src/`, pathNot: SPEC },
      {
        path: '(^|/)node_modules/',
        pathNot: packageNamed(
          'zod|luxon|@types/luxon|moment-timezone|geographiclib-geodesic|astronomy-engine|@photostructure/tz-lookup',
        ),
      },
    ),
    rule(
      'zone-library-in-kernel',
      'Zones come from the kernel, so that there is one source of zone data.',
      {
        path: `^libs/(?!kernel/)`,
        pathNot: SPEC,
      },
      { path: packageNamed('moment-timezone') },
    ),

    onlyLibs('kernel', [], 'The kernel stands on nothing of ours.'),
    onlyLibs('contracts', ['kernel'], 'Contracts are shared with the browser and see only the kernel.'),
    onlyLibs('search', ['kernel'], 'The generic search knows no trade.'),
    rule(
      'leaf-imports',
      'A rule leaf has one subject and sees only the kernel.',
      { path: `^libs/(${LEAF})/` },
      {
        path: '^libs/',
        pathNot: '^libs/(kernel|$1)/',
      },
    ),
    onlyLibs(
      'visit',
      ['kernel', 'search', ...LEAF.split('|')],
      'A visit is planned from rule leaves and the search.',
    ),
    onlyLibs(
      'season',
      ['kernel', 'search', 'visit', ...LEAF.split('|')],
      'The season stands on visit, search and leaves.',
    ),
    onlyLibs(
      'intake',
      ['kernel', 'contracts', 'season', 'visit', ...LEAF.split('|')],
      'Intake turns a file into a problem.',
    ),
    rule(
      'checker-independent',
      'The checker shares no code with the search: only the descriptions of problem and plan, and the kernel.',
      { path: '^libs/season/src/check/', pathNot: SPEC },
      { path: '^libs/', pathNot: '^libs/(season/src/check/|season/src/(problem|plan)\\.ts$|kernel/)' },
    ),
    rule(
      'checker-describes-only',
      'From problem.ts and plan.ts the checker takes types.',
      {
        path: '^libs/season/src/check/',
        pathNot: SPEC,
      },
      { path: '^libs/season/src/(?!check/)', ...TYPES },
    ),

    rule(
      'edge-siblings',
      'Edge libraries do not know one another.',
      { path: `^libs/(${EDGE})/` },
      {
        path: `^libs/(${EDGE})/`,
        pathNot: '^libs/$1/',
      },
    ),
    rule(
      'edge-sees-types',
      'An edge library takes from pure libraries only types, apart from kernel and contracts.',
      {
        path: `^libs/(${EDGE})/`,
        pathNot: SPEC,
      },
      { path: '^libs/', pathNot: `^libs/(kernel|contracts|${EDGE})/`, ...TYPES },
    ),
    rule(
      'edge-no-apps',
      'A library knows no application.',
      { path: '^libs/', pathNot: SPEC },
      { path: '^apps/' },
    ),

    rule(
      'apps-are-islands',
      'Applications do not import one another.',
      { path: '^apps/([^/]+)/' },
      {
        path: '^apps/',
        pathNot: ['^apps/$1/', '^apps/worker/src/threads/'],
      },
    ),
    rule(
      'only-cli-borrows-threads',
      'Only the command line borrows the planner threads of the worker.',
      { path: '^apps/(api|web)/' },
      {
        path: '^apps/worker/',
      },
    ),
    rule(
      'api-never-plans',
      'No planning in the process that answers requests; types are fine.',
      {
        path: '^apps/api/',
        pathNot: SPEC,
      },
      { path: `^libs/(${PLANNING.replace('|intake', '')})/`, ...TYPES },
    ),
    rule(
      'threads-pure-only',
      'A planner thread computes: pure libraries only.',
      { path: '^apps/worker/src/threads/' },
      {
        path: [
          `^libs/(${EDGE})/`,
          '^apps/worker/src/(?!threads/)',
          '^prisma/',
          packageNamed('@nestjs/[^/]+|@prisma/[^/]+|pg|bullmq|ioredis|pg-boss|nodemailer'),
        ],
      },
    ),
    rule(
      'web-imports',
      'The browser gets contracts, kernel and rule leaves, never server code.',
      { path: '^apps/web/' },
      {
        path: '^(libs|prisma)/',
        pathNot: `^libs/(kernel|contracts|${LEAF})/`,
      },
    ),
    rule(
      'web-no-node',
      'The browser has no Node modules.',
      { path: '^apps/web/src/', pathNot: SPEC },
      {
        dependencyTypes: ['core'],
      },
    ),
    rule(
      'nothing-imports-tests',
      'Tests see everything; nothing sees tests.',
      { pathNot: ['^tests/', SPEC] },
      {
        path: '^tests/',
      },
    ),
    rule(
      'pure-via-index',
      'Other folders meet a pure library at its index.',
      { path: '^(apps|libs)/([^/]+)/', pathNot: SPEC },
      {
        path: `^libs/(${PURE})/src/`,
        // Contracts are imported by file, one a feature, so that the browser carries only what it uses.
        pathNot: ['^libs/$2/', '^libs/[^/]+/src/index\\.ts$', '^libs/contracts/'],
        ...TYPES,
      },
    ),
    rule(
      'no-barrels-in-edge',
      'Edge libraries and applications are imported by file.',
      {},
      {
        path: `^(libs/(${EDGE})|apps/[^/]+)/src/index\\.ts$`,
      },
    ),

    ownedBy('data', ['@prisma/[^/]+'], ['^libs/data/', '^prisma/', '^prisma\\.config\\.ts$']),
    // The embedded queue shares the database; the launcher and the backup speak plain PostgreSQL.
    ownedBy('data', ['pg'], ['^libs/queue/', '^apps/cli/src/(postgres|backup|doctor)/', '^prisma/tools/']),
    ownedBy('queue', ['bullmq', 'ioredis', 'pg-boss']),
    ownedBy('messages', ['nodemailer', 'handlebars', 'web-push']),
    ownedBy('calendar', ['ical-generator', 'ical\\.js', 'timezones-ical-library', 'date-holidays']),
    ownedBy('documents', ['pdfkit', 'write-excel-file', 'read-excel-file', 'csv-parse', 'csv-stringify']),
    rule(
      'no-dev-packages',
      'What runs in production is a dependency, not a development one.',
      {
        path: '^(apps|libs)/[^/]+/src/',
        pathNot: SPEC,
      },
      {
        dependencyTypes: ['npm-dev'],
        dependencyTypesNot: ['type-only'],
        pathNot: packageNamed('@types/[^/]+'),
      },
    ),
  ],
  options: {
    tsPreCompilationDeps: true,
    doNotFollow: { path: ['node_modules', '^libs/data/generated'] },
    exclude: { path: '^(dist|coverage)/' },
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
    },
  },
};
