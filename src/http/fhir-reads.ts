import type { FastifyReply, FastifyRequest } from 'fastify';
import { AFTER, PAGE_SIZE, dateRange, parseSearch, writeHistory, writeSearchset } from '../fhir/index.js';
import type { FhirIssue, ParsedSearch, ResourceType, SearchFeature } from '../fhir/index.js';
import { countMatches, readHistory, readResource, readVersion, search } from '../store/index.js';
import type { StoredVersion } from '../store/index.js';
import { FhirError } from './errors.js';
import { etagOf, isUnchanged, preferenceOf, queryOf, searchParametersOf, sendFhir } from './fhir-exchange.js';
import type { ServiceOptions } from './service-options.js';

/** What the FHIR doors work with. */
export interface FhirContext extends Pick<
  ServiceOptions,
  'db' | 'conformance' | 'siteTimeZone' | 'clock' | 'newId'
> {
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: () => string;
}

/** Answers one interaction. */
export type Door = (request: FastifyRequest, reply: FastifyReply) => FastifyReply | Promise<FastifyReply>;

/** R4 http, read: the present version, or 404, or 410 once it is deleted. */
export function readDoor(type: ResourceType, { db }: FhirContext): Door {
  return async (request, reply) => {
    const { id } = request.params as { id: string };
    return sendVersion(request, reply, await readResource(db, type, id), `${type}/${id}`);
  };
}

/** R4 http, vread: one version, also of a resource that is deleted now. */
export function vreadDoor(type: ResourceType, { db }: FhirContext): Door {
  return async (request, reply) => {
    const { id, version } = request.params as { id: string; version: string };
    const found = /^[1-9]\d{0,8}$/.test(version)
      ? await readVersion(db, type, id, Number(version))
      : undefined;
    return sendVersion(request, reply, found, `${type}/${id}/_history/${version}`);
  };
}

/** The JSON text of the present version; throws as a read refuses. */
export async function readStanding(type: ResourceType, id: string, { db }: FhirContext): Promise<string> {
  return standing(await readResource(db, type, id), `${type}/${id}`).body.toString('utf8');
}

function standing(version: StoredVersion | undefined, asked: string): StoredVersion {
  if (version === undefined) throw new FhirError('not-found', `${asked} is not known.`);
  if (version.deleted) throw new FhirError('gone', `${asked} is deleted.`);
  return version;
}

function sendVersion(
  request: FastifyRequest,
  reply: FastifyReply,
  found: StoredVersion | undefined,
  asked: string,
): FastifyReply {
  const version = standing(found, asked);
  setVersionHeaders(reply, version);
  if (isUnchanged(request, etagOf(version.version), version.lastUpdated)) return reply.code(304).send();
  return sendFhir(reply, version.body);
}

/** ETag and Last-Modified mirror versionId and lastUpdated (R4 http). */
export function setVersionHeaders(reply: FastifyReply, version: StoredVersion): void {
  void reply.header('etag', etagOf(version.version));
  void reply.header('last-modified', version.lastUpdated.toUTCString());
}

/** R4 http, history of an instance: newest first, deletions included. */
export function historyDoor(type: ResourceType, { db, siteTimeZone, baseUrl }: FhirContext): Door {
  return async (request, reply) => {
    const { id } = request.params as { id: string };
    const asked = readHistoryQuery(request, siteTimeZone);
    const place = asked.before === undefined ? {} : { before: asked.before };
    const found = await readHistory(db, type, id, { count: asked.count + 1, ...place });
    const [newest] = found;
    if (newest === undefined && asked.before === undefined)
      throw new FhirError('not-found', `${type}/${id} is not known.`);
    const since = found.filter(({ lastUpdated }) => lastUpdated.getTime() >= asked.since);
    const versions = since.slice(0, asked.count);
    const url = new URL(`${baseUrl()}/${type}/${id}/_history`);
    url.search = new URLSearchParams(asked.used).toString();
    const last = versions.at(-1);
    return sendFhir(
      reply,
      writeHistory({
        baseUrl: baseUrl(),
        self: url.href,
        versions,
        ...(since.length > asked.count && last !== undefined ? { next: pageAfter(url, last.version) } : {}),
        // Versions count from 1 without gaps.
        ...(asked.isWhole && newest !== undefined ? { total: newest.version } : {}),
      }),
    );
  };
}

