import type { LightMyRequestResponse } from 'fastify';
import type { Bundle, Observation, Provenance, Resource } from 'fhir/r4.js';
import { afterAll, beforeAll, describe, expect, it, test, vi } from 'vitest';
import type { z } from 'zod';
import {
  acceptedExam,
  checkedExam,
  clientIdTaken,
  draftList,
  refusal,
  standingExam,
  trends as trendsAnswer,
} from '../../src/http/answers.js';
import { transact } from '../../src/store/index.js';
import { ownConformance } from '../conformance.js';
import { issuesIn, openExamService, putResource, send } from './exam-service.js';
import type { ExamService } from './exam-service.js';
import { examOf, NURSE, PATIENT } from './invented-ward.js';

let service: ExamService;
beforeAll(async () => {
  service = await openExamService();
});
afterAll(() => service.drop());

const AT = '2026-03-05T13:10:00Z';
const BASE = 'http://127.0.0.1:7460/fhir';
const SNOMED = 'http://snomed.info/sct';
const LOINC = 'http://loinc.org';
const OWN = 'https://limbledger.example/fhir/CodeSystem';
const LATERALITY = 'http://hl7.org/fhir/StructureDefinition/observation-structureLaterality';

const KNEE_FLEXION = {
  ...{ joint: 'knee', side: 'left', movement: 'flexion', degrees: 95 },
  method: 'goniometer-long-arm',
} as const;
const KNEE_STRENGTH = { joint: 'knee', side: 'left', movement: 'flexion' } as const;
const GRIP = {
  ...{ measure: 'grip', side: 'right', trials: [20.5], unit: 'kg' },
  ...{ device: 'hydraulic', handlePosition: 2, dominant: true },
} as const;

type AcceptedExam = z.infer<typeof acceptedExam>;
type StandingExam = z.infer<typeof standingExam>;

/** An invented patient of the test's own, with a stay, so that tests do not see each other's exams. */
async function admit(name: string): Promise<{ readonly id: string; readonly patient: object }> {
  const id = `zz-${name}`;
  const identifier = { system: PATIENT.identifier.system, value: `TEST-7A-${name}` };
  const readBack = { name: `Zz${name}`, birthDate: '1960-02-03' };
  await putResource(service.app, {
    ...{ resourceType: 'Patient', id, identifier: [identifier] },
    ...{ name: [{ family: readBack.name }], birthDate: '1960-02-03' },
  });
  const stay = {
    ...{ resourceType: 'Encounter', id: `stay-${id}`, status: 'in-progress', class: { code: 'IMP' } },
    ...{ subject: { reference: `Patient/${id}` }, period: { start: '2026-03-01T08:00:00Z' } },
  };
  expect((await putResource(service.app, stay)).statusCode).toBe(201);
  return { id, patient: { identifier, readBack } };
}

async function take(document: object | string): Promise<AcceptedExam> {
  const response = await send(service, document);
  expect([response.statusCode, response.statusCode === 201 ? '' : response.body]).toEqual([201, '']);
  return acceptedExam.parse(response.json());
}

/** The id of the finding whose words are these. */
function idOf({ observations }: AcceptedExam, text: string): string {
  const found = observations.find((one) => one.text === text);
  expect(found, `${text} in ${observations.map((one) => one.text).join(', ')}`).toBeDefined();
  return found?.id ?? '';
}

const get = (url: string, headers: Record<string, string> = {}): Promise<LightMyRequestResponse> =>
  service.app.inject({ url, headers });
const read = async (id: string): Promise<Observation> =>
  (await get(`/fhir/Observation/${id}`)).json<Observation>();

async function standing(id: string): Promise<StandingExam> {
  const response = await get(`/exams/${id}`);
  expect(response.statusCode).toBe(200);
  return standingExam.parse(response.json());
}

/** Every match of a search, over all its pages. */
async function findAll(query: string): Promise<readonly Resource[]> {
  const found: Resource[] = [];
  let next: string | undefined = `/fhir/${query.replaceAll('|', '%7C')}`;
  while (next !== undefined) {
    const response = await get(next);
    expect([next, response.statusCode]).toEqual([next, 200]);
    const { entry = [], link = [] } = response.json<Bundle>();
    found.push(
      ...entry.flatMap(({ resource, search }) => (resource && search?.mode === 'match' ? [resource] : [])),
    );
    next = link.find(({ relation }) => relation === 'next')?.url.replace('http://127.0.0.1:7460', '');
  }
  return found;
}

const idsBy = async (query: string): Promise<readonly (string | undefined)[]> =>
  (await findAll(query)).map(({ id }) => id).sort();

async function change(
  exam: string,
  kind: 'corrections' | 'withdrawals' | 'addenda',
  parts: object,
): Promise<LightMyRequestResponse> {
  const request = { by: NURSE, why: 'Typed into the wrong row.', ...parts };
  return send(service, request, `/exams/${exam}/${kind}`);
}

const faultsOf = (response: LightMyRequestResponse): readonly string[] =>
  issuesIn(response)
    .filter(({ severity }) => severity === 'error')
    .map(({ code, place }) => `${code} ${place}`);

async function seriesOf(patient: string, query = ''): Promise<z.infer<typeof trendsAnswer>['series']> {
  const response = await get(`/patients/${patient}/trends${query}`);
  expect(response.statusCode).toBe(200);
  return trendsAnswer.parse(response.json()).series;
}

const valuesOf = (points: readonly { readonly value: number }[]): readonly number[] =>
  points.map(({ value }) => value);

