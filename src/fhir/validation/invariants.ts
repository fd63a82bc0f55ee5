import { dateRange } from '../instants.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

/** Checks one element that has the right shape, and reports what it breaks. */
export type Invariant = (element: JsonObject, walk: Walk) => void;

/**
 * An invariant that is written in code as well as in FHIRPath, because it stands on what is written most. It is used in
 * the place of a constraint only when both key and expression are those of the constraint.
 */
export interface NativeInvariant {
  readonly key: string;
  /** The FHIRPath that it must agree with on every element. */
  readonly expression: string;
  /** Whether the element keeps the invariant. */
  readonly holds: (element: JsonObject, walk: Walk) => boolean;
}

/**
 * The invariants of the standard that are written in code, by the type or the path of an element they stand on.
 * The others are left to FHIRPath; those here are needed on every write, or cannot be told in FHIRPath as published.
 */
export const INVARIANTS: ReadonlyMap<string, readonly Invariant[]> = new Map([
  ['Attachment', [att1]],
  ['ContactPoint', [cpt2]],
  ['Extension', [ext1]],
  ['Period', [per1]],
  ['Quantity', [qty3]],
  ['SimpleQuantity', [sqty1]],
  ['Observation', [obs6, obs7]],
  ['Observation.referenceRange', [obs3]],
  ['Patient.contact', [pat1]],
  ['DomainResource', [dom2, dom3, dom4, dom5]],
]);

/** att-1: if the Attachment has data, it shall have a contentType. */
function att1(attachment: JsonObject, walk: Walk): void {
  if (!has(attachment, 'data') || has(attachment, 'contentType')) return;
  broken(walk, 'att-1', 'An attachment holds data and does not say of which contentType.');
}

/** cpt-2: a system is required if a value is provided. */
function cpt2(contact: JsonObject, walk: Walk): void {
  if (!has(contact, 'value') || has(contact, 'system')) return;
  broken(walk, 'cpt-2', 'A contact has a value without the system (phone, email ...) that it is of.');
}

/** ext-1: must have either extensions or value[x], not both. */
function ext1(extension: JsonObject, walk: Walk): void {
  const hasValue = Object.keys(extension).some((key) => /^_?value[A-Z]/.test(key));
  const hasExtensions = has(extension, 'extension');
  if (hasValue !== hasExtensions) return;
  const what = hasValue ? 'both' : 'neither';
  broken(walk, 'ext-1', `An extension must have either a value or extensions; this one has ${what}.`);
}

/**
 * per-1: if present, start shall have a lower value than end. Of unequal precision the shared part decides; when that is
 * equal (start 2023-06-21, end 2023-06-21T06:20:00Z) the order is not known and the rule is not met.
 */
function per1(period: JsonObject, walk: Walk): void {
  const { start, end } = period;
  if (typeof start !== 'string' || typeof end !== 'string' || isInOrder(start, end) !== false) return;
  broken(
    walk,
    'per-1',
    `The period starts (${start}) after it ends (${end}), or their order cannot be told.`,
  );
}

/** Undefined when one of them is no date, which is another rule's fault. */
function isInOrder(start: string, end: string): boolean | undefined {
  const from = dateRange(start, 'UTC');
  const to = dateRange(end, 'UTC');
  if (from === undefined || to === undefined) return undefined;
  if (start.includes('T') && end.includes('T')) return from.low <= to.low;
  const shared = Math.min(start.length, end.length);
  const [startPart, endPart] = [start.slice(0, shared), end.slice(0, shared)];
  return startPart === endPart ? start.length === end.length : startPart < endPart;
}

/** qty-3: if a code for the unit is present, the system shall also be present. */
function qty3(quantity: JsonObject, walk: Walk): void {
  if (!has(quantity, 'code') || has(quantity, 'system')) return;
  broken(walk, 'qty-3', 'A code for the unit stands without the system it comes from.');
}

/** sqty-1: the comparator is not used on a SimpleQuantity. */
function sqty1(quantity: JsonObject, walk: Walk): void {
  if (has(quantity, 'comparator')) broken(walk, 'sqty-1', 'A comparator is not allowed on this quantity.');
}

