import type { FastifyInstance } from 'fastify';

const PROGRAM =
  "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' data: blob:; font-src 'self'; connect-src 'self'; " +
  "manifest-src 'self'; worker-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";
/** The documentation's viewer sets style elements of its own; scripts stay ours alone. */
const DOCS = PROGRAM.replace("style-src 'self'", "style-src 'self' 'unsafe-inline'");
/** Pages behind links have one style sheet and forms, and nothing else. */
const PLAIN_PAGE =
  "default-src 'none'; style-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'";

const SECRET_PAGE = /^\/(?:l|sign-in|calendar)\//;

/** Sets the headers that tell browsers what pages from here may do. */
export function addSecurityHeaders(server: FastifyInstance, https: boolean): void {
  server.addHook('onRequest', async (request, reply) => {
    const secret = SECRET_PAGE.test(request.url);
    const policy = request.url.startsWith('/app')
      ? PROGRAM
      : request.url.startsWith('/api/docs')
        ? DOCS
        : PLAIN_PAGE;
    void reply.headers({
      'content-security-policy': policy,
      'x-content-type-options': 'nosniff',
      'x-frame-options': 'DENY',
      'cross-origin-opener-policy': 'same-origin',
      'cross-origin-resource-policy': 'same-origin',
      'permissions-policy': 'geolocation=(self), camera=(self), microphone=()',
      // An address with a secret must not travel on as a referrer; elsewhere our own pages may see ours.
      'referrer-policy': secret ? 'no-referrer' : 'same-origin',
      'x-request-id': request.id,
      ...(secret || request.url.startsWith('/api/v1') ? { 'cache-control': 'no-store' } : {}),
      ...(https ? { 'strict-transport-security': 'max-age=31536000' } : {}),
    });
  });
}