describe('an exam that was taken in, read over FHIR', () => {
  let patient: string;
  let document: object;
  let exam: AcceptedExam;
  beforeAll(async () => {
    const admitted = await admit('found');
    patient = admitted.id;
    document = examOf('found', AT, { patient: admitted.patient });
    exam = await take(document);
  });

  it('is answered with where it is', async () => {
    const again = await send(service, document);
    expect([again.statusCode, again.headers['location']]).toEqual([200, `/exams/${exam.id}`]);
    expect(again.json()).toEqual(exam);
    expect(exam).toMatchObject({ patient, encounter: `stay-${patient}` });
  });

  it('is one panel that names every finding once, in the order of the answer', async () => {
    const panel = await read(exam.id);
    const members = panel.hasMember?.map(({ reference }) => reference);
    expect(members).toEqual(exam.observations.map(({ id }) => `Observation/${id}`));
    expect(new Set(members).size).toBe(exam.observations.length);
    expect(await idsBy(`Observation?patient=${patient}`)).toEqual(
      [exam.id, ...exam.observations.map(({ id }) => id)].sort(),
    );
  });

  test.each<[query: string, texts: readonly string[]]>([
    [`code=${LOINC}|83174-3`, ['right hand grip']],
    [`code=${OWN}/msk-observable|knee-flexion-active`, ['left knee flexion']],
    ['code=knee-look-feel', ['left knee']],
    [`category=${SNOMED}|364564000`, ['left knee flexion']],
    [`-body-site=${SNOMED}|82169009`, ['left knee', 'left knee flexion']],
    [
      `-body-site=${SNOMED}|82169009,${SNOMED}|78791008`,
      ['left knee', 'left knee flexion', 'right hand grip'],
    ],
    [`-laterality=${SNOMED}|24028007`, ['right shoulder', 'right hand grip', 'right hip']],
    [`-laterality=24028007&-body-site=${SNOMED}|78791008&status=final&category=exam`, ['right hand grip']],
    ['-laterality=7771000&code:not=knee-look-feel', ['left shoulder', 'left knee flexion', 'left hip']],
    ['data-absent-reason=not-performed', ['left hip', 'right hip']],
    ['data-absent-reason=privacy&-laterality=7771000', ['left hip']],
    ['status=corrected', []],
    ['encounter=nowhere', []],
  ])('is found by %s', async (query, texts) => {
    const expected = texts.map((text) => idOf(exam, text)).sort();
    expect(await idsBy(`Observation?patient=${patient}&${query}`)).toEqual(expected);
  });

  // R4 search, prefixes: the exam is one second, 2026-03-05T13:10:00Z.
  test.each([
    ['2026-03-05', true],
    ['eq2026-03-05T13:10:00Z', true],
    ['2026-03-05T08:10:00-05:00', true],
    ['2026-03-05T13:10:00-05:00', false],
    ['2026-03-05T13:10Z', true],
    ['2026', true],
    ['ne2026-03-05', false],
    ['ne2026-03-04', true],
    ['gt2026-03-04', true],
    ['gt2026-03-05', false],
    ['gt2026-03-05T13:09:59Z', true],
    ['gt2026-03-05T13:10:00Z', false],
    ['lt2026-03-06', true],
    ['lt2026-03-05T13:10:00Z', false],
    ['ge2026-03-05T13:10:00Z', true],
    ['ge2026-03-06', false],
    ['le2026-03-05T13:10:00Z', true],
    ['le2026-03-04', false],
    ['sa2026-03-04', true],
    ['sa2026-03-05', false],
    ['eb2026-03-06', true],
    ['eb2026-03-05', false],
    ['ap2026-03-05', true],
    ['ap2020', false],
  ])('is found by date=%s: %s', async (date, isFound) => {
    const found = await findAll(`Observation?patient=${patient}&date=${date}`);
    expect(found).toHaveLength(isFound ? exam.observations.length + 1 : 0);
  });

  it('is found by its encounter, its id, its panel and the staff, and whole in pages of any size', async () => {
    const all = [exam.id, ...exam.observations.map(({ id }) => id)].sort();
    expect(await idsBy(`Observation?encounter=Encounter/stay-${patient}`)).toEqual(all);
    expect(await idsBy(`Observation?_id=${all.join(',')}`)).toEqual(all);
    expect(await idsBy(`Observation?has-member=${idOf(exam, 'left knee')}`)).toEqual([exam.id]);
    expect(await idsBy(`Observation?patient=${patient}&performer=test-rn-01`)).toEqual(all);
    for (const count of [1, 2, 3, 7, 8, 9]) {
      for (const sort of ['', '&_sort=date', '&_sort=-_lastUpdated', '&_sort=_id']) {
        expect(await idsBy(`Observation?patient=${patient}&_count=${count}${sort}`)).toEqual(all);
      }
    }
  });

  // Codes: SNOMED CT 82169009 left knee region, 78791008 right hand, 7771000 left, 24028007 right.
  test.each([
    ['left knee flexion', '82169009', '7771000', 'left knee'],
    ['right hand grip', '78791008', '24028007', 'right hand'],
    ['left hip', '287679003', '7771000', 'left hip'],
    ['right shoulder', '91774008', '24028007', 'right shoulder'],
  ])('says the side of the %s alike in code, extension and words', async (text, site, side, words) => {
    const { bodySite } = await read(idOf(exam, text));
    expect(bodySite?.coding?.map(({ code }) => code)).toContain(site);
    expect(bodySite?.text).toBe(words);
    expect(bodySite?.extension).toHaveLength(1);
    expect(bodySite?.extension?.[0]).toMatchObject({
      url: LATERALITY,
      valueCodeableConcept: { coding: [{ system: SNOMED, code: side }] },
    });
  });

  it('says of what was not assessed why, in the standard code and in our own, and no value', async () => {
    const hip = await read(idOf(exam, 'left hip'));
    expect(hip.dataAbsentReason?.coding).toMatchObject([
      { system: 'http://terminology.hl7.org/CodeSystem/data-absent-reason', code: 'not-performed' },
      { system: `${OWN}/msk-not-done-reason`, code: 'privacy' },
    ]);
    expect(Object.keys(hip).filter((name) => name.startsWith('value'))).toEqual([]);
  });

  it('is witnessed by one Provenance of all its resources, with who and when', async () => {
    const provenances = (await findAll(`Provenance?target=Observation/${exam.id}`)) as readonly Provenance[];
    expect(provenances).toHaveLength(1);
    const [provenance] = provenances;
    expect(provenance?.target.map(({ reference }) => reference)).toEqual(
      [exam.id, ...exam.observations.map(({ id }) => id)].map((id) => `Observation/${id}/_history/1`),
    );
    expect(provenance?.activity?.coding?.[0]?.code).toBe('CREATE');
    expect(provenance?.agent[0]?.who).toMatchObject({
      reference: 'Practitioner/test-rn-01',
      identifier: NURSE.identifier,
    });
  });

  it('is given back as the document it was, by the words of the catalogue', async () => {
    const told = await standing(exam.id);
    expect(told).toMatchObject({
      status: 'final',
      clientId: 'found',
      performedAt: AT,
      changes: [],
      withdrawn: [],
    });
    const ids = [told.asExpected, told.findings, told.notAssessed].flatMap((list) =>
      ((list ?? []) as readonly { id?: string }[]).map(({ id }) => id),
    );
    expect(ids.sort()).toEqual(exam.observations.map(({ id }) => id).sort());
  });
});

