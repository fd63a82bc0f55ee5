import type { ElementDefinitionSlicingDiscriminator } from 'fhir/r4.js';
import { urlOf } from './canonical-index.js';
import { DefinitionFault } from './definition-fault.js';
import { compileDiscriminator, type Discriminator, type Selection } from './discriminators.js';
import type { GroupCheck, Occurrence } from './occurrences.js';
import type { OverlayContext } from './overlay-context.js';
import type { ProfileNode } from './profile-tree.js';
import { isJsonObject, type Walk } from './walk.js';

/** Takes the values that no other slice takes. */
const DEFAULT_SLICE = '@default';

/** Whether a slice takes a value, of which the discriminators have selected what tells. */
type Takes = (occurrence: Occurrence, selections: readonly Selection[], walk: Walk) => boolean;

interface Slice {
  readonly node: ProfileNode;
  readonly takes: Takes;
  readonly check: GroupCheck | undefined;
}

/**
 * ElementDefinition.slicing (R4 profiling, "Slicing"): gives each value to the slice whose discriminators it meets, holds
 * the slice's rules against what it was given, and the rules of the slicing against the whole.
 */
export function compileSlicing(
  node: ProfileNode,
  context: OverlayContext,
  compileSlice: (slice: ProfileNode) => GroupCheck | undefined,
): GroupCheck | undefined {
  if (node.slices.size === 0) return undefined;
  const discriminators = discriminatorsOf(node, context).map((each) =>
    compileDiscriminator(each, node, context),
  );
  const slices = [...node.slices.values()].map((slice) => ({
    node: slice,
    takes: slice.sliceName === DEFAULT_SLICE ? () => false : takesBy(discriminators, slice),
    check: compileSlice(slice),
  }));
  const rules = slicingRules(node, slices);
  const isRequired = (node.min ?? node.base?.row.min ?? 0) > 0;
  return (occurrences, walk) => {
    // That the whole element is missing is told once, by its own cardinality.
    if (occurrences.length === 0 && isRequired) return;
    const taken = occurrences.map((occurrence) => {
      const selections = discriminators.map(({ select }) => select(occurrence, walk));
      return takenBy(slices, occurrence, selections, walk);
    });
    for (const [index, { check, node: slice }] of slices.entries()) {
      if (check === undefined) continue;
      const own = occurrences.filter((_, place) => taken[place]?.includes(index));
      if (slice.sliceName !== DEFAULT_SLICE || own.length > 0) check(own, walk);
    }
    rules(occurrences, taken, walk);
  };
}

/** The slices that take each value, by their index. */
type Taken = readonly (readonly number[])[];

function takenBy(
  slices: readonly Slice[],
  occurrence: Occurrence,
  selections: readonly Selection[],
  walk: Walk,
): readonly number[] {
  const taken: number[] = [];
  for (const [index, { takes }] of slices.entries()) {
    if (takes(occurrence, selections, walk)) taken.push(index);
  }
  if (taken.length > 0) return taken;
  const rest = slices.findIndex(({ node }) => node.sliceName === DEFAULT_SLICE);
  return rest === -1 ? taken : [rest];
}

/** How values are told apart; extensions by their url and choices by their type without being told so. */
function discriminatorsOf(
  { slicing, base, id }: ProfileNode,
  { definition }: OverlayContext,
): readonly ElementDefinitionSlicingDiscriminator[] {
  if (slicing?.discriminator !== undefined) return slicing.discriminator;
  if (base?.forms[0]?.type === 'Extension') return [{ type: 'value', path: 'url' }];
  if (base?.label !== base?.name) return [{ type: 'type', path: '$this' }];
  if (slicing !== undefined) return [{ type: 'value', path: '$this' }];
  throw new DefinitionFault(
    definition,
    id,
    'The element has slices, but nothing says what tells them apart.',
  );
}

