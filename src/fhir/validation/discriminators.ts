import type { ElementDefinitionSlicingDiscriminator } from 'fhir/r4.js';
import { DefinitionFault } from './definition-fault.js';
import { isSame, matchesPattern } from './given-values.js';
import {
  isOfForm,
  isResource,
  membersOf,
  type Occurrence,
  type OccurrenceCheck,
  occurrencesOf,
  typeOf,
  wholeResource,
} from './occurrences.js';
import type { OverlayContext } from './overlay-context.js';
import type { ProfileNode } from './profile-tree.js';
import { resolveReference } from './resolved-references.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

/** Whether a value belongs to a slice. */
export type SliceTest = (occurrence: Occurrence, walk: Walk) => boolean;

/** One step of a discriminator's path (R4 profiling, "Discriminator": the restricted FHIRPath). */
type PathStep =
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'extension'; readonly url: string }
  | { readonly kind: 'resolve' }
  | { readonly kind: 'ofType'; readonly type: string };

/** Where a discriminator leads: in the slice's definition, and in a value. */
interface Lead {
  /** What the slice says there. */
  readonly nodes: readonly ProfileNode[];
  /** The values there. */
  readonly select: (occurrence: Occurrence, walk: Walk) => readonly Occurrence[];
  /** Where the Reference is, when the path's last step resolves one. */
  readonly reference?: Lead;
}

/**
 * One discriminator of a slicing, for one of its slices. Throws a DefinitionFault when the slice says nothing by which it
 * could be told from the others.
 */
export function compileDiscriminator(
  { type, path }: ElementDefinitionSlicingDiscriminator,
  slice: ProfileNode,
  whole: ProfileNode,
  context: OverlayContext,
): SliceTest {
  const steps = readPath(path, slice, context);
  for (const node of [slice, whole]) {
    const lead = follow(node, steps, context);
    const test = compileTest(type, lead, context);
    if (test !== undefined) return test;
  }
  const sentence = `The slicing tells slices apart by ${type} of ${path}, of which this slice says nothing that does.`;
  throw new DefinitionFault(context.definition, slice.id, sentence);
}

function readPath(path: unknown, { id }: ProfileNode, { definition }: OverlayContext): readonly PathStep[] {
  const text = typeof path === 'string' ? path : '';
  const whole = /^\s*(?:\$this|(?:\$this\.)?(.+?))\s*$/.exec(text);
  if (whole === null) throw new DefinitionFault(definition, id, 'A discriminator has no path.');
  const steps: PathStep[] = [];
  let rest = whole[1] ?? '';
  while (rest !== '') {
    const match = STEP.exec(rest);
    if (match === null)
      throw new DefinitionFault(definition, id, `The discriminator path ${text} cannot be read.`);
    steps.push(stepOf(match.groups ?? {}));
    rest = rest.slice(match[0].length);
  }
  return steps;
}

const STEP =
  /^(?:extension\(['"](?<url>[^'"]+)['"]\)|(?<resolve>resolve\(\))|ofType\((?:FHIR\.)?(?<type>\w+)\)|(?<name>[A-Za-z]\w*)(?:\[x\])?)(?:\.(?=.)|$)/;

function stepOf({ url, resolve, type, name = '' }: Readonly<Record<string, string | undefined>>): PathStep {
  if (url !== undefined) return { kind: 'extension', url };
  if (resolve !== undefined) return { kind: 'resolve' };
  return type === undefined ? { kind: 'name', name } : { kind: 'ofType', type };
}

function follow(node: ProfileNode, steps: readonly PathStep[], context: OverlayContext): Lead {
  const start: Lead = { nodes: [node], select: (occurrence) => [occurrence] };
  return steps.reduce<Lead>((lead, step) => followStep(lead, step, context), start);
}

function followStep(lead: Lead, step: PathStep, context: OverlayContext): Lead {
  const nodes = lead.nodes.flatMap((node) => nodesAt(node, step, context));
  const select: Lead['select'] = (occurrence, walk) =>
    lead.select(occurrence, walk).flatMap((each) => valuesAt(each, step, walk, context));
  return step.kind === 'resolve' ? { nodes, select, reference: lead } : { nodes, select };
}

