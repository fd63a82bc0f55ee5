import fc from 'fast-check';
import fhirpath from 'fhirpath';
import { expect } from 'vitest';
import {
  compileValidator,
  type FhirIssue,
  hasErrors,
  parseJson,
  r4Definitions,
  stringifyJson,
  toOperationOutcome,
} from '../../src/fhir/index.js';
import { arbitraryResources, definedResources } from './arbitrary-resource.js';
import { arbitraryMutation, mutate } from './mutate.js';
import { resolves } from './place.js';
import { published, publishedExamples, publishedFolder } from './published.js';

const validate = compileValidator(r4Definitions);
const types = definedResources(r4Definitions);

/** Longer examples only make the same mutations rarer in each place. */
const MAX_TEXT = 6000;

/** The published examples, when they are at hand. */
const examples: readonly unknown[] = publishedExamples(types)
  .map(published)
  .filter((text) => text.length <= MAX_TEXT)
  .map((text) => JSON.parse(text) as unknown);

const resources: fc.Arbitrary<unknown> = fc.oneof(
  ...(publishedFolder === undefined ? [] : [fc.constantFrom(...examples)]),
  fc.oneof(...types.map(arbitraryResources(r4Definitions))),
);

/** Of so many places, one is also read by the FHIRPath parser, which is slow. */
const PARSED_ONE_IN = 500;
/** Milliseconds: no single resource of this size may hold a request up, whatever is in it. */
const LONGEST = 2000;

/**
 * Validates so many resources that went wrong in up to four ways, every other one as it comes through the JSON reader.
 * Nothing is thrown; each issue has a place that leads through the resource; and all issues of a resource together make
 * an OperationOutcome that is valid itself, so severity, code and place are the standard's.
 */
export function validateHostileResources(count: number, seed: number): void {
  let told = 0;
  const property = fc.property(
    resources,
    fc.array(arbitraryMutation, { minLength: 1, maxLength: 4 }),
    fc.boolean(),
    (resource, mutations, isRead) => {
      const mutant = mutate(resource, mutations);
      const input = isRead ? readAgain(mutant) : mutant;
      const start = performance.now();
      const issues = validate(input);
      expect(performance.now() - start).toBeLessThan(LONGEST);
      for (const issue of issues) {
        told += 1;
        expectSound(issue, input, told % PARSED_ONE_IN === 0);
      }
      expect(hasErrors(validate(toOperationOutcome(issues), 'OperationOutcome'))).toBe(false);
    },
  );
  fc.assert(property, { numRuns: count, seed });
  expect(told).toBeGreaterThan(count);
}

/** As a text that came in: numbers keep their digits. What the reader refuses goes in as it is. */
function readAgain(value: unknown): unknown {
  const parsed = parseJson(stringifyJson(value));
  return parsed.ok ? parsed.value : value;
}

function expectSound({ expression, diagnostics, rule }: FhirIssue, input: unknown, isParsed: boolean): void {
  if (!resolves(expression, input)) expect.fail(`${rule} names the place ${expression}, which is not there`);
  if (rule === '' || !/[.!?)]$/.test(diagnostics)) expect.fail(`${rule} is told by "${diagnostics}"`);
  // The standard's places are made of element names (R4 OperationOutcome.issue.expression), and one of these is div,
  // which to FHIRPath is an operator unless it is quoted.
  if (isParsed && expression !== '') fhirpath.parse(expression.replaceAll(/\.div\b/g, '.`div`'));
}
