import { HELD, holding, observation, observationText, page, type RuleCases } from './observation-case.js';

/** JSON texts of values of one primitive type, each with what is unusual or wrong about it. */
interface PrimitiveCases {
  readonly takes: Readonly<Record<string, string>>;
  readonly refuses: Readonly<Record<string, string>>;
}

const quoted = (text: string): string => JSON.stringify(text);

/** R4 datatypes, "Primitive Types"; tried as the value of an extension, which may be of any of them. */
const PRIMITIVES: Readonly<Record<string, PrimitiveCases>> = {
  boolean: { takes: { true: 'true', false: 'false' }, refuses: {} },
  integer: {
    takes: {
      '0': 'nought',
      '-7': 'below nought',
      '2147483647': 'the greatest of 32 bits',
      '-2147483648': 'the least of 32 bits',
    },
    refuses: {
      '2147483648': 'one more than 32 bits hold',
      '-2147483649': 'one less than 32 bits hold',
      '1.0': 'a decimal point',
      '1e3': 'an exponent',
      '0.5': 'a fraction',
    },
  },
  positiveInt: {
    takes: { '1': 'one', '2147483647': 'the greatest' },
    refuses: { '0': 'nought', '-1': 'below nought', '2147483648': 'too great', '2.0': 'a decimal point' },
  },
  unsignedInt: {
    takes: { '0': 'nought', '2147483647': 'the greatest' },
    refuses: { '-1': 'below nought', '2147483648': 'too great', '0.0': 'a decimal point' },
  },
  decimal: {
    takes: {
      '30.50': 'a nought that says how exact it is',
      '0.00': 'nought to two places',
      '-0.5': 'below nought',
      '-0': 'nought below nought',
      '1e2': 'an exponent',
      '6.02E+23': 'an exponent with its sign, in capitals',
      '1.5e-7': 'an exponent below nought',
      '123456789012345678': '18 digits before the point',
      '0.123456789012345678': '18 digits after the point',
      '42': 'no point at all',
    },
    refuses: {},
  },
  string: {
    takes: {
      [quoted('x')]: 'one letter',
      [quoted('  grip  ')]: 'spaces around it',
      [quoted('first line\r\nsecond\tline')]: 'lines and tabs',
      [quoted('30\u00a0kgf')]: 'a no-break space',
      [quoted('握力\u3000三十')]: 'an ideographic space',
      [quoted('5\u2009mm')]: 'a thin space',
      [quoted('💪🏽 strong')]: 'characters of two units',
      '"\\u00e9\\/\\\\\\""': 'escapes of JSON',
      [quoted('null')]: 'the word null',
    },
    refuses: {
      [quoted('')]: 'nothing in it',
      [quoted('   ')]: 'spaces alone',
      [quoted('\n\t')]: 'white space alone',
    },
  },
  markdown: {
    takes: {
      [quoted('# Grip\n\n- left **30 kgf**\n- right')]: 'a list',
      [quoted('| side | kgf |\n| --- | --- |\n| left | 30 |')]: 'a table',
      [quoted('    indented code')]: 'spaces that mean something at its start',
    },
    refuses: {
      [quoted('')]: 'nothing in it',
      [quoted(' \n ')]: 'white space alone',
      [quoted('grip\u0007')]: 'the character BEL',
    },
  },
  code: {
    takes: {
      [quoted('a')]: 'one letter',
      [quoted('two words')]: 'one space between words',
      [quoted('mm[Hg]')]: 'brackets',
      [quoted('λ')]: 'a letter beyond ASCII',
      [quoted('<=')]: 'signs alone',
    },
    refuses: {
      [quoted('')]: 'nothing in it',
      [quoted(' a')]: 'a space before it',
      [quoted('a ')]: 'a space after it',
      [quoted('two  words')]: 'two spaces together',
      [quoted('a\n')]: 'a line feed after it',
      [quoted(' ')]: 'a space alone',
    },
  },
  id: {
    takes: {
      [quoted('A')]: 'one capital',
      [quoted('a'.repeat(64))]: '64 letters',
      [quoted('1.2.840.10008')]: 'an OID without a prefix',
      [quoted('-.-')]: 'dots and hyphens alone',
      [quoted('5f0d9c0a-3c5e-4f0e-9d3a-0c1b2a3d4e5f')]: 'a UUID without a prefix',
    },
    refuses: {
      [quoted('a'.repeat(65))]: '65 letters',
      [quoted('left_knee')]: 'an underscore',
      [quoted('left knee')]: 'a space',
      [quoted('knie-ä')]: 'a letter beyond ASCII',
      [quoted('')]: 'nothing in it',
      [quoted('a/b')]: 'a slash',
    },
  },
  uri: {
    takes: {
      [quoted('http://example.org/a#b')]: 'a fragment',
      [quoted('urn:oid:1.2.3')]: 'an OID',
      [quoted('urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7')]: 'a UUID',
      [quoted('../up/one')]: 'one that is relative',
      [quoted('#here')]: 'a fragment alone',
      [quoted('http://example.org/knie-ä')]: 'a letter beyond ASCII',
      [quoted('tel:+1-555-0100')]: 'a telephone number',
    },
    refuses: {
      [quoted('')]: 'nothing in it',
      [quoted('http://example.org/left knee')]: 'a space',
      [quoted(' http://example.org')]: 'a space before it',
      [quoted('http://example.org\n')]: 'a line feed after it',
    },
  },
  url: {
    takes: {
      [quoted('mailto:ward4@example.org')]: 'an address of mail',
      [quoted('ftp://example.org/film.dcm')]: 'a file by FTP',
      [quoted('mllp://10.1.1.1:2575')]: 'a port of a message feed',
    },
    refuses: { [quoted('http://example.org/a b')]: 'a space', [quoted('')]: 'nothing in it' },
  },
  canonical: {
    takes: {
      [quoted('http://example.org/fhir/ValueSet/joints|1.0.0')]: 'a version',
      [quoted('http://example.org/fhir/Questionnaire/grip|2#left')]: 'a version and a fragment',
      [quoted('urn:oid:1.2.3|4')]: 'an OID with a version',
    },
    refuses: {
      [quoted('http://example.org/fhir/ValueSet/joints |1')]: 'a space',
      [quoted('')]: 'nothing in it',
    },
  },
  oid: {
    takes: {
      [quoted('urn:oid:2.16.840.1.113883.6.1')]: 'that of LOINC',
      [quoted('urn:oid:0.0')]: 'the shortest',
    },
    refuses: {
      [quoted('2.16.840.1.113883.6.1')]: 'no prefix',
      [quoted('urn:oid:3.1')]: 'a first arc beyond 2',
      [quoted('urn:oid:1.02')]: 'an arc that starts with nought',
      [quoted('urn:oid:1')]: 'one arc alone',
      [quoted('urn:oid:1.2.')]: 'a dot at its end',
      [quoted('URN:OID:1.2.3')]: 'a prefix in capitals',
    },
  },
  uuid: {
    takes: {
      [quoted('urn:uuid:c757873d-ec9a-4326-a141-556f43239520')]: 'one of version 4',
      [quoted('urn:uuid:00000000-0000-0000-0000-000000000000')]: 'all noughts',
    },
    refuses: {
      [quoted('c757873d-ec9a-4326-a141-556f43239520')]: 'no prefix',
      [quoted('urn:uuid:C757873D-EC9A-4326-A141-556F43239520')]: 'capitals',
      [quoted('urn:uuid:c757873dec9a4326a141556f43239520')]: 'no hyphens',
      [quoted('urn:uuid:c757873d-ec9a-4326-a141-556f4323952')]: 'a digit too few',
    },
  },
  base64Binary: {
    takes: {
      [quoted('TGVmdA==')]: 'two signs of padding',
      [quoted('TGVmdCA=')]: 'one sign of padding',
      [quoted('+/+/')]: 'plus and slash',
      [quoted('TGVm\r\ndA==')]: 'lines',
    },
    refuses: {
      [quoted('')]: 'nothing in it',
      [quoted('TGVmdA')]: 'no padding',
      [quoted('TGVmd')]: 'five characters',
      [quoted('TGV-dA_=')]: 'the characters of the alphabet for URLs',
      [quoted('L=ft')]: 'padding within',
      [quoted('data:text/plain;base64,TGVmdA==')]: 'the head of a data URL',
    },
  },
  instant: {
    takes: {
      [quoted('2015-02-07T13:28:17.239+02:00')]: 'thousandths',
      [quoted('2017-01-01T00:00:00Z')]: 'seconds alone',
      [quoted('2016-12-31T23:59:60Z')]: 'a leap second',
      [quoted('2024-02-29T12:00:00.123456789-13:59')]: 'nine decimals, and a zone far in the west',
      [quoted('0001-01-01T00:00:00+14:00')]: 'the first year, in the easternmost zone',
    },
    refuses: {
      [quoted('2017-01-01')]: 'no time',
      [quoted('2017-01-01T00:00:00')]: 'no zone',
      [quoted('2017-01-01T00:00Z')]: 'no seconds',
      [quoted('2017-01-01T24:00:00Z')]: 'the hour 24',
      [quoted('2023-02-29T00:00:00Z')]: 'a leap day in a common year',
      [quoted('2017-01-01 00:00:00Z')]: 'a space for the T',
      [quoted('2017-01-01T00:00:00z')]: 'a small z',
      [quoted('2017-01-01T00:00:00+14:30')]: 'a zone beyond the last',
      [quoted('2017-01-01T00:00:00+0200')]: 'a zone without its colon',
      [quoted('2017-01-01T00:00:61Z')]: 'a second 61',
      [quoted('2017-01-01T00:00:00.Z')]: 'a point without decimals',
    },
  },
  date: {
    takes: {
      [quoted('2018')]: 'a year alone',
      [quoted('1973-06')]: 'a month alone',
      [quoted('2000-02-29')]: 'the leap day of a century that has one',
      [quoted('9999-12-31')]: 'the last day',
    },
    refuses: {
      [quoted('1900-02-29')]: 'the leap day of a century that has none',
      [quoted('2024-02-30')]: 'a thirtieth of February',
      [quoted('2024-04-31')]: 'a thirty-first of April',
      [quoted('2024-13-01')]: 'a month 13',
      [quoted('2024-00')]: 'a month 0',
      [quoted('2024-1-5')]: 'digits left out',
      [quoted('24-01-05')]: 'a year of two digits',
      [quoted('0000')]: 'a year 0',
      [quoted('02024-01-01')]: 'a year of five digits',
      [quoted('2024-01-05Z')]: 'a zone',
      [quoted('2024-01-05T00:00:00Z')]: 'a time',
      [quoted('20240105')]: 'no hyphens',
      [quoted('05.01.2024')]: 'the order of another country',
    },
  },
  dateTime: {
    takes: {
      [quoted('2018')]: 'a year alone',
      [quoted('1973-06')]: 'a month alone',
      [quoted('1905-08-23')]: 'a day alone',
      [quoted('2015-02-07T13:28:17-05:00')]: 'a zone',
      [quoted('2017-01-01T00:00:00.000Z')]: 'thousandths',
      [quoted('2015-06-30T23:59:60Z')]: 'a leap second',
      [quoted('2024-01-01T10:00:00-00:00')]: 'a zone of minus nought',
    },
    refuses: {
      [quoted('2024-01-01T10:00:00')]: 'a time without a zone',
      [quoted('2024-01-01T10:00Z')]: 'a time without seconds',
      [quoted('2024-01-01T10Z')]: 'an hour alone',
      [quoted('2024-01-01T24:00:00Z')]: 'the hour 24',
      [quoted('2024-01-01T10:60:00Z')]: 'a minute 60',
      [quoted('2023-02-29T10:00:00Z')]: 'a leap day in a common year',
      [quoted('2024-06-31')]: 'a thirty-first of June',
      [quoted('2024-01T10:00:00Z')]: 'a time without a day',
      [quoted('2024-')]: 'a hyphen at its end',
      [quoted('2024-01-01T10:00:00+2:00')]: 'a zone of one digit',
      [quoted('2024-01-01T')]: 'a T without a time',
      [quoted('today')]: 'a word',
      [quoted('2024-W05-1')]: 'a day of the week',
      [quoted('')]: 'nothing in it',
    },
  },
  time: {
    takes: {
      [quoted('00:00:00')]: 'midnight',
      [quoted('23:59:60')]: 'a leap second',
      [quoted('12:30:15.250')]: 'thousandths',
    },
    refuses: {
      [quoted('24:00:00')]: 'the hour 24',
      [quoted('12:30')]: 'no seconds',
      [quoted('12:30:15Z')]: 'a zone',
      [quoted('12:30:15+01:00')]: 'an offset',
      [quoted('T12:30:15')]: 'a T before it',
      [quoted('7:30:15')]: 'an hour of one digit',
      [quoted('12:60:00')]: 'a minute 60',
      [quoted('12:30 PM')]: 'noon by its letters',
    },
  },
};

