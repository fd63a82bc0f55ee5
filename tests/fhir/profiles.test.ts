// R4 profiling.html and elementdefinition.html (http://hl7.org/fhir/R4/): what each facet of an ElementDefinition asks.
import type { ElementDefinition, StructureDefinition } from 'fhir/r4.js';
import { LosslessNumber } from 'lossless-json';
import { describe, expect, test } from 'vitest';
import { compileValidator, DefinitionFault, r4Definitions } from '../../src/fhir/index.js';
import { extensionOf, faultsBy, faultsOf, HERE, observation, profileOf } from './profile-of.js';

const BASE = 'http://hl7.org/fhir/StructureDefinition/';
const kg = (value: unknown): object => ({ valueQuantity: { value, unit: 'kg' } });

describe('the cardinality of a profile', () => {
  const faults = faultsOf(
    profileOf('Observation', [
      { path: 'Observation' },
      { path: 'Observation.subject', min: 1 },
      { path: 'Observation.method', max: '0' },
      { path: 'Observation.component', min: 2, max: '3' },
    ]),
  );
  const component = { code: { text: 'trial' } };
  const components = (count: number): object => ({
    subject: { display: 'A' },
    component: Array.from({ length: count }, () => component),
  });

  test('is kept within both of its ends', () => {
    expect(faults(observation(components(2)))).toEqual([]);
    expect(faults(observation(components(3)))).toEqual([]);
  });

  test('is broken beyond either end, and told at the element', () => {
    expect(faults(observation(components(1)))).toEqual(['cardinality Observation.component']);
    expect(faults(observation(components(4)))).toEqual(['cardinality Observation.component']);
    expect(faults(observation())).toEqual([
      'cardinality Observation.subject',
      'cardinality Observation.component',
    ]);
  });

  test('of 0..0 forbids the element', () => {
    expect(faults(observation({ ...components(2), method: { text: 'by eye' } }))).toEqual([
      'cardinality Observation.method',
    ]);
  });

  test('asks a child only of a parent that is there, of a primitive by its extensions too', () => {
    const nested = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.note.time', min: 1 },
        { path: 'Observation.status.extension', min: 1 },
      ]),
    );
    const extended = { _status: { extension: [{ url: 'https://x.example/e', valueCode: 'a' }] } };
    expect(nested(observation(extended))).toEqual([]);
    expect(nested(observation({ ...extended, note: [{ text: 'a', time: '2024' }, { text: 'b' }] }))).toEqual([
      'cardinality Observation.note[1].time',
    ]);
    expect(nested(observation())).toEqual(['cardinality Observation.status.extension']);
  });

  test('counts a repeating primitive that has only an extension', () => {
    const lines = faultsOf(profileOf('Patient', [{ path: 'Patient.address.line', min: 2 }]));
    const extension = [{ url: 'https://x.example/e', valueCode: 'a' }];
    const address = { line: ['Main Street', null], _line: [null, { extension }] };
    expect(lines({ resourceType: 'Patient', address: [address] })).toEqual([]);
    expect(lines({ resourceType: 'Patient', address: [{ line: ['Main Street'] }] })).toEqual([
      'cardinality Patient.address[0].line',
    ]);
  });
});

