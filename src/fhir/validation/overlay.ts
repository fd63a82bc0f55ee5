import type { ElementDefinitionConstraint } from 'fhir/r4.js';
import type { BaseElements } from './base-elements.js';
import { checkMaxValueSet, checkRequiredBinding } from './bindings.js';
import {
  compareToLimit,
  compileFixed,
  compilePattern,
  numberText,
  show,
  type ValueTest,
} from './given-values.js';
import {
  checkAt,
  type GroupCheck,
  isOfForm,
  isResource,
  membersOf,
  type OccurrenceCheck,
  occurrencesOf,
  typeOf,
} from './occurrences.js';
import { type AllowedType, type GivenValue, nodeById, type ProfileNode, STRUCTURES } from './profile-tree.js';
import type { OverlayContext } from './overlay-context.js';
import { compileTargets } from './profile-targets.js';
import { compileSlicing } from './slicing.js';
import type { JsonObject, Walk } from './walk.js';

/** Checks the elements of an object. */
type ElementCheck = (parent: JsonObject, walk: Walk) => void;

/**
 * Turns what a profile adds to the standard into a check of a whole value, to be run after the base checks. What the
 * standard already holds is left out; undefined when nothing is added.
 */
export function compileNode(node: ProfileNode, context: OverlayContext): OccurrenceCheck | undefined {
  return inOrder<OccurrenceCheck>([
    types(node, context),
    fixed(node),
    pattern(node),
    minValue(node),
    maxValue(node),
    maxLength(node),
    ...bindings(node, context),
    ...(node.types ?? []).flatMap((type) => compileTargets(type, node, context) ?? []),
    ...typeProfiles(node, context),
    ...constraints(node, context),
    children(node, context),
  ]);
}

/** Turns what a profile says of an element into a check of all its values together. */
function compileElement(node: ProfileNode, context: OverlayContext): GroupCheck | undefined {
  return inOrder<GroupCheck>([
    cardinality(node),
    each(node, compileNode(node, context)),
    compileSlicing(node, context, (slice) => compileElement(slice, context)),
  ]);
}

type Check<T> = (value: T, walk: Walk) => void;

function inOrder<C extends OccurrenceCheck | GroupCheck>(checks: readonly (C | undefined)[]): C | undefined;
function inOrder<T>(checks: readonly (Check<T> | undefined)[]): Check<T> | undefined {
  const all = checks.filter((check) => check !== undefined);
  const [only] = all;
  if (all.length <= 1) return only;
  return (value, walk) => {
    for (const check of all) check(value, walk);
  };
}

function each(node: ProfileNode, check: OccurrenceCheck | undefined): GroupCheck | undefined {
  if (check === undefined) return undefined;
  const name = node.base?.name ?? '';
  return (occurrences, walk) => {
    for (const occurrence of occurrences) checkAt(name, occurrence, check, walk);
  };
}

/** ElementDefinition.min and max, where they are narrower than the standard's. */
function cardinality(node: ProfileNode): GroupCheck | undefined {
  const { base, id } = node;
  if (base === undefined) return undefined;
  const isSlice = node.sliceName !== '';
  const { min = isSlice ? 0 : base.row.min, max = base.row.max } = node;
  const least = isSlice || min > base.row.min ? min : 0;
  const most = max === '*' || max === base.row.max ? Infinity : max;
  if (least === 0 && most === Infinity) return undefined;
  const allowed = `${String(min)}..${String(max)}`;
  return (occurrences, walk) => {
    const count = occurrences.length;
    if (count >= least && count <= most) return;
    const isMissing = count < least;
    walk.reportAt(base.name, {
      code: isMissing ? 'required' : 'structure',
      rule: 'cardinality',
      diagnostics: cardinalitySentence(isSlice ? `The slice ${id}` : id, count, most, allowed),
      found: count,
      allowed,
    });
  };
}

function cardinalitySentence(what: string, count: number, most: number, allowed: string): string {
  if (most === 0) return `${what} must not be here (${allowed}).`;
  if (count === 0) return `${what} is missing; it must be there (${allowed}).`;
  return `${what} is there ${String(count)} times; it must be there ${allowed}.`;
}

