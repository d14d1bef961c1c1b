import fs from 'node:fs';
import { createRequire } from 'node:module';
import path from 'node:path';
import fastifyStatic from '@fastify/static';
import type { FastifyInstance } from 'fastify';
import type { ApiConfig } from '../config.ts';

const require = createRequire(import.meta.url);

/** Our own start of the documentation's viewer; as a file, so that no inline script is needed. */
const DOCS_START = `window.addEventListener('load', () => {
  SwaggerUIBundle({ url: '/api/v1/openapi.json', dom_id: '#docs', deepLinking: true, persistAuthorization: false, validatorUrl: null });
});
`;

const DOCS_PAGE = `<!doctype html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>Dryspell interface</title>
<link rel="stylesheet" href="/api/docs/files/swagger-ui.css">
</head>
<body>
<div id="docs"></div>
<noscript>This viewer needs JavaScript. The description itself is at /api/v1/openapi.json.</noscript>
<script src="/api/docs/files/swagger-ui-bundle.js"></script>
<script src="/api/docs/start.js"></script>
</body>
</html>
`;

/** Files that are the same for everybody: the program's own pages when they have been built, and the documentation. */
export async function addStaticFiles(server: FastifyInstance, config: ApiConfig): Promise<void> {
  server.get('/api/docs', (_request, reply) => reply.type('text/html; charset=utf-8').send(DOCS_PAGE));
  server.get('/api/docs/start.js', (_request, reply) =>
    reply.type('text/javascript; charset=utf-8').send(DOCS_START),
  );
  await server.register(fastifyStatic, {
    root: path.dirname(require.resolve('swagger-ui-dist/package.json')),
    prefix: '/api/docs/files/',
    decorateReply: false,
    index: false,
    allowedPath: (file) => /^\/swagger-ui(?:-bundle\.js|\.css)$/.test(file),
  });
  const webDir = config.webDir ?? findWebDir(import.meta.dirname);
  if (!webDir) {
    server.log.warn('The pages of the program have not been built, so /app/ is not there.');
    return;
  }
  const indexPage = fs.readFileSync(path.join(webDir, 'index.html'), 'utf8');
  await server.register(fastifyStatic, {
    root: webDir,
    prefix: '/app/',
    decorateReply: false,
    index: false,
    wildcard: false,
    cacheControl: false,
    setHeaders: (reply, file) => {
      // Built files carry a hash in their names; the rest must be asked for again.
      const hashed = file.includes(`${path.sep}assets${path.sep}`);
      void reply.header('cache-control', hashed ? 'public, max-age=31536000, immutable' : 'no-cache');
    },
  });
  server.get('/app', (_request, reply) => reply.redirect('/app/', 308));
  // Addresses inside the program are its own affair: all give the same page.
  const program = { config: {}, exposeHeadRoute: true } as const;
  for (const address of ['/app/', '/app/*']) {
    server.get(address, program, (_request, reply) =>
      reply.type('text/html; charset=utf-8').header('cache-control', 'no-cache').send(indexPage),
    );
  }
}

/** The folder of the built pages, looked for from a folder upwards; null: they have not been built. */
export function findWebDir(from: string): string | null {
  for (let folder = from; ; folder = path.dirname(folder)) {
    const candidate = path.join(folder, 'dist', 'apps', 'web');
    if (fs.existsSync(path.join(candidate, 'index.html'))) return candidate;
    if (folder === path.dirname(folder)) return null;
  }
}
