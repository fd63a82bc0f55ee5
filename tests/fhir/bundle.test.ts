import type { Bundle } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import { searchUrl, writeHistory, writeSearchset } from '../../src/fhir/bundle.js';
import type { BundledVersion } from '../../src/fhir/bundle.js';

const BASE = 'https://records.example/fhir';

const version = (
  id: string,
  number = 1,
  operation: BundledVersion['operation'] = 'create',
): BundledVersion => ({
  type: 'Patient',
  id,
  version: number,
  lastUpdated: new Date('2026-03-05T13:10:00Z'),
  operation,
  body: operation === 'delete' ? new Uint8Array() : Buffer.from(`{"resourceType":"Patient","id":"${id}"}`),
});

const parse = (bytes: Buffer): Bundle => JSON.parse(bytes.toString()) as Bundle;

describe('a searchset', () => {
  const page = { baseUrl: BASE, type: 'Patient', used: [['name', 'zz']] as const, warnings: [] };

  test('holds each match once with its absolute URL, its stored bytes and its mode', () => {
    const bytes = writeSearchset({ ...page, matches: [version('a'), version('b')] });
    expect(parse(bytes)).toEqual({
      resourceType: 'Bundle',
      type: 'searchset',
      link: [{ relation: 'self', url: `${BASE}/Patient?name=zz` }],
      entry: ['a', 'b'].map((id) => ({
        fullUrl: `${BASE}/Patient/${id}`,
        resource: { resourceType: 'Patient', id },
        search: { mode: 'match' },
      })),
    });
  });

  test('sends the digits of the stored bytes as they are', () => {
    const body = Buffer.from('{"resourceType":"Patient","id":"a","extension":[{"valueDecimal":30.50}]}');
    expect(writeSearchset({ ...page, matches: [{ ...version('a'), body }] }).includes('30.50')).toBe(true);
  });

  test('without a match has no entry, because FHIR JSON knows no empty arrays', () => {
    expect(parse(writeSearchset({ ...page, matches: [], total: 0 }))).toEqual({
      resourceType: 'Bundle',
      type: 'searchset',
      total: 0,
      link: [{ relation: 'self', url: `${BASE}/Patient?name=zz` }],
    });
  });

  test('links to the next page with the place in it, in stead of the place of this one', () => {
    const used = [
      ['name', 'zz'],
      ['-after', 'one'],
    ] as const;
    const { link } = parse(writeSearchset({ ...page, used, matches: [version('a')], next: 'two' }));
    expect(link).toEqual([
      { relation: 'self', url: `${BASE}/Patient?name=zz&-after=one` },
      { relation: 'next', url: `${BASE}/Patient?name=zz&-after=two` },
    ]);
  });

  test('tells what was left out in one entry of its own that is no match', () => {
    const warning = {
      severity: 'warning',
      code: 'not-supported',
      rule: 'search-not-supported',
      expression: 'http.colour',
      diagnostics: 'Left out.',
    } as const;
    const { entry } = parse(writeSearchset({ ...page, matches: [], warnings: [warning] }));
    expect(entry).toMatchObject([
      {
        resource: { resourceType: 'OperationOutcome', issue: [{ severity: 'warning' }] },
        search: { mode: 'outcome' },
      },
    ]);
  });
});

describe('the URL of a search', () => {
  test('encodes what a URL cannot hold and is read back as the same parameters', () => {
    const used = [
      ['code', 'urn:s|a,b'],
      ['name', 'Zoë & Co+#?='],
    ] as const;
    const url = searchUrl(BASE, 'Patient', used);
    expect([...new URL(url).searchParams]).toEqual(used);
    expect(url).toContain('code=urn:s%7Ca,b');
  });
});

describe('a history', () => {
  test('tells how each version came to be, deletions without a resource (R4 Bundle, bdl-3 and bdl-4)', () => {
    const versions = [version('a', 3, 'delete'), version('a', 2, 'update'), version('a', 1, 'create')];
    const bundle = parse(
      writeHistory({ baseUrl: BASE, self: `${BASE}/Patient/a/_history`, total: 3, versions }),
    );
    expect(bundle).toMatchObject({ type: 'history', total: 3 });
    expect(
      bundle.entry?.map(({ request, response }) => [
        request?.method,
        request?.url,
        response?.status,
        response?.etag,
      ]),
    ).toEqual([
      ['DELETE', 'Patient/a', '204', 'W/"3"'],
      ['PUT', 'Patient/a', '200', 'W/"2"'],
      ['POST', 'Patient', '201', 'W/"1"'],
    ]);
    expect(bundle.entry?.map(({ resource }) => resource !== undefined)).toEqual([false, true, true]);
  });
});
