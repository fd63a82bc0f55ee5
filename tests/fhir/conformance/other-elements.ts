import { breaks, keeps, type OtherCase, page, withAt, without } from './other-case.js';
import { samples } from './other-samples.js';

/** Elements, choices and the JSON form of the types, and their texts. */
const JSON_FORM = page('json.html');
const CHOICE = page('formats.html#choice');
const MODIFIER = page('extensibility.html#modifierExtension');
const XHTML = 'http://www.w3.org/1999/xhtml';
const narrative = (inside: string): object => ({
  ...samples.Flag,
  text: { status: 'additional', div: `<div xmlns="${XHTML}">${inside}</div>` },
});
const NARRATIVE = page('narrative.html#xhtml');
const ABSENT = 'http://hl7.org/fhir/StructureDefinition/data-absent-reason';

const choiceCases: readonly OtherCase[] = [
  keeps(
    'choice-type',
    CHOICE,
    'a death by its time',
    withAt({ resourceType: 'Patient' }, 'Patient.deceasedDateTime', '2026'),
  ),
  breaks(
    'choice-type',
    'Patient.deceased',
    CHOICE,
    'a death by a yes and by its time',
    withAt(samples.Patient, 'Patient.deceasedDateTime', '2026'),
  ),
  breaks('choice-type', 'Patient.deceased', CHOICE, 'a death by a text', {
    resourceType: 'Patient',
    deceasedString: 'yes',
  }),
  breaks('unknown-element', 'Patient.deceased', CHOICE, 'a choice without its type', {
    resourceType: 'Patient',
    deceased: true,
  }),
  breaks('choice-type', 'Patient.multipleBirth', CHOICE, 'a twin by a positive number', {
    resourceType: 'Patient',
    multipleBirthPositiveInt: 1,
  }),
  breaks(
    'choice-type',
    'Condition.onset',
    CHOICE,
    'an onset by an age and by a time',
    withAt(samples.Condition, 'Condition.onsetDateTime', '2025'),
  ),
  breaks('choice-type', 'Condition.onset', CHOICE, 'an onset by a quantity', {
    resourceType: 'Condition',
    subject: { display: 'a' },
    onsetQuantity: { value: 1 },
  }),
  breaks('choice-type', 'ServiceRequest.occurrence', CHOICE, 'an order for a plain day', {
    ...without(samples.ServiceRequest, 'ServiceRequest.occurrenceTiming'),
    occurrenceDate: '2026-03-02',
  }),
  breaks(
    'choice-type',
    'Group.characteristic[0].value',
    CHOICE,
    'a characteristic by a text',
    withAt(samples.Group, 'Group.characteristic[0]', {
      code: { text: 'a' },
      valueString: 'a',
      exclude: false,
      valueBoolean: true,
    }),
  ),
  keeps(
    'choice-type',
    page('device.html#resource'),
    'the quantities of a device, which are no choice',
    samples.Device,
  ),
  breaks(
    'json-type',
    'Device.property[0].valueQuantity',
    page('device.html#resource'),
    'a quantity of a device that is no array',
    withAt(samples.Device, 'Device.property[0].valueQuantity', { value: 1 }),
  ),
  breaks(
    'choice-type',
    'AuditEvent.entity[0].detail[0].value',
    page('auditevent.html#resource'),
    'a detail by a number',
    withAt(samples.AuditEvent, 'AuditEvent.entity[0].detail[0]', {
      type: 'a',
      valueInteger: 1,
      valueString: 'a',
    }),
  ),
  breaks(
    'choice-type',
    'CodeSystem.concept[0].property[0].value',
    page('codesystem.html#resource'),
    'a property by a code and a text',
    withAt(samples.CodeSystem, 'CodeSystem.concept[0].property[0].valueCode', 'a'),
  ),
  breaks(
    'choice-type',
    'ConceptMap.source',
    page('conceptmap.html#resource'),
    'a source by a uri and by a canonical URL',
    withAt(samples.ConceptMap, 'ConceptMap.sourceCanonical', 'http://hospital.example/vs'),
  ),
  breaks(
    'choice-type',
    'Measure.subject',
    page('measure.html#resource'),
    'a subject by a concept and by a reference',
    { ...samples.Measure, subjectCodeableConcept: { text: 'a' }, subjectReference: { reference: 'Group/g' } },
  ),
];

