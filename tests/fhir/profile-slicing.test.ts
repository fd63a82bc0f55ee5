// R4 profiling.html, "Slicing" and "Discriminator" (http://hl7.org/fhir/R4/profiling.html#slicing).
import type { ElementDefinition, ElementDefinitionSlicingDiscriminator } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import { extensionOf, faultsOf, HERE, observation, profileOf, valueSetOf } from './profile-of.js';

const BASE = 'http://hl7.org/fhir/StructureDefinition/';

/** Observation.component sliced into `slices` of the elements given for each. */
function sliced(
  discriminator: ElementDefinitionSlicingDiscriminator,
  slices: Readonly<Record<string, readonly ElementDefinition[]>>,
  more: Partial<NonNullable<ElementDefinition['slicing']>> = {},
): readonly ElementDefinition[] {
  const path = 'Observation.component';
  return [
    { path, slicing: { discriminator: [discriminator], rules: 'open', ...more } },
    ...Object.entries(slices).flatMap(([sliceName, [own, ...below]]) => [
      { ...own, path, sliceName },
      ...below,
    ]),
  ];
}

const byText = { type: 'value', path: 'code.text' } as const;
const left: ElementDefinition = { path: 'Observation.component.code.text', fixedString: 'left' };
const right: ElementDefinition = { path: 'Observation.component.code.text', fixedString: 'right' };
const components = (...texts: string[]): object =>
  observation({ component: texts.map((text) => ({ code: { text } })) });

describe('a slice', () => {
  const leftOnce: ElementDefinition = { path: '', min: 1, max: '1' };
  const faults = faultsOf(
    profileOf(
      'Observation',
      sliced(byText, { left: [leftOnce, left], right: [{ path: '', max: '1' }, right] }),
    ),
  );

  test('has a cardinality of its own, told at the sliced element', () => {
    expect(faults(components('left'))).toEqual([]);
    expect(faults(components('middle', 'right', 'left'))).toEqual([]);
    expect(faults(components('right'))).toEqual(['cardinality Observation.component']);
    expect(faults(observation())).toEqual(['cardinality Observation.component']);
    expect(faults(components('left', 'right', 'right'))).toEqual(['cardinality Observation.component']);
  });

  test('has rules of its own, told at the value that is in it', () => {
    const withValue = faultsOf(
      profileOf(
        'Observation',
        sliced(byText, { left: [leftOnce, left, { path: 'Observation.component.value[x]', min: 1 }] }),
      ),
    );
    expect(withValue(components('right', 'left'))).toEqual(['cardinality Observation.component[1].value']);
  });

  test('may be sliced again', () => {
    const path = 'Observation.component';
    const again = faultsOf(
      profileOf('Observation', [
        ...sliced(byText, { left: [leftOnce, left] }),
        {
          id: 'Observation.component:left',
          path,
          sliceName: 'left',
          max: '2',
          slicing: { discriminator: [{ type: 'exists', path: 'value' }], rules: 'closed' },
        },
        { id: 'Observation.component:left/measured', path, sliceName: 'left/measured', min: 1 },
        { id: 'Observation.component:left/measured.value[x]', path: `${path}.value[x]`, min: 1 },
      ]),
    );
    const measured = { code: { text: 'left' }, valueString: '30' };
    expect(again(observation({ component: [measured] }))).toEqual([]);
    expect(again(components('left', 'right'))).toEqual([
      'cardinality Observation.component',
      'slicing Observation.component[0]',
    ]);
  });
});

describe('the rules of a slicing', () => {
  const slices = { left: [{ path: '' }, left], right: [{ path: '' }, right] };
  const by = (more: Partial<NonNullable<ElementDefinition['slicing']>>): ((r: object) => readonly string[]) =>
    faultsOf(profileOf('Observation', sliced(byText, slices, more)));

  test('when open let other values stand', () => {
    expect(by({ rules: 'open' })(components('middle', 'left'))).toEqual([]);
  });

  test('when closed refuse each value of no slice', () => {
    expect(by({ rules: 'closed' })(components('right', 'left'))).toEqual([]);
    expect(by({ rules: 'closed' })(components('right', 'middle'))).toEqual([
      'slicing Observation.component[1]',
    ]);
  });

  test('when open at the end let others stand only after the slices', () => {
    expect(by({ rules: 'openAtEnd' })(components('right', 'left', 'middle'))).toEqual([]);
    expect(by({ rules: 'openAtEnd' })(components('right', 'middle', 'left'))).toEqual([
      'slicing Observation.component[2]',
    ]);
  });

  test('when ordered ask for the order of the definition', () => {
    expect(by({ ordered: true })(components('left', 'left', 'middle', 'right'))).toEqual([]);
    expect(by({ ordered: true })(components('right', 'left'))).toEqual(['slicing Observation.component[1]']);
  });

  test('refuse a value that belongs to two slices', () => {
    const twice = { left: [{ path: '' }, left], also: [{ path: '' }, left] };
    expect(faultsOf(profileOf('Observation', sliced(byText, twice)))(components('left'))).toEqual([
      'slicing Observation.component[0]',
    ]);
  });

  test('give what no slice takes to the default slice', () => {
    const rest: ElementDefinition[] = [{ path: '' }, { path: 'Observation.component.value[x]', min: 1 }];
    const faults = faultsOf(
      profileOf('Observation', sliced(byText, { left: [{ path: '' }, left], '@default': rest })),
    );
    expect(faults(components('left'))).toEqual([]);
    expect(faults(components('left', 'middle'))).toEqual(['cardinality Observation.component[1].value']);
  });
});

