import fc from 'fast-check';
import { LosslessNumber } from 'lossless-json';
import { describe, expect, test } from 'vitest';
import { type JsonFault, parseJson, stringifyJson } from '../../src/fhir/index.js';

const faultsOf = (text: string, maxDepth?: number): readonly JsonFault[] => {
  const parsed = parseJson(text, maxDepth);
  return parsed.ok ? [] : parsed.faults;
};

const valueOf = (text: string): unknown => {
  const parsed = parseJson(text);
  if (!parsed.ok) throw new Error(parsed.faults[0]?.sentence);
  return parsed.value;
};

describe('numbers in JSON', () => {
  // R4 datatypes, decimal: "the precision of the decimal value has significance: 0.010 is regarded as different to 0.01".
  test.each([
    '30.50',
    '0.010',
    '5.00',
    '-0',
    '1e2',
    '1E+400',
    '12345678901234567890',
    '9007199254740993',
    '-0.0',
  ])('%s keeps its digits on the way in and out', (digits) => {
    expect(stringifyJson(valueOf(`{"value":${digits}}`))).toBe(`{"value":${digits}}`);
    expect(valueOf(digits)).toEqual(new LosslessNumber(digits));
  });

  test.each([0, 60, -5, Number.MAX_SAFE_INTEGER, Number.MIN_SAFE_INTEGER])(
    '%d is a plain number',
    (whole) => {
      expect(valueOf(String(whole))).toBe(whole);
    },
  );

  // RFC 8259, section 6: no leading zeros or plus, digits on both sides of the point.
  test.each(['01', '+1', '1.', '.5', '1e', '0x10', '-', '1.2.3', 'NaN', 'Infinity', '5mg', '1-2'])(
    '%s is refused as no JSON number',
    (digits) => {
      expect(faultsOf(`[${digits}]`)).toMatchObject([
        { code: 'json-syntax', pointer: '/0', line: 1, column: 2 },
      ]);
    },
  );
});

describe('a name that stands twice', () => {
  // R4 json: "Property names SHALL be unique".
  test.each(['{"a":1,"a":2}', '{"a":1,"a":1}', '{"a":1,"\\u0061":1}'])(
    '%s is refused at the second one',
    (text) => {
      expect(faultsOf(text)).toMatchObject([
        { code: 'json-duplicate-key', pointer: '/a', line: 1, column: 8 },
      ]);
    },
  );

  test('is told for every place at once, by pointer, line and column', () => {
    const faults = faultsOf('{"a":[{"b":1,\n"b":1}],\n "c/d~e":1, "c/d~e":2}');
    expect(faults.map(({ pointer, line, column }) => [pointer, line, column])).toEqual([
      ['/a/0/b', 2, 1],
      ['/c~1d~0e', 3, 13],
    ]);
  });

  test('in two objects is no fault', () => {
    expect(faultsOf('[{"a":1},{"a":1}]')).toEqual([]);
  });
});

describe('hostile texts', () => {
  test('ten thousand levels of nesting are refused at the limit', () => {
    for (const open of ['[', '{"a":']) {
      const [fault] = faultsOf(open.repeat(10_000));
      expect(fault).toMatchObject({ code: 'json-too-deep', column: 64 * open.length + 1 });
    }
  });

  test('as many levels as allowed are read, one more is not', () => {
    const nested = (levels: number): string => '['.repeat(levels) + ']'.repeat(levels);
    expect(faultsOf(nested(64))).toEqual([]);
    expect(faultsOf(nested(65))).toMatchObject([{ code: 'json-too-deep' }]);
    expect(faultsOf(nested(3), 2)).toMatchObject([{ code: 'json-too-deep', pointer: '/0/0' }]);
  });

  test.each(['__proto__', 'constructor', 'prototype'])('the name %s is refused and sets nothing', (name) => {
    expect(faultsOf(`{"a":{"${name}":{"isAdmin":true}}}`)).toMatchObject([
      { code: 'json-forbidden-key', pointer: `/a/${name}` },
    ]);
    expect(({} as Record<string, unknown>)['isAdmin']).toBeUndefined();
  });

  test('names of inherited members are names as any other', () => {
    expect(valueOf('{"toString":1,"hasOwnProperty":2}')).toEqual({ toString: 1, hasOwnProperty: 2 });
  });

  test.each([
    ['half a surrogate pair as an escape', '{"a":"\\ud83d"}'],
    ['half a surrogate pair as it is', '{"a":"\ud83d"}'],
    ['halves in the wrong order', '{"a":"\\ude00\\ud83d"}'],
    ['NUL as an escape', '{"a":"x\\u0000"}'],
  ])('%s is refused', (_what, text) => {
    expect(faultsOf(text)).toMatchObject([{ code: 'json-bad-character', pointer: '/a', column: 6 }]);
  });

  test('a whole surrogate pair is one character, escaped or not', () => {
    expect(valueOf('["\\ud83d\\ude00","😀"]')).toEqual(['😀', '😀']);
  });

  test('a byte order mark is passed over at the start only', () => {
    expect(valueOf('\ufeff{"a":1}')).toEqual({ a: 1 });
    expect(faultsOf('{"a":\ufeff1}')).toMatchObject([{ code: 'json-syntax', pointer: '/a' }]);
  });

  test('a thousand faults are told as the first hundred', () => {
    expect(faultsOf(`{${Array.from({ length: 1000 }, () => '"a":1').join(',')}}`)).toHaveLength(100);
  });
});

