import { fastify, LogController } from 'fastify';
import type { FastifyBaseLogger, FastifyInstance, LightMyRequestResponse } from 'fastify';
import type { Bundle, OperationOutcome } from 'fhir/r4.js';
import { pino } from 'pino';
import { answerError, answerUnreadableAddress } from '../../src/http/errors.js';
import { extractorsOf } from '../../src/http/extractors.js';
import { fhirDoors } from '../../src/http/fhir.js';
import type { ServiceOptions } from '../../src/http/index.js';
import { newId, transact, writeResources } from '../../src/store/index.js';
import type { ResourceContent } from '../../src/store/index.js';
import { ownConformance } from '../conformance.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';

export const PUBLIC_BASE = 'https://records.example';
export const BASE = `${PUBLIC_BASE}/fhir`;

/** The FHIR doors on a database of their own, with a clock that tests may move. */
export interface FhirService extends FreshDatabase {
  readonly app: FastifyInstance;
  readonly clock: { now: Date };
  /** Lines of the log, as objects. */
  readonly log: Record<string, unknown>[];
  /** Writes a resource as the exam doors do, past FHIR's. */
  store(resource: ResourceContent & { readonly id: string }): Promise<void>;
}

export async function openFhirService(options: Partial<ServiceOptions> = {}): Promise<FhirService> {
  const fresh = await freshDatabase({ extractors: extractorsOf({ siteZone: 'UTC', baseUrl: () => BASE }) });
  const clock = { now: new Date('2026-03-05T13:10:00.000Z') };
  const log: Record<string, unknown>[] = [];
  const logger: FastifyBaseLogger = pino(
    { level: 'trace' },
    { write: (line) => log.push(JSON.parse(line) as Record<string, unknown>) },
  );
  const app = fastify({
    loggerInstance: logger,
    logController: new LogController({ disableRequestLogging: true }),
    routerOptions: { caseSensitive: true },
    frameworkErrors: (error, request, reply) => {
      void answerUnreadableAddress(error, request, reply);
    },
  });
  app.setErrorHandler(answerError);
  fhirDoors(app, {
    db: fresh.db,
    conformance: ownConformance(),
    publicBaseUrl: () => PUBLIC_BASE,
    siteTimeZone: 'UTC',
    auth: 'off',
    clock: () => clock.now,
    newId,
    version: '0.0.0-test',
    logger,
    ...options,
  });
  await app.ready();
  const store = async ({ id, ...resource }: ResourceContent & { readonly id: string }): Promise<void> => {
    const write = { method: 'update', type: resource.resourceType, id, resource } as const;
    await transact(fresh.db, (tx) => writeResources(tx, [write], { at: clock.now }));
  };
  const drop = async (): Promise<void> => {
    await app.close();
    await fresh.drop();
  };
  return { ...fresh, app, clock, log, store, drop };
}

export const bundleOf = (response: LightMyRequestResponse): Bundle => response.json();

/** Severity, code and place of each issue of an OperationOutcome. */
export function issuesOf(response: LightMyRequestResponse): (string | undefined)[][] {
  const outcome = response.json<OperationOutcome>();
  return outcome.issue.map(({ severity, code, expression }) => [severity, code, expression?.[0]]);
}

/** The ids of a page's matches, in order. */
export function idsOf(bundle: Bundle): (string | undefined)[] {
  const matches = (bundle.entry ?? []).filter(({ search }) => search?.mode === 'match');
  return matches.map(({ resource }) => resource?.id);
}
