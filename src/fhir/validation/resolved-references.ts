import { readReference } from '../references.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

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
export function resolveReference(reference: unknown, walk: Walk): ResolvedReference | undefined {
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
    const target = walk.findContained(form.id);
    return { target, type: typeIn(target) ?? told, aggregation: 'contained', isVersioned: false };
  }
  const target = walk.findBundled(text);
  const named = form !== undefined && 'type' in form ? form.type : told;
  const isVersioned = form !== undefined && 'version' in form;
  const aggregation = target === undefined ? 'referenced' : 'bundled';
  return { target, type: typeIn(target) ?? named, aggregation, isVersioned };
}

function typeIn(resource: JsonObject | undefined): string | undefined {
  const type = resource?.['resourceType'];
  return typeof type === 'string' ? type : undefined;
}