describe('the types of a profile', () => {
  test('narrow a choice', () => {
    const faults = faultsOf(
      profileOf('Observation', [{ path: 'Observation.value[x]', type: [{ code: 'Quantity' }] }]),
    );
    expect(faults(observation(kg(1)))).toEqual([]);
    expect(faults(observation())).toEqual([]);
    expect(faults(observation({ valueString: 'strong' }))).toEqual(['choice-type Observation.value']);
  });

  test('are narrowed to those that paths name, as the published vital signs read them', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.valueQuantity.unit', min: 1 },
        { path: 'Observation.valueString', maxLength: 3 },
      ]),
    );
    expect(faults(observation(kg(1)))).toEqual([]);
    expect(faults(observation({ valueString: 'all' }))).toEqual([]);
    expect(faults(observation({ valueString: 'strong' }))).toEqual(['max-length Observation.value']);
    expect(faults(observation({ valueQuantity: { value: 1 } }))).toEqual([
      'cardinality Observation.value.unit',
    ]);
    expect(faults(observation({ valueBoolean: true }))).toEqual(['choice-type Observation.value']);
  });

  test.each([
    ['a slice that is named for the type', []],
    [
      'an open slicing',
      [
        {
          path: 'Observation.value[x]',
          slicing: { discriminator: [{ type: 'type', path: '$this' }], rules: 'open' },
        },
      ],
    ],
  ] as const)('are told apart by %s, and leave the others alone', (_how, before) => {
    const path = before.length === 0 ? 'Observation.value[x]' : 'Observation.valueQuantity';
    const faults = faultsOf(
      profileOf('Observation', [
        ...before,
        { path, sliceName: 'valueQuantity', type: [{ code: 'Quantity' }] },
        { path: `${path}.unit`, min: 1 },
      ] as ElementDefinition[]),
    );
    expect(faults(observation({ valueString: 'strong' }))).toEqual([]);
    expect(faults(observation(kg(1)))).toEqual([]);
    expect(faults(observation({ valueQuantity: { value: 1 } }))).toEqual([
      'cardinality Observation.value.unit',
    ]);
  });

  test('narrow what resource stands in a Bundle or is contained', () => {
    const faults = faultsOf(
      profileOf('Bundle', [
        { path: 'Bundle.entry.resource', type: [{ code: 'Patient' }, { code: 'Observation' }] },
      ]),
    );
    const bundle = (resource: object): object => ({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [{ fullUrl: 'urn:uuid:6c7a0e7c-6d3b-4f6e-9d57-0a1b2c3d4e5f', resource }],
    });
    expect(faults(bundle(observation()))).toEqual([]);
    expect(faults(bundle({ resourceType: 'Location', name: 'Ward 3' }))).toEqual([
      'resource-type Bundle.entry[0].resource',
    ]);
  });

  test('that the standard derives from others bring the rules of these', () => {
    // R4 datatypes.html#SimpleQuantity: sqty-1; #Age: age-1.
    const simple = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.value[x]', type: [{ code: 'Quantity', profile: [`${BASE}SimpleQuantity`] }] },
      ]),
    );
    expect(simple(observation(kg(1)))).toEqual([]);
    expect(simple(observation({ valueQuantity: { value: 1, comparator: '<' } }))).toEqual([
      'sqty-1 Observation.value',
    ]);
    const age = faultsOf(
      profileOf('Observation', [{ path: 'Observation.value[x]', type: [{ code: 'Age' }] }]),
    );
    expect(age(observation({ valueQuantity: { value: 1 } }))).toEqual(['age-1 Observation.value']);
  });

  test('with a profile of their own hold a value against it, and against any one of several', () => {
    const coded = (name: string, system: string): StructureDefinition =>
      profileOf('Coding', [{ path: 'Coding.system', min: 1, fixedUri: system }], {
        url: HERE + name,
        kind: 'complex-type',
      });
    const [first, second] = [coded('first', 'urn:a'), coded('second', 'urn:b')];
    const at = (...profile: string[]): StructureDefinition =>
      profileOf('Observation', [{ path: 'Observation.code.coding', type: [{ code: 'Coding', profile }] }]);
    const one = faultsOf(at(first.url), first, second);
    const either = faultsOf(at(first.url, second.url), first, second);
    const code = (system: string): object => observation({ code: { coding: [{ system, code: 'x' }] } });
    expect(one(code('urn:a'))).toEqual([]);
    expect(one(code('urn:b'))).toEqual(['fixed Observation.code.coding[0].system']);
    expect(either(code('urn:b'))).toEqual([]);
    expect(either(code('urn:c'))).toEqual(['type-profile Observation.code.coding[0]']);
  });
});

