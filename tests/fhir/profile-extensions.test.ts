// R4 extensibility.html and defining-extensions.html (http://hl7.org/fhir/R4/).
import { describe, expect, test } from 'vitest';
import { compileValidator, r4Definitions } from '../../src/fhir/index.js';
import { extensionOf, faultsBy, faultsOf, HERE, observation, profileOf } from './profile-of.js';

const note = extensionOf('note', [
  { path: 'Extension', max: '1' },
  { path: 'Extension.value[x]', min: 1, type: [{ code: 'string' }], maxLength: 5 },
]);
const noted = (...values: object[]): object => ({
  extension: values.map((value) => ({ url: note.url, ...value })),
});

describe('an extension that is defined', () => {
  const faults = faultsBy([note]);

  test('is checked wherever it stands', () => {
    const fault = noted({ valueString: 'too long' });
    expect(faults(observation(noted({ valueString: 'short' })))).toEqual([]);
    expect(faults(observation(fault))).toEqual(['max-length Observation.extension[0].value']);
    expect(faults(observation({ component: [{ code: { text: 'a', ...fault } }] }))).toEqual([
      'max-length Observation.component[0].code.extension[0].value',
    ]);
    expect(faults(observation({ _status: fault }))).toEqual([
      'max-length Observation.status.extension[0].value',
    ]);
    const names = { resourceType: 'Patient', name: [{ given: ['A', 'B'], _given: [null, fault] }] };
    expect(faults(names)).toEqual(['max-length Patient.name[0].given[1].extension[0].value']);
  });

  test('is checked in contained resources and in other extensions', () => {
    const fault = noted({ valueString: 'too long' });
    const contained = observation({
      contained: [{ resourceType: 'Patient', id: 'p', ...fault }],
      subject: { reference: '#p' },
    });
    expect(faults(contained)).toEqual(['max-length Observation.contained[0].extension[0].value']);
    const outer = { extension: [{ url: 'https://elsewhere.example/x', ...fault }] };
    expect(faults(observation(outer))).toEqual(['max-length Observation.extension[0].extension[0].value']);
  });

  test('has values of its types only', () => {
    expect(faults(observation(noted({ valueCode: 'a' })))).toEqual([
      'choice-type Observation.extension[0].value',
    ]);
  });

  test('stands on one element as often as it may', () => {
    expect(faults(observation(noted({ valueString: 'a' }, { valueString: 'b' })))).toEqual([
      'cardinality Observation.extension',
    ]);
  });

  test('is told by the name of its definition', () => {
    const issues = compileValidator(r4Definitions, { conformance: [note] })(
      observation(noted({ valueCode: 'a' })),
    );
    expect(issues.find(({ profile }) => profile === note.url)?.diagnostics).toContain('(Profile: note.)');
  });

  test('is checked once where a profile asks for it too', () => {
    const profile = profileOf('Observation', [
      {
        path: 'Observation.extension',
        sliceName: 'note',
        min: 1,
        type: [{ code: 'Extension', profile: [note.url] }],
      },
    ]);
    const asked = faultsOf(profile, note);
    expect(asked(observation(noted({ valueString: 'too long' })))).toEqual([
      'max-length Observation.extension[0].value',
    ]);
    expect(asked(observation())).toEqual(['cardinality Observation.extension']);
  });

  test('leaves one that nobody defines alone', () => {
    expect(
      faults(observation({ extension: [{ url: 'https://elsewhere.example/x', valueCode: 'a' }] })),
    ).toEqual([]);
  });
});

describe('an extension of extensions', () => {
  const path = 'Extension.extension';
  const pair = extensionOf('pair', [
    { path, min: 1, slicing: { discriminator: [{ type: 'value', path: 'url' }], rules: 'closed' } },
    { path, sliceName: 'side', min: 1, max: '1' },
    { path: `${path}.url`, fixedUri: 'side' },
    { path: `${path}.value[x]`, min: 1, type: [{ code: 'code' }] },
    { path: 'Extension.value[x]', max: '0' },
  ]);
  const faults = faultsBy([pair]);
  const of = (...extension: object[]): object => observation({ extension: [{ url: pair.url, extension }] });

  test('holds its parts by their own urls', () => {
    expect(faults(of({ url: 'side', valueCode: 'left' }))).toEqual([]);
    expect(faults(of({ url: 'side', valueString: 'left' }))).toEqual([
      'choice-type Observation.extension[0].extension[0].value',
    ]);
    expect(faults(of({ url: 'side', valueCode: 'left' }, { url: 'other', valueCode: 'a' }))).toEqual([
      'slicing Observation.extension[0].extension[1]',
    ]);
    expect(faults(of({ url: 'other', valueCode: 'a' }))).toEqual([
      'cardinality Observation.extension[0].extension',
      'slicing Observation.extension[0].extension[0]',
    ]);
  });
});

