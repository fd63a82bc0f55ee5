import { describe, expect, test } from 'vitest';
import {
  compileValidator,
  type FhirIssue,
  hasErrors,
  issueOfJsonFault,
  type JsonFault,
  parseJson,
  pathStep,
  r4Definitions,
  RULE_SYSTEM,
  toOperationOutcome,
} from '../../src/fhir/index.js';

const issue: FhirIssue = {
  severity: 'error',
  code: 'invariant',
  rule: 'obs-6',
  expression: 'Observation',
  diagnostics: 'A reason why there is no value stands beside a value.',
};

// R4 operationoutcome.
describe('an OperationOutcome', () => {
  test('tells each issue with its rule, its place and its sentence', () => {
    expect(toOperationOutcome([issue])).toEqual({
      resourceType: 'OperationOutcome',
      issue: [
        {
          severity: 'error',
          code: 'invariant',
          details: { coding: [{ system: RULE_SYSTEM, code: 'obs-6' }] },
          diagnostics: issue.diagnostics,
          expression: ['Observation'],
        },
      ],
    });
  });

  test('without issues holds the one remark that all is well, for an outcome must hold one', () => {
    expect(toOperationOutcome([]).issue).toMatchObject([{ severity: 'information', code: 'informational' }]);
  });

  test('leaves the place out when the fault is that of the whole input', () => {
    const issues = compileValidator(r4Definitions)([]);
    expect(toOperationOutcome(issues).issue[0]).not.toHaveProperty('expression');
  });
});

describe('whether issues forbid storing', () => {
  test.each([
    ['fatal', true],
    ['error', true],
    ['warning', false],
    ['information', false],
  ] as const)('%s: %s', (severity, forbids) => {
    expect(hasErrors([{ ...issue, severity }])).toBe(forbids);
  });
});

describe('a fault of the JSON text', () => {
  test('is fatal and tells its place as a path, with line and column', () => {
    const parsed = parseJson('{"component":[{"code":1},\n{"a b":2,"a b":2}]}');
    const faults: readonly JsonFault[] = parsed.ok ? [] : parsed.faults;
    expect(faults.map((fault) => issueOfJsonFault(fault))).toMatchObject([
      {
        severity: 'fatal',
        code: 'structure',
        rule: 'json-duplicate-key',
        expression: 'component[1].`a b`',
        diagnostics: 'The name "a b" stands twice in the same object. (Line 2, column 10.)',
      },
    ]);
    expect(faults.map((fault) => issueOfJsonFault(fault, 'Observation').expression)).toEqual([
      'Observation.component[1].`a b`',
    ]);
  });
});

test('a name that is no identifier stands in backquotes in FHIRPath', () => {
  expect(['status', '_x', 'a b', 'a`b', ''].map(pathStep)).toEqual([
    'status',
    '_x',
    '`a b`',
    '`a\\`b`',
    '``',
  ]);
});
