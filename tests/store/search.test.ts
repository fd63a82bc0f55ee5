import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { countMatches, newId, search, transact, writeResources } from '../../src/store/index.js';
import type { Database } from '../../src/store/index.js';
import type { DateMatch, Prefix, SearchClause, SearchQuery, SearchValues } from '../../src/fhir/index.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';
import { markedExtractors } from './extractors.js';

let fresh: FreshDatabase;
let db: Database;
beforeAll(async () => {
  fresh = await freshDatabase({ extractors: markedExtractors });
  db = fresh.db;
});
afterAll(() => fresh.drop());

let clock = Date.UTC(2026, 2, 5);

/** Writes one resource of a type of the test's own, so that tests do not see each other's. */
async function put(type: string, id: string, found: Partial<SearchValues>): Promise<void> {
  clock += 1000;
  const resource = { resourceType: type, found };
  await transact(db, (tx) =>
    writeResources(tx, [{ method: 'update', type, id, resource }], { at: new Date(clock) }),
  );
}

const queryOf = (
  type: string,
  clauses: readonly SearchClause[],
  more: Partial<SearchQuery> = {},
): SearchQuery => ({
  type,
  clauses,
  sort: [],
  count: 1000,
  ...more,
});

async function find(type: string, ...clauses: readonly SearchClause[]): Promise<readonly string[]> {
  const query = queryOf(type, clauses);
  const { matches } = await search(db, query);
  expect(await countMatches(db, query)).toBe(matches.length);
  return matches.map(({ id }) => id).sort();
}

describe('a search by token (R4 search, token)', () => {
  const type = 'TokenTest';
  const token = (values: (SearchClause & { kind: 'token' })['values'], not = false): SearchClause => ({
    ...{ kind: 'token', parameter: 'code', values },
    ...(not ? { not } : {}),
  });
  beforeAll(async () => {
    const coded = (...tokens: readonly (readonly [string | undefined, string])[]): Partial<SearchValues> => ({
      tokens: tokens.map(([system, code]) =>
        system === undefined ? { parameter: 'code', code } : { parameter: 'code', system, code },
      ),
    });
    await put(type, 'loinc', coded(['http://loinc.org', '83174-3']));
    await put(type, 'both', coded(['http://loinc.org', '83174-3'], ['urn:own', 'grip']));
    await put(type, 'own', coded(['urn:own', 'grip']));
    await put(type, 'bare', coded([undefined, 'grip']));
    await put(type, 'none', {});
  });

  it.each([
    ['system|code', [{ system: 'http://loinc.org', code: '83174-3' }], ['both', 'loinc']],
    ['code alone, of any system or none', [{ code: 'grip' }], ['bare', 'both', 'own']],
    ['|code, of no system', [{ system: null, code: 'grip' }], ['bare']],
    ['system|, any code', [{ system: 'urn:own' }], ['both', 'own']],
    ['one of two, by OR', [{ code: '83174-3' }, { system: null, code: 'grip' }], ['bare', 'both', 'loinc']],
    ['a code that nothing has', [{ code: 'unheard-of' }], []],
    ['a code longer than an index entry', [{ code: 'x'.repeat(100_000) }], []],
    ['a code with NUL, which no resource can have', [{ code: 'gr\0ip' }], []],
  ])('takes %s', async (_name, values, expected) => {
    expect(await find(type, token(values))).toEqual(expected);
  });

  it('takes :not as "has no such value", those without any value included', async () => {
    expect(await find(type, token([{ code: 'grip' }], true))).toEqual(['loinc', 'none']);
    expect(await find(type, token([{ code: 'unheard-of' }], true))).toHaveLength(5);
  });

  it('takes :missing', async () => {
    expect(await find(type, { kind: 'missing', parameter: 'code', missing: true })).toEqual(['none']);
    expect(await find(type, { kind: 'missing', parameter: 'code', missing: false })).toHaveLength(4);
    expect(await find(type, { kind: 'missing', parameter: 'never-seen', missing: true })).toHaveLength(5);
    expect(await find(type, { kind: 'missing', parameter: 'never-seen', missing: false })).toEqual([]);
  });

  it('joins clauses by AND', async () => {
    expect(await find(type, token([{ code: '83174-3' }]), token([{ code: 'grip' }]))).toEqual(['both']);
  });
});

