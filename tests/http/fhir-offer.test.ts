import type { Bundle, CapabilityStatement, CapabilityStatementRestResource } from 'fhir/r4.js';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { BASE, bundleOf, idsOf, issuesOf, openFhirService } from './fhir-service.js';
import type { FhirService } from './fhir-service.js';

let service: FhirService;
let offered: readonly CapabilityStatementRestResource[];
beforeAll(async () => {
  service = await openFhirService();
  for (const resource of RESOURCES) await service.store(resource);
  const statement = (await service.app.inject('/fhir/metadata')).json<CapabilityStatement>();
  offered = statement.rest?.[0]?.resource ?? [];
});
afterAll(() => service.drop());

/** One invented resource of each type that is stored. */
const RESOURCES = [
  { resourceType: 'Patient', id: 'one', name: [{ family: 'Zzdunmoor' }] },
  { resourceType: 'Practitioner', id: 'one', name: [{ family: 'Zzthrale' }] },
  { resourceType: 'Location', id: 'one', name: 'Ward 7A' },
  { resourceType: 'Encounter', id: 'one', status: 'finished', class: { code: 'IMP' } },
  { resourceType: 'Observation', id: 'one', status: 'final', code: { text: 'Grip' } },
  {
    ...{ resourceType: 'Provenance', id: 'one', recorded: '2026-03-05T13:10:00Z' },
    ...{ target: [{ reference: 'Observation/one' }], agent: [{ who: { reference: 'Practitioner/one' } }] },
  },
] as const;

const TYPES = [
  ...['Patient', 'Practitioner', 'Location', 'Encounter', 'Observation', 'Provenance'],
  ...['StructureDefinition', 'CodeSystem', 'ValueSet', 'SearchParameter'],
  ...['Condition', 'Group', 'Device', 'Binary', 'Bundle', 'DiagnosticReport'],
] as const;

interface Probe {
  readonly method: 'GET' | 'POST' | 'PUT' | 'PATCH' | 'DELETE';
  readonly url: string;
  readonly payload?: string;
  readonly type?: string;
}

/** How each interaction of R4 (value set type-restful-interaction) is asked of the resource `id` of a type. */
const INTERACTIONS: Readonly<Record<string, (type: string, id: string, body: string) => Probe>> = {
  read: (type, id) => ({ method: 'GET', url: `/${type}/${id}` }),
  vread: (type, id) => ({ method: 'GET', url: `/${type}/${id}/_history/1` }),
  update: (type, id, payload) => ({ method: 'PUT', url: `/${type}/${id}`, payload }),
  patch: (type, id) => ({
    ...{ method: 'PATCH', url: `/${type}/${id}`, payload: '[]', type: 'application/json-patch+json' },
  }),
  delete: (type, id) => ({ method: 'DELETE', url: `/${type}/${id}` }),
  'history-instance': (type, id) => ({ method: 'GET', url: `/${type}/${id}/_history` }),
  'history-type': (type) => ({ method: 'GET', url: `/${type}/_history` }),
  create: (type, _id, payload) => ({ method: 'POST', url: `/${type}`, payload }),
  'search-type': (type) => ({ method: 'GET', url: `/${type}` }),
};

async function ask({ method, url, payload, type = 'application/fhir+json' }: Probe) {
  return service.app.inject({
    ...{ method, url: `/fhir${url}` },
    ...(payload === undefined ? {} : { payload, headers: { 'content-type': type } }),
  });
}

/** A resource of the type that is there, and the JSON that may be written of it. */
async function known(type: string): Promise<{ readonly id: string; readonly body: string }> {
  const stored = RESOURCES.find(({ resourceType }) => resourceType === type);
  if (stored !== undefined) return { id: stored.id, body: JSON.stringify(stored) };
  const response = await service.app.inject(`/fhir/${type}?_count=1`);
  const id = response.statusCode === 200 ? response.json<Bundle>().entry?.[0]?.resource?.id : undefined;
  return { id: id ?? 'one', body: JSON.stringify({ resourceType: type, id: id ?? 'one' }) };
}

