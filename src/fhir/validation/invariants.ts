import { dateRange } from '../instants.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

/**
 * An invariant that is written in code as well as in FHIRPath, because it stands on what is written most. It is used in
 * the place of a constraint only when both key and expression are those of the constraint.
 */
export interface NativeInvariant {
  readonly key: string;
  /** The FHIRPath that it must agree with on every element. */
  readonly expression: string;
  /** Whether the element keeps the invariant. The element has the right shape, or its faults are told elsewhere. */
  readonly holds: (element: JsonObject, walk: Walk) => boolean;
  /** One sentence on an element that breaks it; without it, the standard's own words are told. */
  readonly explain?: (element: JsonObject) => string;
}

/** The kinds of Bundle whose entries have a request, and those whose entries have a response (bdl-3, bdl-4). */
const REQUESTS: ReadonlySet<unknown> = new Set(['batch', 'transaction', 'history']);
const RESPONSES: ReadonlySet<unknown> = new Set(['batch-response', 'transaction-response', 'history']);

/** The invariants of R4 that are written in code, most of those that an Observation or a Patient can break. */
export const NATIVE_INVARIANTS: readonly NativeInvariant[] = [
  {
    key: 'ext-1',
    expression: 'extension.exists() != value.exists()',
    holds: (extension) => has(extension, 'extension') !== hasChoice(extension, 'value'),
    explain: (extension) =>
      `An extension must have either a value or extensions; this one has ${has(extension, 'extension') ? 'both' : 'neither'}.`,
  },
  {
    key: 'att-1',
    expression: 'data.empty() or contentType.exists()',
    holds: (attachment) => !has(attachment, 'data') || has(attachment, 'contentType'),
    explain: () => 'An attachment holds data and does not say of which contentType.',
  },
  {
    key: 'cpt-2',
    expression: 'value.empty() or system.exists()',
    holds: (contact) => !has(contact, 'value') || has(contact, 'system'),
    explain: () => 'A contact has a value without the system (phone, email ...) that it is of.',
  },
  {
    key: 'per-1',
    expression: 'start.hasValue().not() or end.hasValue().not() or (start <= end)',
    holds: ({ start, end }) =>
      typeof start !== 'string' || typeof end !== 'string' || isInOrder(start, end) !== false,
    explain: ({ start, end }) =>
      `The period starts (${shown(start)}) after it ends (${shown(end)}), or their order cannot be told.`,
  },
  {
    key: 'qty-3',
    expression: 'code.empty() or system.exists()',
    holds: (quantity) => !has(quantity, 'code') || has(quantity, 'system'),
    explain: ({ code }) => `The code for the unit (${shown(code)}) stands without the system it comes from.`,
  },
  {
    key: 'sqty-1',
    expression: 'comparator.empty()',
    holds: (quantity) => !has(quantity, 'comparator'),
    explain: ({ comparator }) => `A comparator (${shown(comparator)}) is not allowed on this quantity.`,
  },
  {
    key: 'rat-1',
    expression: '(numerator.empty() xor denominator.exists()) and (numerator.exists() or extension.exists())',
    holds: (ratio) =>
      has(ratio, 'numerator') === has(ratio, 'denominator') &&
      (has(ratio, 'numerator') || has(ratio, 'extension')),
    explain: () =>
      'A ratio must have both numerator and denominator, or neither and an extension in their place.',
  },
  {
    key: 'ref-1',
    expression:
      "reference.startsWith('#').not() or (reference.substring(1).trace('url') in %rootResource.contained.id.trace('ids'))",
    holds: ({ reference }, walk) =>
      typeof reference !== 'string' ||
      !reference.startsWith('#') ||
      walk.findContained(reference.slice(1)) !== undefined,
    explain: ({ reference }) =>
      `"${shown(reference)}" points into this resource, which contains no resource with that id.`,
  },
  {
    key: 'obs-3',
    expression: 'low.exists() or high.exists() or text.exists()',
    holds: (range) => has(range, 'low') || has(range, 'high') || has(range, 'text'),
    explain: () => 'A reference range must have at least a low, a high or a text.',
  },
  {
    key: 'obs-6',
    expression: 'dataAbsentReason.empty() or value.empty()',
    holds: (observation) => !has(observation, 'dataAbsentReason') || !hasChoice(observation, 'value'),
    explain: () => 'A reason why there is no value (dataAbsentReason) stands beside a value.',
  },
  {
    key: 'obs-7',
    expression:
      'value.empty() or component.code.where(coding.intersect(%resource.code.coding).exists()).empty()',
    holds: (observation) => !repeatsItsCode(observation),
    explain: () => 'The observation has a value, and a component has the same code as the observation.',
  },
  {
    key: 'pat-1',
    expression: 'name.exists() or telecom.exists() or address.exists() or organization.exists()',
    holds: (contact) => ['name', 'telecom', 'address', 'organization'].some((name) => has(contact, name)),
    explain: () => 'A contact of a patient must have a name, a telecom, an address or an organization.',
  },
  {
    key: 'dom-2',
    expression: 'contained.contained.empty()',
    holds: (resource) => containedOf(resource).every((each) => !has(each, 'contained')),
    explain: () => 'A contained resource must not contain resources itself.',
  },
  {
    // As published it names no expression that FHIRPath can evaluate: `as(canonical)` takes one item, not many.
    key: 'dom-3',
    expression:
      "contained.where((('#'+id in (%resource.descendants().reference | %resource.descendants().as(canonical) | %resource.descendants().as(uri) | %resource.descendants().as(url))) or descendants().where(reference = '#').exists() or descendants().where(as(canonical) = '#').exists() or descendants().where(as(canonical) = '#').exists()).not()).trace('unmatched', id).empty()",
    holds: (resource) => unreferred(resource).length === 0,
    explain: (resource: JsonObject): string => {
      const which = unreferred(resource).map((index) => `contained[${String(index)}]`);
      return `Nothing in the resource refers to ${which.join(', ')}, nor does it refer to its container.`;
    },
  },
  {
    key: 'dom-4',
    expression: 'contained.meta.versionId.empty() and contained.meta.lastUpdated.empty()',
    holds: (resource) =>
      metasOfContained(resource).every((meta) => !has(meta, 'versionId') && !has(meta, 'lastUpdated')),
    explain: () => 'A contained resource must have no version and no time of change.',
  },
  {
    key: 'dom-5',
    expression: 'contained.meta.security.empty()',
    holds: (resource) => metasOfContained(resource).every((meta) => !has(meta, 'security')),
    explain: () => 'A contained resource must have no security label.',
  },
  {
    key: 'bdl-3',
    expression:
      "entry.all(request.exists() = (%resource.type = 'batch' or %resource.type = 'transaction' or %resource.type = 'history'))",
    holds: (bundle) => entriesAgree(bundle, 'request', REQUESTS),
    explain: ({ type }) =>
      `Each entry of a ${shown(type)} must ${REQUESTS.has(type) ? 'have a request' : 'be without a request'}.`,
  },
  {
    key: 'bdl-4',
    expression:
      "entry.all(response.exists() = (%resource.type = 'batch-response' or %resource.type = 'transaction-response' or %resource.type = 'history'))",
    holds: (bundle) => entriesAgree(bundle, 'response', RESPONSES),
    explain: ({ type }) =>
      `Each entry of a ${shown(type)} must ${RESPONSES.has(type) ? 'have a response' : 'be without a response'}.`,
  },
  {
    key: 'bdl-5',
    expression: 'resource.exists() or request.exists() or response.exists()',
    holds: (entry) => has(entry, 'resource') || has(entry, 'request') || has(entry, 'response'),
    explain: () => 'An entry must have a resource, a request or a response.',
  },
  {
    key: 'bdl-7',
    expression:
      "(type = 'history') or entry.where(fullUrl.exists()).select(fullUrl&resource.meta.versionId).isDistinct()",
    holds: (bundle) =>
      typeof bundle['type'] !== 'string' || bundle['type'] === 'history' || repeatedUrl(bundle) === undefined,
    explain: (bundle) =>
      `Two entries have the fullUrl ${shown(repeatedUrl(bundle))}; they must differ in it, or in meta.versionId.`,
  },
  {
    key: 'bdl-8',
    expression: "fullUrl.contains('/_history/').not()",
    holds: ({ fullUrl }) => typeof fullUrl !== 'string' || !fullUrl.includes('/_history/'),
    explain: ({ fullUrl }) => `The fullUrl ${shown(fullUrl)} names a version, which a fullUrl must not.`,
  },
  {
    key: 'dom-6',
    expression: 'text.`div`.exists()',
    holds: ({ text }) => isJsonObject(text) && has(text, 'div'),
    explain: () => 'The resource has no narrative (text.div), which people without this software read.',
  },
];