it('a typed 30.50 is 30.50 to the byte wherever it is read', async () => {
  const { id, patient } = await admit('digits');
  const text = JSON.stringify(
    examOf('digits-1', AT, { patient, findings: [{ ...KNEE_FLEXION, degrees: 3050 }], notAssessed: [] }),
  ).replace('3050', '30.50');
  const exam = await take(text);
  const flexion = idOf(exam, 'left knee flexion');
  for (const url of [
    `/fhir/Observation/${flexion}`,
    `/fhir/Observation/${flexion}/_history/1`,
    `/fhir/Observation/${flexion}/_history`,
    `/fhir/Observation?_id=${flexion}`,
    `/patients/${id}/trends?item=knee.flexion`,
  ]) {
    expect((await get(url)).body, url).toContain('"value":30.50');
  }
  expect((await get(`/exams/${exam.id}`)).body).toContain('"degrees":30.50');
});

it('every resource that an exam and its changes write is valid R4', async () => {
  const { patient } = await admit('valid');
  const exam = await take(examOf('valid', AT, { patient }));
  const flexion = idOf(exam, 'left knee flexion');
  await change(exam.id, 'corrections', {
    replaces: [{ id: flexion, finding: { ...KNEE_FLEXION, degrees: 59 } }],
  });
  await change(exam.id, 'withdrawals', { withdraws: [idOf(exam, 'right hand grip')] });
  await change(exam.id, 'addenda', { note: 'Seen with the physiotherapist.' });
  const { validate } = ownConformance();
  const written = [
    ...(await findAll(`Observation?patient=zz-valid`)),
    ...(await findAll(`Provenance?target=Observation/${exam.id}`)),
  ];
  expect(written).toHaveLength(exam.observations.length + 1 + 4);
  for (const resource of written) {
    const faults = validate(resource, resource.resourceType).filter(
      ({ severity, rule }) => severity !== 'information' && rule !== 'dom-6',
    );
    expect(faults).toEqual([]);
  }
});

