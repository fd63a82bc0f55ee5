import fhirpath from 'fhirpath';
import { expect, test } from 'vitest';
import { r4Definitions } from '../../src/fhir/definitions/index.js';
import { RESTATED_EXPRESSIONS, restate } from '../../src/fhir/validation/restated-invariants.js';

const published = new Set(
  r4Definitions.types.flatMap(({ constraints = [] }) => constraints.map(({ expression }) => expression)),
);

test('what is restated is an expression of R4', () => {
  expect(RESTATED_EXPRESSIONS.filter((expression) => !published.has(expression))).toEqual([]);
});

test.each(RESTATED_EXPRESSIONS)('%s is restated in FHIRPath', (expression) => {
  const meant = restate(expression);
  expect(meant).not.toBe(expression);
  expect(fhirpath.parse(meant)).toBeDefined();
});

test('an expression that says what it means is left alone', () => {
  expect(restate('data.empty() or contentType.exists()')).toBe('data.empty() or contentType.exists()');
});