describe('a search by reference, id and string', () => {
  it('finds by type and id, by id of any type, and by address', async () => {
    const type = 'ReferenceTest';
    const to = (reference: object): Partial<SearchValues> => ({
      references: [{ parameter: 'subject', ...reference }],
    });
    await put(type, 'patient', to({ type: 'Patient', id: '1' }));
    await put(type, 'group', to({ type: 'Group', id: '1' }));
    await put(type, 'far', to({ url: 'https://elsewhere.example/Patient/1' }));
    const by = (value: object): SearchClause => ({
      kind: 'reference',
      parameter: 'subject',
      values: [value],
    });
    expect(await find(type, by({ type: 'Patient', id: '1' }))).toEqual(['patient']);
    expect(await find(type, by({ id: '1' }))).toEqual(['group', 'patient']);
    expect(await find(type, by({ url: 'https://elsewhere.example/Patient/1' }))).toEqual(['far']);
    expect(await find(type, by({ type: 'Patient', id: '2' }))).toEqual([]);
  });

  it('finds the resources of a patient, also together with a code', async () => {
    const ofPatient = (id: string, code: string): Partial<SearchValues> => ({
      references: [{ parameter: 'patient', type: 'Patient', id }],
      tokens: [{ parameter: 'code', system: 'urn:own', code }],
    });
    await put('Observation', 'a-grip', ofPatient('a', 'grip'));
    await put('Observation', 'a-range', ofPatient('a', 'range'));
    await put('Observation', 'b-grip', ofPatient('b', 'grip'));
    const patient: SearchClause = {
      kind: 'reference',
      parameter: 'patient',
      values: [{ type: 'Patient', id: 'a' }],
    };
    const code: SearchClause = { kind: 'token', parameter: 'code', values: [{ code: 'grip' }] };
    expect(await find('Observation', patient)).toEqual(['a-grip', 'a-range']);
    expect(await find('Observation', patient, code)).toEqual(['a-grip']);
  });

  it('finds by identifier, with its system, of any system, of none, or of a system at all', async () => {
    const type = 'IdentifierTest';
    const named = (value: object): Partial<SearchValues> => ({
      tokens: [{ parameter: 'identifier', code: '7', ...value }],
    });
    await put(type, 'mrn', named({ system: 'urn:mrn' }));
    await put(type, 'visit', named({ system: 'urn:visit' }));
    await put(type, 'bare', named({}));
    const by = (values: readonly object[], not = false): SearchClause => ({
      ...{ kind: 'token', parameter: 'identifier', values },
      ...(not ? { not } : {}),
    });
    expect(await find(type, by([{ system: 'urn:mrn', code: '7' }]))).toEqual(['mrn']);
    expect(await find(type, by([{ code: '7' }]))).toEqual(['bare', 'mrn', 'visit']);
    expect(await find(type, by([{ system: null, code: '7' }]))).toEqual(['bare']);
    expect(await find(type, by([{ system: 'urn:visit' }]))).toEqual(['visit']);
    expect(await find(type, by([{ system: 'urn:mrn', code: '7' }], true))).toEqual(['bare', 'visit']);
    expect(await find(type, by([{ system: 'urn:mrn', code: '8' }]))).toEqual([]);
    expect(await find(type, by([{ code: 'x'.repeat(100_000) }, { code: 'a\0b' }]))).toEqual([]);
    expect(await find(type, { kind: 'missing', parameter: 'identifier', missing: true })).toEqual([]);
  });

  it('finds what refers to a single resource, until it is corrected to refer to another', async () => {
    const type = 'MemberTest';
    const to = (id: string): Partial<SearchValues> => ({
      references: [{ parameter: 'has-member', type: 'Observation', id }],
    });
    await put(type, 'panel', to('o1'));
    const by = (value: object): SearchClause => ({
      kind: 'reference',
      parameter: 'has-member',
      values: [value],
    });
    expect(await find(type, by({ type: 'Observation', id: 'o1' }))).toEqual(['panel']);
    expect(await find(type, by({ id: 'o1' }))).toEqual(['panel']);
    await put(type, 'panel', to('o2'));
    expect(await find(type, by({ type: 'Observation', id: 'o1' }))).toEqual([]);
    expect(await find(type, by({ type: 'Observation', id: 'o2' }))).toEqual(['panel']);
  });

  it('finds by the start of a text without case and marks, by a part of it, or exactly (R4 search, string)', async () => {
    const type = 'StringTest';
    const name = (text: string): Partial<SearchValues> => ({ strings: [{ parameter: 'name', text }] });
    await put(type, 'mueller', name('Müller'));
    await put(type, 'muller', name('muller'));
    await put(type, 'percent', name('100%_x'));
    await put(type, 'long', name(`${'z'.repeat(150)}end`));
    const by = (how: 'starts' | 'contains' | 'exact', value: string): SearchClause => ({
      ...{ kind: 'string', parameter: 'name', how, values: [value] },
    });
    expect(await find(type, by('starts', 'MULL'))).toEqual(['mueller', 'muller']);
    expect(await find(type, by('exact', 'Müller'))).toEqual(['mueller']);
    expect(await find(type, by('contains', 'ULLE'))).toEqual(['mueller', 'muller']);
    expect(await find(type, by('starts', '100%_'))).toEqual(['percent']);
    expect(await find(type, by('starts', '1%'))).toEqual([]);
    expect(await find(type, by('starts', `${'Z'.repeat(150)}E`))).toEqual(['long']);
    expect(await find(type, by('exact', `${'z'.repeat(150)}end`))).toEqual(['long']);
  });

  it('finds by id, and never what was deleted', async () => {
    const type = 'IdTest';
    await put(type, 'kept', {});
    await put(type, 'gone', {});
    await transact(db, (tx) =>
      writeResources(tx, [{ method: 'delete', type, id: 'gone' }], { at: new Date() }),
    );
    expect(await find(type, { kind: 'id', parameter: '_id', ids: ['kept', 'gone', 'a\0b'] })).toEqual([
      'kept',
    ]);
    expect(await find(type)).toEqual(['kept']);
  });

  it('finds a resource by its present version only', async () => {
    const type = 'VersionTest';
    const coded = (code: string): Partial<SearchValues> => ({
      tokens: [{ parameter: 'status', code }],
      strings: [{ parameter: 'name', text: code }],
    });
    await put(type, 'one', coded('first'));
    await put(type, 'one', coded('second'));
    const by = (code: string): SearchClause => ({ kind: 'token', parameter: 'status', values: [{ code }] });
    expect(await find(type, by('first'))).toEqual([]);
    expect(await find(type, by('second'))).toEqual(['one']);
    const named: SearchClause = { kind: 'string', parameter: 'name', how: 'starts', values: ['first'] };
    expect(await find(type, named)).toEqual([]);
  });
});