/** What a slice says one step on; the profiles of its types speak too, and slices in it that must be there. */
function nodesAt(node: ProfileNode, step: PathStep, context: OverlayContext): readonly ProfileNode[] {
  switch (step.kind) {
    case 'name': {
      const required = [...node.slices.values()].filter(({ min = 0 }) => min > 0);
      const within = [node, ...required, ...profileTrees(node, context)];
      return within.flatMap(
        ({ children }) => children.get(step.name) ?? children.get(`${step.name}[x]`) ?? [],
      );
    }
    case 'extension':
      return [...(node.children.get('extension')?.slices.values() ?? [])].filter(
        ({ children, types }) =>
          children.get('url')?.fixed?.value === step.url || types?.[0]?.profiles.includes(step.url) === true,
      );
    case 'ofType':
      return [node, ...node.slices.values()].filter(({ forms }) =>
        forms.every(({ type }) => type === step.type),
      );
    case 'resolve':
      return (node.types ?? []).flatMap(({ targets }) =>
        targets.flatMap((target) => context.findTree(target) ?? []),
      );
  }
}

const profileTrees = ({ types = [] }: ProfileNode, { findTree }: OverlayContext): readonly ProfileNode[] =>
  types.flatMap(({ profiles }) => profiles.flatMap((profile) => findTree(profile) ?? []));

function valuesAt(
  occurrence: Occurrence,
  step: PathStep,
  walk: Walk,
  context: OverlayContext,
): readonly Occurrence[] {
  switch (step.kind) {
    case 'name':
      return valuesOf(step.name, occurrence, context);
    case 'extension':
      return valuesOf('extension', occurrence, context).filter(
        ({ value }) => isJsonObject(value) && value['url'] === step.url,
      );
    case 'ofType':
      return typeOf(occurrence) === step.type ? [occurrence] : [];
    case 'resolve': {
      const target = resolveReference(occurrence.value, walk)?.target;
      return target === undefined ? [] : [wholeResource(target, context.elements.formOf('Resource'))];
    }
  }
}

function valuesOf(name: string, occurrence: Occurrence, { elements }: OverlayContext): readonly Occurrence[] {
  const content = occurrence.form.type === 'Resource' ? typeOf(occurrence) : occurrence.form.content;
  const known = elements.elementsOf(content);
  const element = known.get(name) ?? known.get(`${name}[x]`);
  return element === undefined ? [] : occurrencesOf(element, membersOf(occurrence));
}

/** Undefined when the slice says nothing that tells. */
function compileTest(type: string, lead: Lead, context: OverlayContext): SliceTest | undefined {
  switch (type) {
    case 'value':
    case 'pattern':
      return valuesTest(lead, context);
    case 'exists':
      return existsTest(lead);
    case 'type':
      return lead.reference === undefined ? typeTest(lead, context) : targetTest(lead.reference, context);
    case 'profile':
      return profileTest(lead, context);
    default:
      return undefined;
  }
}

function anyValue({ select }: Lead, test: SliceTest | undefined): SliceTest | undefined {
  if (test === undefined) return undefined;
  return (occurrence, walk) => select(occurrence, walk).some((each) => test(each, walk));
}

/** By what each place of the slice says of it, which some value must be. */
function valuesTest(lead: Lead, context: OverlayContext): SliceTest | undefined {
  const tests = lead.nodes.flatMap((node) => anyValue(lead, valueTest(node, context)) ?? []);
  return tests.length === 0 ? undefined : allOf(tests);
}

/** By a fixed value, a pattern or a required binding, of the element or else of those below it. */
function valueTest(node: ProfileNode, context: OverlayContext): SliceTest | undefined {
  const own = ownTests(node, context);
  if (own.length > 0) return allOf(own);
  const below = [...node.children.values()].flatMap((child) => belowTest(child, context) ?? []);
  return below.length === 0 ? undefined : allOf(below);
}

const allOf =
  (tests: readonly SliceTest[]): SliceTest =>
  (occurrence, walk) =>
    tests.every((test) => test(occurrence, walk));

function ownTests(
  { fixed, pattern, bindings }: ProfileNode,
  { findBinding }: OverlayContext,
): readonly SliceTest[] {
  const tests: SliceTest[] = [];
  if (fixed !== undefined) tests.push(({ value }) => isSame(value, fixed.value));
  if (pattern !== undefined) tests.push(({ value }) => matchesPattern(value, pattern.value));
  if (tests.length > 0) return tests;
  return [...bindings].flatMap((url) => {
    const binding = findBinding(url);
    return binding === undefined
      ? []
      : ([
          ({ value }) => codingsOf(value).some(([code, system]) => binding.isMember(code, system)),
        ] satisfies SliceTest[]);
  });
}

