import type { FastifyReply, FastifyRequest } from 'fastify';
import { hasErrors, stringifyJson, toOperationOutcome } from '../fhir/index.js';
import type { FhirIssue, ResourceType, Validator } from '../fhir/index.js';
import { transact, writeResources } from '../store/index.js';
import type { ResourceContent, ResourceWrite, WrittenVersion } from '../store/index.js';
import { FhirError } from './errors.js';
import { jsonOf, preferenceOf, sendFhir, versionToMatch } from './fhir-exchange.js';
import { setVersionHeaders } from './fhir-reads.js';
import type { Door, FhirContext } from './fhir-reads.js';

export interface WriteContext extends FhirContext {
  readonly validate: Validator;
}

/** R4 http, create: under a new id; an id, versionId and lastUpdated in the body are passed over. */
export function createDoor(type: ResourceType, context: WriteContext): Door {
  return async (request, reply) => {
    if (request.headers['if-none-exist'] !== undefined)
      throw new FhirError(
        'not-supported',
        'Conditional create (If-None-Exist) is not offered; nothing was stored.',
      );
    const content = { ...membersOf(jsonOf(request, type)), id: undefined };
    const { resource, remarks } = validated(content, type, context.validate);
    const write: ResourceWrite = { method: 'create', type, id: context.newId(), resource };
    return answerWrite(request, reply, await writeOne(write, context), remarks, context);
  };
}

/** R4 http, update: of the id in the URL, which is created when it is not known; If-Match guards against a lost update. */
export function updateDoor(type: ResourceType, context: WriteContext): Door {
  return async (request, reply) => {
    const { id } = request.params as { id: string };
    if (!ID.test(id)) throw new FhirError('invalid', 'An id has 1 to 64 letters, digits, hyphens and dots.');
    const ifVersion = versionToMatch(request);
    const ifAbsent = request.headers['if-none-match']?.trim() === '*';
    const { resource, remarks } = validated(
      jsonOf(request, type),
      type,
      context.validate,
      idFaults(id, type),
    );
    const write: ResourceWrite = {
      method: 'update',
      type,
      id,
      resource,
      ifAbsent,
      ...(ifVersion === undefined ? {} : { ifVersion }),
    };
    return answerWrite(request, reply, await writeOne(write, context), remarks, context);
  };
}

/** R4 datatypes, `id`. */
const ID = /^[A-Za-z0-9\-.]{1,64}$/;

function membersOf(value: unknown): Record<string, unknown> {
  const isObject = typeof value === 'object' && value !== null && !Array.isArray(value);
  if (isObject) return value as Record<string, unknown>;
  throw new FhirError('invalid', 'A resource is a JSON object.');
}

type Check = (resource: Record<string, unknown>) => readonly FhirIssue[];

/** R4 http, update: the id in the body is that of the URL. */
function idFaults(id: string, type: ResourceType): Check {
  return (resource) => {
    if (resource['id'] === id) return [];
    const diagnostics = 'The id of the resource must be the id in the URL.';
    const found = resource['id'];
    const place = { rule: 'id-of-url', expression: `${type}.id`, diagnostics, allowed: id };
    return [{ severity: 'error', code: 'value', ...place, ...(found === undefined ? {} : { found }) }];
  };
}

/** The body as a valid resource with the remarks about it, or a refusal with all its faults at once. */
function validated(
  value: unknown,
  type: ResourceType,
  validate: Validator,
  check: Check = () => [],
): { readonly resource: ResourceContent; readonly remarks: readonly FhirIssue[] } {
  const members = membersOf(value);
  const issues = [...check(members), ...validate(members, type)];
  if (hasErrors(issues)) throw new FhirError('invalid', `The ${type} is not valid.`, issues);
  return { resource: { ...members, resourceType: type }, remarks: issues };
}

async function writeOne(write: ResourceWrite, { db, clock }: WriteContext): Promise<WrittenVersion> {
  const [written] = await transact(db, (tx) => writeResources(tx, [write], { at: clock() }));
  if (written === undefined) throw new Error('a write gave no version');
  return written;
}

function answerWrite(
  request: FastifyRequest,
  reply: FastifyReply,
  written: WrittenVersion,
  remarks: readonly FhirIssue[],
  { baseUrl }: WriteContext,
): FastifyReply {
  const { type, id, version, created, body } = written;
  setVersionHeaders(reply, written);
  void reply.code(created ? 201 : 200);
  void reply.header('location', `${baseUrl()}/${type}/${id}/_history/${version}`);
  switch (preferenceOf(request).answer) {
    case 'minimal':
      return reply.send();
    case 'OperationOutcome':
      return sendFhir(reply, stringifyJson(toOperationOutcome(remarks)));
    case 'representation':
      return sendFhir(reply, body);
  }
}
