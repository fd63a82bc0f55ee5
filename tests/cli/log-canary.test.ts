import { connect } from 'node:net';
import type { AddressInfo } from 'node:net';
import type { InjectOptions } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { openExamService } from '../http/exam-service.js';
import type { ExamService } from '../http/exam-service.js';
import { examOf, NURSE, PATIENT } from '../http/invented-ward.js';

/** Stands in every place where a patient's data can: in text, in names, in numbers. */
const CANARY = 'zzcanary';
const CANARY_NUMBER = '31415926.5358';
const CANARY_DATE = '1931-04-15';
const AT = '2026-03-05T13:10:00Z';

let service: ExamService;
beforeAll(async () => {
  service = await openExamService();
});
afterAll(() => service.drop());

/** The lines that hold a canary as text, escaped, encoded, or as the bytes of a buffer. */
function linesWithCanary(lines: readonly string[]): readonly string[] {
  const marks = [CANARY, CANARY_NUMBER, CANARY_DATE].flatMap((mark) => [
    mark,
    [...Buffer.from(mark)].join(','),
    Buffer.from(mark).toString('base64').slice(0, -3),
    Buffer.from(mark).toString('hex'),
  ]);
  return lines.filter((line) => marks.some((mark) => line.toLowerCase().includes(mark.toLowerCase())));
}

type Parts = Readonly<Record<string, unknown>>;

const canaryPatient = {
  resourceType: 'Patient',
  id: `${CANARY}-id`,
  identifier: [{ system: `http://example.org/${CANARY}`, value: `${CANARY}-mrn` }],
  name: [{ family: CANARY, given: [CANARY], text: CANARY }],
  birthDate: CANARY_DATE,
  telecom: [{ system: 'phone', value: CANARY }],
  address: [{ line: [CANARY], city: CANARY }],
};

const namedByCanary: Parts = {
  patient: {
    identifier: canaryPatient.identifier[0],
    readBack: { name: CANARY, birthDate: CANARY_DATE },
  },
};

/** A document with the canary in every place of free words. */
const canaryWords: Parts = {
  ...namedByCanary,
  note: CANARY,
  lateReason: CANARY,
  precautions: [CANARY, { precaution: CANARY, side: 'left', note: CANARY }],
  findings: [
    {
      ...{ joint: 'knee', side: 'left', look: { swelling: { value: 'moderate', describe: CANARY } } },
      ...{ describe: CANARY, typed: CANARY },
    },
  ],
  notAssessed: [{ joints: ['hip'], sides: 'both', aspects: ['range'], reason: 'privacy', note: CANARY }],
};

const FAULTY: readonly Parts[] = [
  { findings: [{ joint: CANARY, side: CANARY, look: { [CANARY]: CANARY } }] },
  { findings: [{ joint: 'knee', side: 'left', movement: CANARY, degrees: CANARY }] },
  { findings: [{ joint: 'knee', side: 'left', look: { swelling: CANARY }, feel: { [CANARY]: 'warmer' } }] },
  {
    findings: [
      { measure: CANARY, value: CANARY, unit: CANARY },
      { screen: CANARY, result: CANARY },
    ],
  },
  { findings: [{ [CANARY]: CANARY }] },
  { findings: CANARY, notAssessed: CANARY, asExpected: CANARY, onBody: CANARY, absent: CANARY },
  { performedAt: CANARY, type: CANARY, positions: [CANARY], confirmed: [CANARY], ward: CANARY },
  { performedAt: `${CANARY_DATE}T10:00:00Z` },
  { examiner: { identifier: { system: CANARY, value: CANARY }, role: CANARY }, recorder: CANARY },
  { patient: { identifier: { system: CANARY, value: CANARY }, readBack: { name: CANARY } } },
  {
    patient: {
      identifier: PATIENT.identifier,
      readBack: { name: CANARY, birthDate: CANARY_DATE },
    },
  },
  { [CANARY]: CANARY },
];

const BROKEN = [
  `{"note": "${CANARY}"`,
  CANARY,
  `{"${CANARY}": 1, "${CANARY}": 2}`,
  `{"note": "${CANARY}\\u0000"}`,
  `{"__proto__": "${CANARY}"}`,
  `[${CANARY_NUMBER}, "${CANARY}"]`,
  `"${CANARY}`.repeat(50_000),
  `{"note":"${CANARY.repeat(300_000)}"}`,
];

const json = { 'content-type': 'application/json' };
const fhirJson = { 'content-type': 'application/fhir+json' };
const form = { 'content-type': 'application/x-www-form-urlencoded' };

