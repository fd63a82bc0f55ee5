import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BASE, bundleOf, idsOf, issuesOf, openFhirService } from './fhir-service.js';
import type { FhirService } from './fhir-service.js';

let service: FhirService;

const SNOMED = 'http://snomed.info/sct';
const LOINC = 'http://loinc.org';
const EXAM = {
  coding: [{ system: 'http://terminology.hl7.org/CodeSystem/observation-category', code: 'exam' }],
};
const LATERALITY = 'http://hl7.org/fhir/StructureDefinition/observation-structureLaterality';

/** Grip of one hand; LOINC 83174-3 right, 83173-5 left (loinc.org). */
function grip(id: string, side: 'left' | 'right', effectiveDateTime: string, more: object = {}) {
  const [code, hand, qualifier] =
    side === 'right' ? ['83174-3', '78791008', '24028007'] : ['83173-5', '85151006', '7771000'];
  const valueCodeableConcept = { coding: [{ system: SNOMED, code: qualifier }] };
  return {
    resourceType: 'Observation',
    id,
    status: 'final',
    category: [EXAM],
    code: { coding: [{ system: LOINC, code }] },
    subject: { reference: 'Patient/p1' },
    encounter: { reference: 'Encounter/e1' },
    effectiveDateTime,
    bodySite: {
      coding: [{ system: SNOMED, code: hand }],
      extension: [{ url: LATERALITY, valueCodeableConcept }],
    },
    ...more,
  };
}

beforeAll(async () => {
  service = await openFhirService();
  await service.store(grip('r1', 'right', '2026-03-02T13:00:00Z'));
  await service.store(grip('r2', 'right', '2026-03-03T13:00:00Z'));
  await service.store(grip('r3', 'right', '2026-03-04T13:00:00Z', { status: 'entered-in-error' }));
  await service.store(grip('l1', 'left', '2026-03-03T13:00:00Z'));
  await service.store(grip('d1', 'left', '2026-03-03', { encounter: undefined }));
  await service.store(grip('o1', 'left', '2026-03-03T13:00:00Z', { subject: { reference: 'Patient/p2' } }));
  await service.store({
    resourceType: 'Patient',
    id: 'p1',
    identifier: [{ system: 'urn:mrn', value: 'A|1' }],
    name: [{ family: 'Étoile', given: ['Zoë'] }],
    birthDate: '1956',
    gender: 'female',
    active: true,
  } as never);
});
afterAll(async () => {
  await service.drop();
});

const get = (url: string, headers: Record<string, string> = {}) =>
  service.app.inject({ url: `/fhir${url}`, headers });
const found = async (url: string): Promise<(string | undefined)[]> => {
  const response = await get(url);
  expect([url, response.statusCode]).toEqual([url, 200]);
  return idsOf(bundleOf(response)).sort();
};