/** The prefixes word for word as R4 search gives them, on ranges [low, high). */
function naiveMatch({ prefix, low: sLow, high: sHigh }: DateMatch, tLow: number, tHigh: number): boolean {
  const contains = sLow <= tLow && tHigh <= sHigh;
  const overlapsAbove = tHigh > sHigh;
  const overlapsBelow = tLow < sLow;
  switch (prefix) {
    case 'eq':
      return contains;
    case 'ne':
      return !contains;
    case 'gt':
      return overlapsAbove;
    case 'lt':
      return overlapsBelow;
    case 'ge':
      return overlapsAbove || contains;
    case 'le':
      return overlapsBelow || contains;
    case 'sa':
      return sHigh <= tLow;
    case 'eb':
      return tHigh <= sLow;
    case 'ap':
      return tLow < sHigh && sLow < tHigh;
  }
}

describe('a search by date (R4 search, prefixes)', () => {
  const prefixes: readonly Prefix[] = ['eq', 'ne', 'gt', 'lt', 'ge', 'le', 'sa', 'eb', 'ap'];
  const range = fc
    .tuple(fc.integer({ min: 0, max: 12 }), fc.integer({ min: 1, max: 5 }))
    .map(([low, width]) => ({ low: 1000 + low, high: 1000 + low + width }));
  const open = fc.tuple(range, fc.constantFrom('closed', 'from', 'to')).map(([{ low, high }, kind]) => ({
    low: kind === 'to' ? null : low,
    high: kind === 'from' ? null : high,
  }));

  it.each(['date', 'value-date'])('agrees with a plain filter for every prefix, on %s', async (parameter) => {
    const type = `DateTest-${parameter}`;
    const targets = fc.sample(open, { numRuns: 80, seed: 20260305 });
    const ids = targets.map((_, place) => `t${place}`);
    const writes = targets.map((target, place) => ({
      ...{ method: 'create' as const, type, id: `t${place}` },
      resource: { resourceType: type, found: { dates: [{ parameter, ...target }] } },
    }));
    await transact(db, (tx) => writeResources(tx, writes, { at: new Date() }));
    await put(type, 'undated', {});
    await fc.assert(
      fc.asyncProperty(fc.constantFrom(...prefixes), range, async (prefix, searched) => {
        const match = { prefix, ...searched };
        const expected = ids.filter((_, place) => {
          const { low, high } = targets[place] ?? { low: 0, high: 0 };
          return naiveMatch(match, low ?? -Infinity, high ?? Infinity);
        });
        expect(await find(type, { kind: 'date', parameter, values: [match] })).toEqual([...expected].sort());
      }),
      { numRuns: 250, seed: 20260305 },
    );
  });

  it('reads the examples of the page: lt and gt 2013-01-14T10:00 both take a target of the whole day', async () => {
    const type = 'DateExample';
    const day = Date.UTC(2013, 0, 14);
    const found = { dates: [{ parameter: 'date', low: day, high: day + 86_400_000 }] };
    await put(type, 'day', found);
    const minute = { low: day + 36_000_000, high: day + 36_060_000 };
    for (const prefix of ['lt', 'gt'] as const) {
      expect(await find(type, { kind: 'date', parameter: 'date', values: [{ prefix, ...minute }] })).toEqual([
        'day',
      ]);
    }
  });

  it('takes _lastUpdated by the moment of the last change', async () => {
    const type = 'UpdatedTest';
    await put(type, 'early', {});
    const between = clock + 1;
    await put(type, 'late', {});
    const by = (prefix: Prefix, low: number, high: number): SearchClause => ({
      ...{ kind: 'date', parameter: '_lastUpdated', values: [{ prefix, low, high }] },
    });
    expect(await find(type, by('ge', between, between + 1))).toEqual(['late']);
    expect(await find(type, by('lt', between, between + 1))).toEqual(['early']);
    expect(await find(type, by('eq', clock, clock + 1))).toEqual(['late']);
    expect(await find(type, by('ne', clock, clock + 1))).toEqual(['early']);
    expect(await find(type, by('gt', -8.64e15, -8.64e15 + 1))).toEqual(['early', 'late']);
  });
});

