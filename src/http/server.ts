import helmet from '@fastify/helmet';
import { fastify, LogController } from 'fastify';
import type { FastifyInstance } from 'fastify';
import { closeDoors } from './access.js';
import { describeDoors } from './description.js';
import { draftDoors } from './drafts.js';
import { answerError, answerUnreadableAddress, FhirError } from './errors.js';
import { examDoors } from './exams.js';
import { fhirDoors } from './fhir.js';
import { operatorDoors } from './operations.js';
import { BODY_LIMIT } from './service-options.js';
import type { ServiceOptions } from './service-options.js';
import { trendDoors } from './trends.js';

/** Milliseconds that a whole request may take to arrive. */
const REQUEST_TIMEOUT_MS = 60_000;

/** The service's HTTP server with all its doors, not yet listening. */
export async function buildServer(options: ServiceOptions): Promise<FastifyInstance> {
  const app = fastify({
    loggerInstance: options.logger,
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: BODY_LIMIT,
    requestTimeout: REQUEST_TIMEOUT_MS,
    return503OnClosing: true,
    frameworkErrors: (error, request, reply) => {
      answerUnreadableAddress(error, request, reply);
    },
    routerOptions: { caseSensitive: true, maxParamLength: 200 },
  });
  // Doors read their own bodies: numbers keep their digits, and every fault is told at once.
  app.setValidatorCompiler(() => () => true);
  app.setSerializerCompiler(() => (answer) => JSON.stringify(answer));
  app.removeAllContentTypeParsers();
  app.addContentTypeParser('application/json', { parseAs: 'string' }, (_request, body, done) => {
    done(null, body);
  });
  app.setErrorHandler(answerError);
  app.setNotFoundHandler(() => {
    throw new FhirError('not-found', 'There is no such door.');
  });
  logRequests(app);
  await app.register(helmet, { contentSecurityPolicy: { directives: CONTENT_SECURITY_POLICY } });
  closeDoors(app, options);
  await describeDoors(app, options);
  operatorDoors(app, options);
  fhirDoors(app, options);
  examDoors(app, options);
  draftDoors(app, options);
  trendDoors(app, options);
  await app.ready();
  return app;
}

/** Nothing from another host, no inline script. */
const CONTENT_SECURITY_POLICY = {
  defaultSrc: ["'self'"],
  scriptSrc: ["'self'"],
  styleSrc: ["'self'"],
  imgSrc: ["'self'", 'data:'],
  upgradeInsecureRequests: null,
};

/** One line for each request: method, the route's pattern (a URL may hold patient data), status and milliseconds. */
function logRequests(app: FastifyInstance): void {
  app.addHook('onResponse', async (request, reply) => {
    const { method, routeOptions } = request;
    const ms = Math.round(reply.elapsedTime * 10) / 10;
    request.log.info({ method, route: routeOptions.url ?? null, status: reply.statusCode, ms }, 'request');
  });
}
