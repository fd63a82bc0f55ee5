import { ABSENT, observation, page, type RuleCases } from './observation-case.js';

const RESOURCE = page('observation.html#resource');
const TERMINOLOGY = page('observation.html#tx');
const INVARIANTS = page('observation.html#invs');
const LOINC = 'http://loinc.org';

const cardinality: readonly RuleCases[] = [
  {
    rule: 'cardinality',
    section: RESOURCE,
    on: 'Observation.status',
    keeps: {
      'a status that is not known and says why': { ...observation({ _status: ABSENT }), status: undefined },
    },
    breaks: {
      'an observation without a status': [
        'Observation.status',
        { resourceType: 'Observation', code: { text: 'Grip' } },
      ],
    },
  },
  {
    rule: 'cardinality',
    section: RESOURCE,
    on: 'Observation.code',
    keeps: {
      'a code that is said to be absent': observation({ code: ABSENT }),
      'an observation of nothing but status and code': observation(),
    },
    breaks: {
      'an observation that does not say of what': [
        'Observation.code',
        { resourceType: 'Observation', status: 'final' },
      ],
    },
  },
  {
    rule: 'cardinality',
    section: RESOURCE,
    on: 'Observation.component.code',
    keeps: {
      'a component of nothing but its code': observation({ component: [{ code: { text: 'Pain at rest' } }] }),
      'a hundred components': observation({
        component: Array.from({ length: 100 }, (_, index) => ({
          code: { text: `Joint ${String(index + 1)}` },
          valueInteger: index,
        })),
      }),
    },
    breaks: {
      'a component that does not say of what': [
        'Observation.component[1].code',
        observation({ component: [{ code: { text: 'Flexion' } }, { valueString: 'full' }] }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: page('json.html#resources'),
    on: 'Observation',
    keeps: {
      'repeating elements with one item each': observation({
        category: [{ text: 'exam' }],
        performer: [{ display: 'A. Nurse' }],
        note: [{ text: 'seated' }],
        focus: [{ display: 'the left arm' }],
      }),
      'repeating elements with several items': observation({
        identifier: [{ value: '1' }, { value: '2' }],
        category: [{ text: 'exam' }, { text: 'musculoskeletal' }, { text: 'hand' }],
        performer: [{ display: 'A. Nurse' }, { display: 'B. Therapist' }],
        interpretation: [{ text: 'weak' }, { text: 'weaker than before' }],
      }),
    },
    breaks: {
      ...Object.fromEntries(
        [
          'identifier',
          'category',
          'interpretation',
          'note',
          'component',
          'referenceRange',
          'hasMember',
          'focus',
        ].map((name) => [
          `one ${name} without its array`,
          [`Observation.${name}`, observation({ [name]: itemOf(name) })],
        ]),
      ),
      ...Object.fromEntries(
        [
          'code',
          'subject',
          'encounter',
          'bodySite',
          'method',
          'specimen',
          'device',
          'valueQuantity',
          'text',
        ].map((name) => [
          `a ${name} in an array`,
          [`Observation.${name.replace('Quantity', '')}`, observation({ [name]: [itemOf(name)] })],
        ]),
      ),
      'notes that are a text': ['Observation.note', observation({ note: 'seated' })],
      'a status that is an object': ['Observation.status', observation({ status: { value: 'final' } })],
      'a status in an array': ['Observation.status', observation({ status: ['final'] })],
      'a code that is a text': ['Observation.code', observation({ code: 'Grip strength' })],
      'a subject that is a text': ['Observation.subject', observation({ subject: 'Patient/1' })],
      'a category that is a text': ['Observation.category[0]', observation({ category: ['exam'] })],
      'a value of a quantity that is a number': ['Observation.value', observation({ valueQuantity: 30.5 })],
      'components within an array within the array': [
        'Observation.component[0]',
        observation({ component: [[{ code: { text: 'Flexion' } }]] }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: page('json.html#resources'),
    on: 'Observation',
    keeps: {
      'each element of an observation at once': observation({
        id: 'all',
        meta: { tag: [{ code: 'x' }] },
        implicitRules: 'http://example.org/rules',
        language: 'en',
        text: { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Grip</div>' },
        contained: [{ resourceType: 'Patient', id: 'p' }],
        extension: [{ url: 'http://example.org/a', valueBoolean: true }],
        modifierExtension: [{ url: 'http://example.org/b', valueBoolean: false }],
        identifier: [{ value: '1' }],
        basedOn: [{ reference: 'ServiceRequest/1' }],
        partOf: [{ reference: 'Procedure/1' }],
        category: [{ text: 'exam' }],
        subject: { reference: '#p' },
        focus: [{ display: 'the left arm' }],
        encounter: { reference: 'Encounter/1' },
        effectiveDateTime: '2024-03',
        issued: '2024-03-05T07:30:00Z',
        performer: [{ reference: 'Practitioner/1' }],
        valueQuantity: { value: 30 },
        interpretation: [{ text: 'weak' }],
        note: [{ text: 'seated' }],
        bodySite: { text: 'left hand' },
        method: { text: 'dynamometer' },
        specimen: { display: 'none' },
        device: { reference: 'Device/1' },
        referenceRange: [{ text: 'more than 20 kgf' }],
        hasMember: [{ reference: 'Observation/2' }],
        derivedFrom: [{ reference: 'Media/1' }],
        component: [{ code: { text: 'first try' }, valueQuantity: { value: 29 } }],
      }),
    },
    breaks: {
      'a name in capitals': ['Observation.Status', observation({ Status: 'final' })],
      'an element of another resource type': ['Observation.gender', observation({ gender: 'female' })],
      'the comment that R3 had': ['Observation.comment', observation({ comment: 'seated' })],
      'the related observations that R3 had': [
        'Observation.related',
        observation({ related: [{ type: 'has-member' }] }),
      ],
      'what triggered it, as R5 has it': [
        'Observation.triggeredBy',
        observation({ triggeredBy: [{ type: 'reflex' }] }),
      ],
      'a body structure, as R5 has it': [
        'Observation.bodyStructure',
        observation({ bodyStructure: { reference: 'BodyStructure/1' } }),
      ],
      'a component within a component': [
        'Observation.component[0].component',
        observation({ component: [{ code: { text: 'a' }, component: [{ code: { text: 'b' } }] }] }),
      ],
      'a body site on a component': [
        'Observation.component[0].bodySite',
        observation({ component: [{ code: { text: 'a' }, bodySite: { text: 'left hand' } }] }),
      ],
      'a status on a component': [
        'Observation.component[0].status',
        observation({ component: [{ code: { text: 'a' }, status: 'final' }] }),
      ],
      'a code whose display stands outside of its coding': [
        'Observation.code.display',
        observation({ code: { coding: [{ system: LOINC, code: '57643-5' }], display: 'Grip' } }),
      ],
      'a name that every object of a program has': ['Observation.toString', observation({ toString: 'x' })],
      'another such name': ['Observation.hasOwnProperty', observation({ hasOwnProperty: true })],
      'a name with a space before it': ['Observation.` status`', observation({ ' status': 'final' })],
      'a name of nothing': ['Observation.``', observation({ '': 'final' })],
      'the type of the resource on a datatype': [
        'Observation.value.resourceType',
        observation({ valueQuantity: { resourceType: 'Quantity', value: 3 } }),
      ],
      'a member for the comments of a file': [
        'Observation.fhir_comments',
        observation({ fhir_comments: ['by hand'] }),
      ],
      'an element in a reference range that it does not have': [
        'Observation.referenceRange[0].value',
        observation({ referenceRange: [{ text: 'more than 20', value: { value: 20 } }] }),
      ],
    },
  },
];

/** An item of the element of an Observation that is right in itself. */
function itemOf(name: string): object {
  if (name === 'component') return { code: { text: 'Flexion' } };
  if (name === 'valueQuantity') return { value: 30 };
  if (name === 'identifier') return { value: '7' };
  if (name === 'text')
    return { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Grip</div>' };
  return ['hasMember', 'focus', 'subject', 'encounter', 'specimen', 'device'].includes(name)
    ? { display: 'elsewhere' }
    : { text: 'seated' };
}

const STATUSES = [
  'registered',
  'preliminary',
  'final',
  'amended',
  'corrected',
  'cancelled',
  'entered-in-error',
  'unknown',
];

const bindings: readonly RuleCases[] = [
  {
    rule: 'required-binding',
    section: TERMINOLOGY,
    on: 'Observation.status',
    keeps: {
      ...Object.fromEntries(
        STATUSES.map((status) => [`an observation that is ${status}`, observation({ status })]),
      ),
      'a status with its value and an extension': observation({ _status: ABSENT }),
    },
    breaks: {
      'a status that is almost one': ['Observation.status', observation({ status: 'amended-' })],
      'a status of another resource': ['Observation.status', observation({ status: 'completed' })],
      'a status in a capital': ['Observation.status', observation({ status: 'Final' })],
      'a status by its display': ['Observation.status', observation({ status: 'Entered in Error' })],
      'a status with its system before it': [
        'Observation.status',
        observation({ status: 'http://hl7.org/fhir/observation-status|final' }),
      ],
      'a contained observation of a status of its own': [
        'Observation.contained[0].status',
        observation({
          contained: [{ resourceType: 'Observation', id: 'first', status: 'done', code: { text: 'Grip' } }],
          hasMember: [{ reference: '#first' }],
        }),
      ],
    },
  },
  {
    rule: 'example-binding',
    section: TERMINOLOGY,
    keeps: {
      'a category of one own code': observation({
        category: [{ coding: [{ system: 'http://example.org/categories', code: 'bedside' }] }],
      }),
      'an interpretation without a system': observation({ interpretation: [{ coding: [{ code: 'WEAK' }] }] }),
      'a reason for absence in plain text': observation({ dataAbsentReason: { text: 'arm in plaster' } }),
      'a reason for absence of an own code system': observation({
        dataAbsentReason: { coding: [{ system: 'http://example.org/reasons', code: 'plaster' }] },
      }),
      'a body site in text alone': observation({
        bodySite: { text: 'left third metacarpophalangeal joint' },
      }),
      'a method of an own code': observation({
        method: { coding: [{ system: 'http://example.org/methods', code: 'by-eye' }], text: 'by eye' },
      }),
      'a code without any coding': observation({ code: { text: 'Opens a jar' } }),
      'codings of three systems for one code': observation({
        code: {
          coding: [
            { system: LOINC, code: '57643-5' },
            { system: 'http://example.org/observables', code: 'grip', userSelected: true },
            { system: 'urn:oid:1.2.3', version: '7', code: 'G' },
          ],
        },
      }),
    },
  },
];

const invariants: readonly RuleCases[] = [
  {
    rule: 'obs-3',
    section: INVARIANTS,
    keeps: {
      'a reference range of a text alone': observation({ referenceRange: [{ text: 'as the other side' }] }),
      'a reference range of a low alone': observation({ referenceRange: [{ low: { value: 0 } }] }),
      'a reference range of a high without its value': observation({
        referenceRange: [{ high: { unit: 'kgf' } }],
      }),
      'a reference range whose text is said to be absent': observation({
        referenceRange: [{ _text: ABSENT }],
      }),
      'reference ranges for two groups of people': observation({
        valueQuantity: { value: 30 },
        referenceRange: [
          { low: { value: 20 }, appliesTo: [{ text: 'women' }], age: { low: { value: 60, unit: 'a' } } },
          {
            low: { value: 30 },
            type: { text: 'usual' },
            appliesTo: [{ text: 'men' }, { text: 'dominant hand' }],
          },
        ],
      }),
      'a reference range on a component': observation({
        component: [{ code: { text: 'Flexion' }, referenceRange: [{ high: { value: 140 } }] }],
      }),
    },
    breaks: {
      'a reference range that only says for whom': [
        'Observation.referenceRange[0]',
        observation({ referenceRange: [{ appliesTo: [{ text: 'women' }] }] }),
      ],
      'a second reference range that only says its type': [
        'Observation.referenceRange[1]',
        observation({ referenceRange: [{ text: 'more than 20' }, { type: { text: 'usual' } }] }),
      ],
      'a reference range of an age alone': [
        'Observation.referenceRange[0]',
        observation({ referenceRange: [{ age: { low: { value: 60 } } }] }),
      ],
      'a reference range of an extension alone': [
        'Observation.referenceRange[0]',
        observation({ referenceRange: [{ extension: [{ url: 'http://example.org/a', valueString: 'x' }] }] }),
      ],
      'a reference range on a component that only says for whom': [
        'Observation.component[0].referenceRange[0]',
        observation({
          component: [{ code: { text: 'Flexion' }, referenceRange: [{ appliesTo: [{ text: 'women' }] }] }],
        }),
      ],
    },
  },
  {
    rule: 'obs-6',
    section: INVARIANTS,
    keeps: {
      'a reason for absence without a value': observation({ dataAbsentReason: { text: 'asleep' } }),
      'a reason for absence beside components with values': observation({
        dataAbsentReason: { text: 'no single value' },
        component: [{ code: { text: 'Flexion' }, valueQuantity: { value: 90 } }],
      }),
      'a component with both a value and a reason, which only the observation may not have': observation({
        component: [{ code: { text: 'a' }, valueString: 'x', dataAbsentReason: { text: 'estimated' } }],
      }),
      'a component of a code and a reason': observation({
        component: [{ code: { text: 'Flexion' }, dataAbsentReason: { coding: [{ code: 'not-performed' }] } }],
      }),
      'neither value nor reason': observation({ bodySite: { text: 'left hand' } }),
    },
    breaks: {
      'a value and a reason why there is none': [
        'Observation',
        observation({ valueQuantity: { value: 30 }, dataAbsentReason: { text: 'asleep' } }),
      ],
      'a value of false and a reason why there is none': [
        'Observation',
        observation({ valueBoolean: false, dataAbsentReason: { text: 'asleep' } }),
      ],
      'a value of nought and a reason why there is none': [
        'Observation',
        observation({ valueInteger: 0, dataAbsentReason: { text: 'asleep' } }),
      ],
      'an extension in the place of the value and a reason': [
        'Observation',
        observation({ _valueString: ABSENT, dataAbsentReason: { text: 'asleep' } }),
      ],
      'a contained observation with both': [
        'Observation.contained[0]',
        observation({
          contained: [
            {
              resourceType: 'Observation',
              id: 'first',
              status: 'final',
              code: { text: 'Grip' },
              valueString: 'weak',
              dataAbsentReason: { text: 'asleep' },
            },
          ],
          hasMember: [{ reference: '#first' }],
        }),
      ],
    },
  },
  {
    rule: 'obs-7',
    section: INVARIANTS,
    keeps: {
      'a component of the same code, without a value on the observation': observation({
        code: { coding: [{ system: LOINC, code: '57643-5' }] },
        component: [{ code: { coding: [{ system: LOINC, code: '57643-5' }] }, valueQuantity: { value: 30 } }],
      }),
      'a component of another code beside a value': observation({
        code: { coding: [{ system: LOINC, code: '57643-5' }] },
        valueQuantity: { value: 30 },
        component: [{ code: { coding: [{ system: LOINC, code: '80322-7' }] }, valueInteger: 1 }],
      }),
      'a component whose code has the same text and no coding': observation({
        valueQuantity: { value: 30 },
        component: [{ code: { text: 'Grip strength' }, valueInteger: 1 }],
      }),
      'a component of the same code in another system': observation({
        code: { coding: [{ system: LOINC, code: '1' }] },
        valueInteger: 3,
        component: [{ code: { coding: [{ system: 'http://example.org/own', code: '1' }] }, valueInteger: 1 }],
      }),
    },
    breaks: {
      'a value beside a component of the same code': [
        'Observation',
        observation({
          code: { coding: [{ system: LOINC, code: '57643-5' }] },
          valueQuantity: { value: 30 },
          component: [
            { code: { coding: [{ system: LOINC, code: '57643-5' }] }, valueQuantity: { value: 30 } },
          ],
        }),
      ],
      'a value beside a second component of which one coding is the same': [
        'Observation',
        observation({
          code: {
            coding: [
              { system: LOINC, code: '57643-5' },
              { system: 'http://example.org/own', code: 'grip' },
            ],
          },
          valueString: 'weak',
          component: [
            { code: { text: 'first try' }, valueInteger: 1 },
            { code: { coding: [{ system: 'http://example.org/own', code: 'grip' }], text: 'again' } },
          ],
        }),
      ],
    },
  },
];

const QUANTITY = { value: 30.5, unit: 'kgf', system: 'http://unitsofmeasure.org', code: 'kgf' };

/** A value of each type that Observation.value[x] may be of (R4 observation, "Observation.value[x]"). */
const VALUES: Readonly<Record<string, unknown>> = {
  valueQuantity: QUANTITY,
  valueCodeableConcept: { text: 'weak' },
  valueString: 'weak',
  valueBoolean: false,
  valueInteger: -3,
  valueRange: { low: { value: 3 }, high: { value: 4 } },
  valueRatio: { numerator: { value: 1 }, denominator: { value: 128 } },
  valueSampledData: { origin: { value: 0 }, period: 10, dimensions: 1, data: '2 E 4 U L' },
  valueTime: '07:30:00',
  valueDateTime: '2024-03-05',
  valuePeriod: { start: '2024-03-05T07:30:00Z' },
};

const EFFECTIVES: Readonly<Record<string, unknown>> = {
  effectiveDateTime: '2024-03',
  effectivePeriod: { end: '2024-03-05' },
  effectiveTiming: { event: ['2024-03-05T07:30:00Z', '2024-03-05T19:30:00Z'] },
  effectiveInstant: '2024-03-05T07:30:00.5+01:00',
};

const choices: readonly RuleCases[] = [
  {
    rule: 'choice-type',
    section: page('observation.html#valuex'),
    on: 'Observation.value[x]',
    keeps: {
      ...Object.fromEntries(
        Object.entries(VALUES).map(([name, value]) => [
          `an observation with a ${name}`,
          observation({ [name]: value }),
        ]),
      ),
      ...Object.fromEntries(
        Object.entries(VALUES).map(([name, value]) => [
          `a component with a ${name}`,
          observation({ component: [{ code: { text: 'a' }, [name]: value }] }),
        ]),
      ),
      'a value of a string with an id of its own': observation({
        valueString: 'weak',
        _valueString: { id: 'v' },
      }),
    },
    breaks: {
      'two values': ['Observation.value', observation({ valueQuantity: QUANTITY, valueString: '30.5 kgf' })],
      'a value of one type and an extension of another': [
        'Observation.value',
        observation({ valueInteger: 3, _valueString: ABSENT }),
      ],
      'two values on a component': [
        'Observation.component[0].value',
        observation({ component: [{ code: { text: 'a' }, valueInteger: 3, valueBoolean: true }] }),
      ],
      'a value of a decimal, which is not among its types': [
        'Observation.value',
        observation({ valueDecimal: 3.5 }),
      ],
      'a value of a date, which is not among its types': [
        'Observation.value',
        observation({ valueDate: '2024-03-05' }),
      ],
      'a value of a code, which is not among its types': [
        'Observation.value',
        observation({ valueCode: 'weak' }),
      ],
      'a value that is a reference, as R5 has it': [
        'Observation.value',
        observation({ valueReference: { reference: 'Media/1' } }),
      ],
      'a value that is an attachment, as R5 has it': [
        'Observation.value',
        observation({ valueAttachment: { url: 'http://example.org/a' } }),
      ],
      'a value by its name in the definitions': ['Observation.value', observation({ 'value[x]': 30 })],
      'a value whose type is in small letters': [
        'Observation.value',
        observation({ valuequantity: QUANTITY }),
      ],
      'a value on a component that is an instant': [
        'Observation.component[0].value',
        observation({ component: [{ code: { text: 'a' }, valueInstant: '2024-03-05T07:30:00Z' }] }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: page('formats.html#choice'),
    on: 'Observation.value[x]',
    keeps: { 'a value with the name of its type': observation({ valueBoolean: true }) },
    breaks: {
      'a value without the name of its type': ['Observation.value', observation({ value: 30 })],
    },
  },
  {
    rule: 'choice-type',
    section: page('observation-definitions.html#Observation.effective_x_'),
    on: 'Observation.effective[x]',
    keeps: Object.fromEntries(
      Object.entries(EFFECTIVES).map(([name, value]) => [
        `an observation with an ${name}`,
        observation({ [name]: value }),
      ]),
    ),
    breaks: {
      'two effective times': [
        'Observation.effective',
        observation({ effectiveDateTime: '2024', effectiveInstant: '2024-03-05T07:30:00Z' }),
      ],
      'an effective time that is a date': [
        'Observation.effective',
        observation({ effectiveDate: '2024-03-05' }),
      ],
      'an effective time that is a time of day': [
        'Observation.effective',
        observation({ effectiveTime: '07:30:00' }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: RESOURCE,
    on: 'instant',
    keeps: { 'an issue to the second': observation({ issued: '2024-03-05T07:30:00-00:30' }) },
    breaks: {
      'an issue of a day': ['Observation.issued', observation({ issued: '2024-03-05' })],
      'an effective time without a zone': [
        'Observation.effective',
        observation({ effectiveDateTime: '2024-03-05T07:30:00' }),
      ],
      'an effective instant to the minute': [
        'Observation.effective',
        observation({ effectiveInstant: '2024-03-05T07:30Z' }),
      ],
      'a value that is a time with a zone': ['Observation.value', observation({ valueTime: '07:30:00Z' })],
      'a value that is a day that does not exist': [
        'Observation.value',
        observation({ valueDateTime: '2024-02-30' }),
      ],
      'a value that is more than 32 bits': ['Observation.value', observation({ valueInteger: 3e9 })],
      'a value that is a whole number with a fraction': [
        'Observation.value',
        observation({ valueInteger: 3.5 }),
      ],
      'an empty text in the place of a value': ['Observation.value', observation({ valueString: '' })],
    },
  },
];

/** Body weight by LOINC, which no Observation may have without being a vital sign. */
const weight = (members: object): object =>
  observation({
    category: [
      {
        coding: [
          { system: 'http://terminology.hl7.org/CodeSystem/observation-category', code: 'vital-signs' },
        ],
      },
    ],
    code: { coding: [{ system: LOINC, code: '29463-7' }] },
    subject: { reference: 'Patient/1' },
    effectiveDateTime: '2024-03-05T07:30:00Z',
    valueQuantity: { value: 71.5, unit: 'kg', system: 'http://unitsofmeasure.org', code: 'kg' },
    ...members,
  });

const vitalSigns: readonly RuleCases[] = [
  {
    rule: 'cardinality',
    section: page('observation-vitalsigns.html'),
    keeps: {
      'a weight that claims no profile and keeps it': weight({}),
      'a temperature in degrees Fahrenheit': weight({
        code: { coding: [{ system: LOINC, code: '8310-5' }] },
        valueQuantity: { value: 98.6, unit: 'F', system: 'http://unitsofmeasure.org', code: '[degF]' },
      }),
      'a weight that was not taken': weight({
        valueQuantity: undefined,
        dataAbsentReason: {
          coding: [
            { system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code: 'not-performed' },
          ],
        },
      }),
    },
    breaks: {
      'a weight of nobody': ['Observation.subject', weight({ subject: undefined })],
      'a weight at no time': ['Observation.effective', weight({ effectiveDateTime: undefined })],
    },
  },
  {
    rule: 'vs-1',
    section: page('observation-vitalsigns.html#invs'),
    keeps: { 'a weight of a day': weight({ effectiveDateTime: '2024-03-05' }) },
    breaks: { 'a weight of a month': ['Observation.effective', weight({ effectiveDateTime: '2024-03' })] },
  },
  {
    rule: 'required-binding',
    section: page('bodyweight.html'),
    keeps: {
      'a weight in pounds': weight({
        valueQuantity: { value: 157, unit: 'lb', system: 'http://unitsofmeasure.org', code: '[lb_av]' },
      }),
    },
    breaks: {
      'a weight in stones': [
        'Observation.value.code',
        weight({
          valueQuantity: { value: 11, unit: 'st', system: 'http://unitsofmeasure.org', code: '[stone_av]' },
        }),
      ],
    },
  },
  {
    rule: 'vs-2',
    section: page('observation-vitalsigns.html#invs'),
    keeps: {
      'a weight with a member in the place of its value': weight({
        valueQuantity: undefined,
        hasMember: [{ display: 'the weight of the bed' }],
      }),
    },
    breaks: {
      'a weight without a value or a reason': ['Observation', weight({ valueQuantity: undefined })],
    },
  },
];

export const elementCases: readonly RuleCases[] = [
  ...cardinality,
  ...bindings,
  ...invariants,
  ...choices,
  ...vitalSigns,
];