describe('a value that a profile gives', () => {
  test('as fixed must be the whole value', () => {
    const coding = { system: 'http://loinc.org', code: '83174-3' };
    const faults = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.status', fixedCode: 'final' },
        { path: 'Observation.code', fixedCodeableConcept: { coding: [coding] } },
      ]),
    );
    expect(faults(observation({ code: { coding: [coding] } }))).toEqual([]);
    expect(
      faults(observation({ code: { coding: [{ code: '83174-3', system: 'http://loinc.org' }] } })),
    ).toEqual([]);
    expect(faults(observation({ code: { coding: [coding], text: 'Grip' } }))).toEqual([
      'fixed Observation.code',
    ]);
    expect(faults(observation({ status: 'amended', code: { coding: [coding] } }))).toEqual([
      'fixed Observation.status',
    ]);
  });

  test('as pattern must be in the value, each item of an array in some item', () => {
    const loinc = { system: 'http://loinc.org', code: '83174-3' };
    const faults = faultsOf(
      profileOf('Observation', [{ path: 'Observation.code', patternCodeableConcept: { coding: [loinc] } }]),
    );
    const code = (...coding: object[]): object => observation({ code: { coding, text: 'Grip' } });
    expect(faults(code({ system: 'urn:x', code: 'grip' }, { ...loinc, display: 'Grip' }))).toEqual([]);
    expect(faults(code({ ...loinc, code: '83175-0' }))).toEqual(['pattern Observation.code']);
    expect(faults(observation())).toEqual(['pattern Observation.code']);
  });

  test('as a decimal is the same with other zeros, and told by its digits', () => {
    const faults = faultsOf(
      profileOf('Observation', [{ path: 'Observation.valueQuantity.value', fixedDecimal: 30.5 }]),
    );
    expect(faults(observation(kg(30.5)))).toEqual([]);
    expect(faults(observation(kg(new LosslessNumber('30.50'))))).toEqual([]);
    expect(faults(observation(kg(new LosslessNumber('3.05e1'))))).toEqual([]);
    expect(faults(observation(kg(new LosslessNumber('30.50000000000000000001'))))).toEqual([
      'fixed Observation.value.value',
    ]);
  });

  test('as least and most bounds the value by its digits', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.valueQuantity.value', minValueDecimal: -0.5, maxValueDecimal: 90 },
      ]),
    );
    for (const text of ['-0.5', '0', '90', '90.0', '9e1', '-5e-1']) {
      expect(faults(observation(kg(new LosslessNumber(text))))).toEqual([]);
    }
    for (const text of ['-0.50000000000000000001', '-1']) {
      expect(faults(observation(kg(new LosslessNumber(text))))).toEqual([
        'min-value Observation.value.value',
      ]);
    }
    for (const text of ['90.00000000000000000001', '900', '1e300']) {
      expect(faults(observation(kg(new LosslessNumber(text))))).toEqual([
        'max-value Observation.value.value',
      ]);
    }
  });

  test('as least and most bounds a date, where the precision of both tells the order', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        {
          path: 'Observation.effectiveDateTime',
          minValueDateTime: '2024-03-01',
          maxValueDateTime: '2024-12-31T12:00:00Z',
        },
      ]),
    );
    for (const effectiveDateTime of ['2024-03-01', '2024', '2024-03-01T00:00:00Z', '2024-12-31']) {
      expect(faults(observation({ effectiveDateTime }))).toEqual([]);
    }
    expect(faults(observation({ effectiveDateTime: '2024-02' }))).toEqual([
      'min-value Observation.effective',
    ]);
    expect(faults(observation({ effectiveDateTime: '2025' }))).toEqual(['max-value Observation.effective']);
  });

  test('as least and most bounds a time of day and a quantity of the same unit', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.valueTime', minValueTime: '06:00:00', maxValueTime: '20:00:00' },
        { path: 'Observation.valueQuantity', maxValueQuantity: { value: 90, unit: 'kg' } },
      ]),
    );
    expect(faults(observation({ valueTime: '06:00:00.0' }))).toEqual([]);
    expect(faults(observation({ valueTime: '05:59:59' }))).toEqual(['min-value Observation.value']);
    expect(faults(observation({ valueTime: '20:00:00.1' }))).toEqual(['max-value Observation.value']);
    expect(faults(observation(kg(91)))).toEqual(['max-value Observation.value']);
    expect(faults(observation({ valueQuantity: { value: 91, unit: 'g' } }))).toEqual([]);
  });

  test('as a length counts characters', () => {
    const faults = faultsOf(profileOf('Observation', [{ path: 'Observation.code.text', maxLength: 4 }]));
    expect(faults(observation({ code: { text: 'Grip' } }))).toEqual([]);
    expect(faults(observation({ code: { text: '𝔊𝔯𝔦𝔭' } }))).toEqual([]);
    expect(faults(observation({ code: { text: 'Grips' } }))).toEqual(['max-length Observation.code.text']);
  });
});

