import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import type { CapabilityStatement, Patient, StructureDefinition } from 'fhir/r4.js';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { BASE, bundleOf, idsOf, issuesOf, openFhirService } from './fhir-service.js';
import type { FhirService } from './fhir-service.js';

let service: FhirService;
beforeAll(async () => {
  service = await openFhirService();
});
afterAll(async () => {
  await service.drop();
});

type Headers = Record<string, string>;

const get = (url: string, headers: Headers = {}) => service.app.inject({ url: `/fhir${url}`, headers });
const send = (
  method: 'POST' | 'PUT' | 'PATCH' | 'DELETE',
  url: string,
  payload?: object | string,
  headers: Headers = {},
) =>
  service.app.inject({
    method,
    url: `/fhir${url}`,
    headers: { 'content-type': 'application/fhir+json', ...headers },
    ...(payload === undefined
      ? {}
      : { payload: typeof payload === 'string' ? payload : JSON.stringify(payload) }),
  });

const patient = (members: object = {}): object => ({
  resourceType: 'Patient',
  name: [{ family: 'Zzdunmoor' }],
  // With a narrative, whose lack is remarked on (R4 domainresource, dom-6).
  text: { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Zzdunmoor</div>' },
  ...members,
});

async function createPatient(members: object = {}): Promise<string> {
  const response = await send('POST', '/Patient', patient(members));
  expect(response.statusCode).toBe(201);
  return response.json<Patient>().id ?? '';
}

describe('a create (R4 http, create)', () => {
  test('gives a new id, the first version, and says where it is', async () => {
    const response = await send('POST', '/Patient', patient({ id: 'sent', meta: { versionId: '9' } }));
    expect(response.statusCode).toBe(201);
    const { id, meta } = response.json<Patient>();
    expect(id).not.toBe('sent');
    expect(meta).toEqual({ versionId: '1', lastUpdated: '2026-03-05T13:10:00.000Z' });
    expect(response.headers).toMatchObject({
      location: `${BASE}/Patient/${id ?? ''}/_history/1`,
      etag: 'W/"1"',
      'last-modified': 'Thu, 05 Mar 2026 13:10:00 GMT',
      'content-type': 'application/fhir+json; charset=utf-8',
    });
  });

  test('answers with nothing or an outcome when the client prefers it', async () => {
    const minimal = await send('POST', '/Patient', patient(), { prefer: 'return=minimal' });
    expect([minimal.statusCode, minimal.body]).toEqual([201, '']);
    expect(minimal.headers.location).toContain(`${BASE}/Patient/`);
    const outcome = await send('POST', '/Patient', patient(), { prefer: 'return=OperationOutcome' });
    expect(issuesOf(outcome)).toEqual([['information', 'informational', undefined]]);
  });

  test('keeps the digits and the text as they were sent', async () => {
    const text = `{"resourceType":"Location","name":"Zoë \\u2713 6E","position":{"longitude":-71.50,"latitude":42.0}}`;
    const created = await send('POST', '/Location', text);
    const read = await get(`/Location/${created.json<{ id: string }>().id}`);
    expect(read.body).toContain('"longitude":-71.50,"latitude":42.0');
    expect(read.body).toContain('Zoë ✓ 6E');
  });

  test('of an invalid resource stores nothing and names every fault with its place', async () => {
    const response = await send(
      'POST',
      '/Patient',
      patient({ gender: 'x', birthDate: '2024-02-30', colour: 'red' }),
    );
    expect(response.statusCode).toBe(400);
    expect(
      issuesOf(response)
        .map(([, , place]) => place)
        .sort(),
    ).toEqual(['Patient.birthDate', 'Patient.colour', 'Patient.gender']);
  });

  test.each([
    ['that is not JSON', '{"resourceType":"Patient",', 400],
    ['that names a member twice', '{"resourceType":"Patient","id":"a","id":"b"}', 400],
    ['that is no object', '[]', 400],
    ['that is empty', '', 400],
    ['of another type', '{"resourceType":"Location"}', 400],
    ['that nests without end', `{"resourceType":"Patient","extension":${'['.repeat(10_000)}`, 400],
    ['larger than 2 MiB', `{"resourceType":"Patient","id":"${'a'.repeat(2 * 1024 * 1024)}"}`, 413],
  ])('of a body %s is refused with an outcome', async (_name, payload, status) => {
    const response = await send('POST', '/Patient', payload);
    expect(response.statusCode).toBe(status);
    expect(response.headers['content-type']).toBe('application/fhir+json; charset=utf-8');
    expect(response.json()).toMatchObject({ resourceType: 'OperationOutcome' });
  });

  test('tells line and column of a fault in the text', async () => {
    const response = await send('POST', '/Patient', '{"resourceType":"Patient",\n "active": tru}');
    expect(response.json<{ issue: { diagnostics: string }[] }>().issue[0]?.diagnostics).toContain('Line 2');
  });

  test('reads UTF-8 alone, and JSON alone', async () => {
    const bytes = Buffer.from([...Buffer.from('{"resourceType":"Patient","id":"'), 0xe9, 0x22, 0x7d]);
    const inject = (payload: Buffer | string, headers: Headers) =>
      service.app.inject({ method: 'POST', url: '/fhir/Patient', payload, headers });
    expect((await inject(bytes, { 'content-type': 'application/json' })).statusCode).toBe(400);
    const latin = { 'content-type': 'application/json; charset=iso-8859-1' };
    expect((await inject('{}', latin)).statusCode).toBe(415);
    expect((await inject('<Patient/>', { 'content-type': 'application/fhir+xml' })).statusCode).toBe(415);
    expect((await inject('a=b', { 'content-type': 'application/x-www-form-urlencoded' })).statusCode).toBe(
      415,
    );
    const zipped = { 'content-type': 'application/json', 'content-encoding': 'gzip' };
    expect((await inject('{}', zipped)).statusCode).toBe(415);
  });

  test('under a condition, which is not offered, stores nothing', async () => {
    const before = bundleOf(await get('/Patient?_summary=count')).total;
    const response = await send('POST', '/Patient', patient(), { 'if-none-exist': 'identifier=x' });
    expect(response.statusCode).toBe(400);
    expect(bundleOf(await get('/Patient?_summary=count')).total).toBe(before);
  });
});

describe('a read (R4 http, read and vread)', () => {
  test('gives the present version with its tag, and nothing new to a reader who has it', async () => {
    const id = await createPatient();
    const response = await get(`/Patient/${id}`);
    expect([response.statusCode, response.headers.etag]).toEqual([200, 'W/"1"']);
    expect(response.json<Patient>().id).toBe(id);
    expect((await get(`/Patient/${id}`, { 'if-none-match': 'W/"1"' })).statusCode).toBe(304);
    expect((await get(`/Patient/${id}`, { 'if-none-match': 'W/"2"' })).statusCode).toBe(200);
    const modified = response.headers['last-modified'] ?? '';
    expect((await get(`/Patient/${id}`, { 'if-modified-since': modified })).statusCode).toBe(304);
    const earlier = 'Thu, 05 Mar 2026 13:09:59 GMT';
    expect((await get(`/Patient/${id}`, { 'if-modified-since': earlier })).statusCode).toBe(200);
  });

  test('gives each version that ever was', async () => {
    const id = await createPatient();
    await send('PUT', `/Patient/${id}`, patient({ id, active: true }));
    const first = await get(`/Patient/${id}/_history/1`);
    expect(first.json<Patient>()).toMatchObject({ id, meta: { versionId: '1' } });
    expect(first.json<Patient>().active).toBeUndefined();
    expect((await get(`/Patient/${id}/_history/2`)).json<Patient>().active).toBe(true);
    for (const version of ['3', '0', 'x', '1e1', '99999999999']) {
      expect((await get(`/Patient/${id}/_history/${version}`)).statusCode).toBe(404);
    }
  });

  test('of a deleted resource is gone, but for its earlier versions', async () => {
    const id = await createPatient();
    const { transact, writeResources } = await import('../../src/store/index.js');
    await transact(service.db, (tx) =>
      writeResources(tx, [{ method: 'delete', type: 'Patient', id }], { at: service.clock.now }),
    );
    const response = await get(`/Patient/${id}`);
    expect(response.statusCode).toBe(410);
    expect(issuesOf(response)).toEqual([['error', 'deleted', undefined]]);
    expect((await get(`/Patient/${id}/_history/2`)).statusCode).toBe(410);
    expect((await get(`/Patient/${id}/_history/1`)).statusCode).toBe(200);
    const history = bundleOf(await get(`/Patient/${id}/_history`));
    expect(history.entry?.map(({ request }) => request?.method)).toEqual(['DELETE', 'POST']);
    expect(idsOf(bundleOf(await get(`/Patient?_id=${id}`)))).toEqual([]);
  });

  test('of what is not there is 404, whatever the id looks like', async () => {
    for (const id of [
      'none',
      'a'.repeat(300),
      'a_b',
      '%00',
      '%F0%9F%A6%B4',
      '..%2F..%2Fetc',
      "' or 1=1 --",
    ]) {
      const response = await get(`/Patient/${id.replaceAll(' ', '%20')}`);
      expect([id, response.statusCode]).toEqual([id, 404]);
      expect(response.json()).toMatchObject({ resourceType: 'OperationOutcome' });
    }
  });

  test('tells ids apart by case (R4 http: ids are case sensitive)', async () => {
    await send('PUT', '/Patient/AbC', patient({ id: 'AbC' }));
    expect((await get('/Patient/AbC')).statusCode).toBe(200);
    expect((await get('/Patient/abc')).statusCode).toBe(404);
  });

  test('answers HEAD with the headers alone', async () => {
    const id = await createPatient();
    const response = await service.app.inject({ method: 'HEAD', url: `/fhir/Patient/${id}` });
    expect([response.statusCode, response.headers.etag, response.body]).toEqual([200, 'W/"1"', '']);
  });
});

describe('an update (R4 http, update)', () => {
  test('makes the next version, or the first of an id that was not known', async () => {
    const created = await send('PUT', '/Patient/own-1', patient({ id: 'own-1' }));
    expect([created.statusCode, created.headers.etag]).toEqual([201, 'W/"1"']);
    expect(created.headers.location).toBe(`${BASE}/Patient/own-1/_history/1`);
    const updated = await send('PUT', '/Patient/own-1', patient({ id: 'own-1', active: true }));
    expect([updated.statusCode, updated.headers.etag]).toEqual([200, 'W/"2"']);
  });

  test.each([
    ['missing', {}],
    ['another', { id: 'own-3' }],
  ])('whose id in the body is %s is refused', async (_name, members) => {
    const response = await send('PUT', '/Patient/own-2', patient(members));
    expect(response.statusCode).toBe(400);
    expect(issuesOf(response)).toEqual([['error', 'value', 'Patient.id']]);
    expect((await get('/Patient/own-2')).statusCode).toBe(404);
  });

  test('of a version that is no longer the present one is refused, so that no change is lost', async () => {
    const id = await createPatient();
    const put = (version: string) => send('PUT', `/Patient/${id}`, patient({ id }), { 'if-match': version });
    expect((await put('W/"1"')).statusCode).toBe(200);
    expect((await put('W/"1"')).statusCode).toBe(412);
    expect((await put('"2"')).statusCode).toBe(200);
    expect((await put('W/"two"')).statusCode).toBe(400);
    const unknown = await send('PUT', '/Patient/own-4', patient({ id: 'own-4' }), { 'if-match': 'W/"1"' });
    expect(unknown.statusCode).toBe(412);
  });

  test('of two at once with the same If-Match lets one through', async () => {
    const id = await createPatient();
    const put = () => send('PUT', `/Patient/${id}`, patient({ id }), { 'if-match': 'W/"1"' });
    const statuses = (await Promise.all([put(), put(), put(), put()])).map(({ statusCode }) => statusCode);
    expect(statuses.sort()).toEqual([200, 412, 412, 412]);
  });

  test('with If-None-Match: * only creates', async () => {
    const put = () => send('PUT', '/Patient/own-5', patient({ id: 'own-5' }), { 'if-none-match': '*' });
    expect((await put()).statusCode).toBe(201);
    expect((await put()).statusCode).toBe(412);
  });

  test('to an id that FHIR does not allow is refused', async () => {
    expect((await send('PUT', '/Patient/a_b', patient({ id: 'a_b' }))).statusCode).toBe(400);
    const long = 'a'.repeat(65);
    expect((await send('PUT', `/Patient/${long}`, patient({ id: long }))).statusCode).toBe(400);
  });
});

describe('the history of an instance (R4 http, history)', () => {
  test('is told newest first, in pages that never exceed _count', async () => {
    const id = await createPatient();
    for (let version = 2; version <= 5; version += 1) await send('PUT', `/Patient/${id}`, patient({ id }));
    const pages: string[][] = [];
    let next: string | undefined = `/Patient/${id}/_history?_count=2`;
    while (next !== undefined) {
      const page = bundleOf(await get(next));
      pages.push((page.entry ?? []).map(({ response }) => response?.etag ?? ''));
      next = page.link?.find(({ relation }) => relation === 'next')?.url.replace(BASE, '');
    }
    expect(pages).toEqual([['W/"5"', 'W/"4"'], ['W/"3"', 'W/"2"'], ['W/"1"']]);
    expect(bundleOf(await get(`/Patient/${id}/_history`)).total).toBe(5);
    expect(bundleOf(await get(`/Patient/${id}/_history?_count=0`)).entry).toBeUndefined();
  });

  test('since an instant leaves out what is older', async () => {
    const id = await createPatient();
    service.clock.now = new Date('2026-03-06T00:00:00Z');
    await send('PUT', `/Patient/${id}`, patient({ id }));
    service.clock.now = new Date('2026-03-05T13:10:00Z');
    const history = bundleOf(await get(`/Patient/${id}/_history?_since=2026-03-06T00:00:00Z`));
    expect(history.entry?.map(({ response }) => response?.etag)).toEqual(['W/"2"']);
    expect(history.total).toBeUndefined();
  });

  test('of what is not there is 404, and a bad parameter is told with its place', async () => {
    expect((await get('/Patient/none/_history')).statusCode).toBe(404);
    const response = await get('/Patient/none/_history?_count=x&_since=yesterday');
    expect(response.statusCode).toBe(400);
    expect(issuesOf(response).map(([, , place]) => place)).toEqual(['http._count', 'http._since']);
  });
});

describe('a place that has no door', () => {
  test.each([
    ['GET', '/Basic/1', 404],
    ['GET', '/patient/1', 404],
    ['GET', '/', 404],
    ['GET', '', 404],
    ['GET', '/Patient/1/2/3', 404],
    ['GET', '/Patient/_history', 404],
    ['GET', '/$export', 404],
    ['POST', '/Provenance', 405],
    ['PUT', '/Provenance/1', 405],
    ['POST', '/Bundle', 404],
    ['GET', '/Patient/$everything', 404],
    ['GET', '/Patient/$validate', 405],
    ['DELETE', '/Patient/1', 405],
    ['PATCH', '/Patient/1', 405],
    ['PUT', '/Patient?identifier=1', 405],
    ['DELETE', '/metadata', 405],
    ['POST', '/StructureDefinition', 405],
  ] as const)('%s %s is %i with an outcome', async (method, url, status) => {
    const response = await service.app.inject({
      method,
      url: `/fhir${url}`,
      ...(method === 'GET'
        ? {}
        : { payload: '{}', headers: { 'content-type': 'application/json-patch+json' } }),
    });
    expect(response.statusCode).toBe(status);
    expect(response.json()).toMatchObject({ resourceType: 'OperationOutcome' });
  });

  test('tells which methods are offered (RFC 9110, 15.5.6)', async () => {
    expect((await send('DELETE', '/Patient/1')).headers.allow).toBe('GET, HEAD, PUT');
    expect((await send('PUT', '/Patient', '{}')).headers.allow).toBe('GET, HEAD, POST');
    expect((await send('POST', '/Provenance', '{}')).headers.allow).toBe('GET, HEAD');
    expect((await get('/Patient/$validate')).headers.allow).toBe('POST');
    expect((await send('DELETE', '/Patient/1/$validate')).headers.allow).toBe('GET, HEAD, POST');
  });
});

describe('the format of an answer (R4 http, content types)', () => {
  test.each([
    [{}, '', 200],
    [{ accept: 'application/json' }, '', 200],
    [{ accept: 'text/html,application/xhtml+xml,*/*;q=0.8' }, '', 200],
    [{ accept: 'application/fhir+xml' }, '', 406],
    [{ accept: 'application/fhir+xml' }, '?_format=json', 200],
    [{ accept: 'application/fhir+json;q=0' }, '', 406],
    [{}, '?_format=application/fhir+json', 200],
    [{}, '?_format=xml', 406],
  ])('with %j%s is %i', async (headers, query, status) => {
    const response = await get(`/metadata${query}`, headers);
    expect(response.statusCode).toBe(status);
    expect(response.headers['content-type']).toBe('application/fhir+json; charset=utf-8');
  });
});

describe('the statement of capabilities', () => {
  test('is tagged, and unchanged for a reader who has it', async () => {
    const response = await get('/metadata');
    const statement = response.json<CapabilityStatement>();
    expect(statement).toMatchObject({
      fhirVersion: '4.0.1',
      kind: 'instance',
      implementation: { url: BASE },
    });
    expect((await get('/metadata', { 'if-none-match': response.headers.etag ?? '' })).statusCode).toBe(304);
  });

  test('names each parameter of a type once, with the definition it has (R4, cpb-12)', async () => {
    const statement = (await get('/metadata')).json<CapabilityStatement>();
    for (const { type, searchParam } of statement.rest?.[0]?.resource ?? []) {
      expect(new Set(searchParam?.map(({ name }) => name)).size, type).toBe(searchParam?.length ?? 0);
      for (const { definition } of searchParam ?? []) expect(definition).toMatch(/^https?:\/\//);
    }
  });

  test('promises nothing that the doors do not do: each interaction and each parameter answers', async () => {
    const statement = (await get('/metadata')).json<CapabilityStatement>();
    const resources = statement.rest?.[0]?.resource ?? [];
    expect(resources.map(({ type }) => type)).toEqual(
      expect.arrayContaining(['Observation', 'Patient', 'Provenance']),
    );
    for (const { type, interaction, searchParam } of resources) {
      const codes = interaction?.map(({ code }) => code) ?? [];
      const probes = {
        read: `/${type}/none`,
        vread: `/${type}/none/_history/1`,
        'history-instance': `/${type}/none/_history`,
      };
      for (const [code, url] of Object.entries(probes)) {
        const { statusCode, body } = await get(url);
        expect(statusCode).toBe(404);
        expect(body.includes('is not known'), `${type} ${code}`).toBe(codes.includes(code as 'read'));
      }
      for (const [code, method, url] of [
        ['create', 'POST', `/${type}`],
        ['update', 'PUT', `/${type}/none`],
      ] as const) {
        const refused = codes.length === 0 ? 404 : 405;
        expect((await send(method, url, '[]')).statusCode, `${type} ${code}`).toBe(
          codes.includes(code) ? 400 : refused,
        );
      }
      for (const { name, type: kind } of searchParam ?? []) {
        const value = kind === 'date' ? '2026' : 'x';
        const found = await get(`/${type}?${name}=${value}`, { prefer: 'handling=strict' });
        expect(found.statusCode, `${type} ${name}`).toBe(200);
      }
    }
  });

  test('names definitions that are served here, where they are our own', async () => {
    const response = await get(
      '/SearchParameter?url=https://limbledger.example/fhir/SearchParameter/observation-body-site',
    );
    expect(bundleOf(response)).toMatchObject({ total: 1, entry: [{ resource: { code: '-body-site' } }] });
    const side = await get('/StructureDefinition/observation-structureLaterality');
    expect(side.json<StructureDefinition>().url).toBe(
      'http://hl7.org/fhir/StructureDefinition/observation-structureLaterality',
    );
    expect((await get('/ValueSet/none')).statusCode).toBe(404);
    expect((await get('/ValueSet?colour=red', { prefer: 'handling=strict' })).statusCode).toBe(400);
  });
});

test('an address that cannot be read is told as an outcome', async () => {
  for (const step of ['%zz', '%E0%A4%A', '%c0%af', 'a%']) {
    const response = await get(`/Patient/${step}`);
    expect(response.statusCode).toBe(400);
    expect(response.headers['content-type']).toBe('application/fhir+json; charset=utf-8');
    expect(issuesOf(response)).toEqual([['error', 'invalid', undefined]]);
    expect(response.body).not.toContain(step);
  }
});

describe('over a real socket', () => {
  test('a request with a broken URL or method is answered with 4xx and the service lives on', async () => {
    await service.app.listen({ host: '127.0.0.1', port: 0 });
    const { port } = service.app.server.address() as AddressInfo;
    const ask = (head: string): Promise<string> =>
      new Promise((resolve, reject) => {
        let answer = '';
        const socket = connect(port, '127.0.0.1', () =>
          socket.write(`${head}\r\nHost: x\r\nConnection: close\r\n\r\n`),
        );
        socket.on('data', (bytes) => (answer += bytes.toString()));
        socket.on('error', reject);
        socket.on('close', () => {
          resolve(answer.split('\r\n')[0] ?? '');
        });
      });
    expect(await ask('GET /fhir/Patient/%E0%A4%A HTTP/1.1')).toMatch(/^HTTP\/1.1 4\d\d/);
    expect(await ask('GET /fhir/Patient?name=%E0%A4%A HTTP/1.1')).toMatch(/^HTTP\/1.1 200/);
    expect(await ask('BREW /fhir/Patient HTTP/1.1')).toMatch(/^HTTP\/1.1 4\d\d/);
    const response = await fetch(`http://127.0.0.1:${port}/fhir/metadata`);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-type')).toBe('application/fhir+json; charset=utf-8');
  });
});

describe('the log', () => {
  test('holds no data of a patient, also when the database fails', async () => {
    await service.db.query({ text: 'alter table resource rename to resource_away' });
    const response = await get('/Patient/Zzsecret');
    await service.db.query({ text: 'alter table resource_away rename to resource' });
    expect(response.statusCode).toBe(500);
    expect(response.body).not.toContain('resource_away');
    const lines = JSON.stringify(service.log);
    expect(lines).toContain('42P01');
    expect(lines).toContain('/fhir/Patient/:id');
    expect(lines).not.toContain('Zzsecret');
    expect(lines).not.toContain('Zzdunmoor');
  });
});