/**
 * R4 per-1: "If present, start SHALL have a lower value than end". Of unequal precision the shared part decides; when that
 * is equal (start 2023-06-21, end 2023-06-21T06:20:00Z) the order is not known and the rule is not met. Undefined when
 * one of them is no date, which is another rule's fault.
 */
function isInOrder(start: string, end: string): boolean | undefined {
  const from = dateRange(start, 'UTC');
  const to = dateRange(end, 'UTC');
  if (from === undefined || to === undefined) return undefined;
  if (start.includes('T') && end.includes('T')) return from.low <= to.low;
  const shared = Math.min(start.length, end.length);
  const [startPart, endPart] = [start.slice(0, shared), end.slice(0, shared)];
  return startPart === endPart ? start.length === end.length : startPart < endPart;
}

function repeatsItsCode(observation: JsonObject): boolean {
  if (observation['component'] === undefined || !hasChoice(observation, 'value')) return false;
  const own = codingsOf(observation);
  const codes = new Set(own.map(({ code }) => code));
  const alike = objectsIn(observation['component'])
    .flatMap(codingsOf)
    .filter(({ code }) => codes.has(code));
  if (alike.length === 0) return false;
  const keys = new Set(own.map(codingKey));
  return alike.some((coding) => keys.has(codingKey(coding)) && own.some((each) => isEqual(each, coding)));
}

