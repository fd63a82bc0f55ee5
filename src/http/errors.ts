import type { FastifyError, FastifyReply, FastifyRequest } from 'fastify';
import type { Issue } from '../exam/index.js';
import { AFTER, stringifyJson, toOperationOutcome } from '../fhir/index.js';
import type { FhirIssue } from '../fhir/index.js';
import { isUnavailable, StoreRefusal } from '../store/index.js';
import type { RefusalCode } from '../store/index.js';
import { FaultyOwnResource } from './own-resources.js';

/** Each refusal of a door: its HTTP status, and its issue type in an OperationOutcome (R4 value set issue-type). */
const FAULTS = {
  'not-json': { status: 400, issue: 'structure' },
  invalid: { status: 400, issue: 'invalid' },
  'not-supported': { status: 400, issue: 'not-supported' },
  unauthorized: { status: 401, issue: 'login' },
  forbidden: { status: 403, issue: 'forbidden' },
  'not-found': { status: 404, issue: 'not-found' },
  'unknown-type': { status: 404, issue: 'not-supported' },
  'method-not-allowed': { status: 405, issue: 'not-supported' },
  'not-acceptable': { status: 406, issue: 'not-supported' },
  conflict: { status: 409, issue: 'conflict' },
  gone: { status: 410, issue: 'deleted' },
  'precondition-failed': { status: 412, issue: 'conflict' },
  'too-large': { status: 413, issue: 'too-long' },
  'unsupported-media-type': { status: 415, issue: 'not-supported' },
  unprocessable: { status: 422, issue: 'business-rule' },
  unavailable: { status: 503, issue: 'transient' },
  'internal-error': { status: 500, issue: 'exception' },
} as const satisfies Record<string, { status: number; issue: FhirIssue['code'] }>;

export type FhirErrorCode = keyof typeof FAULTS;

/** A refusal: something the caller can understand and mend. A bug is any other error. */
export class FhirError extends Error {
  override readonly name = 'FhirError';
  readonly code: FhirErrorCode;
  /** Every fault of a resource or search with its place; empty where the sentence says it all. */
  readonly issues: readonly FhirIssue[];

  /** `sentence` goes to the caller, never into the log. */
  constructor(code: FhirErrorCode, sentence: string, issues: readonly FhirIssue[] = []) {
    super(sentence);
    this.code = code;
    this.issues = issues;
  }
}

/** A refusal of a door other than FHIR that tells every fault with its place. */
export class RefusedRequest extends Error {
  override readonly name = 'RefusedRequest';
  readonly status: 400 | 422;
  readonly issues: readonly Issue[];

  constructor(status: 400 | 422, issues: readonly Issue[]) {
    super('refused');
    this.status = status;
    this.issues = issues;
  }
}

/** Answers a fault of the FHIR doors with an OperationOutcome. */
export function answerFhirError(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  const { code, sentence, issues } = tellFault(error, request, reply);
  const told = issues.length > 0 ? issues : [issueOf(code, sentence)];
  return reply
    .code(FAULTS[code].status)
    .type('application/fhir+json; charset=utf-8')
    .send(stringifyJson(toOperationOutcome(told)));
}

/** Answers a fault of the other doors with `{ issues }`, in the shape that a refused exam document has. */
export function answerError(error: unknown, request: FastifyRequest, reply: FastifyReply): FastifyReply {
  if (error instanceof RefusedRequest) return sendIssues(reply, error.status, error.issues);
  const { code, sentence } = tellFault(error, request, reply);
  return sendIssues(reply, FAULTS[code].status, [{ severity: 'error', code, place: '', sentence }]);
}

function sendIssues(reply: FastifyReply, status: number, issues: readonly Issue[]): FastifyReply {
  return reply.code(status).type('application/json; charset=utf-8').send(stringifyJson({ issues }));
}

/** Answers a fault that was found before any door: an address that cannot be read (Fastify's `frameworkErrors`). */
export function answerUnreadableAddress(
  error: unknown,
  request: FastifyRequest,
  reply: FastifyReply,
): FastifyReply {
  const isFhir = /^\/fhir(?:\/|\?|$)/.test(request.raw.url ?? '');
  return isFhir ? answerFhirError(error, request, reply) : answerError(error, request, reply);
}

interface Fault {
  readonly code: FhirErrorCode;
  readonly sentence: string;
  readonly issues: readonly FhirIssue[];
}