describe('a search of Observations', () => {
  test.each([
    ['patient=p1', ['d1', 'l1', 'r1', 'r2', 'r3']],
    ['patient=Patient/p1', ['d1', 'l1', 'r1', 'r2', 'r3']],
    [`patient=${BASE}/Patient/p1`, ['d1', 'l1', 'r1', 'r2', 'r3']],
    ['patient=Patient/p1,Patient/p2', ['d1', 'l1', 'o1', 'r1', 'r2', 'r3']],
    ['patient=https://else.example/fhir/Patient/p1', []],
    ['subject=p2', ['o1']],
    ['subject:Patient=p2', ['o1']],
    ['subject:Group=p2', []],
    [`code=${LOINC}|83174-3`, ['r1', 'r2', 'r3']],
    ['code=83174-3', ['r1', 'r2', 'r3']],
    ['code=|83174-3', []],
    [`code=${LOINC}|`, ['d1', 'l1', 'o1', 'r1', 'r2', 'r3']],
    ['code:not=83174-3', ['d1', 'l1', 'o1']],
    ['code=unknown', []],
    ['category=exam', ['d1', 'l1', 'o1', 'r1', 'r2', 'r3']],
    ['status=final&code=83174-3', ['r1', 'r2']],
    ['status=http://hl7.org/fhir/observation-status|entered-in-error', ['r3']],
    ['status:not=final', ['r3']],
    ['encounter=Encounter/e1&patient=p2', ['o1']],
    ['encounter:missing=true', ['d1']],
    [`-body-site=${SNOMED}|78791008`, ['r1', 'r2', 'r3']],
    [`-laterality=${SNOMED}|7771000`, ['d1', 'l1', 'o1']],
    ['-laterality=24028007&status=final', ['r1', 'r2']],
    ['_id=r1,l1,none', ['l1', 'r1']],
    ['_id=r1&_id=l1', []],
    ['_lastUpdated=ge2026-03-05', ['d1', 'l1', 'o1', 'r1', 'r2', 'r3']],
    ['_lastUpdated=lt2026-03-05', []],
  ])('by %s finds %j', async (query, ids) => {
    expect(await found(`/Observation?${query.replaceAll('|', '%7C')}`)).toEqual(ids);
  });

  // R4 search, prefixes. d1 is the whole of 3 March; r1, r2, r3 are one second each.
  test.each([
    ['2026-03-03', ['d1', 'l1', 'o1', 'r2']],
    ['eq2026-03', ['d1', 'l1', 'o1', 'r1', 'r2', 'r3']],
    ['2026-03-03T13:00:00Z', ['l1', 'o1', 'r2']],
    ['2026-03-03T13:00Z', ['l1', 'o1', 'r2']],
    ['2026-03-03T14:00:00+01:00', ['l1', 'o1', 'r2']],
    ['ne2026-03-03', ['r1', 'r3']],
    ['gt2026-03-03', ['r3']],
    ['lt2026-03-03', ['r1']],
    ['ge2026-03-03', ['d1', 'l1', 'o1', 'r2', 'r3']],
    ['le2026-03-03', ['d1', 'l1', 'o1', 'r1', 'r2']],
    ['gt2026-03-03T13:00:00Z', ['d1', 'r3']],
    ['lt2026-03-03T13:00:00Z', ['d1', 'r1']],
    ['sa2026-03-03T13:00:00Z', ['r3']],
    ['eb2026-03-03T13:00:00Z', ['r1']],
  ])('by date=%s finds %j', async (date, ids) => {
    expect(await found(`/Observation?date=${date}`)).toEqual(ids);
  });

  test('between two dates joins both bounds', async () => {
    expect(await found('/Observation?patient=p1&code=83174-3&date=ge2026-03-02&date=lt2026-03-04')).toEqual([
      'r1',
      'r2',
    ]);
  });

  test('sorts by date both ways', async () => {
    const ids = async (sort: string) => idsOf(bundleOf(await get(`/Observation?code=83174-3&_sort=${sort}`)));
    expect(await ids('-date')).toEqual(['r3', 'r2', 'r1']);
    expect(await ids('date')).toEqual(['r1', 'r2', 'r3']);
    expect(await ids('-_id')).toEqual(['r3', 'r2', 'r1']);
  });
});

describe('a search of Patients', () => {
  test.each([
    ['identifier=urn:mrn%7CA%5C%7C1', ['p1']],
    ['identifier=urn:mrn%7CB', []],
    ['family=etoi', ['p1']],
    ['name=ZOE', ['p1']],
    ['family:exact=etoile', []],
    ['family:exact=%C3%89toile', ['p1']],
    ['name:contains=toil', ['p1']],
    ['given=toil', []],
    ['birthdate=1956', ['p1']],
    ['birthdate=1956-05', []],
    ['gender=female&active=true', ['p1']],
  ])('by %s finds %j', async (query, ids) => {
    expect(await found(`/Patient?${query}`)).toEqual(ids);
  });
});