describe('a text that is no JSON', () => {
  test.each([
    ['', 1, 1, 'empty'],
    ['{"a":1,}', 1, 8, 'a quoted name is expected'],
    ['{"a" 1}', 1, 6, 'a colon is expected'],
    ['{"a":1 "b":2}', 1, 8, 'a comma or }'],
    ['[1 2]', 1, 4, 'a comma or ]'],
    ['[1,\n 2,\n x]', 3, 2, '"x" starts no JSON value'],
    ['{"a":tru}', 1, 6, 'starts no JSON value'],
    ['"abc', 1, 5, 'ends within a string'],
    ['["a\tb"]', 1, 4, 'must be escaped'],
    ['["\\x"]', 1, 3, 'no known escape'],
    ['["\\u12g4"]', 1, 3, 'no known escape'],
    ['{} {}', 1, 4, 'after the end'],
    ['{"a":[1', 1, 8, 'The end of the text'],
  ])('%j is told by line %d, column %d: %s', (text, line, column, sentence) => {
    const [fault] = faultsOf(text);
    expect(fault).toMatchObject({ code: 'json-syntax', line, column });
    expect(fault?.sentence).toContain(sentence);
  });
});

describe('laws of the reader', () => {
  // The engine's JSON.parse (ECMA-404) is the judge of what is JSON.
  const isJson = (text: string): boolean => {
    try {
      JSON.parse(text);
      return true;
    } catch {
      return false;
    }
  };
  const almostJson = fc
    .tuple(fc.json(), fc.nat(), fc.string({ maxLength: 3 }))
    .map(
      ([text, at, noise]) =>
        text.slice(0, at % (text.length + 1)) + noise + text.slice(at % (text.length + 1)),
    );
  const texts = fc.oneof(
    fc.string(),
    fc.json(),
    almostJson,
    fc.string({ unit: fc.constantFrom(...Array.from('{}[]",:01-.eE\\u \n')) }),
  );

  test('it never throws, and takes no text that is not JSON', () => {
    fc.assert(
      fc.property(texts, (text) => {
        const parsed = parseJson(text);
        if (parsed.ok) expect(isJson(text.replace(/^\ufeff/, ''))).toBe(true);
        else expect(parsed.faults.length).toBeGreaterThan(0);
      }),
      { numRuns: 3000 },
    );
  });

  test('what it refuses of JSON, it refuses for a reason other than syntax', () => {
    fc.assert(
      fc.property(texts.filter(isJson), (text) => {
        expect(faultsOf(text).filter(({ code }) => code === 'json-syntax')).toEqual([]);
      }),
      { numRuns: 2000 },
    );
  });

  test('a value written and read again is the same value', () => {
    const value = fc
      .jsonValue({ maxDepth: 5 })
      .filter((each) => !/"(?:__proto__|constructor|prototype)"/.test(JSON.stringify(each)));
    fc.assert(
      fc.property(value, (each) => {
        const text = JSON.stringify(each);
        expect(stringifyJson(valueOf(text))).toBe(text);
      }),
    );
  });
});
