import { ABSENT, HELD, holding, observation, page, type RuleCases } from './observation-case.js';

const EXTENSION = page('extensibility.html#Extension');
const OWN = 'https://example.org/fhir/StructureDefinition/bedside';
const PRIMITIVE = page('json.html#primitive');

const extended = (...extension: object[]): object => observation({ extension });
const FIRST = 'Observation.extension[0]';

const extensionRules: readonly RuleCases[] = [
  {
    rule: 'ext-1',
    section: EXTENSION,
    keeps: {
      'an extension of a value': extended({ url: OWN, valueBoolean: false }),
      'an extension of extensions, by relative URLs': extended({
        url: OWN,
        extension: [
          { url: 'side', valueCode: 'left' },
          { url: 'tries', valueInteger: 3 },
        ],
      }),
      'extensions three deep': extended({
        url: OWN,
        extension: [{ url: 'a', extension: [{ url: 'b', extension: [{ url: 'c', valueString: 'deep' }] }] }],
      }),
      'an extension whose value is said to be absent': extended({ url: OWN, _valueString: ABSENT }),
      'an extension on an extension of a value': extended({
        url: OWN,
        valueQuantity: { value: 3, extension: [{ url: OWN, valueString: 'about' }] },
      }),
      'an extension in the metadata': observation({ meta: { extension: [{ url: OWN, valueString: 'x' }] } }),
      'two extensions of one URL': extended({ url: OWN, valueInteger: 1 }, { url: OWN, valueInteger: 2 }),
      'extensions on each kind of element': observation({
        _status: { extension: [{ url: OWN, valueString: 'x' }] },
        code: { extension: [{ url: OWN, valueString: 'x' }], text: 'Grip strength' },
        component: [
          {
            extension: [{ url: OWN, valueString: 'x' }],
            code: { text: 'a' },
            valueInteger: 1,
            _valueInteger: ABSENT,
          },
        ],
        bodySite: { coding: [{ extension: [{ url: OWN, valueString: 'x' }], code: 'hand' }] },
        subject: { extension: [{ url: OWN, valueString: 'x' }] },
      }),
      'a translation of a display': observation({
        code: {
          coding: [
            {
              code: 'grip',
              display: 'Grip strength',
              _display: {
                extension: [
                  {
                    url: 'http://hl7.org/fhir/StructureDefinition/translation',
                    extension: [
                      { url: 'lang', valueCode: 'de-CH' },
                      { url: 'content', valueString: 'Griffkraft' },
                    ],
                  },
                ],
              },
            },
          ],
        },
      }),
    },
    breaks: {
      'an extension of nothing': [FIRST, extended({ url: OWN })],
      'an extension of both value and extensions': [
        FIRST,
        extended({ url: OWN, valueString: 'x', extension: [{ url: 'a', valueString: 'y' }] }),
      ],
      'an extension of a URL and an id': [FIRST, extended({ id: 'e', url: OWN })],
      'a nested extension of nothing': [
        `${FIRST}.extension[1]`,
        extended({
          url: OWN,
          extension: [{ url: 'a', valueString: 'x' }, { url: 'b' }],
        }),
      ],
      'an extension of nothing on a status': [
        'Observation.status.extension[0]',
        observation({ _status: { extension: [{ url: OWN }] } }),
      ],
      'a modifier extension of nothing': [
        'Observation.modifierExtension[0]',
        observation({ modifierExtension: [{ url: OWN }] }),
      ],
    },
  },
  {
    rule: 'cardinality',
    section: EXTENSION,
    on: 'Extension.url',
    keeps: { 'an extension whose URL is a URN': extended({ url: 'urn:oid:1.2.3', valueString: 'x' }) },
    breaks: {
      'an extension without its URL': [`${FIRST}.url`, extended({ valueString: 'x' })],
      'a nested extension without its URL': [
        `${FIRST}.extension[0].url`,
        extended({ url: OWN, extension: [{ valueString: 'x' }] }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: EXTENSION,
    breaks: {
      'an extension of an empty URL': [`${FIRST}.url`, extended({ url: '', valueString: 'x' })],
      'an extension of a URL with a space': [`${FIRST}.url`, extended({ url: `${OWN} 2`, valueString: 'x' })],
    },
  },
  {
    rule: 'choice-type',
    section: page('extensibility.html#extension'),
    on: 'Extension.value[x]',
    keeps: {
      'an extension of a dosage': holding({
        valueDosage: { text: 'once a day', timing: { repeat: { frequency: 1 } } },
      }),
      'an extension of a metadata': holding({ valueMeta: { tag: [{ code: 'x' }] } }),
      'an extension of an annotation': holding({ valueAnnotation: { text: 'seated' } }),
      'an extension of a simple money': holding({ valueMoney: { value: 3.5, currency: 'CHF' } }),
      'an extension of a name': holding({ valueHumanName: { text: 'A. Nurse', _family: ABSENT } }),
      'an extension of an attachment': holding({
        valueAttachment: { contentType: 'image/png', data: 'iVBORw0KGgo=' },
      }),
    },
    breaks: {
      'an extension of two values': [HELD, holding({ valueString: 'x', valueCode: 'x' })],
      'an extension of a narrative': [
        HELD,
        holding({ valueNarrative: { status: 'generated', div: 'x' }, valueString: 'x' }),
      ],
      'an extension of a whole resource': [
        HELD,
        holding({ valuePatient: { resourceType: 'Patient' }, valueString: 'x' }),
      ],
      'an extension of a type that only R5 has': [HELD, holding({ valueInteger64: '3', valueString: 'x' })],
      'an extension of a simple quantity by its profile': [
        HELD,
        holding({ valueSimpleQuantity: { value: 3 }, valueString: 'x' }),
      ],
    },
  },
  {
    rule: 'attachment-size',
    section: page('datatypes-definitions.html#Attachment.size'),
    on: 'Attachment.size',
    keeps: {
      'an attachment of four bytes, with the padding of base64': holding({
        valueAttachment: { contentType: 'text/plain', data: 'TGVmdA==', size: 4 },
      }),
      'an attachment of five bytes in two lines': holding({
        valueAttachment: { contentType: 'text/plain', data: 'TGVm\r\ndDE=\n', size: 5 },
      }),
      'an attachment elsewhere, of whose size only its word is known': holding({
        valueAttachment: { url: 'http://example.org/film', size: 100 },
      }),
    },
    breaks: {
      'an attachment that says another size than its data has': [
        `${HELD}.size`,
        holding({ valueAttachment: { contentType: 'text/plain', data: 'TGVmdA==', size: 8 } }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: EXTENSION,
    on: 'Extension',
    keeps: { 'an extension with an id': extended({ id: 'e-1', url: OWN, valueString: 'x' }) },
    breaks: {
      'an extension with a name': [
        `${FIRST}.name`,
        extended({ url: OWN, valueString: 'x', name: 'bedside' }),
      ],
      'a modifier extension in the metadata': [
        'Observation.meta.modifierExtension',
        observation({ meta: { modifierExtension: [{ url: OWN, valueString: 'x' }] } }),
      ],
      'a modifier extension within an extension': [
        `${FIRST}.modifierExtension`,
        extended({ url: OWN, valueString: 'x', modifierExtension: [{ url: OWN, valueString: 'x' }] }),
      ],
      'extensions on a complex element by the underscore of primitives': [
        'Observation._code',
        observation({ _code: { extension: [{ url: OWN, valueString: 'x' }] } }),
      ],
      'extensions on the id of an element, which is no element': [
        'Observation.code._id',
        observation({ code: { id: 'c', _id: ABSENT, text: 'Grip strength' } }),
      ],
      'extensions on the URL of an extension, which is no element': [
        `${FIRST}._url`,
        extended({ url: OWN, _url: ABSENT, valueString: 'x' }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: EXTENSION,
    breaks: {
      'an extension without its array': [
        'Observation.extension',
        observation({ extension: { url: OWN, valueString: 'x' } }),
      ],
    },
  },
  {
    rule: 'modifier-extension',
    section: page('extensibility.html#modifierExtension'),
    keeps: {
      'modifier extensions on the resource, a component and a reference range': observation({
        modifierExtension: [{ url: OWN, valueBoolean: true }],
        component: [{ modifierExtension: [{ url: OWN, valueBoolean: true }], code: { text: 'a' } }],
        referenceRange: [{ modifierExtension: [{ url: OWN, valueBoolean: true }], text: 'more than 20' }],
      }),
    },
  },
];

const elementCases: readonly RuleCases[] = [
  {
    rule: 'ele-1',
    section: page('element.html#Element'),
    keeps: {
      'a resource of an extension for each thing it must have': {
        resourceType: 'Observation',
        _status: ABSENT,
        code: ABSENT,
      },
      'an element of an id and an extension': observation({ bodySite: { id: 's', ...ABSENT } }),
      'a value with an id': observation({ _status: { id: 's' } }),
    },
    breaks: {
      'an element of an id alone': ['Observation.bodySite', observation({ bodySite: { id: 's' } })],
      'a coding of an id alone': [
        'Observation.code.coding[0]',
        observation({ code: { text: 'Grip strength', coding: [{ id: 'c' }] } }),
      ],
      'a value of an id alone, without the value': [
        'Observation.issued',
        observation({ _issued: { id: 'i' } }),
      ],
      'a status of an id alone': [
        'Observation.status',
        { resourceType: 'Observation', _status: { id: 's' }, code: { text: 'Grip' } },
      ],
    },
  },
  {
    rule: 'json-padding',
    section: PRIMITIVE,
    keeps: {
      'nulls where only some profiles have extensions': observation({
        meta: {
          profile: ['http://example.org/a', 'http://example.org/b', null],
          _profile: [null, { id: 'second' }, ABSENT],
        },
      }),
      'extensions for each item, and no value': observation({
        effectiveTiming: { _event: [ABSENT, ABSENT] },
      }),
      'an id for one time of day of two': observation({
        effectiveTiming: {
          repeat: { timeOfDay: ['08:00:00', '20:00:00'], _timeOfDay: [null, { id: 'late' }] },
        },
      }),
    },
    breaks: {
      'fewer extensions than values': [
        'Observation.meta.profile',
        observation({
          meta: { profile: ['http://example.org/a', 'http://example.org/b'], _profile: [{ id: 'first' }] },
        }),
      ],
      'more extensions than values': [
        'Observation.effective.event',
        observation({ effectiveTiming: { event: ['2024'], _event: [null, ABSENT] } }),
      ],
    },
  },
  {
    rule: 'json-null',
    section: PRIMITIVE,
    on: 'null',
    keeps: {
      'a null beside an extension in its place': observation({
        effectiveTiming: { event: ['2024', null], _event: [null, ABSENT] },
      }),
    },
    breaks: {
      'a null in the place of a value': ['Observation.issued', observation({ issued: null })],
      'a null in the place of a value that has an extension': [
        'Observation.issued',
        observation({ issued: null, _issued: ABSENT }),
      ],
      'a null in the place of a choice': ['Observation.value', observation({ valueQuantity: null })],
      'a null in the place of a value of a datatype': [
        'Observation.value.unit',
        observation({ valueQuantity: { value: 3, unit: null } }),
      ],
      'a null in the place of an object': ['Observation.subject', observation({ subject: null })],
      'a null in an array of objects': [
        'Observation.category[1]',
        observation({ category: [{ text: 'exam' }, null] }),
      ],
      'a null without an extension in its place': [
        'Observation.effective.event[1]',
        observation({ effectiveTiming: { event: ['2024', null] } }),
      ],
      'a null in both arrays': [
        'Observation.effective.event[1]',
        observation({ effectiveTiming: { event: ['2024', null], _event: [ABSENT, null] } }),
      ],
      'a null in the place of the extensions of a value': [
        'Observation.status',
        observation({ _status: null }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: PRIMITIVE,
    on: 'Element',
    breaks: {
      'a null in the place of an array': ['Observation.category', observation({ category: null })],
      'extensions of a value in an array': ['Observation.status', observation({ _status: [ABSENT] })],
      'extensions of values without an array': [
        'Observation.effective.event',
        observation({ effectiveTiming: { event: ['2024'], _event: ABSENT } }),
      ],
      'a text in the place of the extensions of a value': [
        'Observation.status',
        observation({ _status: 'final' }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: PRIMITIVE,
    breaks: {
      'extensions of a value in an object of another form': [
        'Observation.status.url',
        observation({ _status: { ...ABSENT, url: OWN } }),
      ],
    },
  },
];

const metaCases: readonly RuleCases[] = [
  {
    rule: 'primitive-type',
    section: page('resource.html#meta'),
    on: 'Meta',
    keeps: {
      'a version, a time, a source, labels and tags': observation({
        meta: {
          versionId: 'W.7-a',
          lastUpdated: '2024-03-05T07:30:00.123+01:00',
          source: '#feed-7',
          security: [
            { system: 'http://terminology.hl7.org/CodeSystem/v3-ObservationValue', code: 'SUBSETTED' },
          ],
          tag: [{ display: 'night shift' }, { system: 'http://example.org/tags', code: 'x y' }],
        },
      }),
    },
    breaks: {
      'a version with a slash': ['Observation.meta.versionId', observation({ meta: { versionId: 'W/7' } })],
      'a time of change that is a day': [
        'Observation.meta.lastUpdated',
        observation({ meta: { lastUpdated: '2024-03-05' } }),
      ],
      'a profile with a space': [
        'Observation.meta.profile[0]',
        observation({ meta: { profile: ['http://example.org/a b'] } }),
      ],
      'an empty source': ['Observation.meta.source', observation({ meta: { source: '' } })],
    },
  },
  {
    rule: 'json-type',
    section: page('resource.html#meta'),
    on: 'Meta.profile',
    keeps: {
      'profiles that nobody here knows': observation({
        meta: {
          profile: ['http://example.org/fhir/StructureDefinition/grip|3.1', 'http://example.org/other'],
        },
      }),
    },
    breaks: {
      'a profile without its array': [
        'Observation.meta.profile',
        observation({ meta: { profile: 'http://example.org/a' } }),
      ],
      'a tag that is a text': ['Observation.meta.tag[0]', observation({ meta: { tag: ['night'] } })],
      'a version that is a number': ['Observation.meta.versionId', observation({ meta: { versionId: 1 } })],
    },
  },
  {
    rule: 'required-binding',
    section: page('resource.html#language'),
    on: 'Resource.language',
    keeps: Object.fromEntries(
      ['en', 'de-CH', 'zh-Hant-TW', 'es-419', 'sl-rozaj-biske', 'x-ward', 'haw', 'en-a-bbb-x-a'].map(
        (language) => [`a resource in the language ${language}`, observation({ language })],
      ),
    ),
    breaks: {
      'a language with an underscore': ['Observation.language', observation({ language: 'de_CH' })],
      'a language by its name': ['Observation.language', observation({ language: 'English' })],
      'a language of one letter': ['Observation.language', observation({ language: 'e' })],
    },
  },
  {
    rule: 'primitive-type',
    section: page('resource.html#implicitRules'),
    keeps: {
      'rules by a URI': observation({ implicitRules: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7' }),
    },
    breaks: {
      'rules by words': ['Observation.implicitRules', observation({ implicitRules: 'see the manual' })],
    },
  },
];

export const extensionCases: readonly RuleCases[] = [...extensionRules, ...elementCases, ...metaCases];