describe('the page of a search', () => {
  test('states what was used, and tells what was left out in an entry that is no match', async () => {
    const bundle = bundleOf(await get('/Observation?patient=p1&colour=red&status=final&code='));
    expect(bundle.link?.[0]).toEqual({
      relation: 'self',
      url: `${BASE}/Observation?patient=p1&status=final`,
    });
    expect(bundle.entry?.filter(({ search }) => search?.mode === 'outcome')).toHaveLength(1);
    expect(bundle.entry?.[0]).toMatchObject({
      fullUrl: `${BASE}/Observation/${bundle.entry?.[0]?.resource?.id ?? ''}`,
    });
  });

  test('asked again by its self link is the same page', async () => {
    const bundle = bundleOf(await get('/Observation?code=http://loinc.org%7C83174-3&_sort=-date&_count=2'));
    const self = bundle.link?.[0]?.url.replace(BASE, '') ?? '';
    expect(bundleOf(await get(self))).toEqual(bundle);
  });

  test('gives the total when it is asked for, or when all is on it', async () => {
    expect(bundleOf(await get('/Observation?patient=p1')).total).toBe(5);
    expect(bundleOf(await get('/Observation?patient=p1&_count=2')).total).toBeUndefined();
    expect(bundleOf(await get('/Observation?patient=p1&_count=2&_total=accurate')).total).toBe(5);
    for (const query of ['_summary=count', '_count=0']) {
      const bundle = bundleOf(await get(`/Observation?patient=p1&${query}`));
      expect([bundle.total, bundle.entry]).toEqual([5, undefined]);
    }
  });

  test('asked by a posted form is the same as by GET (R4 search)', async () => {
    const payload = 'patient=p1&code=http%3A%2F%2Floinc.org%7C83174-3&status=final';
    const response = await service.app.inject({
      method: 'POST',
      url: '/fhir/Observation/_search?_sort=date',
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
      payload,
    });
    expect(idsOf(bundleOf(response))).toEqual(['r1', 'r2']);
    expect(bundleOf(response)).toEqual(bundleOf(await get(`/Observation?_sort=date&${payload}`)));
    const json = await service.app.inject({
      method: 'POST',
      url: '/fhir/Observation/_search',
      payload: { a: 1 },
    });
    expect(json.statusCode).toBe(415);
  });

  test.each([
    ['date=yesterday&code=a%7Cb%7Cc', ['http.date', 'http.code']],
    ['code:text=grip', ['http.code:text']],
    ['_sort=colour', ['http._sort']],
    ['-after=nonsense', ['http.-after']],
    ['code=%00', ['http.code']],
  ])('asked by %s is refused with every place', async (query, places) => {
    const response = await get(`/Observation?${query}`);
    expect(response.statusCode).toBe(400);
    expect(issuesOf(response).map(([, , place]) => place)).toEqual(places);
  });

  test('refuses what it does not know when the client asks for strict handling', async () => {
    const response = await get('/Observation?colour=red', { prefer: 'handling=strict' });
    expect(response.statusCode).toBe(400);
    expect(issuesOf(response)).toEqual([['error', 'not-supported', 'http.colour']]);
  });

  test('after page shows each id once, in every order and size', async () => {
    const ids = ['d1', 'l1', 'o1', 'r1', 'r2', 'r3'];
    await fc.assert(
      fc.asyncProperty(
        fc.integer({ min: 1, max: 7 }),
        fc.constantFrom('', 'date', '-date', '_lastUpdated', '-_lastUpdated', '_id', '-_id', '-date,_id'),
        async (count, sort) => {
          const seen: (string | undefined)[] = [];
          let next: string | undefined = `/Observation?_count=${count}&_sort=${sort}`;
          while (next !== undefined) {
            const page = bundleOf(await get(next));
            expect(idsOf(page).length).toBeLessThanOrEqual(count);
            seen.push(...idsOf(page));
            next = page.link?.find(({ relation }) => relation === 'next')?.url.replace(BASE, '');
          }
          expect(seen.sort()).toEqual(ids);
        },
      ),
      { numRuns: 40 },
    );
  });

  test('is never a fault of ours, whatever is asked', async () => {
    const name = fc.constantFrom(
      'code',
      'date',
      'patient',
      '_id',
      '_sort',
      '_count',
      'subject',
      '-after',
      'family',
      '_lastUpdated',
      'code:not',
      'foo',
    );
    const value = fc.oneof(
      fc.string(),
      fc.string({ unit: 'binary' }),
      fc.constantFrom('ge9999', 'lt0001-01-01', '|', '\\', '-_id', '99999999999'),
    );
    await fc.assert(
      fc.asyncProperty(
        fc.constantFrom('Observation', 'Patient'),
        fc.array(fc.tuple(name, value), { maxLength: 4 }),
        async (type, pairs) => {
          const query = pairs.map(([key, text]) => `${key}=${encodeURIComponent(text)}`).join('&');
          const { statusCode } = await get(`/${type}?${query}`);
          expect([200, 400, 406]).toContain(statusCode);
        },
      ),
      { numRuns: 200 },
    );
  });
});
