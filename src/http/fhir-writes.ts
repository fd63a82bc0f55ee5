import type { FastifyReply, FastifyRequest } from 'fastify';
import type { Observation } from 'fhir/r4.js';
import { hasErrors, stringifyJson, toOperationOutcome } from '../fhir/index.js';
import type { FhirIssue, JsonValue, Lossless, ResourceType } from '../fhir/index.js';
import { readResource, transact, writeResources } from '../store/index.js';
import type { ResourceContent, ResourceWrite, StoredVersion, WrittenVersion } from '../store/index.js';
import { remarksOn } from '../trends/index.js';
import { FhirError } from './errors.js';
import { findExamOf } from './exam-reading.js';
import { jsonOf, preferenceOf, sendFhir, versionToMatch } from './fhir-exchange.js';
import { setVersionHeaders } from './fhir-reads.js';
import type { Door, FhirContext } from './fhir-reads.js';
import type { PlannedWrite } from './fhir-validate.js';

/** R4 http, create: under a new id; an id, versionId and lastUpdated in the body are passed over. */
export function createDoor(type: ResourceType, context: FhirContext): Door {
  return async (request, reply) => {
    if (request.headers['if-none-exist'] !== undefined)
      throw new FhirError(
        'not-supported',
        'Conditional create (If-None-Exist) is not offered; nothing was stored.',
      );
    const content = { ...membersOf(jsonOf(request, type)), id: undefined };
    const { resource, remarks } = validated(content, type, context);
    const write: ResourceWrite = { method: 'create', type, id: context.newId(), resource };
    return answerWrite(request, reply, await writeOne(write, context), remarks, context);
  };
}

/** R4 http, update: of the id in the URL, which is created when it is not known; If-Match guards against a lost update. */
export function updateDoor(type: ResourceType, context: FhirContext): Door {
  return async (request, reply) => {
    const { id } = request.params as { id: string };
    if (!ID.test(id)) throw new FhirError('invalid', ID_FORM);
    const ifVersion = versionToMatch(request);
    const ifAbsent = request.headers['if-none-match']?.trim() === '*';
    const sent = membersOf(jsonOf(request, type));
    const { resource, remarks } = validated(sent, type, context, idFaults(sent, id, type));
    await refuseExamFinding(type, id, context);
    const version = ifVersion === undefined ? {} : { ifVersion };
    const write: ResourceWrite = { method: 'update', type, id, resource, ifAbsent, ...version };
    return answerWrite(request, reply, await writeOne(write, context), remarks, context);
  };
}

/** R4 datatypes, `id`. */
const ID = /^[A-Za-z0-9\-.]{1,64}$/;
const ID_FORM = 'An id has 1 to 64 letters, digits, hyphens and dots.';

type Members = Readonly<Record<string, unknown>>;

function membersOf(value: unknown): Members {
  const isObject = typeof value === 'object' && value !== null && !Array.isArray(value);
  if (isObject) return value as Members;
  throw new FhirError('invalid', 'A resource is a JSON object.');
}

/** R4 http, update: the id in the body is that of the URL. */
function idFaults({ id: found }: Members, id: string, type: string): readonly FhirIssue[] {
  if (found === id) return [];
  const diagnostics = 'The id of the resource must be the id in the URL.';
  const place = { rule: 'id-of-url', expression: `${type}.id`, diagnostics, allowed: id };
  return [{ severity: 'error', code: 'value', ...place, ...(found === undefined ? {} : { found }) }];
}

/** The body as a valid resource with the remarks about it, or a refusal with all its faults at once. */
function validated(
  members: Members,
  type: ResourceType,
  { conformance }: FhirContext,
  known: readonly FhirIssue[] = [],
): { readonly resource: ResourceContent; readonly remarks: readonly FhirIssue[] } {
  const issues = [...known, ...conformance.validate(members, type)];
  if (hasErrors(issues)) throw new FhirError(refusalOf(issues), `The ${type} is not valid.`, issues);
  return {
    resource: { ...members, resourceType: type },
    remarks: [...issues, ...remarksOnSense(members, type)],
  };
}

