import { describe, expect, test } from 'vitest';
import {
  compileValidator,
  type FhirIssue,
  hasErrors,
  parseJson,
  r4Definitions,
} from '../../src/fhir/index.js';

const validate = compileValidator(r4Definitions);

const observation = { resourceType: 'Observation', status: 'final', code: { text: 'Grip' } };
const UCUM = 'http://unitsofmeasure.org';
const URL = 'https://a.example/fhir/StructureDefinition/not-this-limb';

const told = (issues: readonly FhirIssue[]): readonly string[] =>
  issues.map(({ severity, rule, expression }) => `${severity} ${rule} ${expression}`);

const without = (issues: readonly FhirIssue[], key: string): readonly FhirIssue[] =>
  issues.filter(({ rule }) => rule !== key);

// R4 narrative; dom-6 is advice on good practice (elementdefinition-bestpractice).
describe('a resource without narrative', () => {
  test('is told of as a warning', () => {
    expect(told(validate(observation))).toEqual(['warning dom-6 Observation']);
  });

  test('is not told of when it is contained', () => {
    const contained = [{ resourceType: 'Patient', id: 'p' }];
    expect(told(validate({ ...observation, contained, subject: { reference: '#p' } }))).toEqual([
      'warning dom-6 Observation',
    ]);
  });
});

// R4 extensibility, "Modifier Extensions": "Applications processing a resource are required to check for modifier
// extensions".
describe('what can change the meaning and is not known', () => {
  const extension = { url: URL, valueBoolean: true };

  test('is a modifier extension, of a resource or of an element', () => {
    const component = [{ code: { text: 'Trial' }, modifierExtension: [extension] }];
    const issues = validate({ ...observation, modifierExtension: [extension], component });
    expect(told(without(issues, 'dom-6'))).toEqual([
      'warning modifier-extension Observation.modifierExtension[0]',
      'warning modifier-extension Observation.component[0].modifierExtension[0]',
    ]);
    expect(hasErrors(issues)).toBe(false);
  });

  test('is a set of implicit rules', () => {
    expect(
      told(without(validate({ ...observation, implicitRules: 'https://a.example/rules' }), 'dom-6')),
    ).toEqual(['warning implicit-rules Observation.implicitRules']);
  });

  test('is no extension that only adds to the meaning', () => {
    expect(without(validate({ ...observation, extension: [extension] }), 'dom-6')).toEqual([]);
  });
});

// The Unified Code for Units of Measure; R4 datatypes, Quantity.
describe('the code of a unit', () => {
  const inUnit = (code: string, system = UCUM): readonly FhirIssue[] =>
    without(validate({ ...observation, valueQuantity: { value: 30, system, code } }), 'dom-6');

  test.each(['kgf', 'N', 'N.m', 'deg', '{score}', '[lb_av]', 'mm[Hg]', '1', '%', '/min', 'cm', 'Cel'])(
    '%s is one of UCUM',
    (code) => {
      expect(inUnit(code)).toEqual([]);
    },
  );

  test.each<[string, string | undefined]>([
    ['mmHg', 'mm[Hg]'],
    ['lbs', '[lb_av]'],
    ['degrees', 'deg'],
    ['Kg', 'kg'],
    ['Newton', 'N'],
    ['bpm', '/min'],
    ['constructor', undefined],
    ['squeezes', undefined],
  ])('%s is none, and %s is offered for it', (code, meant) => {
    const issues = inUnit(code);
    expect(told(issues)).toEqual(['error ucum Observation.value.code']);
    expect(issues[0]).toMatchObject({ code: 'code-invalid', found: code });
    expect(issues[0]?.allowed).toBe(meant);
  });

  test('of another system is left alone', () => {
    expect(inUnit('mmHg', 'https://a.example/units')).toEqual([]);
  });

  test('is looked at in ages and durations too', () => {
    const issues = validate({
      ...observation,
      extension: [{ url: URL, valueDuration: { value: 3, system: UCUM, code: 'hours' } }],
    });
    expect(told(issues)).toContain('error ucum Observation.extension[0].value.code');
  });
});

test('a reference that has only a type is a warning', () => {
  expect(told(without(validate({ ...observation, subject: { type: 'Patient' } }), 'dom-6'))).toEqual([
    'warning reference-empty Observation.subject',
  ]);
});

describe('an invariant that is left to FHIRPath', () => {
  const ranged = (low: string, high: string): readonly FhirIssue[] => {
    const end = (value: string): string => `{"value":${value},"system":"${UCUM}","code":"deg"}`;
    const text = `{"resourceType":"Observation","status":"final","code":{"text":"Flexion"},"valueRange":{"low":${end(low)},"high":${end(high)}}}`;
    const parsed = parseJson(text);
    return parsed.ok ? without(validate(parsed.value), 'dom-6') : [];
  };

  test('compares numbers whose digits are kept as typed (rng-2)', () => {
    expect(ranged('9.50', '10.00')).toEqual([]);
    expect(told(ranged('10.00', '9.50'))).toEqual(['error rng-2 Observation.value']);
  });

  test('is told in the words of the standard', () => {
    expect(ranged('10', '9')[0]?.diagnostics).toBe('If present, low SHALL have a lower value than high.');
  });

  test('that cannot be evaluated is a remark and no fault', () => {
    const broken = compileValidator({
      ...r4Definitions,
      types: r4Definitions.types.map((type) =>
        type.name === 'Observation'
          ? {
              ...type,
              constraints: [
                {
                  path: '',
                  key: 'x-1',
                  severity: 'error',
                  human: 'One code',
                  expression: 'code.coding.single().exists()',
                },
              ],
            }
          : type,
      ),
    });
    const code = { coding: [{ code: 'a' }, { code: 'b' }] };
    const issues = without(broken({ ...observation, code }), 'dom-6');
    expect(told(issues)).toEqual(['information x-1 Observation']);
    expect(issues[0]?.diagnostics).toContain('One code');
  });
});

test('a text is held to the length its definition gives it, by characters', () => {
  const short = compileValidator({
    ...r4Definitions,
    types: r4Definitions.types.map((type) => ({
      ...type,
      elements: type.elements.map((row) =>
        type.name === 'CodeableConcept' && row.path === 'text' ? { ...row, maxLength: 4 } : row,
      ),
    })),
  });
  const named = (text: string): readonly string[] =>
    told(without(short({ ...observation, code: { text } }), 'dom-6'));
  expect(named('Grip')).toEqual([]);
  expect(named('\u{1f9b5}\u{1f9b5}\u{1f9b5}\u{1f9b5}')).toEqual([]);
  expect(named('Grips')).toEqual(['error max-length Observation.code.text']);
});

// The bounds are wide, for a busy machine; what grew with the square of the items took minutes.
describe('a resource of ten thousand items', () => {
  const numbers = Array.from({ length: 10_000 }, (_, index) => String(index));
  const seconds = (resource: object): number => {
    const started = performance.now();
    expect(hasErrors(validate(resource))).toBe(false);
    return (performance.now() - started) / 1000;
  };

  test('is judged in a second when it is a code system (csd-1)', () => {
    const concept = numbers.map((each) => ({ code: each }));
    const system = { resourceType: 'CodeSystem', status: 'draft', content: 'complete', concept };
    expect(seconds(system)).toBeLessThan(5);
    const repeated = { ...system, concept: [...concept, { code: '7' }] };
    expect(told(without(validate(repeated), 'dom-6'))).toEqual(['error csd-1 CodeSystem']);
  });

  test('is judged in seconds when it is the definition of a structure (sdf-8a, sdf-17)', () => {
    const element = ['Patient', ...numbers.map((each) => `Patient.x${each}`)].map((path) => ({
      id: path,
      path,
    }));
    const definition = {
      resourceType: 'StructureDefinition',
      ...{ url: 'https://a.example/patient', name: 'A', status: 'draft', kind: 'resource', abstract: false },
      ...{ type: 'Patient', derivation: 'constraint', differential: { element } },
      baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Patient',
    };
    expect(seconds(definition)).toBeLessThan(10);
  }, 30_000);
});