function post(url: string, payload: string | object, headers: Record<string, string> = json): InjectOptions {
  return {
    ...{ method: 'POST', url, headers },
    payload: typeof payload === 'string' ? payload : JSON.stringify(payload),
  };
}

function put(url: string, payload: string | object, headers: Record<string, string> = json): InjectOptions {
  return { ...post(url, payload, headers), method: 'PUT' };
}

/** Requests of every door with the canary in address, head and body. */
function requests(): readonly InjectOptions[] {
  const draft = { examiner: NURSE, ...canaryWords };
  const search = `patient=${CANARY}&code=${CANARY}|${CANARY}&date=${CANARY_DATE}&status=${CANARY}&_id=${CANARY}`;
  return [
    put(`/fhir/Patient/${CANARY}-id`, canaryPatient, fhirJson),
    ...[examOf('good', AT, canaryWords), examOf(CANARY, AT, canaryWords)].flatMap((document) => [
      post('/exams', document),
      post('/exams', document),
      post('/exams', { ...document, note: `${CANARY} again` }),
      post('/exams/check', document),
    ]),
    ...FAULTY.flatMap((parts, index) => {
      const document = examOf(`faulty-${index}`, AT, { ...namedByCanary, ...parts });
      return [post('/exams', document), post('/exams/check', document)];
    }),
    ...BROKEN.flatMap((body) => [
      post('/exams', body),
      post('/exams/check', body),
      put(`/drafts/${CANARY}-broken`, body),
      put(`/fhir/Patient/${CANARY}-id`, body, fhirJson),
      post('/fhir/Patient', body, fhirJson),
      post('/exams', body, { 'content-type': CANARY }),
    ]),
    ...['corrections', 'withdrawals', 'addenda'].flatMap((change) => [
      post(`/exams/${CANARY}/${change}`, { by: NURSE, why: CANARY, note: CANARY }),
      post(`/exams/${CANARY}/${change}`, CANARY),
    ]),
    put(`/drafts/${CANARY}-draft`, draft),
    put(`/drafts/${CANARY}-other`, { ...draft, clientId: CANARY }),
    put(`/drafts/${CANARY}-nobody`, { note: CANARY }),
    ...[
      `/drafts/${CANARY}-draft`,
      `/drafts?author=${CANARY}|${CANARY}&ward=${CANARY}`,
      `/drafts?author=${CANARY}`,
    ],
    { method: 'DELETE', url: `/drafts/${CANARY}-draft` },
    ...[`/exams/${CANARY}`, `/patients/${CANARY}-id/trends?item=${CANARY}&side=${CANARY}`],
    ...[`/patients/${CANARY}/trends`, `/patients/${CANARY}-id/trends?observations=${CANARY}&${CANARY}=1`],
    ...[
      `/fhir/Patient/${CANARY}-id`,
      `/fhir/Patient/${CANARY}-id/_history`,
      `/fhir/Patient/${CANARY}-id/_history/9`,
    ],
    ...[`/fhir/Patient?name=${CANARY}&birthdate=${CANARY_DATE}&identifier=${CANARY}|${CANARY}`],
    ...[`/fhir/Observation?${search}`, `/fhir/Observation?${CANARY}=${CANARY}`, `/fhir/${CANARY}?${CANARY}`],
    post('/fhir/Observation/_search', search, form),
    post(`/fhir/Patient/_search?name=${CANARY}`, `identifier=${CANARY}&${CANARY}=${CANARY_NUMBER}`, form),
    put(`/fhir/Patient/${CANARY}-id`, { ...canaryPatient, birthDate: CANARY, gender: CANARY }, fhirJson),
    put(`/fhir/Patient/${CANARY}-other`, canaryPatient, fhirJson),
    put(`/fhir/Patient/${CANARY}-id`, canaryPatient, { ...fhirJson, 'if-match': CANARY }),
    post('/fhir/Patient', { ...canaryPatient, [CANARY]: CANARY }, { ...fhirJson, 'if-none-exist': CANARY }),
    ...[
      `/${CANARY}`,
      `/%zz${CANARY}`,
      `/exams/${CANARY.repeat(50)}`,
      `/docs/${CANARY}`,
      `/docs/static/${CANARY}`,
    ],
    { method: 'GET', url: '/fhir/Patient', headers: { accept: CANARY, prefer: CANARY, cookie: CANARY } },
    {
      method: 'PATCH',
      url: `/fhir/Patient/${CANARY}`,
      headers: { 'x-request-id': CANARY, 'request-id': CANARY },
    },
    { method: 'OPTIONS', url: `/${CANARY}`, headers: { origin: `http://${CANARY}.example` } },
  ].map((request) => (typeof request === 'string' ? { method: 'GET', url: request } : request));
}