const formCases: readonly OtherCase[] = [
  keeps('ele-1', page('element.html#invs'), 'a patient of an id only', { resourceType: 'Patient', id: 'p' }),
  keeps('unknown-element', page('json.html#resources'), 'a resource whose type stands last', {
    id: 'p',
    active: true,
    resourceType: 'Patient',
  }),
  keeps('primitive-type', page('resource.html#id'), 'an id of 64 characters', {
    resourceType: 'Patient',
    id: `A-.${'9'.repeat(61)}`,
  }),
  breaks('primitive-type', 'Patient.id', page('resource.html#id'), 'an id of 65 characters', {
    resourceType: 'Patient',
    id: 'a'.repeat(65),
  }),
  breaks('primitive-type', 'Bundle.id', page('resource.html#id'), 'an id with an underscore', {
    ...samples.Bundle,
    id: 'a_1',
  }),
  breaks(
    'primitive-type',
    'Bundle.entry[0].resource.id',
    page('resource.html#id'),
    'an entry of an id with a slash',
    {
      resourceType: 'Bundle',
      type: 'collection',
      entry: [{ resource: { resourceType: 'Patient', id: 'a/1' } }],
    },
  ),
  breaks(
    'unknown-element',
    'Encounter.reason',
    page('encounter.html#resource'),
    'an element of another version of the standard',
    { ...samples.Encounter, reason: [{ text: 'a' }] },
  ),
  breaks(
    'unknown-element',
    'Patient.name[0].middle',
    page('datatypes.html#HumanName'),
    'an element that a name has not',
    withAt(samples.Patient, 'Patient.name[0].middle', ['M']),
  ),
  breaks(
    'unknown-element',
    'Location.position.accuracy',
    page('location.html#resource'),
    'an element that a position has not',
    withAt(samples.Location, 'Location.position.accuracy', 5),
  ),
  breaks(
    'unknown-element',
    'Patient._contact',
    page('json.html#primitive'),
    'an extension of an element that is no primitive',
    { ...samples.Patient, _contact: [{ id: 'a' }] },
  ),
  breaks('unknown-element', 'Patient.Gender', JSON_FORM, 'an element in another case', {
    resourceType: 'Patient',
    Gender: 'male',
  }),
  breaks('json-null', 'Patient.gender', page('json.html#null'), 'a gender of null', {
    resourceType: 'Patient',
    gender: null,
  }),
  breaks('json-null', 'Patient.name[0]', page('json.html#null'), 'a name of null', {
    resourceType: 'Patient',
    name: [null],
  }),
  breaks('json-empty', 'Patient.name', page('json.html#null'), 'no name in an array', {
    resourceType: 'Patient',
    name: [],
  }),
  breaks('json-empty', 'Organization.contact[0]', page('json.html#null'), 'an empty contact', {
    resourceType: 'Organization',
    name: 'a',
    contact: [{}],
  }),
  breaks('json-empty', 'Encounter.hospitalization', page('json.html#null'), 'an empty stay', {
    ...samples.Encounter,
    hospitalization: {},
  }),
  breaks('ele-1', 'Organization.contact[0]', page('element.html#invs'), 'a contact of an id only', {
    resourceType: 'Organization',
    name: 'a',
    contact: [{ id: 'c' }],
  }),
  breaks('json-type', 'Patient.active', page('json.html#primitive'), 'a yes in quotes', {
    resourceType: 'Patient',
    active: 'true',
  }),
  breaks(
    'json-type',
    'Location.position.latitude',
    page('json.html#primitive'),
    'a latitude in quotes',
    withAt(samples.Location, 'Location.position.latitude', '45.815'),
  ),
  breaks('json-type', 'Patient.birthDate', page('json.html#primitive'), 'a year of birth without quotes', {
    resourceType: 'Patient',
    birthDate: 1948,
  }),
  breaks(
    'json-type',
    'Group.quantity',
    page('json.html#primitive'),
    'a number in quotes',
    withAt(samples.Group, 'Group.quantity', '3'),
  ),
  breaks('json-type', 'Encounter.status', page('json.html#primitive'), 'a state that is an object', {
    ...samples.Encounter,
    status: { value: 'planned' },
  }),
  breaks('json-type', 'Encounter.class', page('encounter.html#resource'), 'a class that is an array', {
    ...samples.Encounter,
    class: [{ code: 'IMP' }],
  }),
  breaks(
    'json-type',
    'Encounter.participant',
    page('json.html#repeats'),
    'one participant that is no array',
    { ...samples.Encounter, participant: { individual: { display: 'a' } } },
  ),
  breaks(
    'primitive-type',
    'Location.hoursOfOperation[0].openingTime',
    page('datatypes.html#time'),
    'an hour of opening without seconds',
    withAt(samples.Location, 'Location.hoursOfOperation[0].openingTime', '07:00'),
  ),
  breaks(
    'primitive-type',
    'Patient.birthDate',
    page('datatypes.html#date'),
    'a birth on the thirtieth of February',
    { resourceType: 'Patient', birthDate: '1948-02-30' },
  ),
  breaks('primitive-type', 'Practitioner.birthDate', page('datatypes.html#date'), 'a birth at an hour', {
    resourceType: 'Practitioner',
    birthDate: '1980-01-01T00:00:00Z',
  }),
  breaks(
    'primitive-type',
    'Subscription.end',
    page('datatypes.html#instant'),
    'an end of a subscription on a day',
    { ...samples.Subscription, end: '2026-12-31' },
  ),
  breaks(
    'primitive-type',
    'Encounter.diagnosis[0].rank',
    page('datatypes.html#positiveInt'),
    'a rank of nought',
    withAt(samples.Encounter, 'Encounter.diagnosis[0].rank', 0),
  ),
  breaks(
    'primitive-type',
    'MeasureReport.group[0].population[0].count',
    page('datatypes.html#integer'),
    'half a patient counted',
    withAt(samples.MeasureReport, 'MeasureReport.group[0].population[0].count', 1.5),
  ),
  breaks(
    'primitive-type',
    'SearchParameter.code',
    page('datatypes.html#code'),
    'a code with two spaces together',
    { ...samples.SearchParameter, code: 'a  b' },
  ),
  breaks(
    'primitive-type',
    'StructureDefinition.mapping[0].identity',
    page('datatypes.html#id'),
    'an identity with a space',
    withAt(samples.StructureDefinition, 'StructureDefinition.mapping[0].identity', 'a b'),
  ),
  keeps('cardinality', page('json.html#primitive'), 'a required state that is only said to be unknown', {
    resourceType: 'Flag',
    _status: { extension: [{ url: ABSENT, valueCode: 'unknown' }] },
    code: { text: 'a' },
    subject: { display: 'a' },
  }),
  breaks(
    'json-padding',
    'CapabilityStatement.format',
    page('json.html#null'),
    'more extensions than formats',
    {
      ...samples.CapabilityStatement,
      _format: [null, null, { extension: [{ url: ABSENT, valueCode: 'unknown' }] }],
    },
  ),
  breaks(
    'ucum',
    'Device.property[0].valueQuantity[0].code',
    page('datatypes.html#Quantity'),
    'a range of a device in a unit that UCUM has not',
    withAt(samples.Device, 'Device.property[0].valueQuantity[0].code', 'kgs'),
  ),
  keeps(
    'ucum',
    page('datatypes.html#Quantity'),
    'a range of a device in kilograms of force',
    withAt(samples.Device, 'Device.property[0].valueQuantity[0].code', 'kgf'),
  ),
];