/** R4 http, create: 400 for what fails basic validation, 422 for what is R4 and breaks a profile. */
function refusalOf(issues: readonly FhirIssue[]): 'invalid' | 'unprocessable' {
  return hasErrors(issues.filter(({ profile }) => profile === undefined)) ? 'invalid' : 'unprocessable';
}

/** What a valid resource says that cannot be made use of. */
function remarksOnSense(members: Members, type: ResourceType): readonly FhirIssue[] {
  return type === 'Observation' ? remarksOn(members as unknown as Lossless<Observation>) : [];
}

/** A finding of an exam is changed with who, when and why, so that the exam and its record stay one. */
async function refuseExamFinding(type: ResourceType, id: string, { db }: FhirContext): Promise<void> {
  const issues = await examFindingIssues(type, id, db);
  if (issues.length > 0) throw new FhirError('unprocessable', 'It belongs to an exam.', issues);
}

async function examFindingIssues(
  type: ResourceType,
  id: string,
  db: FhirContext['db'],
): Promise<readonly FhirIssue[]> {
  const exam = type === 'Observation' ? await findExamOf(db, id) : undefined;
  if (exam === undefined) return [];
  const diagnostics = `Observation/${id} belongs to an exam; it is changed by POST /exams/${exam}/corrections, /withdrawals or /addenda, with who, when and why.`;
  const place = { rule: 'exam-finding', expression: 'Observation.id', diagnostics, found: id };
  return [{ severity: 'error', code: 'business-rule', ...place }];
}

/**
 * What would keep a valid resource from being written, for `$validate` (modes create and update). A create at an
 * instance asks whether the id is free.
 */
export async function plannedWriteIssues(
  type: ResourceType,
  { mode, id, resource, request }: PlannedWrite,
  context: FhirContext,
): Promise<readonly FhirIssue[]> {
  const remarks = isMembers(resource) ? remarksOnSense(resource, type) : [];
  if (id === undefined || mode === 'delete') return remarks;
  const present = await readResource(context.db, type, id);
  const issues = [
    ...(ID.test(id) ? [] : [plainIssue('value', 'id-form', `${type}.id`, ID_FORM)]),
    ...(isMembers(resource) ? idFaults(resource, id, type) : []),
    ...(mode === 'create' && present?.deleted === false ? [takenIssue(type, id)] : []),
    ...versionIssues(type, versionToMatch(request), present),
    ...(mode === 'update' ? await examFindingIssues(type, id, context.db) : []),
  ];
  return [...issues, ...remarks];
}

const isMembers = (value: JsonValue | undefined): value is { readonly [name: string]: JsonValue } =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

function takenIssue(type: string, id: string): FhirIssue {
  return plainIssue('duplicate', 'id-taken', `${type}.id`, `${type}/${id} is already there.`);
}

function versionIssues(
  type: string,
  expected: number | undefined,
  present: StoredVersion | undefined,
): readonly FhirIssue[] {
  if (expected === undefined || expected === present?.version) return [];
  const found = present === undefined ? 'it is not known' : `it is at version ${present.version}`;
  const diagnostics = `If-Match expects version ${expected}, and ${found}.`;
  return [plainIssue('conflict', 'version-conflict', `${type}.meta.versionId`, diagnostics)];
}

function plainIssue(
  code: FhirIssue['code'],
  rule: string,
  expression: string,
  diagnostics: string,
): FhirIssue {
  return { severity: 'error', code, rule, expression, diagnostics };
}

async function writeOne(write: ResourceWrite, { db, clock }: FhirContext): Promise<WrittenVersion> {
  const [written] = await transact(db, (tx) => writeResources(tx, [write], { at: clock() }));
  if (written === undefined) throw new Error('a write gave no version');
  return written;
}

function answerWrite(
  request: FastifyRequest,
  reply: FastifyReply,
  written: WrittenVersion,
  remarks: readonly FhirIssue[],
  { baseUrl }: FhirContext,
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