/** ElementDefinition.type, where a choice or a resource is narrowed. */
function types(
  { base, forms, id, sliceName }: ProfileNode,
  { elements }: OverlayContext,
): OccurrenceCheck | undefined {
  if (base === undefined || sliceName !== '') return undefined;
  const isNarrower = base.forms.some(({ type }) => !forms.some((form) => form.type === type));
  if (!isNarrower) return undefined;
  const allowed = forms.map(({ type }) => type);
  return (occurrence, walk) => {
    if (forms.some((form) => isOfForm(occurrence, form, elements))) return;
    const type = typeOf(occurrence);
    walk.report({
      code: 'structure',
      rule: base.label === base.name ? 'resource-type' : 'choice-type',
      diagnostics: `${id} is a ${type}; it must be ${allowed.join(' or ')}.`,
      found: type,
      allowed,
    });
  };
}

/** ElementDefinition.fixed[x]. */
function fixed(node: ProfileNode): OccurrenceCheck | undefined {
  return givenCheck(node, node.fixed, compileFixed, 'fixed', 'be');
}

/** ElementDefinition.pattern[x]. */
function pattern(node: ProfileNode): OccurrenceCheck | undefined {
  return givenCheck(node, node.pattern, compilePattern, 'pattern', 'have');
}

function givenCheck(
  { id }: ProfileNode,
  given: GivenValue | undefined,
  compile: (given: unknown) => ValueTest,
  rule: 'fixed' | 'pattern',
  verb: string,
): OccurrenceCheck | undefined {
  if (given === undefined) return undefined;
  const isGiven = compile(given.value);
  return ({ value }, walk) => {
    if (value === undefined || isGiven(value)) return;
    walk.report({
      code: 'value',
      rule,
      diagnostics: `${id} is ${show(value)}; it must ${verb} ${show(given.value)}.`,
      found: value,
      allowed: given.value,
    });
  };
}

/** ElementDefinition.minValue[x]. */
function minValue(node: ProfileNode): OccurrenceCheck | undefined {
  return limitCheck(node, node.minValue, (order) => order < 0, 'min-value', 'least');
}

/** ElementDefinition.maxValue[x]. */
function maxValue(node: ProfileNode): OccurrenceCheck | undefined {
  return limitCheck(node, node.maxValue, (order) => order > 0, 'max-value', 'most');
}

function limitCheck(
  { id }: ProfileNode,
  limit: GivenValue | undefined,
  isBeyond: (order: number) => boolean,
  rule: string,
  bound: string,
): OccurrenceCheck | undefined {
  if (limit === undefined) return undefined;
  return ({ value }, walk) => {
    const order = compareToLimit(value, limit.value);
    if (order === undefined || !isBeyond(order)) return;
    walk.report({
      code: 'value',
      rule,
      diagnostics: `${id} is ${show(value)}; it must be at ${bound} ${show(limit.value)}.`,
      found: numberText(value) ?? value,
      allowed: limit.value,
    });
  };
}

/** ElementDefinition.maxLength, in characters. */
function maxLength({ base, id, maxLength: most }: ProfileNode): OccurrenceCheck | undefined {
  if (most === undefined || most === base?.row.maxLength) return undefined;
  return ({ value }, walk) => {
    if (typeof value !== 'string' || value.length <= most) return;
    const length = Array.from(value).length;
    if (length <= most) return;
    walk.report({
      code: 'too-long',
      rule: 'max-length',
      diagnostics: `${id} has ${String(length)} characters; at most ${String(most)} are allowed.`,
      found: length,
      allowed: most,
    });
  };
}

/** ElementDefinition.binding, where it is required or has a widest value set. */
function bindings(node: ProfileNode, { findBinding }: OverlayContext): readonly OccurrenceCheck[] {
  const own = node.base?.row;
  return [
    ...newSets(node.bindings, own?.binding).map((url) => [url, checkRequiredBinding] as const),
    ...newSets(node.maxValueSets, own?.maxValueSet).map((url) => [url, checkMaxValueSet] as const),
  ].flatMap(([url, check]) => {
    const binding = findBinding(url);
    if (binding === undefined) return [];
    return [
      ({ value }, walk) => {
        check(binding, value, walk);
      },
    ] satisfies OccurrenceCheck[];
  });
}

