import type { FastifyRequest } from 'fastify';
import { issueOfJsonFault, parseJson, toOperationOutcome, stringifyJson } from '../fhir/index.js';
import type { FhirIssue, JsonFault, JsonValue, ParsedJson, Validator } from '../fhir/index.js';
import { FhirError } from './errors.js';
import { queryOf, sendFhir } from './fhir-exchange.js';
import type { RequestBody } from './fhir-exchange.js';
import type { Door } from './fhir-reads.js';

/** What `$validate` of one type has to do with. */
export interface ValidateContext {
  readonly validate: Validator;
  /** Whether resources can be held against a profile of this canonical URL. */
  readonly knowsProfile: (url: string) => boolean;
  /** The JSON text of an instance as it stands; throws a FhirError where there is none. Absent: no instances are kept. */
  readonly readInstance?: (id: string) => string | Promise<string>;
  /** What would keep a valid resource from being written; `id` of an instance. */
  readonly writeIssues: (asked: PlannedWrite) => Promise<readonly FhirIssue[]>;
}

/** A write that is asked about and not done. */
export interface PlannedWrite {
  readonly mode: 'create' | 'update' | 'delete';
  /** Id in the URL; undefined at the type. */
  readonly id: string | undefined;
  readonly resource: JsonValue | undefined;
  readonly request: FastifyRequest;
}

/** R4 code system resource-validation-mode. */
const MODES = ['create', 'update', 'delete', 'profile'] as const;

type Mode = (typeof MODES)[number];

/** The input of the operation, from the body and the query. */
interface Asked {
  readonly resource: JsonValue | undefined;
  /** Faults of the text of a body; the resource is then what could be read of it. */
  readonly faults: readonly JsonFault[];
  readonly mode: Mode | undefined;
  readonly profile: string | undefined;
}

/**
 * R4 operation Resource-validate, at a type or at an instance. 200 with every finding whether the resource is valid or
 * not; a refusal when it could not be held against what was asked for. Nothing is stored.
 */
export function validateDoor(type: string, context: ValidateContext): Door {
  return async (request, reply) => {
    const { id } = request.params as { readonly id?: string };
    const asked = readAsked(request, type, context.validate);
    refuseMismatch(asked, id, context);
    const issues = [...(await contentIssues(asked, type, id, context)), ...(await modeIssues(asked))];
    return sendFhir(reply, stringifyJson(toOperationOutcome(issues)));

    async function modeIssues({ mode, resource, faults }: Asked): Promise<readonly FhirIssue[]> {
      if (mode === undefined || mode === 'profile' || faults.length > 0) return [];
      return context.writeIssues({ mode, id, resource, request });
    }
  };
}

/** The findings of the resource itself: the one sent, or the instance as it stands. */
async function contentIssues(
  { resource, faults, mode, profile }: Asked,
  type: string,
  id: string | undefined,
  { validate, readInstance }: ValidateContext,
): Promise<readonly FhirIssue[]> {
  const profiles = profile === undefined ? [] : [profile];
  if (faults.length > 0) {
    const ofText = faults.map((fault) => issueOfJsonFault(fault, type));
    return resource === undefined ? ofText : [...ofText, ...validate(resource, type, profiles)];
  }
  if (resource !== undefined && mode !== 'delete') return validate(resource, type, profiles);
  const standing = id === undefined ? undefined : await readInstance?.(id);
  if (mode === 'delete') return [];
  return validate(valueOf(standing ?? ''), type, profiles);
}

function valueOf(text: string): JsonValue {
  const parsed = parseJson(text);
  if (!parsed.ok) throw new Error('a stored resource is not JSON');
  return parsed.value;
}

/** What the operation's definition forbids, and what cannot be held against. */
function refuseMismatch(asked: Asked, id: string | undefined, { knowsProfile }: ValidateContext): void {
  const { mode, profile } = asked;
  const isSent = asked.resource !== undefined || asked.faults.length > 0;
  if (mode === 'profile') refuseStandingMismatch(isSent, profile);
  if (id === undefined && mode !== undefined && mode !== 'create')
    throw refused('mode', `The mode ${mode} is for one instance: [type]/[id]/$validate.`);
  if (!isSent && (id === undefined || mode === 'create' || mode === 'update'))
    throw refused('resource', 'There is no resource to validate: send one, bare or as Parameters.');
  if (profile === undefined || knowsProfile(profile)) return;
  const diagnostics = `The profile ${shorten(profile)} is not known here.`;
  throw new FhirError('not-supported', diagnostics, [issueOf('not-supported', 'profile', diagnostics)]);
}

/** The mode profile holds an instance as it stands against a profile. */
function refuseStandingMismatch(isSent: boolean, profile: string | undefined): void {
  if (profile === undefined)
    throw refused('profile', 'The mode profile needs the profile that the instance is held against.');
  if (isSent)
    throw refused(
      'resource',
      'The mode profile is for the instance as it stands; no resource is sent with it.',
    );
}

function refused(name: string, diagnostics: string): FhirError {
  return new FhirError('invalid', diagnostics, [issueOf('invalid', name, diagnostics)]);
}

function issueOf(code: FhirIssue['code'], name: string, diagnostics: string): FhirIssue {
  const rule = `operation-${name}`;
  return { severity: 'error', code, rule, expression: `http.${name}`, diagnostics };
}