describe('a correction', () => {
  it('keeps the id, the version before and the history, and tells who, when and why', async () => {
    const { id: patientId, patient } = await admit('corrected');
    const exam = await take(examOf('corrected', AT, { patient }));
    const flexion = idOf(exam, 'left knee flexion');
    service.clock.now = new Date('2026-03-05T15:00:00Z');
    const response = await change(exam.id, 'corrections', {
      replaces: [{ id: flexion, finding: { ...KNEE_FLEXION, degrees: 59 } }],
    });
    expect(response.statusCode).toBe(200);
    const told = standingExam.parse(response.json());
    expect(told).toMatchObject({
      status: 'amended',
      changes: [{ kind: 'correction', by: NURSE, why: 'Typed into the wrong row.' }],
    });
    expect(Date.parse(told.changes[0]?.at ?? '')).toBe(Date.parse('2026-03-05T15:00:00Z'));
    expect(await standing(exam.id)).toEqual({ ...told, issues: undefined });

    expect(await read(flexion)).toMatchObject({
      ...{ status: 'corrected', meta: { versionId: '2' }, valueQuantity: { value: 59, code: 'deg' } },
      ...{ effectiveDateTime: AT },
    });
    const before = await get(`/fhir/Observation/${flexion}/_history/1`);
    expect(before.json()).toMatchObject({ status: 'final', valueQuantity: { value: 95 } });
    const history = (await get(`/fhir/Observation/${flexion}/_history`)).json<Bundle>();
    expect(history.entry?.map(({ response: told }) => told?.etag)).toEqual(['W/"2"', 'W/"1"']);
    expect(await read(exam.id)).toMatchObject({ status: 'amended', meta: { versionId: '2' } });
    expect((await read(idOf(exam, 'left knee'))).meta?.versionId).toBe('1');
    expect(await idsBy(`Observation?patient=${patientId}&status=corrected`)).toEqual([flexion]);

    const [series] = await seriesOf(patientId, '?item=knee.flexion');
    expect(series?.points).toMatchObject([{ value: 59, status: 'corrected' }]);
    service.clock.now = new Date('2026-03-05T14:00:00Z');
  });

  it('takes a movement out of "within expected limits" and leaves the rest of it', async () => {
    const { id: patientId, patient } = await admit('expected');
    const exam = await take(examOf('expected', AT, { patient }));
    const shoulder = idOf(exam, 'left shoulder');
    const finding = { joint: 'shoulder', side: 'left', movement: 'abduction', strength: 4 };
    const response = await change(exam.id, 'corrections', { replaces: [{ id: shoulder, finding }] });
    expect([response.statusCode, response.statusCode === 200 ? '' : response.body]).toEqual([200, '']);
    const { asExpected = [], findings = [] } = standingExam.parse(response.json());
    const covers = asExpected.find(({ id }) => id === shoulder)?.covers;
    expect(covers?.strength).not.toContain('shoulder.abduction');
    expect(covers?.range).toContain('shoulder.abduction');
    expect(findings).toContainEqual(expect.objectContaining({ movement: 'shoulder.abduction', strength: 4 }));
    const series = await seriesOf(patientId, '?item=shoulder.abduction&side=left&measure=strength');
    expect(series.flatMap(({ points }) => valuesOf(points))).toEqual([4]);
  });
});

describe('a withdrawal', () => {
  it('of one finding marks it entered in error, takes it out of the trend and keeps it in the history', async () => {
    const { id: patientId, patient } = await admit('withdrawn');
    const exam = await take(examOf('withdrawn', AT, { patient }));
    const grip = idOf(exam, 'right hand grip');
    expect(await seriesOf(patientId, '?item=grip')).toHaveLength(1);
    const response = await change(exam.id, 'withdrawals', { withdraws: [grip] });
    expect(response.statusCode).toBe(200);
    expect(standingExam.parse(response.json())).toMatchObject({
      status: 'amended',
      withdrawn: [
        { id: grip, text: 'right hand grip', finding: { measure: 'grip', trials: [20.5, 21, 20.5] } },
      ],
      changes: [{ kind: 'withdrawal' }],
    });
    expect(await seriesOf(patientId, '?item=grip')).toEqual([]);
    expect(await read(grip)).toMatchObject({ status: 'entered-in-error', meta: { versionId: '2' } });
    expect((await get(`/fhir/Observation/${grip}/_history/1`)).json()).toMatchObject({ status: 'final' });
    expect(await idsBy(`Observation?patient=${patientId}&status=entered-in-error`)).toEqual([grip]);
    expect(
      await idsBy(`Observation?patient=${patientId}&code=${LOINC}|83174-3&status:not=entered-in-error`),
    ).toEqual([]);
  });

  it('of all marks the exam itself, which then takes no more changes', async () => {
    const { id: patientId, patient } = await admit('all');
    const exam = await take(examOf('all', AT, { patient }));
    const response = await change(exam.id, 'withdrawals', { withdraws: 'all' });
    expect(response.statusCode).toBe(200);
    const told = standingExam.parse(response.json());
    expect(told.status).toBe('entered-in-error');
    expect(told.withdrawn).toHaveLength(exam.observations.length);
    expect(await seriesOf(patientId)).toEqual([]);
    expect(await idsBy(`Observation?patient=${patientId}&status:not=entered-in-error`)).toEqual([]);
    for (const [kind, parts] of [
      ['withdrawals', { withdraws: 'all' }],
      ['addenda', { note: 'More.' }],
      ['corrections', { replaces: [{ id: idOf(exam, 'left knee flexion'), finding: KNEE_FLEXION }] }],
    ] as const) {
      const again = await change(exam.id, kind, parts);
      expect(again.statusCode, kind).toBe(422);
      expect(
        refusal.parse(again.json()).issues.map(({ code }) => code),
        kind,
      ).toEqual(expect.arrayContaining([kind === 'corrections' ? 'finding-withdrawn' : 'exam-withdrawn']));
    }
  });
});

describe('an addendum', () => {
  it('adds findings and a note by anyone, in their own name', async () => {
    const { id: patientId, patient } = await admit('added');
    const exam = await take(examOf('added', AT, { patient }));
    const by = { identifier: { system: NURSE.identifier.system, value: 'TEST-PT-09' }, role: 'PT' };
    const response = await change(exam.id, 'addenda', {
      ...{ by, findings: [{ ...KNEE_FLEXION, side: 'right', degrees: 110 }], note: 'Both knees now.' },
    });
    expect([response.statusCode, response.statusCode === 200 ? '' : response.body]).toEqual([200, '']);
    const told = standingExam.parse(response.json());
    expect(told).toMatchObject({
      status: 'amended',
      addedNotes: [{ note: 'Both knees now.', by: { identifier: by.identifier } }],
      changes: [{ kind: 'addendum', by: { identifier: by.identifier } }],
    });
    const [added] = (await findAll(
      `Observation?patient=${patientId}&code=knee-flexion-active&-laterality=24028007`,
    )) as readonly Observation[];
    expect(added).toMatchObject({ status: 'final', effectiveDateTime: AT, valueQuantity: { value: 110 } });
    expect(added?.performer?.[0]?.identifier).toEqual(by.identifier);
    const panel = await read(exam.id);
    expect(panel.hasMember).toHaveLength(exam.observations.length + 1);
    expect(panel.hasMember?.at(-1)?.reference).toBe(`Observation/${added?.id ?? ''}`);
    expect(await seriesOf(patientId, '?item=knee.flexion&side=right')).toHaveLength(1);
  });
});

