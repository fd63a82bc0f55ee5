import type { FastifyReply, FastifyRequest } from 'fastify';
import { issueOfJsonFault, parseJson } from '../fhir/index.js';
import type { JsonValue, Parameter, ResourceType } from '../fhir/index.js';
import { FhirError } from './errors.js';
import { textOfBody } from './exchange.js';
import { BODY_LIMIT } from './service-options.js';

/** What every answer in FHIR JSON is labelled with (R4 http, content types and encodings). */
export const FHIR_JSON = 'application/fhir+json; charset=utf-8';

const JSON_TYPES: ReadonlySet<string> = new Set(['application/fhir+json', 'application/json', 'text/json']);
const ANY_TYPES: ReadonlySet<string> = new Set(['*/*', 'application/*']);

/**
 * Refuses a reader who takes no JSON. `_format` goes before Accept and may say `json` (R4 http: content types); in a
 * query its plus sign often arrives as a space.
 */
export function refuseOtherFormats(format: string | undefined, accept: string | undefined): void {
  const stated = format?.replace(' ', '+').split(';')[0]?.trim().toLowerCase();
  const takesJson =
    stated === undefined || stated === '' ? acceptsJson(accept) : stated === 'json' || JSON_TYPES.has(stated);
  if (!takesJson) throw new FhirError('not-acceptable', 'Answers are given as application/fhir+json alone.');
}

function acceptsJson(accept: string | undefined): boolean {
  if (accept === undefined || accept.trim() === '') return true;
  return accept.split(',').some((range) => {
    const [type = '', ...parameters] = range.split(';').map((part) => part.trim().toLowerCase());
    const isRefused = parameters.some((parameter) => /^q=0(\.0*)?$/.test(parameter));
    return !isRefused && (JSON_TYPES.has(type) || ANY_TYPES.has(type));
  });
}

/** The parameters of the URL, in their order. */
export function queryOf(request: FastifyRequest): URLSearchParams {
  const url = request.raw.url ?? '';
  const mark = url.indexOf('?');
  return new URLSearchParams(mark < 0 ? '' : url.slice(mark + 1));
}

/** The parameters of a search, by GET or by POST of a form: both mean the same (R4 search). */
export function searchParametersOf(request: FastifyRequest): readonly Parameter[] {
  const form = request.body as RequestBody;
  if (typeof form === 'string')
    throw new FhirError('unsupported-media-type', 'A search is sent as application/x-www-form-urlencoded.');
  const parameters = [...queryOf(request), ...(form ?? [])];
  refuseOtherFormats(parameters.find(([name]) => name === '_format')?.[1], request.headers.accept);
  return parameters;
}

/** `Prefer` (RFC 7240) as FHIR uses it. */
export interface Preference {
  readonly strict: boolean;
  readonly answer: 'minimal' | 'representation' | 'OperationOutcome';
}

/** Reads `Prefer: handling=strict, return=minimal`; what is not known is passed over, as RFC 7240 asks. */
export function preferenceOf(request: FastifyRequest): Preference {
  const header = request.headers['prefer'];
  const text = Array.isArray(header) ? header.join(',') : (header ?? '');
  const stated = new Map(
    text.split(/[,;]/).map((part) => {
      const [name = '', value = ''] = part.split('=').map((side) => side.trim().replaceAll('"', ''));
      return [name.toLowerCase(), value];
    }),
  );
  const answer = stated.get('return');
  return {
    strict: stated.get('handling') === 'strict',
    answer: answer === 'minimal' || answer === 'OperationOutcome' ? answer : 'representation',
  };
}

/** The entity tag of a version (R4 http: weak, and equal to versionId). */
export function etagOf(version: number): string {
  return `W/"${version}"`;
}

/** Whether the reader already has this: If-None-Match, or without it If-Modified-Since (RFC 9110, 13.2.2). */
export function isUnchanged(request: FastifyRequest, etag: string, lastModified?: Date): boolean {
  const { 'if-none-match': held, 'if-modified-since': since } = request.headers;
  if (held !== undefined) return held.trim() === '*' || tagsOf(held).includes(opaque(etag));
  if (since === undefined || lastModified === undefined) return false;
  const asked = Date.parse(since);
  return !Number.isNaN(asked) && Math.floor(lastModified.getTime() / 1000) * 1000 <= asked;
}

const opaque = (tag: string): string => tag.replace(/^W\//, '').replaceAll('"', '');
const tagsOf = (header: string): readonly string[] => header.split(',').map((tag) => opaque(tag.trim()));

/** The version that If-Match asks for; undefined without one. `W/"3"`, `"3"` and `3` are the same. */
export function versionToMatch(request: FastifyRequest): number | undefined {
  const header = request.headers['if-match'];
  if (header === undefined) return undefined;
  const version = /^(?:W\/)?(?:"([1-9]\d{0,8})"|([1-9]\d{0,8}))$/.exec(header.trim());
  if (version === null) throw new FhirError('invalid', 'If-Match holds one version, as W/"3".');
  return Number(version[1] ?? version[2]);
}

/** The JSON text of a body, or the form of a search; undefined without a body. */
export type RequestBody = string | URLSearchParams | undefined;

/** Reads bodies as text, which no parser of JSON has touched, so that digits and places survive. */
export function addBodyParsers(scope: {
  removeAllContentTypeParsers(): void;
  addContentTypeParser(
    type: string | string[],
    options: { parseAs: 'buffer'; bodyLimit: number },
    parser: (request: FastifyRequest, body: Buffer) => Promise<RequestBody>,
  ): unknown;
}): void {
  const options = { parseAs: 'buffer', bodyLimit: BODY_LIMIT } as const;
  scope.removeAllContentTypeParsers();
  scope.addContentTypeParser([...JSON_TYPES], options, (request, body) =>
    Promise.resolve(textOfBody(request, body)),
  );
  scope.addContentTypeParser('application/x-www-form-urlencoded', options, (request, body) =>
    Promise.resolve(new URLSearchParams(textOfBody(request, body))),
  );
}

/** The JSON value of a body that is to be a resource, or a refusal with every fault of the text and its place. */
export function jsonOf(request: FastifyRequest, type: ResourceType): JsonValue {
  const body = request.body as RequestBody;
  if (body instanceof URLSearchParams)
    throw new FhirError('unsupported-media-type', 'A resource is sent as application/fhir+json.');
  if (body === undefined) throw new FhirError('not-json', 'The request has no body; a resource is expected.');
  const parsed = parseJson(body);
  if (parsed.ok) return parsed.value;
  throw new FhirError(
    'not-json',
    'The body is not JSON.',
    parsed.faults.map((fault) => issueOfJsonFault(fault, type)),
  );
}

/** Sends bytes or text of FHIR JSON. */
export function sendFhir(reply: FastifyReply, body: Buffer | string): FastifyReply {
  return reply.type(FHIR_JSON).send(body);
}
