import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { PAGE_SIZE, parseSearch } from '../../src/fhir/parse-search.js';
import type { ParsedSearch, SearchContext } from '../../src/fhir/parse-search.js';
import { RESOURCE_TYPES } from '../../src/fhir/resource-types.js';
import type { ResourceType } from '../../src/fhir/resource-types.js';

const context: SearchContext = {
  siteZone: 'UTC',
  baseUrl: 'https://records.example/fhir',
  now: Date.parse('2026-03-15T00:00:00Z'),
  expandValueSet: (url) =>
    url === 'https://x.example/ValueSet/sides' ? [{ system: 'urn:s', code: 'left' }] : undefined,
  strict: false,
};

const read = (
  query: string,
  type: ResourceType = 'Observation',
  strict = false,
): ReturnType<typeof parseSearch> => parseSearch(type, new URLSearchParams(query), { ...context, strict });

function accepted(query: string, type: ResourceType = 'Observation'): ParsedSearch {
  const parsed = read(query, type);
  if (!parsed.ok) throw new Error(`refused: ${JSON.stringify(parsed.issues)}`);
  return parsed.search;
}

const clauses = (query: string, type?: ResourceType): unknown => accepted(query, type).query.clauses;

const refusals = (query: string, strict = false): object[] => {
  const parsed = read(query, 'Observation', strict);
  return parsed.ok ? [] : parsed.issues.map(({ code, expression }) => ({ code, expression }));
};

