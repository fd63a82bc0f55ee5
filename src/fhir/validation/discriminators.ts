import type { ElementDefinitionSlicingDiscriminator } from 'fhir/r4.js';
import { DefinitionFault } from './definition-fault.js';
import { compileFixed, compilePattern, type ValueTest } from './given-values.js';
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

/** Where a discriminator's path leads in a value. */
export interface Selection {
  readonly values: readonly Occurrence[];
  /** The References that the path's last step resolves. */
  readonly references: readonly Occurrence[];
}

/** Whether what a discriminator selects belongs to a slice. */
export type SelectionTest = (selection: Selection, walk: Walk) => boolean;

/** A discriminator of a slicing: selects of a value once what each slice then tests. */
export interface Discriminator {
  readonly select: (occurrence: Occurrence, walk: Walk) => Selection;
  /** Throws a DefinitionFault when the slice says nothing by which it could be told from the others. */
  readonly compileSlice: (slice: ProfileNode) => SelectionTest;
}

/** One step of a discriminator's path (R4 profiling, "Discriminator": the restricted FHIRPath). */
type PathStep =
  | { readonly kind: 'name'; readonly name: string }
  | { readonly kind: 'extension'; readonly url: string }
  | { readonly kind: 'resolve' }
  | { readonly kind: 'ofType'; readonly type: string };

/** Where a discriminator's path leads in the definition of a slice. */
interface Lead {
  readonly nodes: readonly ProfileNode[];
  /** Where the References are that the path's last step resolves; undefined when it resolves none. */
  readonly references: readonly ProfileNode[] | undefined;
}

/** Compiles one discriminator of the slicing of an element. */
export function compileDiscriminator(
  { type, path }: ElementDefinitionSlicingDiscriminator,
  whole: ProfileNode,
  context: OverlayContext,
): Discriminator {
  const steps = readPath(path, whole, context);
  return {
    select: (occurrence, walk) => select(occurrence, steps, walk, context),
    compileSlice: (slice) => {
      for (const node of [slice, whole]) {
        const test = compileTest(type, follow(node, steps, context), context);
        if (test !== undefined) return test;
      }
      const sentence = `The slicing tells slices apart by ${type} of ${path}, of which this slice says nothing that does.`;
      throw new DefinitionFault(context.definition, slice.id, sentence);
    },
  };
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
  let nodes: readonly ProfileNode[] = [node];
  let references: Lead['references'];
  for (const step of steps) {
    references = step.kind === 'resolve' ? nodes : undefined;
    nodes = nodes.flatMap((each) => nodesAt(each, step, context));
  }
  return { nodes, references };
}