const nameOf = (type: string): string => `value${type.charAt(0).toUpperCase()}${type.slice(1)}`;
const texted = (type: string, value: string): string =>
  observationText(`"extension":[{"url":"https://example.org/bedside","${nameOf(type)}":${value}}]`);

const valueCases: readonly RuleCases[] = Object.entries(PRIMITIVES).map(([type, { takes, refuses }]) => ({
  rule: 'primitive-type',
  section: page(`datatypes.html#${type}`),
  on: type,
  keeps: Object.fromEntries(
    Object.entries(takes).map(([value, why]) => [`a ${type} with ${why}`, texted(type, value)]),
  ),
  breaks: Object.fromEntries(
    Object.entries(refuses).map(([value, why]) => [`a ${type} with ${why}`, [HELD, texted(type, value)]]),
  ),
}));

/** JSON texts of another JSON type than the primitive has. */
const WRONG_JSON: Readonly<Record<string, readonly string[]>> = {
  boolean: ['"true"', '1', '"false"'],
  integer: ['"7"', 'true'],
  positiveInt: ['"1"'],
  unsignedInt: ['"0"'],
  decimal: ['"30.50"', 'false'],
  string: ['7', 'true', '{"value":"x"}'],
  code: ['5'],
  uri: ['1'],
  date: ['2018', '20240105'],
  dateTime: ['2018', '1704067200000'],
  instant: ['1704067200'],
  time: ['1230'],
  base64Binary: ['0'],
};