/** obs-3: a reference range must have at least a low or a high or text. */
function obs3(range: JsonObject, walk: Walk): void {
  if (has(range, 'low') || has(range, 'high') || has(range, 'text')) return;
  broken(walk, 'obs-3', 'A reference range must have at least a low, a high or a text.');
}

/** obs-6: dataAbsentReason shall only be present if Observation.value[x] is not present. */
function obs6(observation: JsonObject, walk: Walk): void {
  if (!has(observation, 'dataAbsentReason') || !hasChoice(observation, 'value')) return;
  broken(walk, 'obs-6', 'A reason why there is no value stands beside a value.');
}

/** obs-7: if Observation.code is the same as an Observation.component.code, the value of that code shall not be here. */
function obs7(observation: JsonObject, walk: Walk): void {
  if (observation['component'] === undefined || !hasChoice(observation, 'value')) return;
  const own = new Set(codingsOf(observation).map(codingKey));
  const isRepeated = objectsIn(observation['component'])
    .flatMap(codingsOf)
    .some((coding) => own.has(codingKey(coding)));
  if (isRepeated) {
    broken(
      walk,
      'obs-7',
      'The observation has a value, and a component has the same code as the observation.',
    );
  }
}

/** pat-1: shall at least contain a contact's details or a reference to an organization. */
function pat1(contact: JsonObject, walk: Walk): void {
  if (['name', 'telecom', 'address', 'organization'].some((name) => has(contact, name))) return;
  broken(walk, 'pat-1', 'A contact of a patient must have a name, a telecom, an address or an organization.');
}

/** dom-2: a contained resource shall not contain nested resources. */
function dom2(resource: JsonObject, walk: Walk): void {
  if (!objectsIn(resource['contained']).some((contained) => has(contained, 'contained'))) return;
  broken(walk, 'dom-2', 'A contained resource must not contain resources itself.');
}

/** dom-3: a contained resource shall be referred to from elsewhere in the resource, or refer to its container. */
function dom3(resource: JsonObject, walk: Walk): void {
  if (resource['contained'] === undefined) return;
  const texts = textsIn(resource);
  for (const [index, contained] of objectsIn(resource['contained']).entries()) {
    if (texts.has(`#${String(contained['id'])}`) || textsIn(contained).has('#')) continue;
    const which = `contained[${String(index)}]`;
    broken(
      walk,
      'dom-3',
      `${which} is not referred to from elsewhere in the resource and does not refer to it.`,
    );
  }
}

/** dom-4: a contained resource shall not have a meta.versionId or a meta.lastUpdated. */
function dom4(resource: JsonObject, walk: Walk): void {
  const isVersioned = metasOfContained(resource).some(
    (meta) => has(meta, 'versionId') || has(meta, 'lastUpdated'),
  );
  if (isVersioned) broken(walk, 'dom-4', 'A contained resource must have no version and no time of change.');
}

/** dom-5: a contained resource shall not have a security label. */
function dom5(resource: JsonObject, walk: Walk): void {
  if (!metasOfContained(resource).some((meta) => has(meta, 'security'))) return;
  broken(walk, 'dom-5', 'A contained resource must have no security label.');
}

function broken(walk: Walk, rule: string, diagnostics: string): void {
  walk.report({ code: 'invariant', rule, diagnostics });
}

/** Present by its value or by an extension of its value. */
const has = (element: JsonObject, name: string): boolean =>
  element[name] !== undefined || element[`_${name}`] !== undefined;

function hasChoice(element: JsonObject, name: string): boolean {
  for (const key of Object.keys(element)) {
    const start = key.startsWith('_') ? 1 : 0;
    if (key.length > start + name.length && key.startsWith(name, start)) return true;
  }
  return false;
}

const metasOfContained = (resource: JsonObject): readonly JsonObject[] =>
  objectsIn(resource['contained']).flatMap(({ meta }) => (isJsonObject(meta) ? [meta] : []));

/** The codings of the element's `code`. */
const codingsOf = ({ code }: JsonObject): readonly JsonObject[] =>
  isJsonObject(code) ? objectsIn(code['coding']) : [];

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

/** What makes two codings equal; their ids and extensions aside. */
const codingKey = ({ system, version, code, display, userSelected }: JsonObject): string =>
  [system, version, code, display, userSelected].map(String).join('\n');