describe('a discriminator', () => {
  const once: ElementDefinition = { path: '', min: 1 };
  const missing = ['cardinality Observation.component'];

  test('by value takes a fixed value, a pattern or a required value set', () => {
    const system = `${HERE}side`;
    const set = valueSetOf('sides', { include: [{ system, concept: [{ code: 'l' }] }] });
    const code = 'Observation.component.code';
    const ways: readonly (readonly [string, ElementDefinition])[] = [
      ['code.coding.code', { path: `${code}.coding.code`, fixedCode: 'l' }],
      ['code', { path: code, patternCodeableConcept: { coding: [{ system, code: 'l' }] } }],
      ['code', { path: code, binding: { strength: 'required', valueSet: set.url ?? '' } }],
    ];
    for (const [path, told] of ways) {
      const faults = faultsOf(
        profileOf('Observation', sliced({ type: 'value', path }, { left: [once, told] })),
        set,
      );
      const of = (value: string): object =>
        observation({ component: [{ code: { coding: [{ system, code: value }] } }] });
      expect(faults(of('l'))).toEqual([]);
      expect(faults(of('r'))).toEqual(missing);
    }
  });

  test('by value of an element takes what the slice says of the elements below it', () => {
    const faults = faultsOf(
      profileOf('Observation', sliced({ type: 'value', path: 'code' }, { left: [once, left] })),
    );
    expect(faults(components('right', 'left'))).toEqual([]);
    expect(faults(components('right'))).toEqual(missing);
  });

  test('by pattern of the value itself tells codings apart', () => {
    const path = 'Observation.code.coding';
    const faults = faultsOf(
      profileOf('Observation', [
        { path, slicing: { discriminator: [{ type: 'pattern', path: '$this' }], rules: 'open' } },
        { path, sliceName: 'loinc', min: 1, max: '1', patternCoding: { system: 'http://loinc.org' } },
      ]),
    );
    const code = (...systems: string[]): object =>
      observation({ code: { coding: systems.map((system) => ({ system, code: 'x' })) } });
    expect(faults(code('urn:x', 'http://loinc.org'))).toEqual([]);
    expect(faults(code('urn:x'))).toEqual(['cardinality Observation.code.coding']);
    expect(faults(code('http://loinc.org', 'http://loinc.org'))).toEqual([
      'cardinality Observation.code.coding',
    ]);
  });

  test('by several paths takes what meets all', () => {
    const faults = faultsOf(
      profileOf('Observation', [
        {
          path: 'Observation.component',
          slicing: { discriminator: [byText, { type: 'exists', path: 'value' }], rules: 'open' },
        },
        { path: 'Observation.component', sliceName: 'left', min: 1 },
        left,
        { path: 'Observation.component.value[x]', min: 1 },
      ]),
    );
    expect(faults(observation({ component: [{ code: { text: 'left' }, valueString: 'a' }] }))).toEqual([]);
    expect(faults(components('left'))).toEqual(missing);
  });

  test('by existence takes what has the element, or what has it not', () => {
    const absent: ElementDefinition = { path: 'Observation.component.value[x]', max: '0' };
    const faults = faultsOf(
      profileOf('Observation', sliced({ type: 'exists', path: 'value' }, { absent: [once, absent] })),
    );
    expect(faults(components('left'))).toEqual([]);
    expect(faults(observation({ component: [{ code: { text: 'a' }, valueString: 'b' }] }))).toEqual(missing);
  });

  test('by type tells the types of a choice apart', () => {
    const quantity: ElementDefinition = {
      path: 'Observation.component.value[x]',
      type: [{ code: 'Quantity' }],
    };
    for (const discriminator of [
      { type: 'type', path: 'value' },
      { type: 'type', path: 'value.ofType(Quantity)' },
    ] as const) {
      const faults = faultsOf(
        profileOf('Observation', sliced(discriminator, { measured: [once, quantity] })),
      );
      expect(
        faults(observation({ component: [{ code: { text: 'a' }, valueQuantity: { value: 1 } }] })),
      ).toEqual([]);
      expect(faults(observation({ component: [{ code: { text: 'a' }, valueString: '1' }] }))).toEqual(
        missing,
      );
    }
  });

  test('by the value of an extension takes the one of that url', () => {
    const side = extensionOf('side', [{ path: 'Extension.value[x]', type: [{ code: 'code' }] }]);
    const path = 'Observation.component';
    const faults = faultsOf(
      profileOf('Observation', [
        ...sliced({ type: 'value', path: `extension('${side.url}').value` }, { left: [once] }),
        {
          path: `${path}.extension`,
          sliceName: 'side',
          min: 1,
          type: [{ code: 'Extension', profile: [side.url] }],
        },
        { path: `${path}.extension.value[x]`, fixedCode: 'left' },
      ]),
      side,
    );
    const of = (valueCode: string): object =>
      observation({ component: [{ extension: [{ url: side.url, valueCode }], code: { text: 'a' } }] });
    expect(faults(of('left'))).toEqual([]);
    expect(faults(of('right'))).toEqual(missing);
  });

  describe('of a reference', () => {
    const path = 'Observation.performer';
    const patient = profileOf('Patient', [{ path: 'Patient.gender', min: 1 }], { url: `${HERE}our-patient` });
    const by = (type: 'type' | 'profile', target: string): ((r: object) => readonly string[]) =>
      faultsOf(
        profileOf('Observation', [
          { path, slicing: { discriminator: [{ type, path: 'resolve()' }], rules: 'open' } },
          { path, sliceName: 'self', min: 1, type: [{ code: 'Reference', targetProfile: [target] }] },
        ]),
        patient,
      );
    const performer = (reference: string, ...contained: object[]): object =>
      observation({ ...(contained.length === 0 ? {} : { contained }), performer: [{ reference }] });

    test('by type takes what the reference tells', () => {
      const faults = by('type', `${BASE}Patient`);
      expect(faults(performer('Patient/a'))).toEqual([]);
      expect(faults(performer('Practitioner/a'))).toEqual(['cardinality Observation.performer']);
      expect(faults(performer('#p', { resourceType: 'Patient', id: 'p' }))).toEqual([]);
    });

    test('by profile takes a target that keeps it, where the target is at hand', () => {
      const faults = by('profile', patient.url);
      expect(faults(performer('#p', { resourceType: 'Patient', id: 'p', gender: 'female' }))).toEqual([]);
      expect(faults(performer('#p', { resourceType: 'Patient', id: 'p' }))).toEqual([
        'cardinality Observation.performer',
      ]);
      expect(faults(performer('Patient/a'))).toEqual([]);
      expect(faults(performer('Practitioner/a'))).toEqual(['cardinality Observation.performer']);
    });
  });

  test('by profile tells the entries of a Bundle apart', () => {
    const ours = profileOf('Observation', [{ path: 'Observation.subject', min: 1 }], { url: `${HERE}ours` });
    const path = 'Bundle.entry';
    const faults = faultsOf(
      profileOf('Bundle', [
        { path, slicing: { discriminator: [{ type: 'profile', path: 'resource' }], rules: 'open' } },
        { path, sliceName: 'ours', min: 1, max: '1' },
        { path: `${path}.resource`, type: [{ code: 'Observation', profile: [ours.url] }] },
      ]),
      ours,
    );
    const bundle = (...resources: object[]): object => ({
      resourceType: 'Bundle',
      type: 'collection',
      entry: resources.map((resource, index) => ({
        fullUrl: `urn:uuid:6c7a0e7c-6d3b-4f6e-9d57-0a1b2c3d4e5${String(index)}`,
        resource,
      })),
    });
    const kept = observation({ subject: { display: 'A' } });
    expect(faults(bundle(kept, observation()))).toEqual([]);
    expect(faults(bundle(observation()))).toEqual(['cardinality Bundle.entry']);
  });

  test('by what a reference in the same Bundle points to looks into the entries', () => {
    const path = 'Observation.performer';
    const performing = profileOf(
      'Observation',
      [
        { path, slicing: { discriminator: [{ type: 'value', path: 'resolve().active' }], rules: 'open' } },
        {
          path,
          sliceName: 'active',
          min: 1,
          type: [{ code: 'Reference', targetProfile: [`${HERE}active-practitioner`] }],
        },
      ],
      { url: `${HERE}performing` },
    );
    const active = profileOf('Practitioner', [{ path: 'Practitioner.active', fixedBoolean: true }], {
      url: `${HERE}active-practitioner`,
    });
    const faults = faultsOf(performing, active);
    const bundle = (isActive: boolean): object => ({
      resourceType: 'Bundle',
      type: 'collection',
      entry: [
        {
          fullUrl: 'http://ward.example/fhir/Observation/o',
          resource: observation({
            id: 'o',
            meta: { profile: [performing.url] },
            performer: [{ reference: 'Practitioner/n' }],
          }),
        },
        {
          fullUrl: 'http://ward.example/fhir/Practitioner/n',
          resource: { resourceType: 'Practitioner', id: 'n', active: isActive },
        },
      ],
    });
    const ofObservation = (told: readonly string[]): readonly string[] =>
      told.filter((fault) => fault.includes('performer'));
    expect(ofObservation(faults(bundle(true)))).toEqual([]);
    expect(ofObservation(faults(bundle(false)))).toEqual(['cardinality Bundle.entry[0].resource.performer']);
  });
});