const extensionCases: readonly OtherCase[] = [
  keeps('ext-1', page('extensibility.html#Extension'), 'an extension of extensions', {
    ...samples.Flag,
    extension: [{ url: 'http://hospital.example/a', extension: [{ url: 'b', valueCode: 'c' }] }],
  }),
  breaks('ext-1', 'Flag.extension[0]', page('extensibility.html#Extension'), 'an extension of nothing', {
    ...samples.Flag,
    extension: [{ url: 'http://hospital.example/a' }],
  }),
  breaks(
    'ext-1',
    'Group.member[0].extension[0]',
    page('extensibility.html#Extension'),
    'an extension of a member with a value and extensions',
    withAt(samples.Group, 'Group.member[0].extension', [
      { url: 'http://hospital.example/a', valueInteger: 1, extension: [{ url: 'b', valueCode: 'c' }] },
    ]),
  ),
  breaks(
    'cardinality',
    'Bundle.entry[0].extension[0].url',
    page('extensibility.html#Extension'),
    'an extension of an entry without a URL',
    withAt(samples.Bundle, 'Bundle.entry[0].extension', [{ valueInteger: 1 }]),
  ),
  keeps(
    'modifier',
    MODIFIER,
    'a modifier of a member that nobody here knows, of which a warning tells',
    withAt(samples.Group, 'Group.member[0].modifierExtension', [
      { url: 'http://hospital.example/not', valueBoolean: true },
    ]),
  ),
  breaks(
    'unknown-element',
    'Patient.name[0].modifierExtension',
    MODIFIER,
    'a modifier of a name, which is no part of a resource',
    withAt(samples.Patient, 'Patient.name[0].modifierExtension', [
      { url: 'http://hospital.example/not', valueBoolean: true },
    ]),
  ),
];

