import { breaks, keeps, type OtherCase, page, withAt } from './other-case.js';
import { samples } from './other-samples.js';

/** The datatypes that an Observation does not hold, tried as the value of a parameter (R4 parameters, value[x]). */
const UCUM = 'http://unitsofmeasure.org';
const VALUE = 'Parameters.parameter[0].value';
const datatypes = (anchor: string): string => page(`datatypes.html#${anchor}`);
const metadata = (anchor: string): string => page(`metadatatypes.html#${anchor}`);

const parameter = (name: string, value: unknown): object => ({
  resourceType: 'Parameters',
  parameter: [{ name: 'a', [name]: value }],
});
const ucum = (value: number, code: string): object => ({ value, system: UCUM, code });

const quantityCases: readonly OtherCase[] = [
  keeps('age-1', datatypes('Age'), 'an age in months', parameter('valueAge', ucum(7, 'mo'))),
  keeps(
    'age-1',
    datatypes('Age'),
    'an age that is only said to be unknown',
    parameter('valueAge', {
      extension: [
        { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'unknown' },
      ],
    }),
  ),
  breaks('age-1', VALUE, datatypes('Age'), 'an age of nought', parameter('valueAge', ucum(0, 'a'))),
  breaks(
    'age-1',
    VALUE,
    datatypes('Age'),
    'an age without a code',
    parameter('valueAge', { value: 7, unit: 'years' }),
  ),
  {
    ...breaks(
      'age-1',
      VALUE,
      datatypes('Age'),
      'an age by another system than UCUM',
      parameter('valueAge', { value: 7, system: 'http://snomed.info/sct', code: '258707000' }),
    ),
    also: [`required-binding ${VALUE}`],
  },
  {
    ...keeps(
      'required-binding',
      datatypes('Age'),
      'an age in minutes',
      parameter('valueAge', ucum(3, 'min')),
    ),
    place: VALUE,
  },
  breaks(
    'required-binding',
    VALUE,
    datatypes('Age'),
    'an age in kilograms',
    parameter('valueAge', ucum(7, 'kg')),
  ),

  keeps('cnt-3', datatypes('Count'), 'a count', parameter('valueCount', ucum(12, '1'))),
  breaks('cnt-3', VALUE, datatypes('Count'), 'half a thing counted', parameter('valueCount', ucum(1.5, '1'))),
  breaks(
    'cnt-3',
    VALUE,
    datatypes('Count'),
    'a count in another unit than one',
    parameter('valueCount', ucum(12, '{beds}')),
  ),
  breaks(
    'cnt-3',
    VALUE,
    datatypes('Count'),
    'a count without its code',
    parameter('valueCount', { value: 12 }),
  ),

  keeps(
    'dis-1',
    datatypes('Distance'),
    'a distance in miles',
    parameter('valueDistance', ucum(0.5, '[mi_us]')),
  ),
  {
    ...keeps(
      'required-binding',
      datatypes('Distance'),
      'a distance in micrometres',
      parameter('valueDistance', ucum(3, 'um')),
    ),
    place: VALUE,
  },
  breaks(
    'dis-1',
    VALUE,
    datatypes('Distance'),
    'a distance without a code',
    parameter('valueDistance', { value: 3 }),
  ),
  breaks(
    'required-binding',
    VALUE,
    datatypes('Distance'),
    'a distance in hours',
    parameter('valueDistance', ucum(3, 'h')),
  ),

  keeps('drt-1', datatypes('Duration'), 'a duration in weeks', parameter('valueDuration', ucum(6, 'wk'))),
  keeps('drt-1', datatypes('Duration'), 'a duration below nought', parameter('valueDuration', ucum(-6, 's'))),
  breaks(
    'drt-1',
    VALUE,
    datatypes('Duration'),
    'a unit of a duration without its number',
    parameter('valueDuration', { system: UCUM, code: 'h' }),
  ),
  {
    ...breaks(
      'drt-1',
      VALUE,
      datatypes('Duration'),
      'a duration by another system than UCUM',
      parameter('valueDuration', { value: 1, system: 'http://snomed.info/sct', code: '258702006' }),
    ),
    also: [`required-binding ${VALUE}`],
  },
  {
    ...keeps(
      'required-binding',
      datatypes('Duration'),
      'a duration in milliseconds',
      parameter('valueDuration', ucum(20, 'ms')),
    ),
    place: VALUE,
  },
  breaks(
    'required-binding',
    VALUE,
    datatypes('Duration'),
    'a duration in degrees',
    parameter('valueDuration', ucum(6, 'deg')),
  ),
  breaks(
    'required-binding',
    'Encounter.length',
    page('encounter.html#tx'),
    'a length of stay in metres',
    withAt(samples.Encounter, 'Encounter.length', ucum(3, 'm')),
  ),

  {
    ...keeps(
      'required-binding',
      datatypes('Money'),
      'money in yen',
      parameter('valueMoney', { value: 1e4, currency: 'JPY' }),
    ),
    place: `${VALUE}.currency`,
  },
  keeps(
    'required-binding',
    datatypes('Money'),
    'an amount without its currency',
    parameter('valueMoney', { value: -0.5 }),
  ),
  breaks(
    'required-binding',
    `${VALUE}.currency`,
    datatypes('Money'),
    'money in small letters',
    parameter('valueMoney', { value: 1, currency: 'eur' }),
  ),
  breaks(
    'required-binding',
    `${VALUE}.currency`,
    datatypes('Money'),
    'money of no country',
    parameter('valueMoney', { value: 1, currency: 'XYQ' }),
  ),
  breaks('json-type', `${VALUE}.value`, datatypes('Money'), 'an amount with a comma', {
    resourceType: 'Parameters',
    parameter: [{ name: 'a', valueMoney: { value: '1,50', currency: 'EUR' } }],
  }),
  keeps(
    'sqty-1',
    datatypes('SimpleQuantity'),
    'a dose of a quantity',
    parameter('valueDosage', { doseAndRate: [{ doseQuantity: ucum(500, 'mg') }] }),
  ),
  breaks(
    'sqty-1',
    `${VALUE}.doseAndRate[0].dose`,
    page('dosage.html#Dosage'),
    'a dose of less than a quantity',
    parameter('valueDosage', { doseAndRate: [{ doseQuantity: { ...ucum(500, 'mg'), comparator: '<' } }] }),
  ),
  breaks(
    'sqty-1',
    `${VALUE}.doseAndRate[0].rate`,
    page('dosage.html#Dosage'),
    'a rate of more than a quantity',
    parameter('valueDosage', { doseAndRate: [{ rateQuantity: { value: 5, comparator: '>' } }] }),
  ),
  breaks(
    'sqty-1',
    `${VALUE}.maxDosePerLifetime`,
    page('dosage.html#Dosage'),
    'a greatest dose of more than a quantity',
    parameter('valueDosage', { maxDosePerLifetime: { value: 5, comparator: '>=' } }),
  ),
  breaks(
    'choice-type',
    `${VALUE}.doseAndRate[0].rate`,
    page('dosage.html#Dosage'),
    'a rate by a ratio and a range',
    parameter('valueDosage', {
      doseAndRate: [
        {
          rateRatio: { numerator: { value: 1 }, denominator: { value: 2 } },
          rateRange: { low: { value: 1 } },
        },
      ],
    }),
  ),
];