describe('the pages of a search', () => {
  const type = 'PageTest';
  const ids = Array.from({ length: 37 }, (_, place) => `p${String(place).padStart(2, '0')}`);
  beforeAll(async () => {
    for (const [place, id] of ids.entries()) {
      const low = 1000 * (place % 5);
      await put(type, id, place % 7 === 0 ? {} : { dates: [{ parameter: 'date', low, high: low + 1 }] });
    }
  });

  async function allPages(
    sort: SearchQuery['sort'],
    between: () => Promise<void>,
  ): Promise<readonly string[]> {
    const seen: string[] = [];
    let after: string | undefined;
    do {
      const page = await search(
        db,
        queryOf(type, [], { sort, count: 5, ...(after === undefined ? {} : { after }) }),
      );
      seen.push(...page.matches.map(({ id }) => id));
      after = page.next;
      await between();
    } while (after !== undefined);
    return seen;
  }

  const orders: readonly SearchQuery['sort'][] = [
    [],
    [{ parameter: 'date', descending: true }],
    [{ parameter: 'date', descending: false }],
    [{ parameter: '_id', descending: true }],
    [{ parameter: '_lastUpdated', descending: false }],
    [
      { parameter: 'date', descending: true },
      { parameter: '_id', descending: false },
    ],
    [{ parameter: 'recorded', descending: true }],
  ];

  it.each(orders.map((sort) => [JSON.stringify(sort), sort] as const))(
    'hold each resource exactly once while others are written, sorted by %s',
    async (_name, sort) => {
      let extra = 0;
      const other = `zz-${newId()}`;
      const seen = await allPages(sort, async () => {
        extra += 1;
        await put(type, other, { dates: [{ parameter: 'date', low: extra, high: extra + 1 }] });
      });
      expect(seen.filter((id) => !id.startsWith('zz')).sort()).toEqual(ids);
    },
  );

  it('come newest change first when nothing is asked, and by the sort keys when they are', async () => {
    const newest = await search(db, queryOf(type, [], { count: 1 }));
    expect(newest.matches[0]?.lastUpdated).toEqual(new Date(clock));
    const byDate = await search(
      db,
      queryOf(type, [], { sort: [{ parameter: '_id', descending: false }], count: 3 }),
    );
    expect(byDate.matches.map(({ id }) => id)).toEqual(['p00', 'p01', 'p02']);
  });

  it('refuse a cursor that is damaged, or of another order', async () => {
    const { next = '' } = await search(db, queryOf(type, [], { count: 1 }));
    const byId: SearchQuery['sort'] = [{ parameter: '_id', descending: false }];
    for (const query of [
      queryOf(type, [], { after: 'no cursor' }),
      queryOf(type, [], { after: `${next.slice(0, -9)}AAAAAAAAA` }),
      queryOf(type, [], { after: next, sort: byId }),
      queryOf(type, [], { after: Buffer.from('["-_lastUpdated,-key","x",1]').toString('base64url') }),
    ]) {
      await expect(search(db, query)).rejects.toMatchObject({ code: 'bad-cursor' });
    }
  });
});