describe('the log, from level trace up', () => {
  it('holds nothing of a patient after requests of every kind, answered and refused', async () => {
    const statuses = new Set<number>();
    for (const request of requests()) statuses.add((await service.app.inject(request)).statusCode);
    for (const status of [200, 201, 204, 400, 404, 409, 413, 415, 422]) expect(statuses).toContain(status);
    expect(linesWithCanary(service.log)).toEqual([]);
  });

  it('has a line for each request that names the route by its pattern', async () => {
    const before = service.log.length;
    await service.app.inject(`/exams/${CANARY}`);
    const [line] = service.log.slice(before).map((text) => JSON.parse(text) as Record<string, unknown>);
    expect(line).toMatchObject({ method: 'GET', route: '/exams/:id', status: 404 });
  });

  it('tells of a fault of the service where it was, and nothing of the row that the database refused', async () => {
    const before = service.log.length;
    // The database's message quotes the whole row that fails such a check.
    await service.db.query({ text: `alter table exam add constraint never check (patient = '') not valid` });
    await service.db.query({ text: `alter table draft add constraint never check (ward = '') not valid` });
    await service.db.query({ text: `alter table resource add constraint never check (key < 0) not valid` });
    const draft = { ...canaryWords, examiner: NURSE, ward: CANARY };
    const refused = [
      post('/exams', examOf(`${CANARY}-fails`, AT, canaryWords)),
      put(`/drafts/${CANARY}-fails`, draft),
      put(`/fhir/Patient/${CANARY}-fails`, { ...canaryPatient, id: `${CANARY}-fails` }, fhirJson),
    ];
    for (const request of refused) {
      const response = await service.app.inject(request);
      expect([request.url, response.statusCode]).toEqual([request.url, 500]);
      expect(response.body.toLowerCase()).not.toContain(CANARY);
    }
    const lines = service.log.slice(before);
    expect(linesWithCanary(lines)).toEqual([]);
    const told = lines
      .filter((line) => line.includes('request failed'))
      .map((line) => JSON.parse(line) as object);
    // 23514: check_violation (PostgreSQL, appendix A)
    expect(told).toHaveLength(refused.length);
    for (const line of told) expect(line).toMatchObject({ level: 50, cause: { code: '23514' } });
  });

  it('holds nothing of what is no HTTP, or of a request that ends early', async () => {
    await service.app.listen({ host: '127.0.0.1', port: 0 });
    const { port } = service.app.server.address() as AddressInfo;
    const head = (length: number): string =>
      `POST /exams?${CANARY} HTTP/1.1\r\nHost: x\r\nContent-Type: application/json\r\nContent-Length: ${length}\r\n\r\n`;
    const raw = [
      `${CANARY} ${CANARY} ${CANARY}\r\n\r\n`,
      `GET /exams/${CANARY} HTTP/1.1\r\nHost: x\r\n${CANARY} : ${CANARY}\r\n\r\n`,
      `GET /${CANARY.repeat(4000)} HTTP/1.1\r\nHost: x\r\n\r\n`,
      `${head(500)}{"note": "${CANARY}`,
      `POST /exams HTTP/1.1\r\nHost: x\r\nTransfer-Encoding: chunked\r\n\r\nzz${CANARY}\r\n`,
    ];
    for (const text of raw) await sendRaw(port, text);
    expect(linesWithCanary(service.log)).toEqual([]);
  });
});

/** Sends a text as it is, says that no more will come, and waits until the connection is closed. */
async function sendRaw(port: number, text: string): Promise<void> {
  await new Promise<void>((resolve) => {
    const socket = connect(port, '127.0.0.1', () => socket.end(text));
    socket
      .on('error', () => undefined)
      .on('close', () => {
        resolve();
      });
    socket.resume();
  });
}

describe('the search for canaries, seen to find', () => {
  it.each([
    ['as text', JSON.stringify({ note: CANARY })],
    ['in capitals', JSON.stringify({ note: CANARY.toUpperCase() })],
    ['as a buffer', JSON.stringify({ packet: Buffer.from(`GET /${CANARY}`) })],
    ['as base64', JSON.stringify({ packet: Buffer.from(CANARY).toString('base64') })],
  ])('finds one %s', (_how, line) => {
    expect(linesWithCanary([line, '{}'])).toEqual([line]);
  });
});