function select(
  occurrence: Occurrence,
  steps: readonly PathStep[],
  walk: Walk,
  context: OverlayContext,
): Selection {
  let values: readonly Occurrence[] = [occurrence];
  let references: readonly Occurrence[] = [];
  for (const step of steps) {
    references = step.kind === 'resolve' ? values : [];
    values =
      values[0] !== undefined && values.length === 1
        ? valuesAt(values[0], step, walk, context)
        : values.flatMap((each) => valuesAt(each, step, walk, context));
  }
  return { values, references };
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
function compileTest(type: string, lead: Lead, context: OverlayContext): SelectionTest | undefined {
  switch (type) {
    case 'value':
    case 'pattern':
      return valuesTest(lead, context);
    case 'exists':
      return existsTest(lead);
    case 'type':
      return lead.references === undefined ? typeTest(lead, context) : targetTest(lead, context);
    case 'profile':
      return profileTest(lead, context);
    default:
      return undefined;
  }
}

/** By what each place of the slice says of it, which some value must be. */
function valuesTest({ nodes }: Lead, context: OverlayContext): SelectionTest | undefined {
  const tests = nodes.flatMap((node) => valueTest(node, context) ?? []);
  if (tests.length === 0) return undefined;
  return ({ values }) => tests.every((test) => values.some(test));
}

/** Whether a single value is one of a slice. */
type OccurrenceTest = (occurrence: Occurrence) => boolean;

/** By a fixed value, a pattern or a required binding, of the element or else of those below it. */
function valueTest(node: ProfileNode, context: OverlayContext): OccurrenceTest | undefined {
  const own = ownTest(node, context);
  if (own !== undefined) return ({ value }) => own(value);
  const below = [...node.children.values()].flatMap((child) => belowTest(child, context) ?? []);
  if (below.length === 0) return undefined;
  return (occurrence) => below.every((test) => test(occurrence));
}

function ownTest(
  { fixed, pattern, bindings }: ProfileNode,
  { findBinding }: OverlayContext,
): ValueTest | undefined {
  if (fixed !== undefined) return compileFixed(fixed.value);
  if (pattern !== undefined) return compilePattern(pattern.value);
  const [binding] = [...bindings].flatMap((url) => findBinding(url) ?? []);
  if (binding === undefined) return undefined;
  return (value) => codingsOf(value).some(([code, system]) => binding.isMember(code, system));
}

/** Code and system of a code, a Coding, or each coding of a concept. */
function codingsOf(value: unknown): readonly (readonly [unknown, unknown])[] {
  if (!isJsonObject(value)) return [[value, undefined]];
  const codings: readonly JsonObject[] = Array.isArray(value['coding'])
    ? objectsIn(value['coding'])
    : [value];
  return codings.map(({ code, system }) => [code, system ?? null]);
}

function belowTest(node: ProfileNode, context: OverlayContext): OccurrenceTest | undefined {
  const test = valueTest(node, context);
  const { base } = node;
  if (test === undefined || base === undefined) return undefined;
  return (occurrence) => occurrencesOf(base, membersOf(occurrence)).some(test);
}

function existsTest({ nodes }: Lead): SelectionTest | undefined {
  const isForbidden = nodes.some(({ max }) => max === 0);
  const isRequired = nodes.some(({ min = 0 }) => min > 0);
  if (isForbidden === isRequired) return undefined;
  return ({ values }) => values.length > 0 === isRequired;
}

function typeTest({ nodes }: Lead, { elements }: OverlayContext): SelectionTest | undefined {
  const forms = nodes.flatMap((node) => (isNarrowed(node) ? node.forms : []));
  if (forms.length === 0) return undefined;
  return ({ values }) => values.some((value) => forms.some((form) => isOfForm(value, form, elements)));
}

function isNarrowed({ base, forms }: ProfileNode): boolean {
  return base === undefined || base.forms.some(({ type }) => !forms.some((form) => form.type === type));
}

/** By the type of what a Reference points to. */
function targetTest({ references = [] }: Lead, context: OverlayContext): SelectionTest | undefined {
  const types = targetProfiles(references).flatMap((profile) => context.typeOfProfile(profile) ?? []);
  if (types.length === 0) return undefined;
  return (selection, walk) =>
    selection.references.some(({ value }) => {
      const type = resolveReference(value, walk)?.type;
      return type !== undefined && types.some((each) => context.elements.isOfType(type, each));
    });
}

/** By a profile that the value keeps; what a Reference points to is told by its type where it is not at hand. */
function profileTest(lead: Lead, context: OverlayContext): SelectionTest | undefined {
  const profiles = lead.references === undefined ? typeProfiles(lead.nodes) : targetProfiles(lead.references);
  const tests = profiles.map((profile) => keepsProfile(profile, context));
  if (tests.length === 0) return undefined;
  const byType = targetTest(lead, context);
  return (selection, walk) => {
    const { values, references } = selection;
    if (values.length === 0 && references.length > 0) return byType?.(selection, walk) ?? false;
    return values.some((value) => tests.some((test) => test(value, walk)));
  };
}

function keepsProfile(
  profile: string,
  context: OverlayContext,
): (occurrence: Occurrence, walk: Walk) => boolean {
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

const typeProfiles = (nodes: readonly ProfileNode[]): readonly string[] =>
  nodes.flatMap(({ types = [] }) => types.flatMap(({ profiles }) => profiles));

const targetProfiles = (nodes: readonly ProfileNode[]): readonly string[] =>
  nodes.flatMap(({ types = [] }) => types.flatMap(({ targets }) => targets));
