import { observation, observationText, page, type RuleCases } from './observation-case.js';

const JSON_PAGE = page('json.html');
const RESOURCES = page('json.html#resources');
/** Where R4 says no more than that the representation is JSON. */
const RFC_8259 = `${JSON_PAGE} (RFC 8259)`;

export const jsonCases: readonly RuleCases[] = [
  {
    rule: 'json-duplicate-key',
    section: `${JSON_PAGE} "property names SHALL be unique"`,
    keeps: {
      'one name in two objects': observationText('"category":[{"text":"a"},{"text":"a"}]'),
      'names that only differ in the underscore': observationText(
        '"issued":"2024-03-05T07:30:00Z","_issued":{"id":"i"}',
      ),
    },
    breaks: {
      'a status twice, with two values': ['Observation.status', observationText('"status":"amended"')],
      'a status twice, with one value': ['Observation.status', observationText('"status":"final"')],
      'a name twice, once with an escape': [
        'Observation.status',
        observationText('"st\\u0061tus":"amended"'),
      ],
      'a value twice in a quantity': [
        'Observation.valueQuantity.value',
        observationText('"valueQuantity":{"value":1,"value":2}'),
      ],
      'a code twice in a second component': [
        'Observation.component[1].code',
        observationText('"component":[{"code":{"text":"a"}},{"code":{"text":"a"},"code":{"text":"b"}}]'),
      ],
    },
  },
  {
    rule: 'json-syntax',
    section: RFC_8259,
    keeps: {
      'white space of each kind between all tokens':
        ' {\r\n\t"resourceType" : "Observation" , "status":"final","code":{ "text" :"Grip" } }\n ',
      'members in the reverse order':
        '{"code":{"text":"Grip"},"status":"final","resourceType":"Observation"}',
      'a letter beyond ASCII by its escape': observationText('"bodySite":{"text":"\\u5de6\\u624b"}'),
      'a character of two units by its escapes': observationText('"bodySite":{"text":"\\ud83e\\udd1a"}'),
    },
    breaks: {
      'a comma after the last member': [
        'Observation.issued',
        observationText('"issued":"2024-03-05T07:30:00Z",'),
      ],
      'a comment': ['Observation', '{/* by hand */"resourceType":"Observation"}'],
      'names without quotes': ['Observation', '{resourceType:"Observation"}'],
      'texts in single quotes': ['Observation.resourceType', '{"resourceType":\'Observation\'}'],
      'a number with a nought before it': ['Observation.valueInteger', observationText('"valueInteger":07')],
      'a number with a plus': ['Observation.valueInteger', observationText('"valueInteger":+7')],
      'a number without a digit before its point': [
        'Observation.valueQuantity.value',
        observationText('"valueQuantity":{"value":.5}'),
      ],
      'a number without a digit after its point': [
        'Observation.valueQuantity.value',
        observationText('"valueQuantity":{"value":5.}'),
      ],
      'what is no number': [
        'Observation.valueQuantity.value',
        observationText('"valueQuantity":{"value":NaN}'),
      ],
      'a number without an end': [
        'Observation.valueQuantity.value',
        observationText('"valueQuantity":{"value":-Infinity}'),
      ],
      'a number in hexadecimal': ['Observation.valueInteger', observationText('"valueInteger":0x1F')],
      'a line feed in a text': [
        'Observation.bodySite.text',
        observationText('"bodySite":{"text":"left\nhand"}'),
      ],
      'a bracket too few': [
        'Observation.code',
        '{"resourceType":"Observation","status":"final","code":{"text":"Grip"}',
      ],
      'two documents': ['Observation', `${observationText('"valueInteger":1')}{}`],
      'no text at all': ['Observation', ''],
      XML: ['Observation', '<Observation xmlns="http://hl7.org/fhir"><status value="final"/></Observation>'],
    },
  },
  {
    rule: 'json-forbidden-key',
    section: `${JSON_PAGE} (no element of R4 has these names)`,
    breaks: {
      'the name of what an object of a program inherits': [
        'Observation.__proto__',
        observationText('"__proto__":{"status":"final"}'),
      ],
    },
  },
  {
    rule: 'json-bad-character',
    section: RFC_8259,
    breaks: {
      'half of a character': ['Observation.bodySite.text', observationText('"bodySite":{"text":"\\ud83e"}')],
      'the character NUL': [
        'Observation.bodySite.text',
        observationText('"bodySite":{"text":"left\\u0000"}'),
      ],
    },
  },
  {
    rule: 'json-type',
    section: RESOURCES,
    on: 'Resource',
    keeps: { 'a resource that is one object': observationText('"valueBoolean":true') },
    breaks: {
      'an array in the place of the resource': ['', '[{"resourceType":"Observation"}]'],
      'a text in the place of the resource': ['', '"Observation"'],
      'a null in the place of the resource': ['', 'null'],
      'a number in the place of the resource': ['', '30.50'],
    },
  },
  {
    rule: 'resource-type',
    section: RESOURCES,
    on: 'Resource',
    keeps: {
      'a type that is the last member':
        '{"status":"final","code":{"text":"Grip"},"resourceType":"Observation"}',
    },
    breaks: {
      'a resource without its type': ['', { status: 'final', code: { text: 'Grip' } }],
      'a type in small letters alone': [
        '',
        { resourceType: 'observation', status: 'final', code: { text: 'Grip' } },
      ],
      'a type that is an abstract one': ['', { resourceType: 'DomainResource' }],
      'a type that is a datatype': ['', { resourceType: 'Quantity', value: 3 }],
      'a type that is null': ['', { resourceType: null, status: 'final' }],
      'a type that is an array': ['', { resourceType: ['Observation'], status: 'final' }],
      'a type of another version': ['', { resourceType: 'BodySite' }],
      'an object of nothing': ['', {}],
    },
  },
  {
    rule: 'json-empty',
    section: `${JSON_PAGE} "JSON objects and arrays are never empty"`,
    keeps: { 'a text of one space between words': observation({ bodySite: { text: 'left hand' } }) },
    breaks: {
      'an empty array of objects': ['Observation.category', observation({ category: [] })],
      'an empty array of values': [
        'Observation.effective.event',
        observation({ effectiveTiming: { event: [], code: { text: 'x' } } }),
      ],
      'an empty array of extensions': ['Observation.extension', observation({ extension: [] })],
      'an empty array of contained resources': ['Observation.contained', observation({ contained: [] })],
      'an empty object': ['Observation.subject', observation({ subject: {} })],
      'an empty object in the place of the code': [
        'Observation.code',
        { resourceType: 'Observation', status: 'final', code: {} },
      ],
      'an empty object in the place of a code of a component': [
        'Observation.component[0].code',
        observation({ component: [{ code: {}, valueInteger: 1 }] }),
      ],
      'an empty component beside one that is not': [
        'Observation.interpretation[1]',
        observation({ interpretation: [{ text: 'weak' }, {}] }),
      ],
      'an empty array of codings': [
        'Observation.code.coding',
        observation({ code: { text: 'Grip', coding: [] } }),
      ],
      'an empty value': ['Observation.value', observation({ valueCodeableConcept: {} })],
      'an empty period': ['Observation.effective', observation({ effectivePeriod: {} })],
      'an empty object in an array': [
        'Observation.note[1].author',
        observation({ note: [{ text: 'a' }, { text: 'b', authorReference: {} }] }),
      ],
      'an empty object for the extensions of a value': ['Observation.status', observation({ _status: {} })],
    },
  },
  {
    rule: 'json-too-deep',
    section: `${JSON_PAGE} (limit of this service; RFC 8259, section 9)`,
    keeps: { 'extensions twelve deep': nested(12) },
  },
];

/** An Observation with extensions within extensions. */
function nested(depth: number): object {
  let extension: object = { url: 'https://example.org/a', valueString: 'deep' };
  for (let level = 1; level < depth; level += 1)
    extension = { url: 'https://example.org/a', extension: [extension] };
  return observation({ extension: [extension] });
}
