import { readReference } from '../references.js';
import { isUri } from './primitives.js';
import type { JsonObject, Walk } from './walk.js';

const STRUCTURES = 'http://hl7.org/fhir/StructureDefinition/';

/** A reference's target type as far as its text tells: a resource type, unknown, or no sound reference. */
type Target = { readonly type: string } | 'untold' | 'faulty';

/**
 * Checks a Reference: its form, and that the target's type, as the URL, the resource it points to here or
 * `Reference.type` tell it, is one that the element allows.
 */
export type ReferenceCheck = (reference: JsonObject, walk: Walk) => void;

/** `targets` undefined: any resource. */
export function compileReferenceTargets(
  targets: readonly string[] | undefined,
  resourceTypes: ReadonlySet<string>,
): ReferenceCheck {
  return (reference, walk) => {
    const target = targetOf(reference['reference'], resourceTypes, walk);
    const declared = declaredType(reference['type'], resourceTypes, walk);
    if (target === 'faulty') return;
    const type = target === 'untold' ? declared : target.type;
    if (declared !== undefined && type !== declared) reportDisagreement(declared, type, walk);
    if (type !== undefined && targets !== undefined && !targets.includes(type))
      reportTarget(type, targets, walk);
  };
}

function targetOf(text: unknown, resourceTypes: ReadonlySet<string>, walk: Walk): Target {
  if (typeof text !== 'string' || text.trim() === '') return 'untold';
  const form = readReference(text);
  if (form === undefined) return reportForm(text, walk);
  switch (form.kind) {
    case 'contained':
      return typeOf(walk.findContained(form.id), resourceTypes);
    case 'absolute':
      return resourceTypes.has(form.type)
        ? { type: form.type }
        : typeOf(walk.findBundled(text), resourceTypes);
    case 'local':
    case 'conditional':
      return resourceTypes.has(form.type) ? { type: form.type } : reportForm(text, walk);
    case 'opaque':
      return isUri(text) ? typeOf(walk.findBundled(text), resourceTypes) : reportForm(text, walk);
  }
}

function typeOf(resource: JsonObject | undefined, resourceTypes: ReadonlySet<string>): Target {
  const type = resource?.['resourceType'];
  return typeof type === 'string' && resourceTypes.has(type) ? { type } : 'untold';
}

/**
 * `Reference.type` when it names a resource type; it may also be the URL of a logical model (R4 references-definitions,
 * Reference.type).
 */
function declaredType(type: unknown, resourceTypes: ReadonlySet<string>, walk: Walk): string | undefined {
  if (typeof type !== 'string') return undefined;
  const name = type.startsWith(STRUCTURES) ? type.slice(STRUCTURES.length) : type;
  if (resourceTypes.has(name)) return name;
  if (/^[A-Za-z]\w*$/.test(name)) reportNoType(name, walk);
  return undefined;
}

function reportNoType(name: string, walk: Walk): void {
  walk.reportAt('type', {
    code: 'value',
    rule: 'reference-type',
    diagnostics: `"${name}" is no resource type of R4.`,
    found: name,
  });
}

function reportForm(text: string, walk: Walk): 'faulty' {
  walk.reportAt('reference', {
    code: 'value',
    rule: 'reference-form',
    diagnostics: `"${text}" is no reference: it must be Type/id with a resource type of R4, a whole URL, the URN of a UUID or an OID, or #id.`,
    found: text,
  });
  return 'faulty';
}

function reportDisagreement(declared: string, type: string | undefined, walk: Walk): void {
  walk.reportAt('type', {
    code: 'value',
    rule: 'reference-type',
    diagnostics: `The type says ${declared}, but the reference points to ${type ?? 'another type'}.`,
    found: declared,
    allowed: type,
  });
}

function reportTarget(type: string, targets: readonly string[], walk: Walk): void {
  walk.report({
    code: 'value',
    rule: 'reference-target',
    diagnostics: `This may not refer to ${type}; it must be ${targets.join(', ')}.`,
    found: type,
    allowed: targets,
  });
}