describe('the targets of a reference in a profile', () => {
  const subject = (reference: string, more: object = {}): object =>
    observation({ ...more, subject: { reference } });

  test('are narrowed to types', () => {
    const patient = profileOf('Patient', [], { url: `${HERE}our-patient` });
    const faults = faultsOf(
      profileOf('Observation', [
        { path: 'Observation.subject', type: [{ code: 'Reference', targetProfile: [patient.url] }] },
      ]),
      patient,
    );
    expect(faults(subject('Patient/a'))).toEqual([]);
    expect(faults(subject('urn:uuid:6c7a0e7c-6d3b-4f6e-9d57-0a1b2c3d4e5f'))).toEqual([]);
    expect(faults(subject('Device/a'))).toEqual(['reference-target Observation.subject']);
  });

  test('are left as the standard has them where a target profile is not known', () => {
    const type = [{ code: 'Reference', targetProfile: ['https://elsewhere.example/patient'] }];
    const faults = faultsOf(profileOf('Observation', [{ path: 'Observation.subject', type }]));
    expect(faults(subject('Device/a'))).toEqual([]);
  });

  test('are contained, bundled or elsewhere, as the aggregation says', () => {
    const by = (
      ...aggregation: ('contained' | 'referenced' | 'bundled')[]
    ): ((r: object) => readonly string[]) =>
      faultsOf(
        profileOf('Observation', [
          { path: 'Observation.subject', type: [{ code: 'Reference', aggregation }] },
        ]),
      );
    const contained = subject('#p', { contained: [{ resourceType: 'Patient', id: 'p' }] });
    expect(by('contained')(contained)).toEqual([]);
    expect(by('contained')(subject('Patient/p'))).toEqual(['aggregation Observation.subject']);
    expect(by('referenced')(subject('Patient/p'))).toEqual([]);
    expect(by('referenced', 'bundled')(contained)).toEqual(['aggregation Observation.subject']);
  });

  test('name a version, as the versioning says', () => {
    const by = (versioning: 'specific' | 'independent'): ((r: object) => readonly string[]) =>
      faultsOf(
        profileOf('Observation', [
          { path: 'Observation.subject', type: [{ code: 'Reference', versioning }] },
        ]),
      );
    expect(by('specific')(subject('Patient/a/_history/1'))).toEqual([]);
    expect(by('specific')(subject('Patient/a'))).toEqual(['versioning Observation.subject']);
    expect(by('independent')(subject('Patient/a'))).toEqual([]);
    expect(by('independent')(subject('Patient/a/_history/1'))).toEqual(['versioning Observation.subject']);
  });
});

