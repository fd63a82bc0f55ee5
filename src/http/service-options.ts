import type { FastifyBaseLogger } from 'fastify';
import type { PublishedDefinition, Validator } from '../fhir/index.js';
import type { NamedLink } from '../pages/index.js';
import type { Database } from '../store/index.js';

/** The rules that resources are held to, and the definitions that say them. */
export interface Conformance {
  /** Our own and those of the deployment; all are published. */
  readonly definitions: readonly PublishedDefinition[];
  /** Base R4 and every profile among the definitions. */
  readonly validate: Validator;
}

/** What every door needs to know of the running service. */
export interface ServiceOptions {
  readonly db: Database;
  readonly conformance: Conformance;
  /** Base of absolute URLs, without a trailing slash; a function, because port 0 is known only once it listens. */
  readonly publicBaseUrl: () => string;
  /** IANA zone of shifts and of dates without a time. */
  readonly siteTimeZone: string;
  readonly auth: 'off' | 'required';
  readonly clock: () => Date;
  /** A new time-ordered id (RFC 9562 UUIDv7). */
  readonly newId: () => string;
  readonly version: string;
  readonly logger: FastifyBaseLogger;
  /** What the start page names to look at first. */
  readonly examples?: readonly NamedLink[];
}

/** Largest request body, in bytes: 2 MiB. */
export const BODY_LIMIT = 2 * 1024 * 1024;