/** Whether the entries have what a Bundle of this type wants of them; of an unknown type it cannot be told. */
function entriesAgree(bundle: JsonObject, name: string, types: ReadonlySet<unknown>): boolean {
  const { type, entry } = bundle;
  return typeof type !== 'string' || objectsIn(entry).every((each) => has(each, name) === types.has(type));
}

/** A fullUrl that two entries have with the same version. */
function repeatedUrl({ entry }: JsonObject): unknown {
  const seen = new Set<string>();
  for (const { fullUrl, resource } of objectsIn(entry)) {
    if (typeof fullUrl !== 'string') continue;
    const meta = isJsonObject(resource) ? resource['meta'] : undefined;
    const key = fullUrl + (isJsonObject(meta) ? shown(meta['versionId']) : '');
    if (seen.has(key)) return fullUrl;
    seen.add(key);
  }
  return undefined;
}

/** Which of the contained resources nothing refers to, and which do not refer to their container. */
function unreferred(resource: JsonObject): readonly number[] {
  const contained = containedOf(resource);
  if (contained.length === 0) return [];
  const texts = textsIn(resource);
  return [...contained.entries()]
    .filter(([, each]) => !texts.has(`#${shown(each['id'])}`) && !textsIn(each).has('#'))
    .map(([index]) => index);
}

/** Present by its value or by an extension of its value. */
const has = (element: JsonObject, name: string): boolean =>
  element[name] !== undefined || element[`_${name}`] !== undefined;

function hasChoice(element: JsonObject, name: string): boolean {
  for (const key of Object.keys(element)) {
    const start = key.startsWith('_') ? 1 : 0;
    if (key.length > start + name.length && key.startsWith(name, start) && element[key] !== undefined)
      return true;
  }
  return false;
}

const NONE: readonly JsonObject[] = [];

const containedOf = ({ contained }: JsonObject): readonly JsonObject[] =>
  contained === undefined ? NONE : objectsIn(contained);

const metasOfContained = (resource: JsonObject): readonly JsonObject[] =>
  containedOf(resource).flatMap(({ meta }) => (isJsonObject(meta) ? [meta] : []));

/** The codings of the element's `code`. */
const codingsOf = ({ code }: JsonObject): readonly JsonObject[] =>
  isJsonObject(code) ? objectsIn(code['coding']) : NONE;

/** Every text in a JSON value; each object is looked at once. */
function textsIn(value: unknown): ReadonlySet<unknown> {
  const found = new Set<unknown>();
  const waiting = [value];
  while (waiting.length > 0) {
    const next = waiting.pop();
    if (found.has(next)) continue;
    found.add(next);
    if (typeof next !== 'object' || next === null) continue;
    for (const each of Object.values(next)) waiting.push(each);
  }
  return found;
}

/** What differs in most codings that differ at all. */
const codingKey = ({ system, version, code, display, userSelected }: JsonObject): string =>
  [system, version, code, display, userSelected].map(shown).join('\n');

/** Deeper than any coding goes, so that values that hold themselves end too. */
const MAX_DEPTH = 64;

/** Whether two values are equal in all they hold, ids and extensions too (FHIRPath, "Equals"). */
function isEqual(left: unknown, right: unknown, depth = 0): boolean {
  if (!isHolder(left) || !isHolder(right)) return left === right;
  const keys = Object.keys(left);
  return (
    depth < MAX_DEPTH &&
    keys.length === Object.keys(right).length &&
    keys.every((key) => isEqual(left[key], right[key], depth + 1))
  );
}

const isHolder = (value: unknown): value is JsonObject => typeof value === 'object' && value !== null;

/** What has another shape than a text or a Boolean is told as a fault elsewhere. */
const shown = (value: unknown): string =>
  typeof value === 'string' || typeof value === 'boolean' ? String(value) : '';
