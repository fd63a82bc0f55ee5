import type { FastifyRequest } from 'fastify';
import type { z } from 'zod';
import type { Issue } from '../exam/index.js';
import { parseJson } from '../fhir/index.js';
import type { JsonValue } from '../fhir/index.js';
import { FhirError, RefusedRequest } from './errors.js';

/** What the answers of the doors other than FHIR are labelled with. */
export const JSON_TYPE = 'application/json; charset=utf-8';

/**
 * A body as text, which no parser of JSON has touched, so that digits and places survive. RFC 8259, 8.1: JSON is
 * UTF-8; a byte that is not would be stored as something else.
 */
export function textOfBody(request: FastifyRequest, body: Buffer): string {
  const { 'content-type': type = '', 'content-encoding': encoding = 'identity' } = request.headers;
  const charset = /;\s*charset="?([^\s;"]+)/i.exec(type)?.[1] ?? 'utf-8';
  if (!/^utf-?8$/i.test(charset) || encoding.toLowerCase() !== 'identity')
    throw new FhirError('unsupported-media-type', 'Bodies are read as UTF-8 without compression.');
  try {
    return UTF8.decode(body);
  } catch {
    throw new FhirError('not-json', 'The body is not UTF-8.');
  }
}

/** The text of a request's body; empty where it has none, also without a Content-Type. */
export function bodyOf(request: FastifyRequest): string {
  return (request.body as string | undefined) ?? '';
}

/** The JSON value of a request's body, or a refusal with every fault of the text and its place. */
export function documentOf(request: FastifyRequest): JsonValue {
  const parsed = parseJson(bodyOf(request));
  if (parsed.ok) return parsed.value;
  const issues = parsed.faults.map(({ code, pointer, sentence, line, column }): Issue => {
    const found = { line, column };
    return { severity: 'error', code, place: pointer, found, sentence };
  });
  throw new RefusedRequest(422, issues);
}

/**
 * The query of a request by its schema, or a refusal with every fault of it; the place is `/` and the parameter's name.
 * A parameter without a value asks for nothing, as in a search over FHIR.
 */
export function queryBy<T>(schema: z.ZodType<T>, request: FastifyRequest): T {
  const all = Object.entries(request.query as Readonly<Record<string, unknown>>);
  const sent = Object.fromEntries(all.filter(([, value]) => value !== ''));
  const read = schema.safeParse(sent);
  if (read.success) return read.data;
  throw new RefusedRequest(
    400,
    read.error.issues.flatMap((fault) => queryIssues(fault, sent)),
  );
}

function queryIssues(fault: z.core.$ZodIssue, sent: Readonly<Record<string, unknown>>): readonly Issue[] {
  if (fault.code === 'unrecognized_keys')
    return fault.keys.map((key) => {
      const name = key.slice(0, 80);
      return queryIssue(name, 'unknown-parameter', `There is no parameter "${name}" here.`);
    });
  const name = String(fault.path[0] ?? '');
  if (Array.isArray(sent[name])) return [queryIssue(name, 'given-twice', `${name} is given more than once.`)];
  if (fault.code === 'invalid_value') {
    const allowed = fault.values.map(String);
    return [queryIssue(name, 'unknown-word', `${name} is one of ${allowed.join(', ')}.`, allowed)];
  }
  return [queryIssue(name, 'invalid', `${name}: ${fault.message}.`)];
}

function queryIssue(name: string, code: string, sentence: string, allowed?: readonly string[]): Issue {
  const place = `/${name.replaceAll('~', '~0').replaceAll('/', '~1')}`;
  return { severity: 'error', code, place, ...(allowed === undefined ? {} : { allowed }), sentence };
}

const UTF8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