const jsonTypeCases: readonly RuleCases[] = Object.entries(WRONG_JSON).map(([type, values]) => ({
  rule: 'json-type',
  section: page('json.html#primitive'),
  on: type,
  keeps: {
    [`a ${type} with its JSON type`]: texted(type, Object.keys(PRIMITIVES[type]?.takes ?? {})[0] ?? ''),
  },
  breaks: Object.fromEntries(
    values.map((value) => [`a ${type} written as ${value}`, [HELD, texted(type, value)]]),
  ),
}));

const MEGABYTE = 1024 * 1024;

export const primitiveCases: readonly RuleCases[] = [
  ...valueCases,
  ...jsonTypeCases,
  {
    rule: 'primitive-type',
    section: page('datatypes.html#string'),
    on: 'string',
    keeps: { 'a text of exactly one megabyte': holding({ valueString: 'x'.repeat(MEGABYTE) }) },
    breaks: {
      'a text of one character more than a megabyte': [
        HELD,
        holding({ valueString: 'x'.repeat(MEGABYTE + 1) }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: page('resource.html#id'),
    on: 'Resource.id',
    keeps: {
      'an id of 64 characters, capitals among them': observation({ id: `Ab-9.${'z'.repeat(59)}` }),
      'an id of one digit': observation({ id: '7' }),
    },
    breaks: {
      'an id of 65 characters': ['Observation.id', observation({ id: 'a'.repeat(65) })],
      'an id with an underscore': ['Observation.id', observation({ id: 'grip_left' })],
      'an id that is a UUID with its prefix': [
        'Observation.id',
        observation({ id: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7' }),
      ],
      'an empty id': ['Observation.id', observation({ id: '' })],
      'a contained resource with an underscore in its id': [
        'Observation.contained[0].id',
        observation({
          contained: [{ resourceType: 'Patient', id: 'p_1' }],
          subject: { reference: '#p_1' },
        }),
      ],
    },
  },
  {
    rule: 'primitive-type',
    section: page('element.html#id'),
    on: 'Element.id',
    keeps: {
      'an element whose id is longer than 64 characters, with signs that a resource could not have':
        observation({
          code: { id: `code_${'x'.repeat(100)}/left#1`, text: 'Grip strength' },
        }),
    },
    breaks: {
      'an element whose id holds a space': [
        'Observation.code.id',
        observation({ code: { id: 'grip left', text: 'Grip strength' } }),
      ],
      'a value whose id holds a space, beside the value': [
        'Observation.status.id',
        observation({ _status: { id: 'a b' } }),
      ],
    },
  },
];
