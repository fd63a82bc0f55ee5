import type { FastifyRequest } from 'fastify';
import { FhirError } from './errors.js';

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

const UTF8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });
