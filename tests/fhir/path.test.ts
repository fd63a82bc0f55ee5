import { describe, expect, test } from 'vitest';
import { compilePath } from '../../src/fhir/path.js';

const observation = {
  resourceType: 'Observation',
  code: { coding: [{ system: 'http://loinc.org', code: '83174-3' }] },
  subject: { reference: 'Patient/p1' },
  effectivePeriod: { start: '2026-03-01' },
  valueCodeableConcept: { text: 'swollen' },
  bodySite: {
    extension: [
      { url: 'urn:a', valueString: 'one' },
      { url: 'urn:b', valueString: 'two' },
    ],
  },
  component: [{ code: { text: 'warmth' } }, null, { code: { text: 'swelling' } }],
};

const values = (expression: string): readonly unknown[] => compilePath(expression)(observation);

describe('an expression of a search parameter', () => {
  test('walks members and takes arrays item by item, passing over null padding', () => {
    expect(values('Observation.component.code.text')).toEqual(['warmth', 'swelling']);
    expect(values('Observation.code.coding.code')).toEqual(['83174-3']);
  });

  test('joins the values of a union in its order', () => {
    expect(values('Observation.code.coding.code | Observation.component.code.text')).toEqual([
      '83174-3',
      'warmth',
      'swelling',
    ]);
  });

  test('finds a choice element by the type asked for, and only that type', () => {
    expect(values('(Observation.value as CodeableConcept)')).toEqual([{ text: 'swollen' }]);
    expect(values('(Observation.value as CodeableConcept).text')).toEqual(['swollen']);
    expect(values('Observation.value.ofType(CodeableConcept)')).toEqual([{ text: 'swollen' }]);
    expect(values('(Observation.value as Quantity)')).toEqual([]);
    expect(values('Observation.effective')).toEqual([{ start: '2026-03-01' }]);
  });

  test('keeps the references that name the type asked for', () => {
    expect(values('Observation.subject.where(resolve() is Patient)')).toEqual([{ reference: 'Patient/p1' }]);
    expect(values('Observation.subject.where(resolve() is Group)')).toEqual([]);
    const stated = { resourceType: 'Observation', subject: { type: 'Patient', identifier: { value: '7' } } };
    expect(compilePath('Observation.subject.where(resolve() is Patient)')(stated)).toHaveLength(1);
    const elsewhere = {
      resourceType: 'Observation',
      subject: { reference: 'https://else.example/r4/Patient/9' },
    };
    expect(compilePath('Observation.subject.where(resolve() is Patient)')(elsewhere)).toHaveLength(1);
  });

  test('keeps the extension of one URL', () => {
    expect(values("Observation.bodySite.extension.where(url='urn:b').value.ofType(string)")).toEqual(['two']);
  });

  test('finds nothing in a resource of another type, and Resource is every type', () => {
    expect(values('Patient.code')).toEqual([]);
    expect(values('Resource.code.coding.system')).toEqual(['http://loinc.org']);
  });

  test.each([
    'Patient.deceased.exists() and Patient.deceased != false',
    'Observation.',
    '(Observation.value as Quantity',
    "Observation.code.where(system='x'",
    'Observation.code[0]',
    'Observation.code is CodeableConcept',
    '',
  ])('that is beyond the subset stops the start and is named: %s', (expression) => {
    expect(() => compilePath(expression)).toThrow(`search expression not understood: ${expression}`);
  });
});