describe('an invariant of a profile', () => {
  const constraint = {
    key: 'our-1',
    severity: 'error' as const,
    human: 'A value has a method',
    expression: 'value.exists() implies method.exists()',
  };
  const profile = profileOf('Observation', [{ path: 'Observation', constraint: [constraint] }]);

  test('is told by its key at its element', () => {
    const faults = faultsOf(profile);
    expect(faults(observation({ ...kg(1), method: { text: 'dynamometer' } }))).toEqual([]);
    expect(faults(observation(kg(1)))).toEqual(['our-1 Observation']);
  });

  test('is told as a warning when it is one', () => {
    const advice = profileOf('Observation', [
      { path: 'Observation', constraint: [{ ...constraint, severity: 'warning' }] },
    ]);
    const issues = compileValidator(r4Definitions, { conformance: [advice] })(observation(kg(1)), undefined, [
      advice.url,
    ]);
    expect(issues.find(({ rule }) => rule === 'our-1')).toMatchObject({
      severity: 'warning',
      profile: advice.url,
    });
  });

  test('stands on elements of datatypes and on primitives', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        {
          path: 'Observation.valueQuantity.unit',
          constraint: [{ key: 'our-2', severity: 'error', human: 'Short', expression: '$this.length() < 4' }],
        },
        {
          path: 'Observation.component',
          constraint: [{ key: 'our-3', severity: 'error', human: 'Text', expression: 'code.text.exists()' }],
        },
      ]),
    );
    expect(faults(observation({ ...kg(1), component: [{ code: { text: 'a' } }] }))).toEqual([]);
    expect(faults(observation({ valueQuantity: { value: 1, unit: 'kilogram' } }))).toEqual([
      'our-2 Observation.value.unit',
    ]);
    expect(
      faults(observation({ component: [{ code: { text: 'a' } }, { code: { coding: [{ code: 'b' }] } }] })),
    ).toEqual(['our-3 Observation.component[1]']);
  });

  test('is held in code where key and expression are those of a native, and else by its FHIRPath', () => {
    const native = { key: 'our-1', expression: constraint.expression, holds: () => false };
    expect(faultsBy([profile], [native])(observation(), profile.url)).toEqual(['our-1 Observation']);
    const other = { ...native, expression: 'value.empty()' };
    expect(faultsBy([profile], [other])(observation(), profile.url)).toEqual([]);
  });
});

