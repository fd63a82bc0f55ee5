import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest } from 'fastify';
import { CANONICAL, licenceNotices } from '../catalogue/index.js';
import { capabilityStatement, stringifyJson } from '../fhir/index.js';
import { answerFhirError, FhirError } from './errors.js';
import { addBodyParsers, isUnchanged, queryOf, refuseOtherFormats, sendFhir } from './fhir-exchange.js';
import { offeredTypes } from './fhir-offer.js';
import type { OfferedDoors } from './fhir-offer.js';
import type { Door, FhirContext } from './fhir-reads.js';
import type { ServiceOptions } from './service-options.js';

/** The FHIR R4 base under `/fhir`: its own readers of bodies, its own answers to faults. */
export function fhirDoors(app: FastifyInstance, options: ServiceOptions): void {
  const context: FhirContext = { ...options, baseUrl: () => `${options.publicBaseUrl()}/fhir` };
  const offered = offeredTypes(context);
  const refuse = refuseUnknown(offered);
  const register = (scope: FastifyInstance, _options: object, done: () => void): void => {
    addBodyParsers(scope);
    scope.setErrorHandler(answerFhirError);
    scope.setNotFoundHandler(refuse);
    scope.addHook('onRequest', async (request, reply) => {
      void reply.header('cache-control', 'private, no-cache');
      if (request.is404) refuse(request, reply);
      refuseOtherFormats(queryOf(request).get('_format') ?? undefined, request.headers.accept);
    });
    scope.get('/metadata', { schema: { hide: true } }, metadataDoor(offered, options, context));
    for (const row of offered) registerDoors(scope, row, refuse);
    done();
  };
  void app.register(register, { prefix: '/fhir' });
}

function registerDoors(scope: FastifyInstance, { type, routes }: OfferedDoors, refuse: Refusal): void {
  const schema = { hide: true };
  for (const { method, path, door } of routes)
    scope.route({ method, url: `/${type}${path}`, schema, handler: door });
  // Else the name of an operation would be read as the id of a resource.
  scope.get(`/${type}/:operation(^\\$.*$)`, { schema }, refuse);
}

/** R4 http, capabilities; the statement is made once for the base that is given out. */
function metadataDoor(
  offered: readonly OfferedDoors[],
  { version, siteTimeZone, clock }: ServiceOptions,
  { baseUrl }: FhirContext,
): Door {
  const date = clock().toISOString();
  const make = (base: string): { text: string; etag: string } => {
    const statement = capabilityStatement({
      ...{ types: offered, version, date, baseUrl: base, canonical: CANONICAL, siteZone: siteTimeZone },
      copyright: licenceNotices.map(({ text }) => text).join('\n\n'),
    });
    const text = stringifyJson(statement);
    return { text, etag: `W/"${createHash('sha256').update(text).digest('hex').slice(0, 16)}"` };
  };
  let made: { readonly base: string; readonly statement: ReturnType<typeof make> } | undefined;
  return (request, reply) => {
    const base = baseUrl();
    if (made?.base !== base) made = { base, statement: make(base) };
    const { text, etag } = made.statement;
    void reply.header('etag', etag);
    if (isUnchanged(request, etag)) return reply.code(304).send();
    return sendFhir(reply, text);
  };
}

type Refusal = (request: FastifyRequest, reply: FastifyReply) => never;

/** 404 for what is not there, 405 for what is there and cannot be done so, with what can (RFC 9110, 15.5.6). */
function refuseUnknown(offered: readonly OfferedDoors[]): Refusal {
  return (request, reply) => {
    const path = (request.raw.url ?? '').replace(/^\/fhir\/?/, '').replace(/\?.*$/s, '');
    const [type = '', ...rest] = path.split('/');
    const row = offered.find((candidate) => candidate.type === type);
    if (row === undefined && type !== 'metadata') throw unknownPlace(type);
    const allowed = row === undefined ? ['GET', 'HEAD'] : methodsAt(row, rest);
    if (allowed.length === 0) throw row?.interactions.length === 0 ? unknownPlace(type) : noDoor();
    void reply.header('allow', allowed.join(', '));
    throw new FhirError('method-not-allowed', `${request.method} is not offered here.`);
  };
}

const noDoor = (): FhirError => new FhirError('not-found', 'There is no door of this name.');

function unknownPlace(type: string): FhirError {
  if (/^[A-Za-z]+$/.test(type))
    return new FhirError('unknown-type', `Resources of the type ${type.slice(0, 80)} are not kept here.`);
  return new FhirError('not-found', 'There is no door of this name; /fhir/metadata tells which there are.');
}

function methodsAt({ routes }: OfferedDoors, rest: readonly string[]): readonly string[] {
  const here = routes.filter(({ path }) => isPlace(path.split('/').slice(1), rest));
  const methods = here.map(({ method }) => String(method));
  return methods.includes('GET') ? ['GET', 'HEAD', ...methods.filter((method) => method !== 'GET')] : methods;
}

/** What follows a type in a URL; `_history` and `$validate` are no ids. */
function isPlace(pattern: readonly string[], rest: readonly string[]): boolean {
  return (
    pattern.length === rest.length &&
    pattern.every((step, at) => step === rest[at] || (step.startsWith(':') && !/^[_$]/.test(rest[at] ?? '')))
  );
}