describe('a change that is refused changes nothing', () => {
  let exam: AcceptedExam;
  let flexion: string;
  beforeAll(async () => {
    exam = await take(examOf('refused', AT, { patient: (await admit('refused')).patient }));
    flexion = idOf(exam, 'left knee flexion');
  });
  const right = { ...KNEE_FLEXION, degrees: 59 };

  test.each<
    [
      what: string,
      kind: 'corrections' | 'withdrawals' | 'addenda',
      parts: (flexion: string) => object,
      faults: readonly string[],
    ]
  >([
    [
      'by a person whose finding it is not',
      'corrections',
      (id) => ({
        by: { ...NURSE, identifier: { ...NURSE.identifier, value: 'OTHER' } },
        replaces: [{ id, finding: right }],
      }),
      ['CR-03 /by'],
    ],
    [
      'of a finding that the exam has not',
      'corrections',
      () => ({ replaces: [{ id: 'none', finding: right }] }),
      ['unknown-finding /replaces/0/id'],
    ],
    [
      'of one finding twice',
      'corrections',
      (id) => ({
        replaces: [
          { id, finding: right },
          { id, finding: right },
        ],
      }),
      ['finding-twice /replaces/1/id'],
    ],
    [
      'into another thing',
      'corrections',
      (id) => ({ replaces: [{ id, finding: { ...right, side: 'right' } }] }),
      ['correction-of-another-thing /replaces/0/finding'],
    ],
    [
      'beyond what a joint can do',
      'corrections',
      (id) => ({ replaces: [{ id, finding: { ...right, degrees: 271 } }] }),
      ['VL-01 /replaces/0/finding/degrees'],
    ],
    [
      'without a reason',
      'corrections',
      (id) => ({ why: undefined, replaces: [{ id, finding: right }] }),
      ['missing /why'],
    ],
    ['of nothing', 'corrections', () => ({ replaces: [] }), ['empty /replaces']],
    ['of no list', 'withdrawals', () => ({ withdraws: 'some' }), ['wrong-type /withdraws']],
    [
      'by a person whose finding it is not',
      'withdrawals',
      (id) => ({
        by: { ...NURSE, identifier: { ...NURSE.identifier, value: 'OTHER' } },
        withdraws: [id],
      }),
      ['CR-03 /by'],
    ],
    [
      'of an unknown finding and one named twice',
      'withdrawals',
      (id) => ({ withdraws: ['none', id, id] }),
      ['unknown-finding /withdraws/0', 'finding-twice /withdraws/2'],
    ],
    ['of nothing', 'addenda', () => ({}), ['empty-addendum ']],
    [
      'with a member that is not known',
      'addenda',
      () => ({ note: 'a', colour: 'red' }),
      ['unknown-property /colour'],
    ],
  ])('%s (%s)', async (_what, kind, parts, faults) => {
    const before = await service.db.query({ text: 'select count(*) from change' });
    const response = await change(exam.id, kind, parts(flexion));
    expect(response.statusCode).toBe(422);
    refusal.parse(response.json());
    expect(faultsOf(response)).toEqual(faults);
    expect(await service.db.query({ text: 'select count(*) from change' })).toEqual(before);
  });

  it('of a finding that was withdrawn already', async () => {
    const other = await take(examOf('withdrawn-twice', AT, { patient: (await admit('twice')).patient }));
    const grip = idOf(other, 'right hand grip');
    expect((await change(other.id, 'withdrawals', { withdraws: [grip] })).statusCode).toBe(200);
    const again = await change(other.id, 'withdrawals', { withdraws: [grip] });
    expect([again.statusCode, ...faultsOf(again)]).toEqual([422, 'finding-withdrawn /withdraws/0']);
    const correction = await change(other.id, 'corrections', { replaces: [{ id: grip, finding: GRIP }] });
    expect([correction.statusCode, ...faultsOf(correction)]).toEqual([
      422,
      'finding-withdrawn /replaces/0/id',
    ]);
  });

  test.each(['corrections', 'withdrawals', 'addenda'] as const)(
    'that is no JSON, no object, or nothing at all (%s)',
    async (kind) => {
      const url = `/exams/${exam.id}/${kind}`;
      const broken = await send(service, '{"by": }', url);
      expect([broken.statusCode, ...faultsOf(broken)]).toEqual([422, 'json-syntax /by']);
      expect(faultsOf(await send(service, '[]', url))).toEqual(['wrong-type ']);
      const empty = await service.app.inject({ method: 'POST', url });
      expect([empty.statusCode, ...faultsOf(empty)]).toEqual([422, 'json-syntax ']);
    },
  );

  it('of no exam, and of what is an Observation and no exam', async () => {
    for (const id of ['none', flexion, '%00']) {
      expect((await change(id, 'addenda', { note: 'a' })).statusCode).toBe(404);
      expect((await get(`/exams/${id}`)).statusCode).toBe(404);
    }
  });
});

