import fc from 'fast-check';
import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import { describe, expect, test } from 'vitest';
import { compileValidator, type FhirIssue, r4Definitions } from '../../src/fhir/index.js';
import { NATIVE_INVARIANTS, type NativeInvariant } from '../../src/fhir/validation/invariants.js';
import { restate } from '../../src/fhir/validation/restated-invariants.js';
import { Walk } from '../../src/fhir/validation/walk.js';
import { arbitraryResources, definedResources, type JsonObject } from './arbitrary-resource.js';
import { Elements, type PlacedElement } from './elements.js';
import { takeOut } from './mutate.js';

// What is held against: the expressions as HL7 FHIR R4 4.0.1 publishes them (elementdefinition.constraint), but for those
// that restated-invariants.ts puts as their words have it, evaluated by the FHIRPath engine of the National Library of
// Medicine with its R4 model.

const RUNS = 10_000;

/** Constraints whose published expression cannot be evaluated or says another thing than its words. */
const EXCEPTIONS: readonly { readonly key: string; readonly instead: string; readonly reason: string }[] = [
  {
    key: 'dom-3',
    instead:
      "contained.where((('#'&id in (%resource.descendants().reference | %resource.descendants().ofType(canonical) | %resource.descendants().ofType(uri) | %resource.descendants().ofType(url))) or descendants().where(reference = '#').exists() or descendants().ofType(canonical).where($this = '#').exists()).not()).empty()",
    reason:
      'FHIRPath "as(type)" is an error on more than one item, so the published text throws wherever something is contained; ofType(type) is what was meant. A contained resource without an id cannot be referred to; the published "+" lets it pass',
  },
];

const of = arbitraryResources(r4Definitions);
const elements = new Elements(r4Definitions);

/** Every defined type is drawn; then some of it may be taken out. */
const resources = fc
  .tuple(fc.oneof(...definedResources(r4Definitions).map(of)), fc.array(fc.nat(), { maxLength: 2 }))
  .map(([resource, ats]) => takeOut(resource, ats) as JsonObject);

type Verdict = (element: PlacedElement) => boolean;

/** As FHIRPath has it; an empty outcome keeps a rule, but for per-1, where the order of the ends cannot be told. */
function compileVerdict(key: string, expression: string): Verdict {
  const byBase = new Map<string, ReturnType<typeof compileAt>>();
  return ({ base, value, resource, root }) => {
    const evaluate = byBase.get(base) ?? compileAt(base, expression);
    byBase.set(base, evaluate);
    const [outcome] = evaluate(value, { resource, rootResource: root, ucum: 'http://unitsofmeasure.org' });
    return outcome === undefined ? key !== 'per-1' : outcome === true;
  };
}

function compileAt(base: string, expression: string): (item: unknown, env: object) => readonly unknown[] {
  const compiled = fhirpath.compile({ base, expression }, r4, { traceFn: () => undefined });
  return (item, env) => compiled(item, env) as readonly unknown[];
}

function nativeVerdict(native: NativeInvariant, { value, resource, root }: PlacedElement): boolean {
  const walk = new Walk(root);
  let holds = true;
  const judge = (): void => {
    holds = native.holds(value, walk);
  };
  if (resource === root) judge();
  else walk.within(resource, true, judge);
  return holds;
}

/** Each native with the verdict it must give. */
const judged = NATIVE_INVARIANTS.map((native) => {
  const exception = EXCEPTIONS.find(({ key }) => key === native.key);
  return { native, verdict: compileVerdict(native.key, exception?.instead ?? restate(native.expression)) };
});

describe('an invariant that is written in code', () => {
  test.each(NATIVE_INVARIANTS.map(({ key, expression }) => [key, expression]))(
    '%s has the key and the expression of a published constraint',
    (key, expression) => {
      const published = r4Definitions.types.flatMap(({ constraints = [] }) => constraints);
      expect(published.some((each) => each.key === key && each.expression === expression)).toBe(true);
    },
  );

  test(`agrees with its FHIRPath on every element of ${String(RUNS)} resources, kept ones and broken ones`, () => {
    const seen = new Map(judged.map(({ native }) => [native.key, { kept: 0, broken: 0 }]));
    const property = fc.property(resources, (resource) => {
      for (const element of elements.listOf(resource)) {
        for (const { native, verdict } of nativesOn(element)) {
          const expected = verdict(element);
          const told = { rule: native.key, place: element.place, holds: nativeVerdict(native, element) };
          expect(told).toEqual({ ...told, holds: expected });
          const count = seen.get(native.key);
          if (count !== undefined) count[expected ? 'kept' : 'broken'] += 1;
        }
      }
    });
    fc.assert(property, { numRuns: RUNS, seed: 20_261 });
    const oneSided = [...seen].filter(([, { kept, broken }]) => kept === 0 || broken === 0);
    expect(oneSided, 'never seen both kept and broken').toEqual([]);
  }, 120_000);
});

const nativesOn = ({ constraints }: PlacedElement): typeof judged =>
  judged.filter(({ native }) =>
    constraints.some(({ key, expression }) => key === native.key && expression === native.expression),
  );

describe('the validator', () => {
  const withNatives = compileValidator(r4Definitions);
  // A native stands for a constraint of the very same text only; brackets change the text and not the meaning.
  const withoutNatives = compileValidator({
    ...r4Definitions,
    types: r4Definitions.types.map(({ constraints = [], ...type }) => ({
      ...type,
      constraints: constraints.map((row) => {
        const exception = EXCEPTIONS.find(({ key }) => key === row.key);
        return { ...row, expression: `(${exception?.instead ?? restate(row.expression)})` };
      }),
    })),
  });
  const verdicts = (issues: readonly FhirIssue[]): readonly string[] =>
    issues.map(({ severity, rule, expression }) => `${severity} ${rule} ${expression}`).toSorted();

  test('gives the same verdicts when every invariant is left to FHIRPath', () => {
    const property = fc.property(resources, (resource) => {
      expect(verdicts(withNatives(resource))).toEqual(verdicts(withoutNatives(resource)));
    });
    fc.assert(property, { numRuns: RUNS, seed: 20_262 });
  }, 120_000);

  test('tells ele-1 of the very elements on which its FHIRPath is false', () => {
    // A resource is no element: one of which only the type is known keeps ele-1.
    const evaluate = fhirpath.compile(
      'descendants().where((is(Resource) or hasValue() or (children().count() > id.count())).not())',
      r4,
      { resolveInternalTypes: false },
    );
    const property = fc.property(resources, (resource) => {
      const nodes = evaluate(resource) as readonly { fullPropertyName(): string | undefined }[];
      const expected = nodes.map((node) => node.fullPropertyName() ?? '');
      const issues = withNatives(resource);
      // Twins that something was taken out of may no longer stand beside their values: no shape to judge by.
      fc.pre(issues.every(({ rule }) => !rule.startsWith('json-')));
      const told = issues.filter(({ rule }) => rule === 'ele-1');
      expect(placesOf(told.map(({ expression }) => expression))).toEqual(placesOf(expected));
    });
    fc.assert(property, { numRuns: RUNS, seed: 20_263 });
  }, 120_000);
});

/** Narratives left out: to the engine, xhtml never has a value. */
const placesOf = (places: readonly string[]): ReadonlySet<string> =>
  new Set(places.filter((place) => !place.endsWith('.text.div')));