const shorten = (text: string): string => (text.length <= 200 ? text : `${text.slice(0, 200)}…`);

/** R4 operations: the input as a Parameters resource, or the one resource bare with the rest in the query. */
function readAsked(request: FastifyRequest, type: string, validate: Validator): Asked {
  const query = queryParameters(request);
  const parsed = readBody(request.body as RequestBody);
  if (parsed === undefined) return { resource: undefined, faults: [], ...modeAndProfile(query) };
  if (!parsed.ok) {
    const isForm = parsed.read !== undefined && parametersIn(parsed.read, type) !== undefined;
    return { resource: isForm ? undefined : parsed.read, faults: parsed.faults, ...modeAndProfile(query) };
  }
  const form = parametersIn(parsed.value, type);
  if (form === undefined) return { resource: parsed.value, faults: [], ...modeAndProfile(query) };
  refuseFaultyForm(parsed.value, validate);
  const rows = form.flatMap(({ name, value }) => (name === 'resource' ? [] : [[name, value] as const]));
  const [resource, another] = form.map((row) => row.resource).filter((one) => one !== undefined);
  if (another !== undefined) throw refused('resource', 'resource may be given once.');
  return { resource, faults: [], ...modeAndProfile([...query, ...rows]) };
}

/** A text that breaks off is refused; other faults of the text are findings, since the text says what is meant. */
function readBody(body: RequestBody): ParsedJson | undefined {
  if (body instanceof URLSearchParams)
    throw new FhirError('unsupported-media-type', 'A resource is sent as application/fhir+json.');
  if (body === undefined || body === '') return undefined;
  const parsed = parseJson(body);
  if (parsed.ok || !parsed.faults.some(({ code }) => code === 'json-syntax')) return parsed;
  const issues = parsed.faults.map((fault) => issueOfJsonFault(fault));
  throw new FhirError('not-json', 'The body is not JSON.', issues);
}

type NamedText = readonly [name: string, value: string];

const PASSED_OVER: ReadonlySet<string> = new Set(['_format', '_pretty']);

function queryParameters(request: FastifyRequest): readonly NamedText[] {
  return [...queryOf(request)].filter(([name, value]) => value !== '' && !PASSED_OVER.has(name));
}

function modeAndProfile(given: readonly NamedText[]): Pick<Asked, 'mode' | 'profile'> {
  const unknown = given.find(([name]) => name !== 'mode' && name !== 'profile');
  if (unknown !== undefined)
    throw refused(shorten(unknown[0]), `$validate has no parameter ${shorten(unknown[0])}.`);
  const text = onlyOne('mode', given);
  const mode = MODES.find((known) => known === text);
  if (text !== undefined && mode === undefined)
    throw refused('mode', `The mode is one of ${MODES.join(', ')}; found ${shorten(text)}.`);
  return { mode, profile: onlyOne('profile', given) };
}

function onlyOne(wanted: string, given: readonly NamedText[]): string | undefined {
  const [first, ...others] = new Set(given.filter(([name]) => name === wanted).map(([, value]) => value));
  if (others.length > 0) throw refused(wanted, `${wanted} may be given once.`);
  return first;
}

interface FormRow {
  readonly name: string;
  readonly value: string;
  readonly resource: JsonValue | undefined;
}

/**
 * The rows of a Parameters resource; undefined for a bare resource. At the type Parameters itself a body is the form
 * only when it holds a Parameters to validate.
 */
function parametersIn(value: JsonValue, type: string): readonly FormRow[] | undefined {
  if (memberOf(value, 'resourceType') !== 'Parameters') return undefined;
  const rows = itemsOf(memberOf(value, 'parameter')).map(formRow);
  const isForm =
    type !== 'Parameters' || rows.some(({ resource }) => memberOf(resource, 'resourceType') === type);
  return isForm ? rows : undefined;
}

function formRow(item: JsonValue): FormRow {
  const texts = isRecord(item) ? Object.entries(item).filter(([name]) => name.startsWith('value')) : [];
  const name = memberOf(item, 'name');
  return { name: textIn(name), value: textIn(texts[0]?.[1]), resource: memberOf(item, 'resource') };
}

const textIn = (value: JsonValue | undefined): string => (typeof value === 'string' ? value : '');

/** The form itself must be valid; what is wrong within the resource is a finding. */
function refuseFaultyForm(value: JsonValue, validate: Validator): void {
  const issues = validate(value, 'Parameters').filter(
    ({ severity, expression }) =>
      severity !== 'warning' && severity !== 'information' && !isWithin(expression),
  );
  if (issues.length > 0) throw new FhirError('invalid', 'The Parameters are not valid.', issues);
}

const isWithin = (expression: string): boolean =>
  /^Parameters\.parameter\[\d+\]\.resource(?:\.|$)/.test(expression);

type JsonRecord = Readonly<Record<string, JsonValue>>;

const isRecord = (value: JsonValue | undefined): value is JsonRecord =>
  typeof value === 'object' && value !== null && !Array.isArray(value);

const memberOf = (value: JsonValue | undefined, name: string): JsonValue | undefined =>
  isRecord(value) ? value[name] : undefined;

const itemsOf = (value: JsonValue | undefined): readonly JsonValue[] =>
  Array.isArray(value) ? (value as readonly JsonValue[]) : [];