const contactCases: readonly OtherCase[] = [
  keeps(
    'att-1',
    datatypes('Attachment'),
    'an attachment by URL only',
    parameter('valueAttachment', { url: 'http://hospital.example/a', size: 0, title: 'A' }),
  ),
  breaks(
    'att-1',
    VALUE,
    datatypes('Attachment'),
    'data of an unknown content type',
    parameter('valueAttachment', { data: 'AAAA' }),
  ),
  breaks(
    'primitive-type',
    `${VALUE}.data`,
    datatypes('base64Binary'),
    'data that is no base64',
    parameter('valueAttachment', { contentType: 'text/plain', data: 'AAA*' }),
  ),
  breaks(
    'primitive-type',
    `${VALUE}.size`,
    datatypes('unsignedInt'),
    'a size below nought',
    parameter('valueAttachment', { size: -1 }),
  ),
  keeps(
    'cpt-2',
    datatypes('ContactPoint'),
    'a contact of a system without a value',
    parameter('valueContactPoint', { system: 'fax' }),
  ),
  breaks(
    'cpt-2',
    VALUE,
    datatypes('ContactPoint'),
    'a number of an unknown system',
    parameter('valueContactPoint', { value: '555' }),
  ),
  breaks(
    'primitive-type',
    `${VALUE}.rank`,
    datatypes('positiveInt'),
    'a contact of the rank nought',
    parameter('valueContactPoint', { rank: 0 }),
  ),
  keeps(
    'json-padding',
    page('json.html#null'),
    'given names of which one has an extension only',
    parameter('valueHumanName', {
      given: ['Ana', null],
      _given: [
        null,
        {
          extension: [
            { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'masked' },
          ],
        },
      ],
    }),
  ),
  breaks(
    'json-type',
    `${VALUE}.given`,
    page('json.html#repeats'),
    'a given name that is no array',
    parameter('valueHumanName', { given: 'Ana' }),
  ),
  breaks(
    'json-type',
    `${VALUE}.family`,
    page('json.html#repeats'),
    'two family names',
    parameter('valueHumanName', { family: ['Kovač'] }),
  ),
  breaks(
    'json-type',
    `${VALUE}.line`,
    datatypes('Address'),
    'a line of an address that is no array',
    parameter('valueAddress', { line: 'Ulica 1' }),
  ),
  breaks(
    'unknown-element',
    `${VALUE}.zip`,
    datatypes('Address'),
    'an element that an address has not',
    parameter('valueAddress', { zip: '10000' }),
  ),
  breaks(
    'per-1',
    `${VALUE}.period`,
    datatypes('Period'),
    'an address that ends before it starts',
    parameter('valueAddress', { period: { start: '2026', end: '2025' } }),
  ),
  keeps(
    'cardinality',
    datatypes('Signature'),
    'a signature without its data',
    parameter('valueSignature', signature()),
  ),
  breaks(
    'cardinality',
    `${VALUE}.when`,
    datatypes('Signature'),
    'a signature without a time',
    parameter('valueSignature', { ...signature(), when: undefined }),
  ),
  breaks(
    'primitive-type',
    `${VALUE}.when`,
    datatypes('instant'),
    'a signature of a day',
    parameter('valueSignature', { ...signature(), when: '2026-03-02' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.text`,
    datatypes('Annotation'),
    'an annotation without words',
    parameter('valueAnnotation', { authorString: 'N.' }),
  ),
];

function signature(): object {
  return { type: [{ code: 'author' }], when: '2026-03-02T08:00:00Z', who: { display: 'N.' } };
}

const EXPRESSION = { language: 'text/cql', expression: 'true' };

const metadataCases: readonly OtherCase[] = [
  keeps(
    'exp-1',
    metadata('Expression'),
    'an expression by reference',
    parameter('valueExpression', { language: 'text/fhirpath', reference: 'http://hospital.example/e' }),
  ),
  breaks(
    'exp-1',
    VALUE,
    metadata('Expression'),
    'an expression of a name only',
    parameter('valueExpression', { language: 'text/cql', name: 'e' }),
  ),
  {
    ...keeps(
      'required-binding',
      metadata('Expression'),
      'an expression in a language of its own',
      parameter('valueExpression', { ...EXPRESSION, language: 'application/x-rules+xml' }),
    ),
    place: `${VALUE}.language`,
  },
  breaks(
    'required-binding',
    `${VALUE}.language`,
    metadata('Expression'),
    'an expression in a language that is no media type',
    parameter('valueExpression', { ...EXPRESSION, language: 'fhirpath' }),
  ),
  breaks(
    'primitive-type',
    `${VALUE}.name`,
    metadata('Expression'),
    'an expression of a name with a space',
    parameter('valueExpression', { ...EXPRESSION, name: 'a b' }),
  ),

  {
    ...keeps(
      'required-binding',
      metadata('Contributor'),
      'a reviewer',
      parameter('valueContributor', { type: 'reviewer', name: 'R.' }),
    ),
    place: `${VALUE}.type`,
  },
  breaks(
    'required-binding',
    `${VALUE}.type`,
    metadata('Contributor'),
    'a reader',
    parameter('valueContributor', { type: 'reader', name: 'R.' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.name`,
    metadata('Contributor'),
    'an author without a name',
    parameter('valueContributor', { type: 'author' }),
  ),

  {
    ...keeps(
      'required-binding',
      metadata('RelatedArtifact'),
      'an artifact that came before',
      parameter('valueRelatedArtifact', { type: 'predecessor' }),
    ),
    place: `${VALUE}.type`,
  },
  breaks(
    'required-binding',
    `${VALUE}.type`,
    metadata('RelatedArtifact'),
    'an artifact that is cited',
    parameter('valueRelatedArtifact', { type: 'cited' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.type`,
    metadata('RelatedArtifact'),
    'an artifact of an unknown kind',
    parameter('valueRelatedArtifact', { label: '1' }),
  ),

  {
    ...keeps(
      'reference-target',
      metadata('UsageContext'),
      'use at a place',
      parameter('valueUsageContext', {
        code: { code: 'venue' },
        valueReference: { reference: 'Location/l' },
      }),
    ),
    place: `${VALUE}.value`,
  },
  keeps(
    'reference-target',
    metadata('UsageContext'),
    'use at an age',
    parameter('valueUsageContext', {
      code: { code: 'age' },
      valueRange: { low: ucum(65, 'a') },
    }),
  ),
  breaks(
    'reference-target',
    `${VALUE}.value`,
    metadata('UsageContext'),
    'use for one patient',
    parameter('valueUsageContext', { code: { code: 'venue' }, valueReference: { reference: 'Patient/p' } }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.value`,
    metadata('UsageContext'),
    'use without what for',
    parameter('valueUsageContext', { code: { code: 'venue' } }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.code`,
    metadata('UsageContext'),
    'use without its kind',
    parameter('valueUsageContext', { valueCodeableConcept: { text: 'a' } }),
  ),

  {
    ...keeps(
      'required-binding',
      metadata('DataRequirement'),
      'data of any resource',
      parameter('valueDataRequirement', { type: 'Resource' }),
    ),
    place: `${VALUE}.type`,
  },
  breaks(
    'required-binding',
    `${VALUE}.type`,
    metadata('DataRequirement'),
    'data of no type',
    parameter('valueDataRequirement', { type: 'Obs' }),
  ),
  {
    ...keeps(
      'reference-target',
      metadata('DataRequirement'),
      'data of a group',
      parameter('valueDataRequirement', { type: 'Observation', subjectReference: { reference: 'Group/g' } }),
    ),
    place: `${VALUE}.subject`,
  },
  breaks(
    'cardinality',
    `${VALUE}.type`,
    metadata('DataRequirement'),
    'data without their type',
    parameter('valueDataRequirement', { limit: 1 }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.sort[0].path`,
    metadata('DataRequirement'),
    'an order by nothing',
    parameter('valueDataRequirement', { type: 'Observation', sort: [{ direction: 'ascending' }] }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.sort[0].direction`,
    metadata('DataRequirement'),
    'an order without its direction',
    parameter('valueDataRequirement', { type: 'Observation', sort: [{ path: 'effective' }] }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.type`,
    metadata('Contributor'),
    'a contributor without a part',
    parameter('valueContributor', { name: 'R.' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.language`,
    metadata('Expression'),
    'an expression without its language',
    parameter('valueExpression', { expression: 'true' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.use`,
    metadata('ParameterDefinition'),
    'a parameter without its way',
    parameter('valueParameterDefinition', { type: 'Quantity' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.type`,
    metadata('TriggerDefinition'),
    'a trigger without its kind',
    parameter('valueTriggerDefinition', { name: 'a' }),
  ),
  breaks(
    'reference-target',
    `${VALUE}.subject`,
    metadata('DataRequirement'),
    'data of a patient',
    parameter('valueDataRequirement', { type: 'Observation', subjectReference: { reference: 'Patient/p' } }),
  ),
  keeps(
    'drq-1',
    metadata('DataRequirement'),
    'a filter of codes by path',
    parameter('valueDataRequirement', {
      type: 'Observation',
      codeFilter: [{ path: 'code', code: [{ code: 'a' }] }, { searchParam: 'category' }],
    }),
  ),
  breaks(
    'drq-1',
    `${VALUE}.codeFilter[0]`,
    metadata('DataRequirement'),
    'a filter of codes by path and by parameter',
    parameter('valueDataRequirement', {
      type: 'Observation',
      codeFilter: [{ path: 'code', searchParam: 'code' }],
    }),
  ),
  breaks(
    'drq-1',
    `${VALUE}.codeFilter[0]`,
    metadata('DataRequirement'),
    'a filter of codes by neither path nor parameter',
    parameter('valueDataRequirement', { type: 'Observation', codeFilter: [{ code: [{ code: 'a' }] }] }),
  ),
  keeps(
    'drq-2',
    metadata('DataRequirement'),
    'a filter of dates by parameter',
    parameter('valueDataRequirement', {
      type: 'Observation',
      dateFilter: [{ searchParam: 'date', valueDuration: ucum(1, 'a') }],
    }),
  ),
  breaks(
    'drq-2',
    `${VALUE}.dateFilter[0]`,
    metadata('DataRequirement'),
    'a filter of dates by neither path nor parameter',
    parameter('valueDataRequirement', { type: 'Observation', dateFilter: [{ valueDateTime: '2026' }] }),
  ),
  {
    ...keeps(
      'required-binding',
      metadata('DataRequirement'),
      'the latest first',
      parameter('valueDataRequirement', {
        type: 'Observation',
        sort: [{ path: 'effective', direction: 'descending' }],
      }),
    ),
    place: `${VALUE}.sort[0].direction`,
  },
  breaks(
    'required-binding',
    `${VALUE}.sort[0].direction`,
    metadata('DataRequirement'),
    'down first',
    parameter('valueDataRequirement', {
      type: 'Observation',
      sort: [{ path: 'effective', direction: 'desc' }],
    }),
  ),

  {
    ...keeps(
      'required-binding',
      metadata('TriggerDefinition'),
      'a trigger by name',
      parameter('valueTriggerDefinition', { type: 'named-event', name: 'admission' }),
    ),
    place: `${VALUE}.type`,
  },
  breaks(
    'required-binding',
    `${VALUE}.type`,
    metadata('TriggerDefinition'),
    'a trigger by hand',
    parameter('valueTriggerDefinition', { type: 'manual' }),
  ),
  keeps(
    'trd-1',
    metadata('TriggerDefinition'),
    'a trigger by time',
    parameter('valueTriggerDefinition', { type: 'periodic', timingDate: '2026-03' }),
  ),
  {
    ...keeps(
      'reference-target',
      metadata('TriggerDefinition'),
      'a trigger by schedule',
      parameter('valueTriggerDefinition', { type: 'periodic', timingReference: { reference: 'Schedule/s' } }),
    ),
    place: `${VALUE}.timing`,
  },
  breaks(
    'reference-target',
    `${VALUE}.timing`,
    metadata('TriggerDefinition'),
    'a trigger by appointment',
    parameter('valueTriggerDefinition', {
      type: 'periodic',
      timingReference: { reference: 'Appointment/a' },
    }),
  ),
  breaks(
    'trd-1',
    VALUE,
    metadata('TriggerDefinition'),
    'a trigger by time and by data',
    parameter('valueTriggerDefinition', {
      type: 'data-added',
      timingDate: '2026',
      data: [{ type: 'Observation' }],
    }),
  ),
  keeps(
    'trd-2',
    metadata('TriggerDefinition'),
    'a trigger by data on a condition',
    parameter('valueTriggerDefinition', {
      type: 'data-modified',
      data: [{ type: 'Observation' }],
      condition: EXPRESSION,
    }),
  ),
  breaks(
    'trd-2',
    VALUE,
    metadata('TriggerDefinition'),
    'a condition without data',
    parameter('valueTriggerDefinition', { type: 'named-event', name: 'a', condition: EXPRESSION }),
  ),
  keeps(
    'trd-3',
    metadata('TriggerDefinition'),
    'a trigger by data',
    parameter('valueTriggerDefinition', { type: 'data-added', data: [{ type: 'Observation' }] }),
  ),
  breaks(
    'trd-3',
    VALUE,
    metadata('TriggerDefinition'),
    'a trigger by name without the name',
    parameter('valueTriggerDefinition', { type: 'named-event' }),
  ),
  breaks(
    'trd-3',
    VALUE,
    metadata('TriggerDefinition'),
    'a trigger by time without the time',
    parameter('valueTriggerDefinition', { type: 'periodic', name: 'a' }),
  ),
  breaks(
    'trd-3',
    VALUE,
    metadata('TriggerDefinition'),
    'a trigger by data without the data',
    parameter('valueTriggerDefinition', { type: 'data-removed' }),
  ),

  {
    ...keeps(
      'required-binding',
      metadata('ParameterDefinition'),
      'a parameter of a datatype',
      parameter('valueParameterDefinition', { use: 'in', type: 'Quantity', min: -1 }),
    ),
    place: `${VALUE}.type`,
  },
  {
    ...keeps(
      'required-binding',
      metadata('ParameterDefinition'),
      'a parameter that comes out',
      parameter('valueParameterDefinition', { use: 'out', type: 'Patient' }),
    ),
    place: `${VALUE}.use`,
  },
  breaks(
    'required-binding',
    `${VALUE}.use`,
    metadata('ParameterDefinition'),
    'a parameter both ways',
    parameter('valueParameterDefinition', { use: 'both', type: 'Quantity' }),
  ),
  breaks(
    'required-binding',
    `${VALUE}.type`,
    metadata('ParameterDefinition'),
    'a parameter of no type',
    parameter('valueParameterDefinition', { use: 'in', type: 'quantity' }),
  ),
  breaks(
    'cardinality',
    `${VALUE}.type`,
    metadata('ParameterDefinition'),
    'a parameter without its type',
    parameter('valueParameterDefinition', { use: 'in' }),
  ),
];

/** A value of each of the 50 types that a parameter may have (R4 datatypes, "Open Type Element"). */
const OPEN: Readonly<Record<string, unknown>> = {
  Base64Binary: 'AAAA AAAA',
  Boolean: false,
  Canonical: 'http://hospital.example/ValueSet/a|1#b',
  Code: 'a b',
  Date: '2024-02-29',
  DateTime: '2015-06-30T23:59:60Z',
  Decimal: -1e-3,
  Id: 'A-1.b',
  Instant: '2026-03-02T08:00:00.000000001+14:00',
  Integer: -2147483648,
  Markdown: '* a\n',
  Oid: 'urn:oid:1.2.840.10008',
  PositiveInt: 2147483647,
  String: '\u00a0a',
  Time: '23:59:59.5',
  UnsignedInt: 0,
  Uri: 'mailto:ward@hospital.example',
  Url: 'mllp://hospital.example:2575',
  Uuid: 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520',
  Address: { text: 'a' },
  Age: ucum(1, 'd'),
  Annotation: { text: 'a' },
  Attachment: { title: 'a' },
  CodeableConcept: { text: 'a' },
  Coding: { display: 'a' },
  ContactPoint: { system: 'url' },
  Count: ucum(0, '1'),
  Distance: ucum(0, 'm'),
  Duration: ucum(0, 's'),
  HumanName: { text: 'a' },
  Identifier: { value: 'a' },
  Money: { value: 0 },
  Period: { end: '2026' },
  Quantity: { unit: 'a' },
  Range: { high: { value: 0 } },
  Ratio: { numerator: { value: 1 }, denominator: { value: 128 } },
  Reference: { display: 'a' },
  SampledData: { origin: { value: 0 }, period: 10, dimensions: 1, data: 'E U L -0.5 2' },
  Signature: signature(),
  Timing: { event: ['2026'] },
  ContactDetail: { name: 'a' },
  Contributor: { type: 'author', name: 'a' },
  DataRequirement: { type: 'Patient' },
  Expression: EXPRESSION,
  ParameterDefinition: { use: 'in', type: 'string' },
  RelatedArtifact: { type: 'justification' },
  TriggerDefinition: { type: 'named-event', name: 'a' },
  UsageContext: { code: { code: 'a' }, valueQuantity: { value: 1 } },
  Dosage: { sequence: -1, text: 'a' },
  Meta: { tag: [{ code: 'a' }] },
};

const openCases = Object.entries(OPEN).flatMap(([type, value]): readonly OtherCase[] => [
  keeps(
    'choice-type',
    datatypes('open'),
    `a parameter of the type ${type}`,
    parameter(`value${type}`, value),
  ),
  keeps('choice-type', page('extensibility.html#Extension'), `an extension of the type ${type}`, {
    ...samples.Flag,
    extension: [{ url: 'http://hospital.example/any', [`value${type}`]: value }],
  }),
  breaks(
    'json-type',
    VALUE,
    page('json.html#primitive'),
    `a parameter of the type ${type} that is of another JSON type`,
    parameter(`value${type}`, typeof value === 'string' ? 1 : 'a'),
  ),
]);

/** Words that a primitive type does not have. */
const NOT: readonly (readonly [type: string, anchor: string, value: unknown])[] = [
  ['Base64Binary', 'base64Binary', 'A==='],
  ['Canonical', 'canonical', 'a b'],
  ['Code', 'code', ' a'],
  ['Date', 'date', '2023-02-29'],
  ['Date', 'date', '2026-13'],
  ['Date', 'date', '2026-03-02T00:00:00Z'],
  ['DateTime', 'dateTime', '2026-03-02T08:00'],
  ['DateTime', 'dateTime', '2026-03-02T08:00:00'],
  ['DateTime', 'dateTime', '2026-03-02T24:00:00Z'],
  ['Id', 'id', 'a_b'],
  ['Id', 'id', 'a'.repeat(65)],
  ['Instant', 'instant', '2026-03'],
  ['Instant', 'instant', '2026-03-02T08:00Z'],
  ['Integer', 'integer', 2147483648],
  ['Integer', 'integer', 1.5],
  ['Markdown', 'markdown', ' \n'],
  ['Oid', 'oid', '1.2.840'],
  ['Oid', 'oid', 'urn:oid:3.1'],
  ['PositiveInt', 'positiveInt', 0],
  ['String', 'string', '  '],
  ['String', 'string', ''],
  ['Time', 'time', '24:00:00'],
  ['Time', 'time', '08:00'],
  ['UnsignedInt', 'unsignedInt', -1],
  ['Uri', 'uri', 'a b'],
  ['Url', 'url', 'http://hospital.example/a b'],
  ['Uuid', 'uuid', 'c757873d-ec9a-4326-a141-556f43239520'],
  ['Uuid', 'uuid', 'urn:uuid:c757873d'],
];

const primitiveCases = NOT.map(([type, anchor, value]) =>
  breaks(
    'primitive-type',
    VALUE,
    datatypes(anchor),
    `${JSON.stringify(value).slice(0, 40)} is no ${anchor}`,
    parameter(`value${type}`, value),
  ),
);

export const datatypeCases: readonly OtherCase[] = [
  ...quantityCases,
  ...contactCases,
  ...metadataCases,
  ...openCases,
  ...primitiveCases,
];