it('of changes that were made on the same exam one is taken and the others are told to read it again', async () => {
  const { patient } = await admit('at-once');
  const exam = await take(examOf('at-once', AT, { patient }));
  // Held until all three have read the exam and are about to write.
  const responses = await transact(service.db, async (tx) => {
    await tx.query({ text: 'select from resource where id = $1 for update', values: [exam.id] });
    const asked = ['one', 'two', 'three'].map((note) => change(exam.id, 'addenda', { note }));
    await vi.waitFor(async () => {
      expect(await countWaiting()).toBe(asked.length);
    });
    return { asked };
  }).then(({ asked }) => Promise.all(asked));
  const statuses = responses.map(({ statusCode }) => statusCode).sort();
  expect(statuses).toEqual([200, 409, 409]);
  for (const response of responses.filter(({ statusCode }) => statusCode === 409))
    expect(faultsOf(response)).toEqual(['conflict ']);
  const { addedNotes, changes } = await standing(exam.id);
  expect([addedNotes.length, changes.length]).toEqual([1, 1]);
  expect((await read(exam.id)).meta?.versionId).toBe('2');
});

/** Connections of this database that wait for a lock. */
async function countWaiting(): Promise<number> {
  const [row] = await service.db.query<{ count: number }>({
    text: `select count(*)::int as count from pg_stat_activity
           where datname = current_database() and wait_event_type = 'Lock'`,
  });
  return row?.count ?? 0;
}

describe('an exam document that is only checked', () => {
  it('gets what it would say, and nothing is stored', async () => {
    const { id, patient } = await admit('checked');
    const response = await send(service, examOf('checked', AT, { patient }), '/exams/check');
    expect(response.statusCode).toBe(200);
    const { findings, summary } = checkedExam.parse(response.json());
    expect(findings.map(({ text }) => text)).toContain('left knee flexion');
    expect(summary).toContain('95');
    expect(await findAll(`Observation?patient=${id}`)).toEqual([]);
  });

  it.each(['/exams', '/exams/check'])(
    'without a body is refused by %s and is no fault of ours',
    async (url) => {
      const response = await service.app.inject({ method: 'POST', url });
      expect([response.statusCode, ...faultsOf(response)]).toEqual([422, 'json-syntax ']);
    },
  );
});

it('the id of an accepted document, used for another one, is answered with the exam it has', async () => {
  const exam = await take(examOf('taken', AT));
  const response = await send(service, examOf('taken', AT, { note: 'another' }));
  expect(response.statusCode).toBe(409);
  expect(clientIdTaken.parse(response.json()).exam).toBe(exam.id);
});

describe('a draft', () => {
  const put = (clientId: string, document: object | string | undefined): Promise<LightMyRequestResponse> =>
    service.app.inject({
      ...{ method: 'PUT', url: `/drafts/${clientId}` },
      ...(document === undefined
        ? {}
        : {
            headers: { 'content-type': 'application/json' },
            payload: typeof document === 'string' ? document : JSON.stringify(document),
          }),
    });
  const author = `${NURSE.identifier.system}%7C${NURSE.identifier.value}`;
  const list = async (query: string): Promise<readonly string[]> => {
    const response = await get(`/drafts${query}`);
    expect(response.statusCode).toBe(200);
    return draftList.parse(response.json()).drafts.map(({ clientId }) => clientId);
  };

  it('is kept, replaced, listed for its author and its ward, never counted, and gone with its exam', async () => {
    const { id, patient } = await admit('draft');
    const document = examOf('draft-1', AT, { patient, ward: '7B' });
    expect((await put('draft-1', { examiner: NURSE, ward: '7B' })).statusCode).toBe(201);
    const second = await put('draft-1', document);
    expect([second.statusCode, second.json()]).toEqual([200, document]);
    expect((await get('/drafts/draft-1')).json()).toEqual(document);
    expect(await list(`?author=${author}&ward=7B`)).toEqual(['draft-1']);
    expect(await list('?ward=elsewhere')).toEqual([]);
    expect(await list('?author=http://example.org/tests/staff%7Cnobody')).toEqual([]);
    expect(await findAll(`Observation?patient=${id}`)).toEqual([]);
    expect(await seriesOf(id)).toEqual([]);
    const exam = await take(document);
    expect((await get('/drafts/draft-1')).statusCode).toBe(404);
    expect(await list(`?author=${author}&ward=7B`)).toEqual([]);
    const late = await put('draft-1', document);
    expect(late.statusCode).toBe(409);
    expect(issuesIn(late)[0]?.sentence).toContain(exam.id);
  });

  it('keeps the digits as typed', async () => {
    const text = `{"examiner":${JSON.stringify(NURSE)},"findings":[{"degrees":30.50}]}`;
    await put('draft-digits', text);
    expect((await get('/drafts/draft-digits')).body).toContain('30.50');
  });

  it('is dropped when asked, as often as asked', async () => {
    await put('draft-2', { examiner: NURSE });
    for (let time = 0; time < 2; time += 1) {
      const response = await service.app.inject({ method: 'DELETE', url: '/drafts/draft-2' });
      expect([response.statusCode, response.body]).toEqual([204, '']);
    }
    expect((await get('/drafts/draft-2')).statusCode).toBe(404);
  });

  it('of another author is not overwritten', async () => {
    await put('draft-3', { examiner: NURSE });
    const other = { ...NURSE, identifier: { ...NURSE.identifier, value: 'OTHER' } };
    const response = await put('draft-3', { examiner: other });
    expect([response.statusCode, ...faultsOf(response)]).toEqual([403, 'forbidden ']);
  });

  test.each<[what: string, document: object | string | undefined, faults: readonly string[]]>([
    ['without a body', undefined, ['json-syntax ']],
    ['that is no JSON', '{"a": 1, "b" }', ['json-syntax /b']],
    ['that is no object', '[]', ['ID-04 ']],
    ['that is null', 'null', ['ID-04 ']],
    ['without an author', {}, ['ID-04 /examiner']],
    [
      'whose author has no value, under the id of another',
      { clientId: 'draft-5', examiner: { identifier: { system: 'a' } } },
      ['ID-04 /examiner/identifier/value', 'other-client-id /clientId'],
    ],
  ])('%s is refused with every fault at its place', async (_what, document, faults) => {
    const response = await put('draft-4', document);
    expect(response.statusCode).toBe(422);
    expect(faultsOf(response)).toEqual(faults);
    expect((await get('/drafts/draft-4')).statusCode).toBe(404);
  });

  it('has an id', async () => {
    expect((await put('', { examiner: NURSE })).statusCode).toBe(404);
  });

  test.each([
    ['?author=nurse', 'invalid /author'],
    [`?author=${author}&author=a%7Cb`, 'given-twice /author'],
    ['?colour=red', 'unknown-parameter /colour'],
  ])('is not listed by %s, which would list those of others', async (query, fault) => {
    const response = await get(`/drafts${query}`);
    expect([response.statusCode, ...faultsOf(response)]).toEqual([400, fault]);
  });
});