describe('the statement of capabilities says no more and no less than is offered', () => {
  const pairs = TYPES.flatMap((type) => Object.keys(INTERACTIONS).map((code) => [type, code] as const));

  test.each(pairs)('of %s: %s', async (type, code) => {
    const row = offered.find((one) => one.type === type);
    const isOffered = row?.interaction?.some((one) => one.code === code) ?? false;
    const { id, body } = await known(type);
    const probe = INTERACTIONS[code]?.(type, id, body);
    if (probe === undefined) throw new Error(`no probe of ${code}`);
    const { statusCode } = await ask(probe);
    if (isOffered) expect([200, 201]).toContain(statusCode);
    else expect([404, 405]).toContain(statusCode);
  });

  it('of the whole system: no interaction', async () => {
    const statement = (await service.app.inject('/fhir/metadata')).json<CapabilityStatement>();
    expect(statement.rest?.[0]).not.toHaveProperty('interaction');
    expect(statement.rest?.[0]).not.toHaveProperty('operation');
    const bundle = JSON.stringify({ resourceType: 'Bundle', type: 'batch' });
    for (const probe of [
      { method: 'POST', url: '', payload: bundle },
      { method: 'POST', url: '/', payload: bundle },
      { method: 'GET', url: '/_history' },
      { method: 'GET', url: '?_type=Patient' },
      { method: 'GET', url: '/Observation/$lastn?patient=one' },
      { method: 'POST', url: '/$validate', payload: '{}' },
      { method: 'GET', url: '/$export' },
    ] as const) {
      const { statusCode } = await ask(probe);
      expect([404, 405], probe.url).toContain(statusCode);
    }
  });

  test.each(['Patient', 'Observation'])('of conditional writes of %s: none', async (type) => {
    const row = offered.find((one) => one.type === type);
    expect(row).toMatchObject({
      ...{ conditionalCreate: false, conditionalUpdate: false, conditionalDelete: 'not-supported' },
    });
    const payload = JSON.stringify({ resourceType: type });
    for (const method of ['PUT', 'PATCH', 'DELETE'] as const)
      expect((await ask({ method, url: `/${type}?_id=one`, payload })).statusCode).toBe(405);
  });

  it('of versions and conditional reads', async () => {
    const kept = offered.filter(({ interaction }) => interaction !== undefined);
    for (const { type, versioning, readHistory, conditionalRead, updateCreate } of kept) {
      const { id } = await known(type);
      const { headers } = await ask({ method: 'GET', url: `/${type}/${id}` });
      expect(versioning, type).toBe(headers.etag === undefined ? 'no-version' : 'versioned');
      expect(readHistory, type).toBe(headers.etag !== undefined);
      const again = await service.app.inject({
        ...{ url: `/fhir/${type}/${id}`, headers: { 'if-none-match': headers.etag ?? 'W/"1"' } },
      });
      expect(conditionalRead, type).toBe(again.statusCode === 304 ? 'full-support' : 'not-supported');
      const fresh = JSON.stringify({ ...RESOURCES.find((one) => one.resourceType === type), id: 'fresh' });
      const created = await ask({ method: 'PUT', url: `/${type}/fresh`, payload: fresh });
      expect(updateCreate, type).toBe(created.statusCode === 201);
    }
  });
});

describe('a search of the published definitions', () => {
  const search = (query: string, headers: Record<string, string> = {}) =>
    service.app.inject({ url: `/fhir/CodeSystem${query}`, headers });

  it('never gives more than _count, and all in the end, each once', async () => {
    const all = idsOf(bundleOf(await search('')));
    expect(all.length).toBeGreaterThan(2);
    const seen: (string | undefined)[] = [];
    let next: string | undefined = '?_count=2';
    while (next !== undefined) {
      const page = bundleOf(await search(next));
      expect(idsOf(page).length).toBeLessThanOrEqual(2);
      expect(page.total).toBe(all.length);
      seen.push(...idsOf(page));
      next = page.link?.find(({ relation }) => relation === 'next')?.url.replace(`${BASE}/CodeSystem`, '');
    }
    expect(seen).toEqual(all);
  });

  it('gives the total alone for _count=0 and _summary=count', async () => {
    for (const query of ['?_count=0', '?_summary=count']) {
      const page = bundleOf(await search(query));
      expect([page.total, page.entry]).toEqual([idsOf(bundleOf(await search(''))).length, undefined]);
    }
  });

  test.each([
    ['?url:below=http://x', ['http.url:below']],
    ['?_id:missing=true', ['http._id:missing']],
    ['?_count=-1', ['http._count']],
    ['?_count=few&_summary=long', ['http._count', 'http._summary']],
  ])(
    'refuses %s, each at its place (R4 search: an unsupported modifier is rejected)',
    async (query, places) => {
      const response = await search(query);
      expect(response.statusCode).toBe(400);
      expect(issuesOf(response).map(([, , place]) => place)).toEqual(places);
    },
  );

  it('by a posted form is that by GET, and by another body is refused', async () => {
    const post = (payload: string, type: string) =>
      service.app.inject({
        ...{ method: 'POST', url: '/fhir/CodeSystem/_search', payload, headers: { 'content-type': type } },
      });
    const form = await post('_id=msk-joint', 'application/x-www-form-urlencoded');
    expect(bundleOf(form)).toEqual(bundleOf(await search('?_id=msk-joint')));
    expect(idsOf(bundleOf(form))).toEqual(['msk-joint']);
    expect((await post('{"_id":"msk-joint"}', 'application/json')).statusCode).toBe(415);
  });

  it('leaves out what it does not know with a warning, or refuses it when asked to be strict', async () => {
    const lenient = bundleOf(await search('?colour=red'));
    expect(lenient.link?.[0]?.url).toBe(`${BASE}/CodeSystem`);
    expect(lenient.entry?.at(-1)?.search?.mode).toBe('outcome');
    expect((await search('?colour=red', { prefer: 'handling=strict' })).statusCode).toBe(400);
  });
});