describe('a search', () => {
  test('joins repeated parameters by AND and the values of one by OR (R4 search)', () => {
    expect(clauses('status=final,amended&status=final')).toEqual([
      { kind: 'token', parameter: 'status', values: [{ code: 'final' }, { code: 'amended' }] },
      { kind: 'token', parameter: 'status', values: [{ code: 'final' }] },
    ]);
  });

  test('reads the four forms of a token', () => {
    expect(clauses('code=a,urn:s|a,|a,urn:s|')).toEqual([
      {
        kind: 'token',
        parameter: 'code',
        values: [
          { code: 'a' },
          { system: 'urn:s', code: 'a' },
          { system: null, code: 'a' },
          { system: 'urn:s' },
        ],
      },
    ]);
    expect(clauses('code:not=a')).toEqual([
      { kind: 'token', parameter: 'code', not: true, values: [{ code: 'a' }] },
    ]);
  });

  test('takes escaped separators as characters (R4 search, escaping)', () => {
    expect(clauses(String.raw`code=a\,b\|c,d\\e,f\$g`)).toEqual([
      {
        kind: 'token',
        parameter: 'code',
        values: [{ code: 'a,b|c' }, { code: String.raw`d\e` }, { code: 'f$g' }],
      },
    ]);
  });

  test('takes a patient by id, by type and id, and by the absolute URL on this base alike', () => {
    const same = [{ kind: 'reference', parameter: 'patient', values: [{ type: 'Patient', id: '7' }] }];
    expect(clauses('patient=7')).toEqual(same);
    expect(clauses('patient=Patient/7')).toEqual(same);
    expect(clauses('patient=https://records.example/fhir/Patient/7')).toEqual(same);
    expect(clauses('patient=https://else.example/fhir/Patient/7')).toEqual([
      { kind: 'reference', parameter: 'patient', values: [{ url: 'https://else.example/fhir/Patient/7' }] },
    ]);
  });

  test('leaves the type of a bare id open where there are several, unless a modifier names it', () => {
    expect(clauses('subject=7')).toEqual([
      { kind: 'reference', parameter: 'subject', values: [{ id: '7' }] },
    ]);
    expect(clauses('subject:Patient=7')).toEqual([
      { kind: 'reference', parameter: 'subject', values: [{ type: 'Patient', id: '7' }] },
    ]);
    expect(refusals('subject:Patient=Group/7')).toEqual([
      { code: 'value', expression: 'http.subject:Patient' },
    ]);
    expect(refusals('subject:Encounter=7')).toEqual([
      { code: 'not-supported', expression: 'http.subject:Encounter' },
    ]);
  });

  test('reads a date with its prefix as the range its precision fixes', () => {
    const day = { low: Date.parse('2026-03-05T00:00:00Z'), high: Date.parse('2026-03-06T00:00:00Z') };
    expect(clauses('date=2026-03-05&date=lt2026-03-05')).toEqual([
      { kind: 'date', parameter: 'date', values: [{ prefix: 'eq', ...day }] },
      { kind: 'date', parameter: 'date', values: [{ prefix: 'lt', ...day }] },
    ]);
    const minute = { low: Date.parse('2026-03-05T13:10:00Z'), high: Date.parse('2026-03-05T13:11:00Z') };
    expect(clauses('date=ge2026-03-05T08:10-05:00')).toEqual([
      { kind: 'date', parameter: 'date', values: [{ prefix: 'ge', ...minute }] },
    ]);
  });

  test('takes a plus sign of a zone that was not percent-encoded', () => {
    expect(clauses('date=ge2026-03-05T08:10:00+01:00')).toEqual(
      clauses('date=ge2026-03-05T08:10:00%2B01:00'),
    );
    expect(accepted('date=ge2026-03-05T08:10+01:00,eq2026').used).toEqual([
      ['date', 'ge2026-03-05T08:10+01:00,eq2026'],
    ]);
  });

  test('widens an approximate date by a tenth of its gap to now', () => {
    const tenDaysAgo = Date.parse('2026-03-05T00:00:00Z');
    const gap = context.now - Date.parse('2026-03-06T00:00:00Z');
    expect(clauses('date=ap2026-03-05')).toEqual([
      {
        kind: 'date',
        parameter: 'date',
        values: [{ prefix: 'ap', low: tenDaysAgo - gap / 10, high: tenDaysAgo + 86_400_000 + gap / 10 }],
      },
    ]);
  });

  test('reads strings as beginnings, unless :exact or :contains is said', () => {
    const how = (query: string): unknown => clauses(query, 'Patient');
    expect(how('family=zz')).toEqual([
      { kind: 'string', parameter: 'family', how: 'starts', values: ['zz'] },
    ]);
    expect(how('family:exact=zz')).toMatchObject([{ how: 'exact' }]);
    expect(how('family:contains=zz')).toMatchObject([{ how: 'contains' }]);
  });

  test('reads :missing on every kind but on what is never missing', () => {
    expect(clauses('encounter:missing=true&date:missing=false')).toEqual([
      { kind: 'missing', parameter: 'encounter', missing: true },
      { kind: 'missing', parameter: 'date', missing: false },
    ]);
    expect(refusals('date:missing=maybe')).toEqual([{ code: 'value', expression: 'http.date:missing' }]);
    expect(refusals('_id:missing=true')).toEqual([{ code: 'not-supported', expression: 'http._id:missing' }]);
  });

  test('reads ids, sorting, count and the place in the pages', () => {
    const { query, used } = accepted('_id=a,b&_sort=-date,_id&_count=7&-after=xyz');
    expect(query).toEqual({
      type: 'Observation',
      clauses: [{ kind: 'id', parameter: '_id', ids: ['a', 'b'] }],
      sort: [
        { parameter: 'date', descending: true },
        { parameter: '_id', descending: false },
      ],
      count: 7,
      after: 'xyz',
    });
    expect(used).toEqual([
      ['_id', 'a,b'],
      ['_sort', '-date,_id'],
      ['_count', '7'],
      ['-after', 'xyz'],
    ]);
  });

  test('passes over parameters without a value', () => {
    expect(accepted('code=&status=,&_sort=').query.clauses).toEqual([]);
  });

  test('counts alone for _count=0 and _summary=count (R4 search: they are equal)', () => {
    expect(accepted('_count=0').countOnly).toBe(true);
    expect(accepted('_summary=count').countOnly).toBe(true);
    expect(accepted('_count=5').countOnly).toBe(false);
  });

  test('holds a page to its greatest size and says so in what was used', () => {
    const { query, used } = accepted('_count=100000');
    expect(query.count).toBe(PAGE_SIZE.maximum);
    expect(used).toEqual([['_count', String(PAGE_SIZE.maximum)]]);
  });

  test('leaves out what is not known with a warning, and refuses it when strict (R4 search, handling)', () => {
    const { used, warnings } = accepted('colour=red&status=final');
    expect(used).toEqual([['status', 'final']]);
    expect(warnings).toMatchObject([
      { severity: 'warning', code: 'not-supported', expression: 'http.colour' },
    ]);
    expect(refusals('colour=red&status=final', true)).toEqual([
      { code: 'not-supported', expression: 'http.colour' },
    ]);
  });

  test.each([
    ['date:exact=2026', 'not-supported', 'http.date:exact'],
    ['status:text=final', 'not-supported', 'http.status:text'],
    ['code:below=a', 'not-supported', 'http.code:below'],
    ['code:not:missing=a', 'not-supported', 'http.code:not:missing'],
    ['code-value-quantity:missing=true', 'not-supported', 'http.code-value-quantity:missing'],
    ['code:in=https://x.example/ValueSet/none', 'value', 'http.code:in'],
    ['subject.birthdate=1956', 'not-supported', 'http.subject.birthdate'],
    ['subject:Encounter.date=1956', 'not-supported', 'http.subject:Encounter.date'],
    ['subject:Patient.colour=red', 'not-supported', 'http.subject:Patient.colour'],
    ['code.text=1956', 'not-supported', 'http.code.text'],
    ['patient.birthdate=soon', 'value', 'http.patient.birthdate'],
    ['part-of.status=final', 'not-supported', 'http.part-of.status'],
    [
      'has-member.has-member.has-member.has-member.status=final',
      'too-costly',
      'http.has-member.has-member.has-member.has-member.status',
    ],
    ['_has:Observation:patient:code=a', 'not-supported', 'http._has:Observation:patient:code'],
    ['_has:Observation:has-member=a', 'invalid', 'http._has:Observation:has-member'],
    ['_has:Medication:subject:code=a', 'not-supported', 'http._has:Medication:subject:code'],
    ['_has:Observation:has-member:colour=a', 'not-supported', 'http._has:Observation:has-member:colour'],
    ['value-quantity=heavy', 'value', 'http.value-quantity'],
    ['value-quantity=5|urn:s', 'value', 'http.value-quantity'],
    ['value-quantity=5|urn:s|', 'value', 'http.value-quantity'],
    ['value-quantity=5|a|b|c', 'value', 'http.value-quantity'],
    ['code-value-quantity=grip', 'value', 'http.code-value-quantity'],
    ['code-value-quantity=grip$heavy', 'value', 'http.code-value-quantity'],
    ['combo-code-value-quantity=a$1$2', 'value', 'http.combo-code-value-quantity'],
    ['_include=Observation:code', 'not-supported', 'http._include'],
    ['_elements=id,colour', 'value', 'http._elements'],
    ['_contained=both', 'not-supported', 'http._contained'],
    ['_count:exact=1', 'not-supported', 'http._count:exact'],
    ['_text=knee', 'not-supported', 'http._text'],
    ['_filter=code eq a', 'not-supported', 'http._filter'],
    ['_summary=text&_include=Observation:subject', 'not-supported', 'http._summary'],
    ['date=2026-02-30', 'value', 'http.date'],
    ['date=xx2026', 'value', 'http.date'],
    ['date=2026-03-05T08', 'value', 'http.date'],
    ['code=a|b|c', 'value', 'http.code'],
    ['code=|', 'value', 'http.code'],
    ['patient=Patient/a/b', 'value', 'http.patient'],
    ['_count=-1', 'value', 'http._count'],
    ['_count=ten', 'value', 'http._count'],
    ['_count=1&_count=2', 'invalid', 'http._count'],
    ['_sort=code', 'not-supported', 'http._sort'],
    ['_total=some', 'value', 'http._total'],
    ['_summary=all', 'value', 'http._summary'],
    ['code=%00', 'invalid', 'http.code'],
    [`code=${'a,'.repeat(300)}`, 'too-costly', 'http.code'],
    [`code=${'a'.repeat(1025)}`, 'too-costly', 'http.code'],
    ['status=final&'.repeat(65), 'too-costly', 'http'],
  ])('refuses %s with its place', (query, code, expression) => {
    expect(refusals(query)).toEqual([{ code, expression }]);
  });

  test('joins the two places of a combo parameter: either, and for :not neither', () => {
    const values = [{ code: 'a' }];
    expect(clauses('combo-code=a')).toEqual([
      {
        kind: 'any',
        of: [
          [{ kind: 'token', parameter: 'code', values }],
          [{ kind: 'token', parameter: 'component-code', values }],
        ],
      },
    ]);
    expect(clauses('combo-code:not=a')).toEqual([
      {
        kind: 'none',
        of: [
          { kind: 'token', parameter: 'code', values },
          { kind: 'token', parameter: 'component-code', values },
        ],
      },
    ]);
    const missing = (parameter: string, is: boolean): object => ({ kind: 'missing', parameter, missing: is });
    expect(clauses('combo-code:missing=true')).toEqual([
      { kind: 'any', of: [[missing('code', true), missing('component-code', true)]] },
    ]);
    expect(clauses('combo-code:missing=false')).toEqual([
      { kind: 'any', of: [[missing('code', false)], [missing('component-code', false)]] },
    ]);
  });

  test('reads words beside codes, value sets and business identifiers (R4 search, modifiers)', () => {
    expect(clauses('code:text=left kn')).toEqual([{ kind: 'text', parameter: 'code', values: ['left kn'] }]);
    const left = [{ system: 'urn:s', code: 'left' }];
    expect(clauses('-laterality:in=https://x.example/ValueSet/sides')).toEqual([
      { kind: 'token', parameter: '-laterality', values: left },
    ]);
    expect(clauses('-laterality:not-in=https://x.example/ValueSet/sides')).toEqual([
      { kind: 'token', parameter: '-laterality', not: true, values: left },
    ]);
    expect(clauses('subject:identifier=urn:mrn|7')).toEqual([
      { kind: 'token', parameter: 'subject:identifier', values: [{ system: 'urn:mrn', code: '7' }] },
    ]);
    expect(clauses('_id:not=a')).toEqual([
      { kind: 'none', of: [{ kind: 'id', parameter: '_id', ids: ['a'] }] },
    ]);
  });

  test('reads the forms of a quantity (R4 search, quantity)', () => {
    const match = { prefix: 'eq', value: 5.4, low: 5.35, high: 5.45 };
    expect(clauses('value-quantity=5.4,5.4|http://unitsofmeasure.org|mg,5.4||mg,le5.4||')).toEqual([
      {
        kind: 'quantity',
        parameter: 'value-quantity',
        values: [
          match,
          { ...match, system: 'http://unitsofmeasure.org', code: 'mg' },
          { ...match, unit: 'mg' },
          { ...match, prefix: 'le' },
        ],
      },
    ]);
  });

  test('reads addresses: the very same, below and above (R4 search, uri)', () => {
    expect(clauses('_profile=http://x.example/a&_source:below=http://x.example')).toEqual([
      { kind: 'uri', parameter: '_profile', how: 'exact', values: ['http://x.example/a'] },
      { kind: 'uri', parameter: '_source', how: 'below', values: ['http://x.example'] },
    ]);
  });

  test('reads composites: both values of the same element (R4 search, composite)', () => {
    const code = [{ system: 'urn:s', code: 'a' }];
    const quantity = [{ prefix: 'gt', value: 5, low: 4.5, high: 5.5 }];
    const concept = [{ code: 'b' }];
    const component = {
      kind: 'quantity',
      parameter: 'component-value-quantity',
      codes: code,
      values: quantity,
    };
    const both = [
      { kind: 'token', parameter: 'code', values: code },
      { kind: 'quantity', parameter: 'value-quantity', values: quantity },
    ];
    expect(clauses('code-value-quantity=urn:s|a$gt5')).toEqual([{ kind: 'any', of: [both] }]);
    expect(clauses('component-code-value-quantity=urn:s|a$gt5')).toEqual([
      { kind: 'any', of: [[component]] },
    ]);
    expect(clauses('combo-code-value-quantity=urn:s|a$gt5')).toEqual([
      { kind: 'any', of: [both, [component]] },
    ]);
    expect(clauses('component-code-value-concept=urn:s|a$b')).toEqual([
      {
        kind: 'any',
        of: [
          [
            {
              kind: 'pair',
              parameter: 'component-code-value-concept',
              values: [{ first: code[0], second: concept[0] }],
            },
          ],
        ],
      },
    ]);
    expect(clauses('-code-body-site-laterality=urn:s|a$b$b')).toEqual([
      {
        kind: 'any',
        of: [
          [
            { kind: 'token', parameter: 'code', values: code },
            { kind: 'token', parameter: '-body-site', values: concept },
            { kind: 'token', parameter: '-laterality', values: concept },
          ],
        ],
      },
    ]);
    expect(clauses('code-value-date=a$2026-03-05T08:10+01:00')).toEqual(
      clauses('code-value-date=a$2026-03-05T08:10%2B01:00'),
    );
  });

  test('follows references, and by what refers to it (R4 search, chained parameters, reverse chaining)', () => {
    const named = { kind: 'string', parameter: 'family', how: 'exact', values: ['zz'] };
    expect(clauses('subject:Patient.family:exact=zz')).toEqual([
      { kind: 'chain', parameter: 'subject', target: 'Patient', clause: named },
    ]);
    expect(clauses('patient.family:exact=zz')).toEqual([
      { kind: 'chain', parameter: 'patient', target: 'Patient', clause: named },
    ]);
    const coded = { kind: 'token', parameter: 'code', values: [{ code: 'a' }] };
    expect(clauses('_has:Observation:patient:code=a', 'Patient')).toEqual([
      { kind: 'has', type: 'Observation', parameter: 'patient', clause: coded },
    ]);
    expect(clauses('encounter.patient._has:Condition:subject:code=a')).toEqual([
      {
        ...{ kind: 'chain', parameter: 'encounter', target: 'Encounter' },
        clause: {
          ...{ kind: 'chain', parameter: 'patient', target: 'Patient' },
          clause: { kind: 'has', type: 'Condition', parameter: 'subject', clause: coded },
        },
      },
    ]);
  });

  test('names the types that an ambiguous reference leads to', () => {
    const parsed = read('performer.name=zz');
    expect(parsed.ok ? [] : parsed.issues).toMatchObject([
      { diagnostics: expect.stringContaining('performer:Patient.name') as unknown },
    ]);
    expect(parsed.ok ? [] : parsed.issues[0]?.allowed).toEqual([
      'Patient',
      'Practitioner',
      'PractitionerRole',
      'Organization',
    ]);
  });

  test('names the modifiers that a parameter takes', () => {
    const parsed = read('date:text=zz');
    expect(parsed.ok ? [] : parsed.issues[0]?.allowed).toEqual([':missing']);
  });

  test('compares how names sound, word by word', () => {
    const sound = (text: string): object => ({
      kind: 'string',
      parameter: 'phonetic',
      how: 'exact',
      values: [text],
    });
    expect(clauses('phonetic=Robert Lee,-', 'Patient')).toEqual([
      { kind: 'any', of: [[sound('R163'), sound('L000')]] },
    ]);
    expect(read('phonetic:exact=Lee', 'Patient').ok).toBe(false);
  });

  test('says what shall come with the matches and which part of them', () => {
    const { includes, summary, elements } = accepted(
      '_include=Observation:subject&_revinclude=Provenance:target&_summary=data&_elements=status,value',
    );
    expect(includes).toHaveLength(2);
    expect(summary).toBe('data');
    expect(elements).toEqual(['status', 'value']);
  });

  test('refuses a clause that is not answered, and leaves the rest that is not out', () => {
    const notAnswered = new Set(['chain', 'quantity', 'include'] as const);
    const ask = (query: string): ReturnType<typeof read> =>
      parseSearch('Observation', new URLSearchParams(query), { ...context, notAnswered });
    for (const query of ['patient.family=zz', 'combo-value-quantity=5', 'code-value-quantity=a$5'])
      expect(ask(query), query).toMatchObject({ ok: false, issues: [{ code: 'not-supported' }] });
    expect(ask('code=a&_include=*')).toMatchObject({
      ok: true,
      search: { used: [['code', 'a']], includes: [], warnings: [{ expression: 'http._include' }] },
    });
  });

  test('lists every fault at once', () => {
    expect(refusals('date=yesterday&code=a|b|c&_count=x')).toHaveLength(3);
  });

  test('never throws, whatever is asked', () => {
    const names = fc.oneof(
      fc.constantFrom(
        ...[
          'code',
          'date',
          'subject',
          'patient',
          '_sort',
          '_count',
          '_id',
          'code:not',
          '-after',
          '__proto__',
        ],
        ...[
          'subject:Patient.name',
          'patient.birthdate',
          '_has:Observation:patient:date',
          '_include',
          '_elements',
        ],
        ...[
          'value-quantity',
          'combo-code-value-quantity',
          'phonetic',
          'code:in',
          '_profile:below',
          'subject.',
        ],
        ...['constructor', '_has:', 'code-value-date', 'subject:identifier', '_has:__proto__:a:b'],
      ),
      fc.string(),
    );
    const values = fc.oneof(
      fc.string(),
      fc.constantFrom(
        '|',
        '\\',
        ',',
        'ge',
        '2026',
        'Patient/1',
        '\\,|$',
        'a$5.4||kg',
        '1e999',
        'Observation:*',
      ),
    );
    fc.assert(
      fc.property(fc.array(fc.tuple(names, values)), fc.constantFrom(...RESOURCE_TYPES), (pairs, type) => {
        const parsed = parseSearch(type, pairs, context);
        expect(parsed.ok ? parsed.search.query.count : parsed.issues.length).toBeGreaterThan(0);
      }),
    );
  });

  test('read again from what it used is the same search, without warnings', () => {
    const parts = fc.constantFrom(
      'code=a,urn:s|b',
      'date=ge2026-03-05',
      'subject:Patient=7',
      'foo=bar',
      '_count=900',
      '_sort=-date',
      'encounter:missing=true',
      'code=',
      '-body-site=x|',
      'patient.birthdate=ge1956-03-05T10:00+01:00',
      '_has:Provenance:target:recorded=2026',
      'combo-code-value-quantity=a$5.40||kg,b$lt3',
      '_include=Observation:subject&_include:iterate=Patient:organization',
      '_summary=data&_elements=status,',
      'code:text=a\\,b',
    );
    fc.assert(
      fc.property(fc.uniqueArray(parts), (query) => {
        const first = accepted(query.join('&'));
        const again = parseSearch('Observation', first.used, { ...context, strict: true });
        expect(again).toEqual({ ok: true, search: { ...first, warnings: [] } });
      }),
    );
  });
});
