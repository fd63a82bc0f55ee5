import type { FastifyInstance } from 'fastify';
import { startPage, STYLESHEET } from '../pages/index.js';
import { isReady } from '../store/index.js';
import type { ServiceOptions } from './service-options.js';

/** Liveness, readiness, the start page and its stylesheet. */
export function operatorDoors(app: FastifyInstance, options: ServiceOptions): void {
  app.get('/health/live', { schema: { hide: true } }, () => ({ status: 'live' }));

  app.get('/health/ready', { schema: { hide: true } }, async (_request, reply) => {
    const ready = await isReady(options.db);
    return reply.code(ready ? 200 : 503).send({ status: ready ? 'ready' : 'database unreachable' });
  });

  app.get('/', { schema: { hide: true } }, (_request, reply) =>
    reply.type('text/html; charset=utf-8').send(
      startPage({
        version: options.version,
        auth: options.auth,
        siteTimeZone: options.siteTimeZone,
        doors: DOORS,
        examples: options.examples ?? [],
      }),
    ),
  );

  app.get('/assets/limbledger.css', { schema: { hide: true } }, (_request, reply) =>
    reply.type('text/css; charset=utf-8').header('cache-control', 'public, max-age=3600').send(STYLESHEET),
  );
}

const DOORS = [
  { href: '/docs', label: 'The doors described' },
  { href: '/fhir/metadata', label: 'What is offered over FHIR' },
] as const;