function pageAfter(self: URL, version: number): string {
  const next = new URL(self);
  next.searchParams.set(AFTER, String(version));
  return next.href;
}

interface HistoryQuery {
  readonly count: number;
  /** Only versions before this one: the place in the pages. */
  readonly before?: number;
  /** Milliseconds since 1970. */
  readonly since: number;
  /** Whether the pages hold every version and this is the first. */
  readonly isWhole: boolean;
  readonly used: [string, string][];
}

function readHistoryQuery(request: FastifyRequest, siteZone: string): HistoryQuery {
  const query = queryOf(request);
  const issues: FhirIssue[] = [];
  const whole = (name: string, fallback: number, least: number): number => {
    const text = query.get(name);
    if (text === null || text === '') return fallback;
    if (/^\d{1,9}$/.test(text) && Number(text) >= least) return Number(text);
    issues.push(historyFault(name, `${name} is a whole number of at least ${least}.`, text));
    return fallback;
  };
  const count = Math.min(whole('_count', PAGE_SIZE.default, 0), PAGE_SIZE.maximum);
  const before = whole(AFTER, 0, 1);
  const sinceText = query.get('_since')?.replace(' ', '+');
  const since = sinceText === undefined ? undefined : dateRange(sinceText, siteZone);
  if (sinceText !== undefined && since === undefined)
    issues.push(historyFault('_since', '_since is an instant.', sinceText));
  if (issues.length > 0) throw new FhirError('invalid', 'The history cannot be read so.', issues);
  return {
    count,
    ...(before === 0 ? {} : { before }),
    since: since?.low ?? Number.NEGATIVE_INFINITY,
    isWhole: before === 0 && since === undefined,
    used: [...query].filter(([name, value]) => ['_count', '_since', AFTER].includes(name) && value !== ''),
  };
}

function historyFault(name: string, diagnostics: string, found: string): FhirIssue {
  const expression = `http.${name}`;
  return { severity: 'error', code: 'value', rule: 'search-value', expression, diagnostics, found };
}

/** What a search may ask for and is not answered by these doors. */
export const NOT_ANSWERED: ReadonlySet<SearchFeature> = new Set([
  ...(['text', 'quantity', 'uri', 'pair', 'chain', 'has'] as const),
  ...(['include', 'summary', 'elements'] as const),
]);

/** R4 search on one type, by GET or by POST of a form: both mean the same. */
export function searchDoor(type: ResourceType, context: FhirContext): Door {
  return async (request, reply) => {
    const parsed = parseSearch(type, searchParametersOf(request), {
      siteZone: context.siteTimeZone,
      baseUrl: context.baseUrl(),
      now: context.clock().getTime(),
      strict: preferenceOf(request).strict,
      notAnswered: NOT_ANSWERED,
    });
    if (!parsed.ok) throw new FhirError('invalid', 'The search cannot be read.', parsed.issues);
    const page = await findPage(parsed.search, context);
    const { used, warnings } = parsed.search;
    return sendFhir(reply, writeSearchset({ baseUrl: context.baseUrl(), type, used, warnings, ...page }));
  };
}

interface FoundPage {
  readonly matches: readonly StoredVersion[];
  readonly next?: string;
  readonly total?: number;
}

async function findPage(asked: ParsedSearch, { db }: FhirContext): Promise<FoundPage> {
  const { query, countOnly, wantsTotal } = asked;
  if (countOnly) return { matches: [], total: await countMatches(db, query) };
  const { matches, next } = await search(db, query);
  const place = next === undefined ? {} : { next };
  if (wantsTotal) return { matches, ...place, total: await countMatches(db, query) };
  const isAll = next === undefined && query.after === undefined;
  return { matches, ...place, ...(isAll ? { total: matches.length } : {}) };
}
