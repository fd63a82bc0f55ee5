import type { FastifyInstance, LightMyRequestResponse } from 'fastify';
import { pino } from 'pino';
import type { Issue } from '../../src/exam/index.js';
import { buildServer, extractorsOf } from '../../src/http/index.js';
import type { ServiceOptions } from '../../src/http/index.js';
import { newId } from '../../src/store/index.js';
import { ownConformance } from '../conformance.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';
import { inventedWard } from './invented-ward.js';

/** The whole service in this process, on a database of its own that holds the invented ward. */
export interface ExamService extends FreshDatabase {
  readonly app: FastifyInstance;
  /** Its clock, which tests may move. */
  readonly clock: { now: Date };
  /** Every line of its log, from level `trace` up. */
  readonly log: readonly string[];
}

const PUBLIC_BASE = 'http://127.0.0.1:7460';

const extractors = extractorsOf({ siteZone: 'UTC', baseUrl: () => `${PUBLIC_BASE}/fhir` });

export async function openExamService(options: Partial<ServiceOptions> = {}): Promise<ExamService> {
  const fresh = await freshDatabase({ extractors });
  const clock = { now: new Date('2026-03-05T14:00:00.000Z') };
  const log: string[] = [];
  const app = await buildServer({
    db: fresh.db,
    conformance: ownConformance(),
    publicBaseUrl: () => PUBLIC_BASE,
    siteTimeZone: 'UTC',
    auth: 'off',
    clock: () => clock.now,
    newId,
    version: '0.0.0-test',
    logger: pino({ level: 'trace' }, { write: (line) => log.push(line) }),
    ...options,
  });
  for (const resource of inventedWard) await putResource(app, resource);
  const drop = async (): Promise<void> => {
    await app.close();
    await fresh.drop();
  };
  return { ...fresh, app, clock, log, drop };
}

/** Writes a resource through the FHIR doors. */
export async function putResource(
  app: FastifyInstance,
  resource: { readonly resourceType: string; readonly id: string },
): Promise<LightMyRequestResponse> {
  return app.inject({
    method: 'PUT',
    url: `/fhir/${resource.resourceType}/${resource.id}`,
    headers: { 'content-type': 'application/fhir+json' },
    payload: JSON.stringify(resource),
  });
}

/** Sends a document, as text or as an object, to a door that takes JSON. */
export async function send(
  { app }: Pick<ExamService, 'app'>,
  document: string | Buffer | object,
  url = '/exams',
): Promise<LightMyRequestResponse> {
  const isText = typeof document === 'string' || Buffer.isBuffer(document);
  return app.inject({
    method: 'POST',
    url,
    headers: { 'content-type': 'application/json' },
    payload: isText ? document : JSON.stringify(document),
  });
}

/** The issues of an answer. */
export function issuesIn(response: LightMyRequestResponse): readonly Issue[] {
  return response.json<{ readonly issues: readonly Issue[] }>().issues;
}