describe('the trends of a patient', () => {
  let id: string;
  beforeAll(async () => {
    const admitted = await admit('trends');
    id = admitted.id;
    const { patient } = admitted;
    const visit = (day: number, parts: object): Promise<AcceptedExam> =>
      take(
        examOf(`trend-${day}`, `2026-03-0${day}T09:00:00Z`, {
          patient,
          asExpected: [],
          notAssessed: [],
          ...parts,
        }),
      );
    const lacks = { joint: 'elbow', side: 'left', movement: 'extension', method: 'goniometer-long-arm' };
    await visit(2, {
      findings: [GRIP, KNEE_FLEXION, { ...lacks, lacks: 10 }, { ...KNEE_STRENGTH, strength: 3 }],
    });
    await visit(3, {
      findings: [
        { ...GRIP, trials: [44], unit: 'lb' },
        { ...lacks, lacks: 15 },
        { ...KNEE_STRENGTH, strength: 4 },
      ],
    });
    await visit(4, {
      findings: [{ ...GRIP, trials: [18.25] }],
      asExpected: [{ joints: ['knee'], sides: 'left', aspects: ['strength'] }],
    });
  });

  it('joins readings in pounds and kilograms as kilogram-force', async () => {
    const [grip, ...others] = await seriesOf(id, '?item=grip');
    expect(others).toEqual([]);
    expect(grip).toMatchObject({ item: 'grip', side: 'right', unit: 'kgf', device: 'hydraulic' });
    // 1 lb = 0.45359237 kg exactly (international yard and pound agreement, 1959): 44 lb = 19.95806428 kg, kept to two decimals more than were typed.
    expect(grip?.points[1]?.value).toBe(19.96);
    expect(valuesOf(grip?.points ?? [])).toEqual([20.5, expect.any(Number), 18.25]);
    expect([grip?.baseline.value, grip?.latest.value, grip?.change]).toEqual([20.5, 18.25, -2.25]);
  });

  it('keeps what extension lacks as a number of its own, which grows as it worsens', async () => {
    const [lacks] = await seriesOf(id, '?item=elbow.extension-lacks');
    expect(lacks).toMatchObject({ unit: 'deg', side: 'left', change: 5 });
    expect(valuesOf(lacks?.points ?? [])).toEqual([10, 15]);
  });

  it('marks grades that stand for "within expected limits"', async () => {
    const [strength] = await seriesOf(id, '?item=knee.flexion&measure=strength');
    expect(strength).toMatchObject({ unit: '1', side: 'left' });
    expect(strength?.points.map(({ value, asExpected }) => [value, asExpected])).toEqual([
      [3, undefined],
      [4, undefined],
      [5, true],
    ]);
  });

  it('are narrowed by item, side and measure, and name the Observation of each point when asked', async () => {
    const all = await seriesOf(id);
    expect(await seriesOf(id, '?side=right')).toEqual(all.filter(({ side }) => side === 'right'));
    expect(await seriesOf(id, '?measure=range')).toEqual(all.filter(({ measure }) => measure === 'range'));
    expect(await seriesOf(id, '?item=knee.flexion')).toEqual(
      all.filter(({ item }) => item === 'knee.flexion'),
    );
    expect(await seriesOf(id, '?item=wing.flap')).toEqual([]);
    const [grip] = await seriesOf(id, '?item=grip&observations=true');
    for (const { observation, at } of grip?.points ?? []) {
      const { effectiveDateTime } = await read(observation ?? '');
      expect(Date.parse(effectiveDateTime ?? '')).toBe(Date.parse(at));
    }
  });

  it('are none of a patient without exams, and 404 of no patient', async () => {
    const { id: nobody } = await admit('nothing');
    expect(await seriesOf(nobody)).toEqual([]);
    expect((await get('/patients/none/trends')).statusCode).toBe(404);
  });

  it('are all of a patient when a parameter is named without a value', async () => {
    expect(await get(`/patients/${id}/trends?item=&side=`)).toMatchObject({
      statusCode: 200,
      body: (await get(`/patients/${id}/trends`)).body,
    });
  });

  test.each([
    ['side=up', ['unknown-word /side']],
    ['measure=length&side=both', ['unknown-word /side', 'unknown-word /measure']],
    ['observations=maybe', ['unknown-word /observations']],
    ['colour=red', ['unknown-parameter /colour']],
    ['item=grip&item=pain-rest', ['given-twice /item']],
    ['side=left&side=right', ['given-twice /side']],
  ])('asked by %s are refused with each place', async (query, faults) => {
    const response = await get(`/patients/${id}/trends?${query}`);
    expect(response.statusCode).toBe(400);
    expect(faultsOf(response)).toEqual(faults);
  });
});