describe('what a resource claims', () => {
  const profile = profileOf('Observation', [{ path: 'Observation.subject', min: 1 }], { version: '2.1.0' });
  const claim = (...profiles: string[]): object => observation({ meta: { profile: profiles } });
  const faults = faultsBy([profile]);

  test('is held against it, with its version or without', () => {
    expect(faults(claim(profile.url))).toEqual(['cardinality Observation.subject']);
    expect(faults(claim(`${profile.url}|2.1.0`))).toEqual(['cardinality Observation.subject']);
    expect(faults(claim(profile.url, `${profile.url}|2.1.0`))).toEqual(['cardinality Observation.subject']);
    expect(faults(observation())).toEqual([]);
  });

  test('is told with the profile in the sentence and in the issue', () => {
    const issues = compileValidator(r4Definitions, { conformance: [profile] })(claim(profile.url));
    expect(issues).toContainEqual({
      severity: 'error',
      code: 'required',
      rule: 'cardinality',
      expression: 'Observation.subject',
      diagnostics: 'Observation.subject is missing; it must be there (1..1). (Profile: Tested.)',
      found: 0,
      allowed: '1..1',
      profile: profile.url,
    });
  });

  test('is a warning where the profile or its version is not known, and no error', () => {
    for (const url of ['https://elsewhere.example/p', `${profile.url}|9`]) {
      const issues = compileValidator(r4Definitions, { conformance: [profile] })(
        claim(BASE + 'Observation', url),
      );
      expect(issues).toContainEqual(
        expect.objectContaining({
          severity: 'warning',
          rule: 'profile-unknown',
          expression: 'Observation.meta.profile[1]',
        }),
      );
    }
  });

  test('is an error where the profile is for another type', () => {
    const ofPatient = profileOf('Patient', [], { url: `${HERE}our-patient` });
    expect(faultsBy([ofPatient])(claim(ofPatient.url))).toEqual(['profile-type Observation.meta.profile[0]']);
    expect(faults(claim(`${BASE}Patient`))).toEqual(['profile-type Observation.meta.profile[0]']);
    expect(faults(claim(`${BASE}DomainResource`))).toEqual([]);
  });

  test('is held in contained resources, Bundles and Parameters too', () => {
    const inner = claim(profile.url);
    const uuid = 'urn:uuid:6c7a0e7c-6d3b-4f6e-9d57-0a1b2c3d4e5f';
    const contained = {
      resourceType: 'DiagnosticReport',
      status: 'final',
      code: { text: 'Exam' },
      contained: [{ ...inner, id: 'o' }],
      result: [{ reference: '#o' }],
    };
    expect(faults(contained)).toEqual(['cardinality DiagnosticReport.contained[0].subject']);
    const bundle = {
      resourceType: 'Bundle',
      type: 'collection',
      entry: [{ fullUrl: uuid, resource: inner }],
    };
    expect(faults(bundle)).toEqual(['cardinality Bundle.entry[0].resource.subject']);
    const parameters = {
      resourceType: 'Parameters',
      parameter: [{ name: 'a', part: [{ name: 'b', resource: inner }] }],
    };
    expect(faults(parameters)).toEqual(['cardinality Parameters.parameter[0].part[0].resource.subject']);
  });

  test('is joined by what a door asks for, which must be known', () => {
    expect(faults(observation(), profile.url)).toEqual(['cardinality Observation.subject']);
    expect(faults(observation(), 'https://elsewhere.example/p')).toEqual(['profile-unknown Observation']);
    const issues = compileValidator(r4Definitions)(observation(), undefined, ['https://elsewhere.example/p']);
    expect(issues.find(({ rule }) => rule === 'profile-unknown')?.severity).toBe('error');
  });

  test('is checked once where one profile is derived from the other', () => {
    const derived = profileOf('Observation', [{ path: 'Observation.method', min: 1 }], {
      url: `${HERE}derived`,
      baseDefinition: profile.url,
    });
    expect(faultsBy([derived, profile])(claim(profile.url, derived.url))).toEqual([
      'cardinality Observation.subject',
      'cardinality Observation.method',
    ]);
  });

  test('can be asked for by name', () => {
    const validate = compileValidator(r4Definitions, { conformance: [profile] });
    expect(validate.profiles).toContain(profile.url);
    expect(validate.profiles).toContain(`${BASE}vitalsigns`);
  });
});

describe('a profile of a profile', () => {
  test('keeps the rules of its base and narrows the slices of it', () => {
    const base = profileOf(
      'Observation',
      [
        {
          path: 'Observation.component',
          slicing: { discriminator: [{ type: 'value', path: 'code.text' }], rules: 'open' },
        },
        { path: 'Observation.component', sliceName: 'left' },
        { path: 'Observation.component.code.text', fixedString: 'left' },
      ],
      { url: `${HERE}base` },
    );
    const faults = faultsOf(
      profileOf(
        'Observation',
        [{ id: 'Observation.component:left', path: 'Observation.component', sliceName: 'left', min: 1 }],
        { baseDefinition: base.url },
      ),
      base,
    );
    expect(faults(observation({ component: [{ code: { text: 'left' } }] }))).toEqual([]);
    expect(faults(observation({ component: [{ code: { text: 'right' } }] }))).toEqual([
      'cardinality Observation.component',
    ]);
  });

  test('with a snapshot is read from that alone', () => {
    const profile = profileOf('Observation', [], {
      snapshot: {
        element: [
          { id: 'Observation', path: 'Observation' },
          { path: 'Observation.subject', min: 1, max: '1' },
        ],
      },
    });
    expect(faultsOf(profile)(observation())).toEqual(['cardinality Observation.subject']);
  });

  test('shares the content of an element that it refers to', () => {
    // R4 elementdefinition.html, contentReference: "bring across all the rules that are in the ElementDefinition".
    const profile = profileOf('Observation', [
      { path: 'Observation.referenceRange.text', min: 1 },
      { path: 'Observation.component.referenceRange', contentReference: '#Observation.referenceRange' },
    ]);
    const component = [{ code: { text: 'a' }, referenceRange: [{ low: { value: 1 } }] }];
    expect(faultsOf(profile)(observation({ component }))).toEqual([
      'cardinality Observation.component[0].referenceRange[0].text',
    ]);
  });
});