function takesBy(discriminators: readonly Discriminator[], slice: ProfileNode): Takes {
  const url = extensionUrl(slice);
  if (url !== undefined) return ({ value }) => isJsonObject(value) && value['url'] === url;
  const tests = discriminators.map(({ compileSlice }) => compileSlice(slice));
  return (_occurrence, selections, walk) =>
    tests.every((meets, index) => {
      const selection = selections[index];
      return selection !== undefined && meets(selection, walk);
    });
}

/** An extension's url is the canonical URL of its definition, which may not be at hand. */
function extensionUrl({ base, types, children }: ProfileNode): string | undefined {
  if (base?.forms[0]?.type !== 'Extension' || children.get('url')?.fixed !== undefined) return undefined;
  const profile = types?.[0]?.profiles[0];
  return profile === undefined ? undefined : urlOf(profile);
}

/** What is wrong with the slices that take a value, as a sentence; undefined when nothing is. */
type SliceRule = (taken: readonly number[], before: Standing) => string | undefined;

/** What came before a value. */
interface Standing {
  /** The furthest slice, by its index; -1 before the first. */
  furthest: number;
  hasOpen: boolean;
}

/** The rules of the slicing as a whole. */
function slicingRules(
  node: ProfileNode,
  slices: readonly Slice[],
): (occurrences: readonly Occurrence[], taken: Taken, walk: Walk) => void {
  const names = slices.map(({ node: slice }) => slice.sliceName);
  const rules = [
    inOneSlice(node, names),
    closed(node, names),
    openAtEnd(node, names),
    ordered(node, names),
  ].filter((rule) => rule !== undefined);
  return (occurrences, taken, walk) => {
    const before: Standing = { furthest: -1, hasOpen: false };
    for (const [place, occurrence] of occurrences.entries()) {
      // A type that the element may not have is told as that.
      if (!node.forms.some(({ jsonName }) => jsonName === occurrence.form.jsonName)) continue;
      const own = taken[place] ?? [];
      for (const rule of rules) {
        const sentence = rule(own, before);
        if (sentence !== undefined) reportAtValue(occurrence, sentence, node, names, walk);
      }
      before.hasOpen ||= own.length === 0;
      before.furthest = Math.max(before.furthest, ...own);
    }
  };
}

function inOneSlice({ id }: ProfileNode, names: readonly string[]): SliceRule {
  return (taken) => {
    if (taken.length < 2) return undefined;
    const all = taken.map((index) => names[index]).join(' and ');
    return `A value of ${id} belongs to the slices ${all}; it may belong to one.`;
  };
}

/** ElementDefinition.slicing.rules: closed. */
function closed({ slicing, id }: ProfileNode, names: readonly string[]): SliceRule | undefined {
  if (slicing?.rules !== 'closed') return undefined;
  const sentence = `A value of ${id} belongs to none of the slices ${names.join(', ')}.`;
  return (taken) => (taken.length === 0 ? sentence : undefined);
}

/** ElementDefinition.slicing.rules: openAtEnd. */
function openAtEnd({ slicing, id }: ProfileNode, names: readonly string[]): SliceRule | undefined {
  if (slicing?.rules !== 'openAtEnd') return undefined;
  return ([slice], { hasOpen }) =>
    hasOpen && slice !== undefined
      ? `A value of the slice ${String(names[slice])} of ${id} follows one that belongs to no slice.`
      : undefined;
}

/** ElementDefinition.slicing.ordered. */
function ordered({ slicing, id }: ProfileNode, names: readonly string[]): SliceRule | undefined {
  if (slicing?.ordered !== true) return undefined;
  return ([slice], { furthest }) =>
    slice !== undefined && slice < furthest
      ? `The slice ${String(names[slice])} of ${id} follows ${String(names[furthest])}; it comes before it.`
      : undefined;
}

function reportAtValue(
  { index }: Occurrence,
  diagnostics: string,
  { base }: ProfileNode,
  allowed: readonly string[],
  walk: Walk,
): void {
  if (!walk.enter(base?.name ?? '')) return;
  const fault = { code: 'structure', rule: 'slicing', diagnostics, allowed } as const;
  if (index === undefined) walk.report(fault);
  else if (walk.enter(index)) {
    walk.report(fault);
    walk.leave();
  }
  walk.leave();
}