it('the start page leads to the doors, under a policy that lets nothing in from elsewhere', async () => {
  const response = await get('/');
  expect([response.statusCode, response.headers['content-type']]).toEqual([200, 'text/html; charset=utf-8']);
  const links = [...response.body.matchAll(/(?:href|src)="(\/[^"]*)"/g)].map(([, href]) => href ?? '');
  expect(links).toEqual(expect.arrayContaining(['/docs', '/fhir/metadata']));
  for (const link of links) expect((await get(link)).statusCode, link).toBeLessThan(400);
  expect(response.headers['content-security-policy']).toContain("script-src 'self'");
  expect(response.body).not.toMatch(/<script(?![^>]*src=)|\sstyle="|\son\w+="/);
});

describe('/docs', () => {
  it('is served whole from this host, under the policy of every page', async () => {
    const moved = await get('/docs');
    const page = moved.statusCode === 302 ? await get(String(moved.headers['location'])) : moved;
    expect(page.statusCode).toBe(200);
    const policy = (await get('/')).headers['content-security-policy'];
    expect(page.headers['content-security-policy']).toBe(policy);
    expect(page.body).not.toMatch(/(?:src|href)="https?:/);
    expect(page.body).not.toMatch(/<script(?![^>]*src=)|<style/);
    const assets = [...page.body.matchAll(/(?:src|href)="([^"]*)"/g)].map(([, url]) => url ?? '');
    expect(assets.length).toBeGreaterThan(4);
    for (const asset of assets) {
      const { pathname } = new URL(asset, `${BASE.replace('/fhir', '')}/docs/`);
      expect((await get(pathname)).statusCode, asset).toBe(200);
    }
  });

  it('tells no other host of this service', async () => {
    const { body } = await get('/docs/static/swagger-initializer.js');
    expect(body).toContain('"validatorUrl":null');
  });
});

interface ApiOperation {
  readonly summary?: string;
  readonly requestBody?: { readonly content: Record<string, { readonly schema?: object }> };
  readonly responses: Record<
    string,
    { readonly description: string; readonly content?: Record<string, object> }
  >;
}

describe('/openapi.json', () => {
  const document = async (): Promise<Record<string, unknown>> =>
    (await get('/openapi.json')).json<Record<string, unknown>>();
  const operations = async (): Promise<ReadonlyMap<string, ApiOperation>> => {
    const paths = (await document())['paths'] as Record<string, Record<string, ApiOperation>>;
    return new Map(
      Object.entries(paths).flatMap(([path, methods]) =>
        Object.entries(methods).map(([method, told]) => [`${method} ${path}`, told] as const),
      ),
    );
  };

  it('is OpenAPI 3.1, each reference of which resolves', async () => {
    const told = await document();
    expect(told['openapi']).toMatch(/^3\.1\.\d$/);
    expect(told['info']).toMatchObject({ title: 'Limbledger', version: '0.0.0-test' });
    const references = [...JSON.stringify(told).matchAll(/"\$ref":"([^"]*)"/g)].map(([, ref]) => ref ?? '');
    for (const reference of references) {
      const steps = reference.replace(/^#\//, '').split('/');
      const target = steps.reduce<unknown>((held, step) => (held as Record<string, unknown>)[step], told);
      expect(target, reference).toBeDefined();
    }
  });

  // The doors of this stage with the answers that their callers must know.
  test.each([
    ['post /exams', ['200', '201', '409', '422', 'default'], true],
    ['post /exams/check', ['200', '422', 'default'], true],
    ['get /exams/{id}', ['200', '404', 'default'], false],
    ['post /exams/{id}/corrections', ['200', '404', '409', '422', 'default'], true],
    ['post /exams/{id}/withdrawals', ['200', '404', '409', '422', 'default'], true],
    ['post /exams/{id}/addenda', ['200', '404', '409', '422', 'default'], true],
    ['put /drafts/{clientId}', ['200', '201', '403', '409', '422', 'default'], true],
    ['get /drafts/{clientId}', ['200', '404', 'default'], false],
    ['delete /drafts/{clientId}', ['204', 'default'], false],
    ['get /drafts', ['200', '400', 'default'], false],
    ['get /patients/{id}/trends', ['200', '400', '404', 'default'], false],
  ])('describes %s with its body and its answers', async (door, statuses, hasBody) => {
    const told = (await operations()).get(door);
    expect(told?.summary).toMatch(/\S/);
    expect(Object.keys(told?.responses ?? {}).sort()).toEqual([...statuses].sort());
    expect(told?.requestBody !== undefined).toBe(hasBody);
    if (hasBody) expect(told?.requestBody?.content['application/json']?.schema).toHaveProperty('properties');
    for (const [status, { description, content }] of Object.entries(told?.responses ?? {})) {
      expect(description).not.toBe('Default Response');
      if (status !== '204')
        expect(content?.['application/json'], status).toHaveProperty('schema.type', 'object');
    }
  });

  it('describes no door but these, and none of FHIR', async () => {
    const doors = [...(await operations()).keys()];
    expect(doors).toHaveLength(11);
    expect(doors.filter((door) => door.includes('/fhir'))).toEqual([]);
  });
});