const narrativeCases: readonly OtherCase[] = [
  keeps(
    'txt-1',
    NARRATIVE,
    'a table with a picture, a link and a style',
    narrative(
      '<table style="width:1px"><tr><td colspan="2"><img src="#a" alt="a"/><a href="#b">b</a></td></tr></table>',
    ),
  ),
  breaks(
    'txt-1',
    'Flag.text.div',
    NARRATIVE,
    'a script in the text of a flag',
    narrative('a<script>alert(1)</script>'),
  ),
  breaks(
    'txt-1',
    'Flag.text.div',
    NARRATIVE,
    'an event handler in the text of a flag',
    narrative('<p onclick="a()">a</p>'),
  ),
  keeps('txt-2', NARRATIVE, 'a text of a picture only', narrative('<img src="#a" alt="knee"/>')),
  breaks('txt-2', 'Flag.text.div', NARRATIVE, 'a text of white space', narrative(' \n ')),
  breaks('txt-1', 'Bundle.entry[0].resource.text.div', NARRATIVE, 'a form in the text of an entry', {
    resourceType: 'Bundle',
    type: 'collection',
    entry: [{ resource: narrative('<form>a</form>') }],
  }),
  breaks('required-binding', 'Flag.text.status', page('narrative.html#tx'), 'a text of an unknown state', {
    ...samples.Flag,
    text: { status: 'typed', div: `<div xmlns="${XHTML}">a</div>` },
  }),
  breaks('cardinality', 'Flag.text.div', page('narrative.html#Narrative'), 'a text without its words', {
    ...samples.Flag,
    text: { status: 'generated' },
  }),
];

const textCases: readonly OtherCase[] = [
  {
    name: 'numbers of many digits, kept',
    section: page('datatypes.html#decimal'),
    text: '{"resourceType":"Location","position":{"longitude":15.981900000000000001,"latitude":4.5815E1,"altitude":-0.50}}',
    valid: true,
  },
  {
    name: 'a patient in escapes',
    section: JSON_FORM,
    text: '{"resourceType":"\\u0050atient","name":[{"family":"Kova\\u010d"}]}',
    valid: true,
  },
  {
    name: 'one name twice with two values',
    section: JSON_FORM,
    text: '{"resourceType":"Patient","active":true,"active":false}',
    valid: false,
  },
  {
    name: 'one name twice with one value',
    section: JSON_FORM,
    text: '{"resourceType":"Patient","active":true,"active":true}',
    valid: false,
  },
  {
    name: 'a number with a leading nought',
    section: page('datatypes.html#integer'),
    text: '{"resourceType":"Group","type":"person","actual":true,"quantity":03}',
    valid: false,
  },
  {
    name: 'a number with a full stop that ends it',
    section: page('datatypes.html#decimal'),
    text: '{"resourceType":"Location","position":{"longitude":15.,"latitude":45}}',
    valid: false,
  },
  {
    name: 'a whole number with a full stop',
    section: page('datatypes.html#integer'),
    text: '{"resourceType":"Group","type":"person","actual":true,"quantity":3.0}',
    valid: false,
    rule: 'primitive-type',
    place: 'Group.quantity',
  },
  {
    name: 'a whole number with an exponent',
    section: page('datatypes.html#integer'),
    text: '{"resourceType":"Group","type":"person","actual":true,"quantity":3e0}',
    valid: false,
    rule: 'primitive-type',
    place: 'Group.quantity',
  },
  { name: 'a comment', section: JSON_FORM, text: '{"resourceType":"Patient" /* a */}', valid: false },
  {
    name: 'an array of resources',
    section: page('json.html#resources'),
    text: '[{"resourceType":"Patient"}]',
    valid: false,
    rule: 'json-type',
    place: '',
  },
  {
    name: 'an object of no type',
    section: page('json.html#resources'),
    text: '{"id":"p"}',
    valid: false,
    rule: 'resource-type',
    place: '',
  },
  {
    name: 'a type that the standard has not',
    section: page('resourcelist.html'),
    text: '{"resourceType":"patient"}',
    valid: false,
    rule: 'resource-type',
    place: '',
  },
  {
    name: 'an abstract type',
    section: page('domainresource.html'),
    text: '{"resourceType":"DomainResource"}',
    valid: false,
    rule: 'resource-type',
    place: '',
  },
];

export const elementCases: readonly OtherCase[] = [
  ...choiceCases,
  ...formCases,
  ...extensionCases,
  ...narrativeCases,
  ...textCases,
];
