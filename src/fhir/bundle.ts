import { stringifyJson } from './json.js';
import { toOperationOutcome } from './issue.js';
import type { FhirIssue } from './issue.js';
import { AFTER } from './parse-search.js';
import type { Parameter } from './parse-search.js';

/** A version of a resource as it is kept: its `body` is the JSON that is sent, byte by byte. */
export interface BundledVersion {
  readonly type: string;
  readonly id: string;
  readonly version: number;
  readonly lastUpdated: Date;
  /** How this version came to be. */
  readonly operation: 'create' | 'update' | 'delete';
  /** Empty for a deletion. */
  readonly body: Uint8Array;
}

export interface SearchPage {
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: string;
  readonly type: string;
  /** The parameters that took part. */
  readonly used: readonly Parameter[];
  readonly matches: readonly Pick<BundledVersion, 'type' | 'id' | 'body'>[];
  /** The place in the pages where the next one starts; absent on the last. */
  readonly next?: string;
  readonly total?: number;
  /** What was left out of the search, told in one entry of its own. */
  readonly warnings: readonly FhirIssue[];
}

/** Writes a page of a search (R4 search, Bundle `searchset`) around the stored bytes, which are not parsed. */
export function writeSearchset(page: SearchPage): Buffer {
  const { baseUrl, type, used, next, total } = page;
  const self = searchUrl(baseUrl, type, used);
  const links = [{ relation: 'self', url: self }];
  if (next !== undefined) {
    const others = used.filter(([name]) => name !== AFTER);
    links.push({ relation: 'next', url: searchUrl(baseUrl, type, [...others, [AFTER, next]]) });
  }
  const entries = page.matches.map((match) =>
    writeEntry({ fullUrl: `${baseUrl}/${match.type}/${match.id}` }, match.body, {
      search: { mode: 'match' },
    }),
  );
  if (page.warnings.length > 0) {
    const outcome = Buffer.from(stringifyJson(toOperationOutcome(page.warnings)));
    entries.push(writeEntry({}, outcome, { search: { mode: 'outcome' } }));
  }
  return writeBundle({ type: 'searchset', ...(total === undefined ? {} : { total }), link: links }, entries);
}

export interface HistoryPage {
  /** The FHIR base, without a slash at its end. */
  readonly baseUrl: string;
  readonly self: string;
  readonly next?: string;
  /** Versions in all, where it is known. */
  readonly total?: number;
  /** Newest first. */
  readonly versions: readonly BundledVersion[];
}

/** Writes versions of a resource (R4 http, Bundle `history`): each with the request that made it, deletions included. */
export function writeHistory({ baseUrl, self, next, total, versions }: HistoryPage): Buffer {
  const links = [{ relation: 'self', url: self }];
  if (next !== undefined) links.push({ relation: 'next', url: next });
  const entries = versions.map((version) =>
    writeEntry(
      { fullUrl: `${baseUrl}/${version.type}/${version.id}` },
      version.operation === 'delete' ? undefined : version.body,
      { request: requestOf(version), response: responseOf(version) },
    ),
  );
  return writeBundle({ type: 'history', ...(total === undefined ? {} : { total }), link: links }, entries);
}

/** The URL of a search, as a GET. Separators stay readable; what RFC 3986 reserves or forbids is encoded. */
export function searchUrl(baseUrl: string, type: string, used: readonly Parameter[]): string {
  const query = used.map(([name, value]) => `${encode(name)}=${encode(value)}`).join('&');
  return query === '' ? `${baseUrl}/${type}` : `${baseUrl}/${type}?${query}`;
}

function encode(text: string): string {
  return encodeURIComponent(text).replaceAll(/%(?:2C|3A|2F)/g, decodeURIComponent);
}

const STATUS = { create: '201', update: '200', delete: '204' } as const;
const METHOD = { create: 'POST', update: 'PUT', delete: 'DELETE' } as const;

function requestOf({ type, id, operation }: BundledVersion): object {
  return { method: METHOD[operation], url: operation === 'create' ? type : `${type}/${id}` };
}

function responseOf({ operation, version, lastUpdated }: BundledVersion): object {
  return {
    status: STATUS[operation],
    etag: `W/"${String(version)}"`,
    lastModified: lastUpdated.toISOString(),
  };
}

/** The members before the resource, the resource's own bytes, and the members after it. */
function writeEntry(before: object, body: Uint8Array | undefined, after: object): Buffer {
  const members = [before, after].map((part) => stringifyJson(part).slice(1, -1));
  const [head = '', tail = ''] = members;
  if (body === undefined) return Buffer.from(`{${members.filter((part) => part !== '').join(',')}}`);
  const opening = head === '' ? '{"resource":' : `{${head},"resource":`;
  return Buffer.concat([Buffer.from(opening), body, Buffer.from(`,${tail}}`)]);
}

/** An empty `entry` is left out: FHIR JSON knows no empty arrays. */
function writeBundle(head: object, entries: readonly Buffer[]): Buffer {
  const opening = stringifyJson({ resourceType: 'Bundle', ...head });
  if (entries.length === 0) return Buffer.from(opening);
  const comma = Buffer.from(',');
  const parts = entries.flatMap((entry, index) => (index === 0 ? [entry] : [comma, entry]));
  return Buffer.concat([Buffer.from(`${opening.slice(0, -1)},"entry":[`), ...parts, Buffer.from(']}')]);
}
