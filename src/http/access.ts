import type { FastifyInstance, FastifyReply } from 'fastify';
import type { ServiceOptions } from './service-options.js';
import { FhirError } from './errors.js';

/** The routes that answer without a token: liveness, the statement of capabilities and the start page. */
const OPEN_ROUTES: ReadonlySet<string> = new Set([
  '/',
  '/assets/limbledger.css',
  '/health/live',
  '/health/ready',
  '/fhir/metadata',
]);

/**
 * Closes every other door while access control is required. A request whose route is unknown is refused alike, so that
 * nobody learns which paths exist.
 */
export function closeDoors(app: FastifyInstance, { auth }: Pick<ServiceOptions, 'auth'>): void {
  if (auth === 'off') return;
  app.addHook('onRequest', async (request, reply) => {
    if (!OPEN_ROUTES.has(request.routeOptions.url ?? '')) throw unauthorized(reply);
  });
}

/** The refusal of a request without a token (RFC 6750, 3), with the header that asks for one. */
export function unauthorized(reply: FastifyReply): FhirError {
  void reply.header('www-authenticate', 'Bearer realm="limbledger"');
  return new FhirError('unauthorized', 'This door needs an access token.');
}