/** What the caller is told; what is our own fault is logged, without the patient's data. */
function tellFault(error: unknown, request: FastifyRequest, reply: FastifyReply): Fault {
  const fault = faultOf(error, request);
  if (fault.code === 'unavailable') void reply.header('retry-after', String(RETRY_AFTER_SECONDS));
  if (FAULTS[fault.code].status >= 500) {
    const { method, routeOptions } = request;
    // The route's pattern, because a URL may hold patient data (R4 search: choosing an HTTP method).
    request.log.error({ method, route: routeOptions.url, cause: causeOf(error) }, 'request failed');
  }
  return fault;
}

const RETRY_AFTER_SECONDS = 5;

function faultOf(error: unknown, request: FastifyRequest): Fault {
  if (error instanceof FhirError) return { code: error.code, sentence: error.message, issues: error.issues };
  if (error instanceof StoreRefusal) return refusalOf(error);
  const known = isFastifyError(error) ? requestFaultOf(error) : undefined;
  if (known !== undefined) return { ...known, issues: [] };
  if (isUnavailable(error))
    return { code: 'unavailable', sentence: 'The database cannot be reached now; try again.', issues: [] };
  const sentence = `A fault of the service; the operator finds it in the log as ${request.id}.`;
  return { code: 'internal-error', sentence, issues: [] };
}

/** What the store's refusals are over HTTP. */
const REFUSALS: Readonly<Record<RefusalCode, FhirErrorCode>> = {
  'not-found': 'not-found',
  'id-taken': 'precondition-failed',
  'version-conflict': 'precondition-failed',
  'written-twice': 'conflict',
  'bad-cursor': 'invalid',
  'client-id-taken': 'conflict',
  'draft-of-another': 'forbidden',
};

/** The parameter of a search that a refusal is about. */
const REFUSED_PARAMETERS: ReadonlyMap<RefusalCode, string> = new Map([['bad-cursor', AFTER]]);

/** The store's message names ids alone, and those the caller sent. */
function refusalOf({ code, message }: StoreRefusal): Fault {
  const parameter = REFUSED_PARAMETERS.get(code);
  const place = `http.${parameter ?? ''}`;
  const issue = { ...issueOf(REFUSALS[code], message), expression: place };
  return { code: REFUSALS[code], sentence: message, issues: parameter === undefined ? [] : [issue] };
}

/** Faults that the HTTP library finds in a request, by its code. */
const REQUEST_FAULTS: ReadonlyMap<string, Omit<Fault, 'issues'>> = new Map([
  ['FST_ERR_CTP_BODY_TOO_LARGE', { code: 'too-large', sentence: 'The body is larger than 2 MiB.' }],
  [
    'FST_ERR_CTP_INVALID_MEDIA_TYPE',
    { code: 'unsupported-media-type', sentence: 'The Content-Type is not one that this door reads.' },
  ],
  [
    'FST_ERR_CTP_INVALID_CONTENT_LENGTH',
    { code: 'invalid', sentence: 'The Content-Length is not that of the body.' },
  ],
  ['FST_ERR_MAX_PARAM_LENGTH', { code: 'not-found', sentence: 'No id is as long as the one in the URL.' }],
  ['FST_ERR_BAD_URL', { code: 'invalid', sentence: 'The URL is not well formed.' }],
]);

function requestFaultOf({ code, statusCode }: FastifyError): Omit<Fault, 'issues'> | undefined {
  const isCallers = statusCode !== undefined && statusCode >= 400 && statusCode < 500;
  return (
    REQUEST_FAULTS.get(code) ??
    (isCallers ? { code: 'invalid', sentence: 'The request could not be read.' } : undefined)
  );
}

function isFastifyError(error: unknown): error is FastifyError {
  return (
    error instanceof Error &&
    'code' in error &&
    typeof error.code === 'string' &&
    error.code.startsWith('FST_')
  );
}

function issueOf(code: FhirErrorCode, diagnostics: string): FhirIssue {
  return { severity: 'error', code: FAULTS[code].issue, rule: code, expression: '', diagnostics };
}

/**
 * An error as the log may hold it: kind, code and where it was thrown. The message is left out, because it may quote
 * a value (of a statement, of a text that was read), except of errors whose message is about the program alone.
 */
function causeOf(error: unknown): object {
  if (!(error instanceof Error)) return { kind: typeof error };
  const frames = (error.stack ?? '').split('\n').filter((line) => /^\s+at /.test(line));
  const isOfProgram = OF_PROGRAM.some((kind) => error instanceof kind);
  return {
    kind: error.name,
    ...('code' in error && typeof error.code === 'string' ? { code: error.code } : {}),
    ...(isOfProgram ? { message: error.message } : {}),
    frames: frames.map((frame) => frame.trim()),
    ...(error.cause === undefined ? {} : { cause: causeOf(error.cause) }),
  };
}

const OF_PROGRAM = [TypeError, ReferenceError, FaultyOwnResource] as const;
