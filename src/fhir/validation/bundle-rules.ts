import { readReference } from '../references.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

/** A URI with its scheme (RFC 3986, 4.3). */
const ABSOLUTE = /^[A-Za-z][A-Za-z\d+.-]*:\S/;

/** Bundles whose entries need no full URL: it "can be empty on a POST", and answers name what was posted. */
const WITHOUT_FULL_URL: ReadonlySet<unknown> = new Set([
  'transaction',
  'batch',
  'transaction-response',
  'batch-response',
]);

/**
 * What R4 asks of an entry's fullUrl in prose (Bundle.entry.fullUrl): that it is absolute, and that it does not disagree
 * with the id of the resource where it has the form of a RESTful URL. That it is missing is only a warning: "Results from
 * operations might involve resources that are not identified".
 */
export function checkFullUrl(entry: JsonObject, walk: Walk): void {
  const { fullUrl, resource } = entry;
  if (typeof fullUrl !== 'string') {
    checkMissingFullUrl(entry, walk);
  } else if (!ABSOLUTE.test(fullUrl)) {
    const diagnostics = `"${fullUrl}" is no absolute URL; a fullUrl names a server, or is a URN.`;
    walk.reportAt('fullUrl', { code: 'value', rule: 'full-url', diagnostics, found: fullUrl });
  } else if (isJsonObject(resource)) {
    checkAgreement(fullUrl, resource, walk);
  }
}

function checkMissingFullUrl(entry: JsonObject, walk: Walk): void {
  const { resource } = entry;
  if (entry['_fullUrl'] !== undefined || !isJsonObject(resource) || resource['id'] === undefined) return;
  if (WITHOUT_FULL_URL.has(walk.resource['type'])) return;
  const diagnostics = 'The entry has no fullUrl, so that references to its resource cannot be resolved.';
  walk.reportAt('fullUrl', { severity: 'warning', code: 'required', rule: 'full-url', diagnostics });
}

function checkAgreement(fullUrl: string, { resourceType, id }: JsonObject, walk: Walk): void {
  const form = readReference(fullUrl);
  if (form?.kind !== 'absolute' || typeof id !== 'string' || typeof resourceType !== 'string') return;
  if (form.type === resourceType && form.id === id) return;
  walk.reportAt('fullUrl', {
    code: 'value',
    rule: 'full-url',
    diagnostics: `The fullUrl names ${form.type}/${form.id}, but the resource is ${resourceType}/${id}.`,
    found: fullUrl,
    allowed: `${resourceType}/${id}`,
  });
}

/** R4 Bundle.entry.response.status: "The status SHALL start with a 3 digit HTTP code". */
export function checkResponseStatus({ status }: JsonObject, walk: Walk): void {
  if (typeof status !== 'string' || /^[1-5]\d\d(?!\d)/.test(status)) return;
  const diagnostics = `"${status.slice(0, 100)}" does not start with a status of HTTP: three digits.`;
  walk.reportAt('status', { code: 'value', rule: 'response-status', diagnostics, found: status });
}

/**
 * R4 bundle, "Resolving references in Bundles": a URN names nothing outside the Bundle. One that no entry has is a warning:
 * the resource may be known to the receiver by other ways.
 */
export function checkUrns(bundle: JsonObject, walk: Walk): void {
  const entries = objectsIn(bundle['entry']);
  const known = new Set(entries.map(({ fullUrl }) => fullUrl));
  const missing = new Set(urnsIn(entries.map(({ resource }) => resource)).filter((urn) => !known.has(urn)));
  for (const urn of missing) {
    const diagnostics = `A reference to ${urn} stands in the Bundle, and no entry has it as fullUrl.`;
    walk.report({
      severity: 'warning',
      code: 'not-found',
      rule: 'bundle-reference',
      diagnostics,
      found: urn,
    });
  }
}

/** The references by URN anywhere in a value; each object is looked at once. */
function urnsIn(value: unknown): readonly string[] {
  const urns: string[] = [];
  const seen = new Set<unknown>();
  const waiting: unknown[] = [value];
  while (waiting.length > 0) {
    const next = waiting.pop();
    if (typeof next !== 'object' || next === null || seen.has(next)) continue;
    seen.add(next);
    if (isJsonObject(next) && isUrn(next['reference'])) urns.push(next['reference']);
    for (const each of Object.values(next)) if (typeof each === 'object') waiting.push(each);
  }
  return urns;
}

const isUrn = (text: unknown): text is string => typeof text === 'string' && /^urn:(?:uuid|oid):/i.test(text);
