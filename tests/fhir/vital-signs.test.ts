// R4 observation-vitalsigns.html: an Observation with one of these LOINC codes shall keep the vital signs profile.
import type { Observation } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import { compileValidator, hasErrors, r4Definitions } from '../../src/fhir/index.js';
import { faultsBy } from './profile-of.js';
import { published, publishedExamples, publishedFolder } from './published.js';

const faults = faultsBy([]);
const LOINC = 'http://loinc.org';
const category = [
  { coding: [{ system: 'http://terminology.hl7.org/CodeSystem/observation-category', code: 'vital-signs' }] },
];
const quantity = (value: number, code: string): object => ({
  value,
  unit: code,
  system: 'http://unitsofmeasure.org',
  code,
});
const component = (code: string): object => ({
  code: { coding: [{ system: LOINC, code }] },
  valueQuantity: quantity(120, 'mm[Hg]'),
});
const vital = (code: string, more: object): object => ({
  resourceType: 'Observation',
  status: 'final',
  category,
  code: { coding: [{ system: LOINC, code }] },
  subject: { reference: 'Patient/a' },
  effectiveDateTime: '2024-05-01',
  ...more,
});

describe('a vital sign', () => {
  test('is held against its profile by its code, whatever it claims', () => {
    expect(faults(vital('29463-7', { valueQuantity: quantity(72, 'kg') }))).toEqual([]);
    expect(faults(vital('29463-7', { valueQuantity: quantity(72, 'kg'), category: undefined }))).toEqual([
      'cardinality Observation.category',
    ]);
    expect(faults(vital('29463-7', { valueString: '72 kg' }))).toEqual(['choice-type Observation.value']);
    expect(faults(vital('29463-7', { valueQuantity: quantity(72, 'mm') }))).toEqual([
      'required-binding Observation.value.code',
    ]);
  });

  test('of blood pressure has both pressures as components', () => {
    expect(faults(vital('85354-9', { component: [component('8480-6'), component('8462-4')] }))).toEqual([]);
    expect(faults(vital('85354-9', { component: [component('8480-6')] }))).toContain(
      'cardinality Observation.component',
    );
  });

  test('has a value or says why not (vs-2)', () => {
    expect(faults(vital('8867-4', {}))).toEqual(['vs-2 Observation']);
    expect(faults(vital('8867-4', { dataAbsentReason: { text: 'refused' } }))).toEqual([]);
  });

  test('that was entered in error is let be', () => {
    expect(faults(vital('8867-4', { status: 'entered-in-error' }))).toEqual([]);
  });

  test('is told by the system of its code too', () => {
    const code = { coding: [{ system: 'urn:x', code: '8867-4' }] };
    expect(faults(vital('8867-4', { code }))).toEqual([]);
  });
});

describe('the published examples (HL7 FHIR R4 4.0.1; skipped where these are not at hand)', () => {
  const validate = compileValidator(r4Definitions);
  const observations = publishedExamples(['Observation']).map(
    (path) => [path, JSON.parse(published(path)) as Observation] as const,
  );
  const claiming = observations.filter(([, { meta }]) => meta?.profile !== undefined);

  test.skipIf(publishedFolder === undefined)('of vital signs claim their profiles, and keep them', () => {
    expect(claiming.length).toBeGreaterThan(10);
    for (const [path, resource] of claiming) {
      expect([path, validate(resource).filter((issue) => hasErrors([issue]))]).toEqual([path, []]);
    }
  });

  test.skipIf(publishedFolder === undefined)(
    'of vital signs do not keep them without category and time',
    () => {
      for (const [path, resource] of claiming) {
        const rest = { ...resource, category: undefined, effectiveDateTime: undefined };
        const rules = validate(rest)
          .filter(({ profile }) => profile !== undefined)
          .map(({ rule, expression }) => `${rule} ${expression}`);
        expect([path, rules]).toEqual([
          path,
          expect.arrayContaining(['cardinality Observation.category', 'cardinality Observation.effective']),
        ]);
      }
    },
  );
});