const newSets = (urls: ReadonlySet<string>, own: string | undefined): readonly string[] =>
  [...urls].filter((url) => own === undefined || url.split('|')[0] !== own);

/** ElementDefinition.type.profile: of the profiles listed for a type, a value must keep one. */
function typeProfiles(node: ProfileNode, context: OverlayContext): readonly OccurrenceCheck[] {
  return (node.types ?? []).flatMap((type) => {
    const check = profileCheck(type, node, context);
    if (check === undefined) return [];
    return [
      (occurrence, walk) => {
        if (isOfForm(occurrence, type.form, context.elements)) check(occurrence, walk);
      },
    ] satisfies OccurrenceCheck[];
  });
}

/** Undefined when one of the profiles is not known: a value may keep that one. */
function profileCheck(
  { form, profiles }: AllowedType,
  { id, base }: ProfileNode,
  { findProfile }: OverlayContext,
): OccurrenceCheck | undefined {
  const own = base?.row.profile;
  const further = profiles.filter((profile) => own === undefined || !profile.endsWith(`/${own}`));
  const checks = further
    .map((profile) => findProfile(profile, form.type))
    .filter((check) => check !== undefined);
  if (checks.length < further.length) return undefined;
  const [only] = checks;
  if (checks.length <= 1) return only;
  return (occurrence, walk) => {
    if (
      checks.some((check) =>
        walk.keeps((aside) => {
          check(occurrence, aside);
        }),
      )
    )
      return;
    const diagnostics = `${id} keeps none of the profiles ${profiles.join(', ')}.`;
    walk.report({ code: 'structure', rule: 'type-profile', diagnostics, allowed: profiles });
  };
}

/** ElementDefinition.constraint, but for those that the standard itself has. */
function constraints(
  node: ProfileNode,
  { elements, compileConstraint }: OverlayContext,
): readonly OccurrenceCheck[] {
  return [...node.constraints.values()]
    .filter((constraint) => !isOfStandard(constraint, elements))
    .map((constraint) => compileConstraint(constraint, node));
}

/** Snapshots repeat the standard's invariants, and newer ones mend the wording of them. */
function isOfStandard(
  { key, expression = '', source = '' }: ElementDefinitionConstraint,
  elements: BaseElements,
): boolean {
  const type = source.startsWith(STRUCTURES) ? source.slice(STRUCTURES.length) : '';
  return (
    elements.hasConstraint(key, expression) || (elements.hasConstraintKey(key) && elements.isDefined(type))
  );
}

/** The elements of an element; those of one that shares its content with another are that one's. */
function children(node: ProfileNode, context: OverlayContext): OccurrenceCheck | undefined {
  const checks = [...node.children.values()].flatMap((child) => elementCheck(child, context) ?? []);
  const shared =
    node.contentReference === undefined ? undefined : sharedChildren(node.contentReference, context);
  if (shared !== undefined) checks.push(shared);
  if (checks.length === 0) return undefined;
  const isContained = node.base?.name === 'contained';
  const checkAll: ElementCheck = (parent, walk) => {
    for (const check of checks) check(parent, walk);
  };
  return (occurrence, walk) => {
    const parent = membersOf(occurrence);
    if (isResource(occurrence)) {
      walk.within(parent, isContained, () => {
        checkAll(parent, walk);
      });
    } else checkAll(parent, walk);
  };
}

function elementCheck(node: ProfileNode, context: OverlayContext): ElementCheck | undefined {
  const { base } = node;
  const check = compileElement(node, context);
  if (check === undefined || base === undefined) return undefined;
  return (parent, walk) => {
    check(occurrencesOf(base, parent), walk);
  };
}

/** ElementDefinition.contentReference within this profile; compiled at first use, since an element may hold itself. */
function sharedChildren(reference: string, context: OverlayContext): ElementCheck | undefined {
  const node = reference.startsWith('#') ? nodeById(context.root, reference.slice(1)) : undefined;
  if (node === undefined || node.children.size === 0) return undefined;
  let checks: readonly ElementCheck[] | undefined;
  return (parent, walk) => {
    checks ??= [...node.children.values()].flatMap((child) => elementCheck(child, context) ?? []);
    for (const check of checks) check(parent, walk);
  };
}