/** Code and system of a code, a Coding, or each coding of a concept. */
function codingsOf(value: unknown): readonly (readonly [unknown, unknown])[] {
  if (!isJsonObject(value)) return [[value, undefined]];
  const codings: readonly JsonObject[] = Array.isArray(value['coding'])
    ? objectsIn(value['coding'])
    : [value];
  return codings.map(({ code, system }) => [code, system ?? null]);
}

function belowTest(node: ProfileNode, context: OverlayContext): SliceTest | undefined {
  const test = valueTest(node, context);
  const { base } = node;
  if (test === undefined || base === undefined) return undefined;
  return (occurrence, walk) => occurrencesOf(base, membersOf(occurrence)).some((each) => test(each, walk));
}

function existsTest({ nodes, select }: Lead): SliceTest | undefined {
  const isForbidden = nodes.some(({ max }) => max === 0);
  const isRequired = nodes.some(({ min = 0 }) => min > 0);
  if (isForbidden === isRequired) return undefined;
  return (occurrence, walk) => select(occurrence, walk).length > 0 === isRequired;
}

function typeTest(lead: Lead, { elements }: OverlayContext): SliceTest | undefined {
  const forms = lead.nodes.flatMap((node) => (isNarrowed(node) ? node.forms : []));
  if (forms.length === 0) return undefined;
  return anyValue(lead, (occurrence) => forms.some((form) => isOfForm(occurrence, form, elements)));
}

function isNarrowed({ base, forms }: ProfileNode): boolean {
  return base === undefined || base.forms.some(({ type }) => !forms.some((form) => form.type === type));
}

/** By the type of what a Reference points to. */
function targetTest(lead: Lead, context: OverlayContext): SliceTest | undefined {
  const types = targetProfiles(lead).flatMap((profile) => context.typeOfProfile(profile) ?? []);
  if (types.length === 0) return undefined;
  return anyValue(lead, ({ value }, walk) => {
    const type = resolveReference(value, walk)?.type;
    return type !== undefined && types.some((each) => context.elements.isOfType(type, each));
  });
}

/** By a profile that the value keeps; what a Reference points to is told by its type where it is not at hand. */
function profileTest(lead: Lead, context: OverlayContext): SliceTest | undefined {
  const { reference } = lead;
  const profiles = reference === undefined ? typeProfiles(lead) : targetProfiles(reference);
  const tests = profiles.map((profile) => keepsProfile(profile, context));
  if (tests.length === 0) return undefined;
  const ofValue: SliceTest = (occurrence, walk) => tests.some((test) => test(occurrence, walk));
  if (reference === undefined) return anyValue(lead, ofValue);
  const byType = targetTest(reference, context);
  return (occurrence, walk) => {
    const targets = lead.select(occurrence, walk);
    if (targets.length === 0) return byType?.(occurrence, walk) ?? false;
    return targets.some((target) => ofValue(target, walk));
  };
}

function keepsProfile(profile: string, context: OverlayContext): SliceTest {
  const type = context.typeOfProfile(profile);
  return (occurrence, walk) => {
    const own = typeOf(occurrence);
    if (type !== undefined && !context.elements.isOfType(own, type)) return false;
    const check = context.findProfile(profile, own);
    if (check === undefined) return type !== undefined;
    return walk.keeps((aside) => {
      checkInPlace(check, occurrence, aside);
    });
  };
}

/** What a reference points to, or an entry holds, is a resource of its own. */
function checkInPlace(check: OccurrenceCheck, occurrence: Occurrence, walk: Walk): void {
  if (!isResource(occurrence)) {
    check(occurrence, walk);
    return;
  }
  const resource = membersOf(occurrence);
  const isContained = walk.index.isContained(resource, walk.container);
  walk.within(resource, isContained, () => {
    check(occurrence, walk);
  });
}

const typeProfiles = ({ nodes }: Lead): readonly string[] =>
  nodes.flatMap(({ types = [] }) => types.flatMap(({ profiles }) => profiles));

const targetProfiles = ({ nodes }: Lead): readonly string[] =>
  nodes.flatMap(({ types = [] }) => types.flatMap(({ targets }) => targets));
