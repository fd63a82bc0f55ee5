import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { PAGE_SIZE, parseSearch } from '../../src/fhir/parse-search.js';
import type { ParsedSearch, SearchContext } from '../../src/fhir/parse-search.js';
import type { ResourceType } from '../../src/fhir/search-parameters.js';

const context: SearchContext = {
  siteZone: 'UTC',
  baseUrl: 'https://records.example/fhir',
  now: Date.parse('2026-03-15T00:00:00Z'),
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
    ['code:text=knee', 'not-supported', 'http.code:text'],
    ['date:exact=2026', 'not-supported', 'http.date:exact'],
    ['subject:Patient.birthdate=1956', 'not-supported', 'http.subject:Patient.birthdate'],
    ['subject.birthdate=1956', 'not-supported', 'http.subject.birthdate'],
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

  test('lists every fault at once', () => {
    expect(refusals('date=yesterday&code=a|b|c&_count=x')).toHaveLength(3);
  });

  test('never throws, whatever is asked', () => {
    const names = fc.oneof(
      fc.constantFrom(
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
      ),
      fc.string(),
    );
    const values = fc.oneof(fc.string(), fc.constantFrom('|', '\\', ',', 'ge', '2026', 'Patient/1', '\\,|$'));
    fc.assert(
      fc.property(
        fc.array(fc.tuple(names, values)),
        fc.constantFrom('Observation', 'Patient', 'Provenance'),
        (pairs, type) => {
          const parsed = parseSearch(type, pairs, context);
          expect(parsed.ok ? parsed.search.query.count : parsed.issues.length).toBeGreaterThan(0);
        },
      ),
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
