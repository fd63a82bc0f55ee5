import { createHash } from 'node:crypto';
import type { FastifyInstance, FastifyReply, FastifyRequest, HTTPMethods } from 'fastify';
import { CANONICAL, licenceNotices } from '../catalogue/index.js';
import {
  capabilityStatement,
  compileValidator,
  r4Definitions,
  searchParameters,
  stringifyJson,
} from '../fhir/index.js';
import type { Interaction, OfferedParameter, ResourceType } from '../fhir/index.js';
import { answerFhirError, FhirError } from './errors.js';
import { addBodyParsers, isUnchanged, queryOf, refuseOtherFormats, sendFhir } from './fhir-exchange.js';
import { DEFINITION_PARAMETERS, readDefinitionDoor, searchDefinitionsDoor } from './fhir-definitions.js';
import { historyDoor, readDoor, searchDoor, vreadDoor } from './fhir-reads.js';
import type { Door } from './fhir-reads.js';
import { createDoor, updateDoor } from './fhir-writes.js';
import type { WriteContext } from './fhir-writes.js';
import { DEFINITION_TYPES, readPublishedDefinitions } from './published-definitions.js';
import type { DefinitionType } from './published-definitions.js';
import type { ServiceOptions } from './service-options.js';

const READING = ['read', 'vread', 'history-instance', 'search-type'] as const;
const WRITING = ['create', 'update'] as const;

/** What each stored type can be asked over FHIR. Observations and Provenances are written through exams. */
const INTERACTIONS: Readonly<Record<ResourceType, readonly Interaction[]>> = {
  Observation: READING,
  Patient: [...READING, ...WRITING],
  Encounter: [...READING, ...WRITING],
  Location: [...READING, ...WRITING],
  Practitioner: [...READING, ...WRITING],
  Provenance: READING,
};

/** Where each interaction is asked (R4 http), relative to the type. */
const PLACES: Readonly<
  Record<Interaction, readonly { readonly method: HTTPMethods; readonly path: string }[]>
> = {
  read: [{ method: 'GET', path: '/:id' }],
  vread: [{ method: 'GET', path: '/:id/_history/:version' }],
  'history-instance': [{ method: 'GET', path: '/:id/_history' }],
  'search-type': [
    { method: 'GET', path: '' },
    { method: 'POST', path: '/_search' },
  ],
  create: [{ method: 'POST', path: '' }],
  update: [{ method: 'PUT', path: '/:id' }],
};

/** One type with its doors; everything is registered and declared from such rows. */
interface OfferedDoors {
  readonly type: ResourceType | DefinitionType;
  readonly doors: ReadonlyMap<Interaction, Door>;
  readonly parameters: readonly OfferedParameter[];
}

/** The FHIR R4 base under `/fhir`: its own readers of bodies, its own answers to faults. */
export function fhirDoors(app: FastifyInstance, options: ServiceOptions): void {
  const context: WriteContext = {
    ...options,
    baseUrl: () => `${options.publicBaseUrl()}/fhir`,
    validate: compileValidator(r4Definitions),
  };
  const offered = [...storedTypes(context), ...definitionTypes(context)];
  const register = (scope: FastifyInstance, _options: object, done: () => void): void => {
    addBodyParsers(scope);
    scope.setErrorHandler(answerFhirError);
    scope.setNotFoundHandler(refuseUnknown(offered));
    scope.addHook('onRequest', async (request, reply) => {
      void reply.header('cache-control', 'private, no-cache');
      if (request.is404) refuseUnknown(offered)(request, reply);
      refuseOtherFormats(queryOf(request).get('_format') ?? undefined, request.headers.accept);
    });
    scope.get('/metadata', { schema: { hide: true } }, metadataDoor(offered, options, context));
    for (const row of offered) registerDoors(scope, row);
    done();
  };
  void app.register(register, { prefix: '/fhir' });
}

