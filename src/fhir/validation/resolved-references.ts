import { readReference } from '../references.js';
import type { Scope } from './occurrences.js';
import { isJsonObject, type JsonObject, objectsIn } from './walk.js';

/** Where the target of a reference is, as R4's aggregation mode names it. */
export type Aggregation = 'contained' | 'bundled' | 'referenced';

/** What can be told of a reference's target without looking anything up. */
export interface ResolvedReference {
  /** The target, when it is in the same resource or Bundle. */
  readonly target: JsonObject | undefined;
  /** Its resource type, when the target, the URL or Reference.type tells it. */
  readonly type: string | undefined;
  readonly aggregation: Aggregation;
  /** Whether the reference names a version. */
  readonly isVersioned: boolean;
}

/** Undefined for a Reference without the text of a reference. */
export function resolveReference(reference: unknown, scope: Scope): ResolvedReference | undefined {
  const members = isJsonObject(reference) ? reference : {};
  const { reference: text, type: declared } = members;
  const told = typeof declared === 'string' ? declared.slice(declared.lastIndexOf('/') + 1) : undefined;
  if (typeof text !== 'string') {
    return told === undefined
      ? undefined
      : { target: undefined, type: told, aggregation: 'referenced', isVersioned: false };
  }
  const form = readReference(text);
  if (form?.kind === 'contained') {
    const target = findContained(form.id, scope.container);
    return { target, type: typeIn(target) ?? told, aggregation: 'contained', isVersioned: false };
  }
  const target = findBundled(text, scope.bundle);
  const named = form !== undefined && 'type' in form ? form.type : told;
  const isVersioned = form !== undefined && 'version' in form;
  const aggregation = target === undefined ? 'referenced' : 'bundled';
  return { target, type: typeIn(target) ?? named, aggregation, isVersioned };
}

function typeIn(resource: JsonObject | undefined): string | undefined {
  const type = resource?.['resourceType'];
  return typeof type === 'string' ? type : undefined;
}

function findContained(id: string, container: JsonObject): JsonObject | undefined {
  if (id === '') return container;
  return objectsIn(container['contained']).find((each) => each['id'] === id);
}

/** R4 bundle, "Resolving references in Bundles": by full URL, or a relative one against the type and id of an entry. */
export function findBundled(text: string, bundle: JsonObject | undefined): JsonObject | undefined {
  if (bundle === undefined) return undefined;
  let index = entryIndexes.get(bundle);
  if (index === undefined) {
    index = indexEntries(bundle);
    entryIndexes.set(bundle, index);
  }
  return index.get(text.split('/_history/', 1)[0] ?? text);
}

/** Each Bundle is read once, however many references look into it. */
const entryIndexes = new WeakMap<JsonObject, ReadonlyMap<string, JsonObject>>();

function indexEntries(bundle: JsonObject): ReadonlyMap<string, JsonObject> {
  const index = new Map<string, JsonObject>();
  for (const { fullUrl, resource } of objectsIn(bundle['entry'])) {
    if (!isJsonObject(resource)) continue;
    if (typeof resource['id'] === 'string') {
      index.set(`${typeIn(resource) ?? ''}/${resource['id']}`, resource);
    }
    if (typeof fullUrl === 'string') index.set(fullUrl, resource);
  }
  return index;
}