describe('a resource whose text is at fault', () => {
  test.each([
    ['{"resourceType":"Patient","name":[{"family":"a\\u0000"}]}', 'Patient.name[0].family'],
    ['{"resourceType":"Patient","gender":"male","gender":"female"}', 'Patient.gender'],
    ['{"resourceType":"Patient","active":tru}', 'Patient.active'],
  ])('%s is told its place from the type on', async (payload, place) => {
    const response = await ask({ method: 'POST', url: '/Patient', payload });
    expect(response.statusCode).toBe(400);
    expect(issuesOf(response).map(([, , expression]) => expression)).toContain(place);
  });
});

/** Faults of resources that are written over FHIR, each with the place that R4 gives it. */
const FAULTS: readonly (readonly [type: string, members: object, places: readonly string[]])[] = [
  ['Patient', { colour: 1 }, ['Patient.colour']],
  ['Patient', { gender: 'x' }, ['Patient.gender']],
  ['Patient', { gender: ['male'] }, ['Patient.gender']],
  ['Patient', { gender: null }, ['Patient.gender']],
  ['Patient', { gender: '' }, ['Patient.gender']],
  ['Patient', { birthDate: '2024-02-30' }, ['Patient.birthDate']],
  ['Patient', { name: { family: 'a' } }, ['Patient.name']],
  ['Patient', { name: [] }, ['Patient.name']],
  ['Patient', { telecom: [{}] }, ['Patient.telecom[0]']],
  ['Patient', { telecom: [{ value: '1' }] }, ['Patient.telecom[0]']],
  ['Patient', { contact: [{ gender: 'male' }] }, ['Patient.contact[0]']],
  ['Patient', { deceasedBoolean: true, deceasedDateTime: '2020' }, ['Patient.deceased']],
  ['Patient', { multipleBirthInteger: 2.5 }, ['Patient.multipleBirth']],
  ['Patient', { generalPractitioner: [{ reference: 'Patient/1' }] }, ['Patient.generalPractitioner[0]']],
  ['Patient', { link: [{ other: { reference: 'Patient/2' } }] }, ['Patient.link[0].type']],
  ['Patient', { photo: [{ data: '@@', contentType: 'image/png' }] }, ['Patient.photo[0].data']],
  ['Patient', { extension: [{ valueString: 'a' }] }, ['Patient.extension[0].url']],
  [
    'Patient',
    { gender: 'x', active: 'yes', colour: 1 },
    ['Patient.gender', 'Patient.active', 'Patient.colour'],
  ],
  ['Encounter', { status: undefined, class: undefined }, ['Encounter.status', 'Encounter.class']],
  ['Encounter', { status: 'x' }, ['Encounter.status']],
  ['Encounter', { period: { start: '2026-03-02', end: '2026-03-01' } }, ['Encounter.period']],
  ['Encounter', { subject: { reference: 'Practitioner/1' } }, ['Encounter.subject']],
  ['Encounter', { location: [{ status: 'active' }] }, ['Encounter.location[0].location']],
  ['Location', { mode: 'x', status: 'y' }, ['Location.mode', 'Location.status']],
  ['Location', { position: { longitude: 1 } }, ['Location.position.latitude']],
  ['Practitioner', { qualification: [{ period: {} }] }, ['Practitioner.qualification[0]']],
  ['Practitioner', { name: [{ use: 'x' }] }, ['Practitioner.name[0].use']],
];

describe('a faulty resource is refused with every place, by create and by update alike', () => {
  test.each(FAULTS)('%s %j', async (type, members, places) => {
    const good = RESOURCES.find(({ resourceType }) => resourceType === type);
    const payload = JSON.stringify({ ...good, id: 'faulty', ...members });
    for (const probe of [
      { method: 'POST', url: `/${type}`, payload },
      { method: 'PUT', url: `/${type}/faulty`, payload },
    ] as const) {
      const response = await ask(probe);
      expect(response.statusCode).toBe(400);
      const told = issuesOf(response).map(([, , place]) => place ?? '');
      for (const place of places)
        expect(
          told.some((one) => one.startsWith(place)),
          `${place} in ${told.join()}`,
        ).toBe(true);
    }
    expect((await ask({ method: 'GET', url: `/${type}/faulty` })).statusCode).toBe(404);
  });
});