function registerDoors(scope: FastifyInstance, { type, doors }: OfferedDoors): void {
  for (const [interaction, handler] of doors) {
    for (const { method, path } of PLACES[interaction]) {
      scope.route({ method, url: `/${type}${path}`, schema: { hide: true }, handler });
    }
  }
}

const DOORS: Readonly<Record<Interaction, (type: ResourceType, context: WriteContext) => Door>> = {
  read: readDoor,
  vread: vreadDoor,
  'history-instance': historyDoor,
  'search-type': searchDoor,
  create: createDoor,
  update: updateDoor,
};

function definitionTypes(context: WriteContext): readonly OfferedDoors[] {
  const published = readPublishedDefinitions();
  return DEFINITION_TYPES.flatMap((type) => {
    const own = published.filter((definition) => definition.type === type);
    if (own.length === 0) return [];
    const doors = new Map<Interaction, Door>([
      ['read', readDefinitionDoor(type, own)],
      ['search-type', searchDefinitionsDoor(type, own, context)],
    ]);
    return [{ type, doors, parameters: DEFINITION_PARAMETERS }];
  });
}

function storedTypes(context: WriteContext): readonly OfferedDoors[] {
  return Object.entries(INTERACTIONS).map(([name, interactions]) => {
    const type = name as ResourceType;
    const doors = new Map(
      interactions.map((interaction) => [interaction, DOORS[interaction](type, context)]),
    );
    return { type, doors, parameters: searchParameters[type] };
  });
}

/** R4 http, capabilities; the statement is made once for the base that is given out. */
function metadataDoor(
  offered: readonly OfferedDoors[],
  { version, siteTimeZone, clock }: ServiceOptions,
  { baseUrl }: WriteContext,
): Door {
  const date = clock().toISOString();
  const types = offered.map(({ type, doors, parameters }) => ({
    type,
    parameters,
    interactions: [...doors.keys()],
  }));
  const make = (base: string): { text: string; etag: string } => {
    const statement = capabilityStatement({
      ...{ types, version, date, baseUrl: base, canonical: CANONICAL, siteZone: siteTimeZone },
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

/** 404 for what is not there, 405 for what is there and cannot be done so, with what can (RFC 9110, 15.5.6). */
function refuseUnknown(
  offered: readonly OfferedDoors[],
): (request: FastifyRequest, reply: FastifyReply) => never {
  return (request, reply) => {
    const path = (request.raw.url ?? '').replace(/^\/fhir\/?/, '').replace(/\?.*$/s, '');
    const [type = '', ...rest] = path.split('/');
    const row = offered.find((candidate) => candidate.type === type);
    if (row === undefined && type !== 'metadata') throw unknownPlace(type);
    const allowed = row === undefined ? ['GET', 'HEAD'] : methodsAt(row, rest);
    if (allowed.length === 0) throw new FhirError('not-found', 'There is no door of this name.');
    void reply.header('allow', allowed.join(', '));
    throw new FhirError('method-not-allowed', `${request.method} is not offered here.`);
  };
}

function unknownPlace(type: string): FhirError {
  if (/^[A-Za-z]+$/.test(type))
    return new FhirError('unknown-type', `Resources of the type ${type.slice(0, 80)} are not kept here.`);
  return new FhirError('not-found', 'There is no door of this name; /fhir/metadata tells which there are.');
}

function methodsAt({ doors }: OfferedDoors, rest: readonly string[]): readonly string[] {
  const places = [...doors.keys()].flatMap((interaction) => PLACES[interaction]);
  const here = places.filter(({ path }) => isPlace(path.split('/').slice(1), rest));
  const methods = here.map(({ method }) => String(method));
  return methods.includes('GET') ? ['GET', 'HEAD', ...methods.filter((method) => method !== 'GET')] : methods;
}

function isPlace(pattern: readonly string[], rest: readonly string[]): boolean {
  return (
    pattern.length === rest.length &&
    pattern.every((step, at) => step === rest[at] || (step.startsWith(':') && !rest[at]?.startsWith('_')))
  );
}
