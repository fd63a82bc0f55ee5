import type { Socket } from 'node:net';
import helmet from '@fastify/helmet';
import { fastify, LogController } from 'fastify';
import type { ConnectionError, FastifyInstance, FastifyRequest } from 'fastify';
import { closeDoors, unauthorized } from './access.js';
import { describeDoors } from './description.js';
import { draftDoors } from './drafts.js';
import { answerError, answerUnreadableAddress, FhirError } from './errors.js';
import { examDoors } from './exams.js';
import { textOfBody } from './exchange.js';
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
    // Before any door: told as behind a closed one, so that nobody learns which paths exist.
    frameworkErrors: (error, request, reply) => {
      answerUnreadableAddress(options.auth === 'required' ? unauthorized(reply) : error, request, reply);
    },
    clientErrorHandler: answerUnreadableRequest,
    routerOptions: { caseSensitive: true, maxParamLength: 200 },
  });
  // Doors read their own bodies: numbers keep their digits, and every fault is told at once.
  app.setValidatorCompiler(() => () => true);
  app.setSerializerCompiler(() => (answer) => JSON.stringify(answer));
  app.removeAllContentTypeParsers();
  app.addContentTypeParser(
    'application/json',
    { parseAs: 'buffer' },
    (request: FastifyRequest, body: Buffer) => Promise.resolve(textOfBody(request, body)),
  );
  app.setErrorHandler(answerError);
  app.setNotFoundHandler(() => {
    throw new FhirError('not-found', 'There is no such door.');
  });
  logRequests(app);
  endConnectionsWhenClosing(app);
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

/** Milliseconds that a stop waits for clients that have not sent their request whole. */
const LONGEST_STOP_MS = 5000;

/**
 * A request under way is answered while the service stops, and its connection is not kept for another one. Browsers
 * open connections ahead and send nothing: those are ended after a while.
 */
function endConnectionsWhenClosing(app: FastifyInstance): void {
  let isClosing = false;
  app.addHook('preClose', (done) => {
    isClosing = true;
    setTimeout(() => {
      app.server.closeAllConnections();
    }, LONGEST_STOP_MS).unref();
    done();
  });
  app.addHook('onSend', async (_request, reply) => {
    if (isClosing) void reply.header('connection', 'close');
  });
}

/** What is no HTTP gets a bare answer and no line in the log, which would hold the bytes that were sent. */
function answerUnreadableRequest(error: ConnectionError, socket: Socket): void {
  if (error.code !== 'ECONNRESET' && socket.writable) {
    const status = UNREADABLE[error.code] ?? '400 Bad Request';
    socket.write(`HTTP/1.1 ${status}\r\nContent-Length: 0\r\nConnection: close\r\n\r\n`);
  }
  socket.destroy();
}

const UNREADABLE: Readonly<Record<string, string>> = {
  ERR_HTTP_REQUEST_TIMEOUT: '408 Request Timeout',
  HPE_HEADER_OVERFLOW: '431 Request Header Fields Too Large',
};

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
