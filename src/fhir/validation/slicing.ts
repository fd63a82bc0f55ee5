import type { ElementDefinitionSlicingDiscriminator } from 'fhir/r4.js';
import { urlOf } from './canonical-index.js';
import { DefinitionFault } from './definition-fault.js';
import { compileDiscriminator, type SliceTest } from './discriminators.js';
import type { GroupCheck, Occurrence, Scope } from './occurrences.js';
import type { OverlayContext } from './overlay-context.js';
import type { ProfileNode } from './profile-tree.js';
import type { Walk } from './walk.js';

/** Takes the values that no other slice takes. */
const DEFAULT_SLICE = '@default';

interface Slice {
  readonly node: ProfileNode;
  readonly takes: SliceTest;
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
  const discriminators = discriminatorsOf(node, context);
  const slices = [...node.slices.values()].map((slice) => ({
    node: slice,
    takes: slice.sliceName === DEFAULT_SLICE ? () => false : takesBy(discriminators, slice, node, context),
    check: compileSlice(slice),
  }));
  const rules = slicingRules(node, slices);
  if (rules === undefined && slices.every(({ check }) => check === undefined)) return undefined;
  const isRequired = (node.min ?? node.base?.row.min ?? 0) > 0;
  return (occurrences, scope, walk) => {
    // That the whole element is missing is told once, by its own cardinality.
    if (occurrences.length === 0 && isRequired) return;
    const taken = occurrences.map((occurrence) => takenBy(slices, occurrence, scope));
    for (const [index, { check, node: slice }] of slices.entries()) {
      const own = occurrences.filter((_, place) => taken[place]?.includes(index));
      if (check !== undefined && (slice.sliceName !== DEFAULT_SLICE || own.length > 0))
        check(own, scope, walk);
    }
    rules?.(occurrences, taken, walk);
  };
}

/** The slices that take each value, by their index. */
type Taken = readonly (readonly number[])[];

function takenBy(slices: readonly Slice[], occurrence: Occurrence, scope: Scope): readonly number[] {
  const taken: number[] = [];
  for (const [index, { takes }] of slices.entries()) {
    if (takes(occurrence, scope)) taken.push(index);
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

function takesBy(
  discriminators: readonly ElementDefinitionSlicingDiscriminator[],
  slice: ProfileNode,
  whole: ProfileNode,
  context: OverlayContext,
): SliceTest {
  const url = extensionUrl(slice);
  if (url !== undefined) return ({ value }) => (value as { readonly url?: unknown } | undefined)?.url === url;
  const tests = discriminators.map((each) => compileDiscriminator(each, slice, whole, context));
  const [only] = tests;
  if (tests.length === 1 && only !== undefined) return only;
  return (occurrence, scope) => tests.every((meets) => meets(occurrence, scope));
}

/** An extension's url is the canonical URL of its definition, which may not be at hand. */
function extensionUrl({ base, types, children }: ProfileNode): string | undefined {
  if (base?.forms[0]?.type !== 'Extension' || children.get('url')?.fixed !== undefined) return undefined;
  const profile = types?.[0]?.profiles[0];
  return profile === undefined ? undefined : urlOf(profile);
}

/** The rules of the slicing as a whole; `walk` is at what holds the values. */
function slicingRules(
  { slicing, base, id }: ProfileNode,
  slices: readonly Slice[],
): ((occurrences: readonly Occurrence[], taken: Taken, walk: Walk) => void) | undefined {
  const name = base?.name ?? '';
  const names = slices.map(({ node }) => node.sliceName);
  const rules = slicing?.rules ?? 'open';
  const isOrdered = slicing?.ordered === true;
  return (occurrences, taken, walk) => {
    let last = -1;
    let firstOpen: number | undefined;
    for (const [place, own] of taken.entries()) {
      const report = (diagnostics: string): void => {
        reportAtValue(name, occurrences[place]?.index, diagnostics, names, walk);
      };
      const [first] = own;
      if (own.length > 1) {
        const both = own.map((index) => names[index]).join(' and ');
        report(`A value of ${id} belongs to the slices ${both}; it may belong to one.`);
      }
      if (first === undefined) {
        if (rules === 'closed') report(`A value of ${id} belongs to none of the slices ${names.join(', ')}.`);
        firstOpen ??= place;
        continue;
      }
      if (rules === 'openAtEnd' && firstOpen !== undefined) {
        report(`A value of the slice ${String(names[first])} of ${id} follows one that belongs to no slice.`);
      }
      if (isOrdered && first < last) {
        report(
          `The slice ${String(names[first])} of ${id} follows ${String(names[last])}; it comes before it.`,
        );
      }
      last = Math.max(last, first);
    }
  };
}

function reportAtValue(
  name: string,
  index: number | undefined,
  diagnostics: string,
  allowed: readonly string[],
  walk: Walk,
): void {
  if (!walk.enter(name)) return;
  const fault = { code: 'structure', rule: 'slicing', diagnostics, allowed } as const;
  if (index === undefined) walk.report(fault);
  else if (walk.enter(index)) {
    walk.report(fault);
    walk.leave();
  }
  walk.leave();
}
