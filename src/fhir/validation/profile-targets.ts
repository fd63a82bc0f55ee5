import type { OccurrenceCheck } from './occurrences.js';
import type { OverlayContext } from './overlay-context.js';
import type { AllowedType, ProfileNode } from './profile-tree.js';
import { resolveReference } from './resolved-references.js';

/** ElementDefinition.type.targetProfile, aggregation and versioning; undefined when they add nothing to the standard. */
export function compileTargets(
  type: AllowedType,
  node: ProfileNode,
  context: OverlayContext,
): OccurrenceCheck | undefined {
  const targets = allowedTargets(type, node, context);
  const { aggregation, versioning, form } = type;
  if (form.type !== 'Reference') return undefined;
  if (targets === undefined && aggregation.length === 0 && versioning === 'either') return undefined;
  return ({ form: { jsonName }, value }, walk) => {
    if (jsonName !== form.jsonName) return;
    const reference = resolveReference(value, walk);
    if (reference === undefined) return;
    const report = (rule: string, found: unknown, allowed: readonly string[]): void => {
      const diagnostics = `${node.id} is a reference to ${String(found)}; it must be ${allowed.join(', ')}.`;
      walk.report({ code: 'value', rule, diagnostics, found, allowed });
    };
    const { type: found } = reference;
    if (targets !== undefined && found !== undefined && !targets.includes(found)) {
      report('reference-target', found, targets);
    }
    if (aggregation.length > 0 && !aggregation.includes(reference.aggregation)) {
      report('aggregation', `what is ${reference.aggregation}`, aggregation);
    }
    if (versioning !== 'either' && reference.isVersioned !== (versioning === 'specific')) {
      report('versioning', reference.isVersioned ? 'a version' : 'no version', [versioning]);
    }
  };
}

/** The resource types that a Reference may point to; undefined when the profile does not narrow them, or one is not known. */
function allowedTargets(
  { targets }: AllowedType,
  { base }: ProfileNode,
  { typeOfProfile }: OverlayContext,
): readonly string[] | undefined {
  const types = targets.map(typeOfProfile);
  const known = types.filter((type) => type !== undefined);
  const own = base?.row.targets;
  if (known.length === 0 || known.length < types.length || known.includes('Resource')) return undefined;
  return own?.every((type) => known.includes(type)) === true ? undefined : [...new Set(known)];
}