describe('a definition that cannot be compiled', () => {
  const element = (more: Partial<ElementDefinition>): StructureDefinition =>
    profileOf('Observation', [{ path: 'Observation.subject', ...more }]);
  const cases: readonly (readonly [string, readonly StructureDefinition[], string])[] = [
    ['an element that the type lacks', [element({ path: 'Observation.colour' })], 'no such element'],
    ['an element of another type', [element({ path: 'Patient.name' })], 'does not belong'],
    ['a lower end below the base', [element({ path: 'Observation.code', min: 0 })], 'outside'],
    ['an upper end above the base', [element({ max: '*' })], 'outside'],
    ['ends that cross', [element({ path: 'Observation.component', min: 3, max: '2' })], 'outside'],
    ['a type that the base lacks', [element({ type: [{ code: 'Quantity' }] })], 'not allowed here'],
    [
      'a fixed value of another type',
      [element({ path: 'Observation.status', fixedString: 'final' })],
      'no type',
    ],
    [
      'a fixed value that its type does not have',
      [element({ path: 'Observation.issued', fixedInstant: '2024' })],
      'holds no',
    ],
    [
      'an invariant that is no FHIRPath',
      [element({ constraint: [{ key: 'x-1', severity: 'error', human: 'x', expression: 'a..b' }] })],
      'no FHIRPath',
    ],
    [
      'an unknown base',
      [profileOf('Observation', [], { baseDefinition: 'https://x.example/none' })],
      'base definition',
    ],
    ['an unknown type', [profileOf('Telescope', [])], 'not known'],
    ['no elements', [{ ...profileOf('Observation', []), differential: undefined }], 'neither'],
    ['two of one version', [element({ min: 1 }), element({})], 'two definitions'],
    [
      'itself as its base',
      [profileOf('Observation', [], { baseDefinition: `${HERE}tested` })],
      'derived from itself',
    ],
    [
      'slices that nothing tells apart',
      [element({ path: 'Observation.component', sliceName: 'left' })],
      'nothing says what tells them apart',
    ],
    [
      'a slice that says nothing of the discriminator',
      [
        profileOf('Observation', [
          {
            path: 'Observation.component',
            slicing: { discriminator: [{ type: 'value', path: 'code' }], rules: 'open' },
          },
          { path: 'Observation.component', sliceName: 'left' },
        ]),
      ],
      'says nothing',
    ],
    [
      'a discriminator that cannot be read',
      [
        profileOf('Observation', [
          {
            path: 'Observation.component',
            slicing: { discriminator: [{ type: 'value', path: 'code.where(a)' }], rules: 'open' },
          },
          { path: 'Observation.component', sliceName: 'left' },
        ]),
      ],
      'cannot be read',
    ],
    [
      'a context that is no FHIRPath',
      [extensionOf('e', [], { context: [{ type: 'fhirpath', expression: 'a..b' }] })],
      'no FHIRPath',
    ],
    [
      'what is no definition at all',
      [{ ...element({}), differential: { element: [{ path: 7 }] } } as never],
      'no path',
    ],
  ];

  test.each(cases)('for %s stops with its name', (_why, conformance, words) => {
    expect(() => compileValidator(r4Definitions, { conformance })).toThrow(DefinitionFault);
    expect(() => compileValidator(r4Definitions, { conformance })).toThrow(words);
  });

  test('names the element', () => {
    try {
      compileValidator(r4Definitions, { conformance: [element({ max: '*' })] });
      expect.unreachable();
    } catch (fault) {
      expect(fault).toMatchObject({ definition: `${HERE}tested`, element: 'Observation.subject' });
    }
  });
});