describe('the context of an extension', () => {
  const on = (...expressions: string[]): ((resource: object) => readonly string[]) =>
    faultsBy([
      extensionOf('note', [], {
        context: expressions.map((expression) => ({ type: 'element', expression })),
      }),
    ]);
  const value = noted({ valueString: 'a' });
  const onSite = observation({ bodySite: { text: 'knee', ...value } });
  const onComponentCode = observation({ component: [{ code: { text: 'a', ...value } }] });

  test.each([
    ['Observation.bodySite', onSite],
    ['CodeableConcept', onSite],
    ['Element', onSite],
    ['Element', observation(value)],
    ['Observation.component.code', onComponentCode],
    ['Observation', observation(value)],
    ['DomainResource', observation(value)],
    ['Resource', observation(value)],
    ['Observation.component', observation({ component: [{ code: { text: 'a' }, ...value }] })],
    ['BackboneElement', observation({ component: [{ code: { text: 'a' }, ...value }] })],
    ['Observation.value[x]', observation({ valueQuantity: { value: 1, ...value } })],
    ['Observation.valueQuantity', observation({ valueQuantity: { value: 1, ...value } })],
    ['Coding', observation({ code: { coding: [{ code: 'a', ...value }] } })],
    ['CodeableConcept.coding', observation({ code: { coding: [{ code: 'a', ...value }] } })],
    ['code', observation({ _status: value })],
    ['Observation.status', observation({ _status: value })],
    [
      'DomainResource.text',
      observation({
        text: { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">a</div>', ...value },
      }),
    ],
    ['Observation.referenceRange', observation({ referenceRange: [{ text: 'a', ...value }] })],
    [
      'Observation.referenceRange',
      observation({ component: [{ code: { text: 'a' }, referenceRange: [{ text: 'a', ...value }] }] }),
    ],
    ['https://profiles.example/p#Observation.bodySite', onSite],
  ])('%s lets it stand there', (expression, resource) => {
    expect(on(expression)(resource)).toEqual([]);
  });

  test('refuses it elsewhere', () => {
    expect(on('Observation.bodySite')(observation(value))).toEqual([
      'extension-context Observation.extension[0]',
    ]);
    expect(on('Patient')(observation(value))).toEqual(['extension-context Observation.extension[0]']);
    expect(on('Observation.bodySite', 'Quantity')(onComponentCode)).toEqual([
      'extension-context Observation.component[0].code.extension[0]',
    ]);
  });

  test('may be another extension', () => {
    const outer = 'https://elsewhere.example/outer';
    const faults = faultsBy([
      extensionOf('note', [], { context: [{ type: 'extension', expression: outer }] }),
    ]);
    expect(faults(observation({ extension: [{ url: outer, ...value }] }))).toEqual([]);
    expect(faults(observation({ extension: [{ url: 'https://elsewhere.example/x', ...value }] }))).toEqual([
      'extension-context Observation.extension[0].extension[0]',
    ]);
  });

  test('may be what FHIRPath finds', () => {
    const expression = "Observation.component.where(code.text = 'left')";
    const faults = faultsBy([extensionOf('note', [], { context: [{ type: 'fhirpath', expression }] })]);
    const component = [{ code: { text: 'right' } }, { code: { text: 'left' }, ...value }];
    expect(faults(observation({ component }))).toEqual([]);
    expect(faults(observation({ component: [{ code: { text: 'right' }, ...value }] }))).toEqual([
      'extension-context Observation.component[0].extension[0]',
    ]);
  });

  test('may have a condition on what is extended', () => {
    const faults = faultsBy([
      extensionOf('note', [], {
        context: [{ type: 'element', expression: 'Observation' }],
        contextInvariant: ["status = 'final'", '%extension.value.exists()'],
      }),
    ]);
    expect(faults(observation(value))).toEqual([]);
    expect(faults(observation({ ...value, status: 'amended' }))).toEqual([
      'extension-context Observation.extension[0]',
    ]);
  });
});

describe('a modifier extension', () => {
  const negated = extensionOf('negated', [
    { path: 'Extension', isModifier: true, isModifierReason: 'It denies what it extends.' },
    { path: 'Extension.value[x]', type: [{ code: 'boolean' }] },
  ]);
  const faults = faultsBy([negated, note]);
  const instance = [{ url: negated.url, valueBoolean: true }];
  const about = (told: readonly string[]): readonly string[] =>
    told.filter((fault) => fault.startsWith('extension-modifier'));

  test('stands among the modifier extensions, and no other does', () => {
    expect(about(faults(observation({ modifierExtension: instance })))).toEqual([]);
    expect(about(faults(observation({ extension: instance })))).toEqual([
      'extension-modifier Observation.extension[0]',
    ]);
    const plain = noted({ valueString: 'a' });
    expect(
      about(faults(observation({ modifierExtension: (plain as { extension: unknown }).extension }))),
    ).toEqual(['extension-modifier Observation.modifierExtension[0]']);
  });

  test('is asked for by a profile under its url', () => {
    const profile = profileOf('Observation', [
      {
        path: 'Observation.modifierExtension',
        sliceName: 'negated',
        min: 1,
        type: [{ code: 'Extension', profile: [`${HERE}negated`] }],
      },
    ]);
    expect(faultsOf(profile, negated)(observation())).toEqual(['cardinality Observation.modifierExtension']);
  });
});
