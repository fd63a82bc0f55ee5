import type { Bundle, Observation } from 'fhir/r4.js';
import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { openExamService, send } from './exam-service.js';
import type { ExamService } from './exam-service.js';
import { issuesOf } from './fhir-service.js';
import { examOf, PATIENT } from './invented-ward.js';

/** Observations that another records system writes over FHIR, none of which claims our profiles. */
let service: ExamService;
beforeAll(async () => {
  service = await openExamService();
});
afterAll(() => service.drop());

const SNOMED = 'http://snomed.info/sct';
const LOINC = 'http://loinc.org';
const UCUM = 'http://unitsofmeasure.org';
const OWN = 'https://limbledger.example/fhir/CodeSystem/msk-joint';
const LATERALITY = 'http://hl7.org/fhir/StructureDefinition/observation-structureLaterality';
const LEFT = { system: SNOMED, code: '7771000' };

/** SNOMED CT codes as HL7 publications and the SNOMED browser print them: left knee region, knee region. */
const LEFT_KNEE = { system: SNOMED, code: '82169009' };
const KNEE = { system: SNOMED, code: '72696002' };

const FLEXION = {
  coding: [
    { system: 'https://limbledger.example/fhir/CodeSystem/msk-observable', code: 'knee-flexion-active' },
  ],
};
/** LOINC: Grip strength Hand - left Dynamometer. */
const LEFT_GRIP = { coding: [{ system: LOINC, code: '83173-5' }] };

const extension = (coding: object): object => ({
  url: LATERALITY,
  valueCodeableConcept: { coding: [coding] },
});

let made = 0;

async function write(
  members: object,
  headers: Record<string, string> = {},
): Promise<LightMyRequestResponse & { readonly subject: string }> {
  made += 1;
  const subject = `foreign-${made}`;
  const resource = {
    ...{ resourceType: 'Observation', status: 'final', effectiveDateTime: '2026-03-05T08:10:00Z' },
    ...{ subject: { reference: `Patient/${subject}` }, ...members },
  };
  const response = await service.app.inject({
    ...{ method: 'POST', url: '/fhir/Observation', payload: JSON.stringify(resource) },
    headers: { 'content-type': 'application/fhir+json', ...headers },
  });
  return Object.assign(response, { subject });
}

async function count(subject: string, query: string): Promise<number> {
  const response = await service.app.inject(`/fhir/Observation?patient=${subject}&${query}`);
  return response.json<Bundle>().total ?? 0;
}

interface Series {
  readonly item: string;
  readonly side?: string;
  readonly unit: string;
  readonly points: readonly { readonly value: number }[];
}

/** The series of a patient, who is written first, since the door of trends wants one. */
async function seriesOf(subject: string): Promise<readonly Series[]> {
  await service.app.inject({
    ...{ method: 'PUT', url: `/fhir/Patient/${subject}`, payload: { resourceType: 'Patient', id: subject } },
    headers: { 'content-type': 'application/fhir+json' },
  });
  const response = await service.app.inject(`/patients/${subject}/trends`);
  return response.json<{ readonly series: readonly Series[] }>().series;
}

describe('a foreign Observation whose side is said', () => {
  const degrees = { value: 95, system: UCUM, code: 'deg', unit: 'degrees' };
  const SHAPES: readonly (readonly [string, object, string, string])[] = [
    [
      'by the code of the site',
      { code: FLEXION, bodySite: { coding: [LEFT_KNEE] }, valueQuantity: degrees },
      'knee.flexion',
      'knee',
    ],
    [
      'by the extension beside a site without one',
      { code: FLEXION, bodySite: { coding: [KNEE], extension: [extension(LEFT)] }, valueQuantity: degrees },
      ...(['knee.flexion', 'knee'] as const),
    ],
    [
      'by a second coding of the site',
      { code: FLEXION, bodySite: { coding: [KNEE, LEFT] }, valueQuantity: degrees },
      ...(['knee.flexion', 'knee'] as const),
    ],
    [
      'by the code of what was measured, without any site',
      { code: LEFT_GRIP, valueQuantity: { value: 20, system: UCUM, code: 'kgf' } },
      ...(['grip', 'hand'] as const),
    ],
    [
      'by a LOINC code of a sided range',
      { code: { coding: [{ system: LOINC, code: '41299-9' }] }, valueQuantity: degrees },
      ...(['shoulder.abduction', 'shoulder'] as const),
    ],
  ];

  test.each(SHAPES)(
    '%s is found by side and site, and is a point of its series',
    async (_what, members, item, site) => {
      const { statusCode, subject } = await write(members);
      expect(statusCode).toBe(201);
      expect(await count(subject, `-laterality=${SNOMED}|7771000`)).toBe(1);
      expect(await count(subject, `-laterality=${SNOMED}|24028007`)).toBe(0);
      expect(await count(subject, `-body-site=${OWN}|${site}`)).toBe(1);
      expect(await seriesOf(subject)).toMatchObject([{ item, side: 'left' }]);
    },
  );

  it('by an extension is also found by the code of the site with its side', async () => {
    const { subject } = await write({
      code: FLEXION,
      bodySite: { coding: [KNEE], extension: [extension(LEFT)] },
    });
    for (const { system, code } of [KNEE, LEFT_KNEE])
      expect(await count(subject, `-body-site=${system}|${code}`)).toBe(1);
  });

  it('is given back as it was sent: nothing that was understood is written into it', async () => {
    const members = { code: FLEXION, bodySite: { coding: [KNEE, LEFT], text: 'Knee, left' } };
    const { code, bodySite } = (await write(members)).json<Observation>();
    expect({ code, bodySite }).toEqual(members);
  });
});

describe('a foreign Observation of a grip', () => {
  // NIST SP 811, appendix B.8: 1 lbf = 4.448 221 615 260 5 N, 1 kgf = 9.806 65 N.
  test.each([
    ['pounds', '50', '[lb_av]', 22.68],
    ['pound-force', '50', '[lbf_av]', 22.68],
    ['newtons', '196.133', 'N', 20],
    ['the dial’s kilograms', '20', 'kg', 20],
  ])('in %s is a point in kilogram-force', async (_what, value, code, kgf) => {
    const { statusCode, subject } = await write({
      ...{ code: LEFT_GRIP, valueQuantity: { value: Number(value), system: UCUM, code } },
    });
    expect(statusCode).toBe(201);
    const [series, ...more] = await seriesOf(subject);
    expect(more).toEqual([]);
    expect(series).toMatchObject({ item: 'grip', side: 'left', unit: 'kgf' });
    expect(series?.points[0]?.value).toBeCloseTo(kgf, 2);
  });

  it('in a unit that is no force is kept, in a series of its own', async () => {
    const { statusCode, subject } = await write({
      code: LEFT_GRIP,
      valueQuantity: { value: 30, system: UCUM, code: 'kPa' },
    });
    expect(statusCode).toBe(201);
    expect(await seriesOf(subject)).toMatchObject([{ unit: 'kPa' }]);
  });
});

describe('a foreign Observation that contradicts itself', () => {
  const RIGHT = { system: SNOMED, code: '24028007' };
  test.each([
    [
      'its site is left, its extension right',
      { code: FLEXION, bodySite: { coding: [LEFT_KNEE], extension: [extension(RIGHT)] } },
    ],
    [
      'its code is of the left hand, its site is the right one',
      { code: LEFT_GRIP, bodySite: { coding: [{ system: SNOMED, code: '78791008' }] } },
    ],
    [
      'its site is both knees',
      { code: FLEXION, bodySite: { coding: [LEFT_KNEE, { system: SNOMED, code: '6757004' }] } },
    ],
  ])('%s: is stored with a warning and gives no point', async (_what, members) => {
    const valueQuantity = { value: 20, system: UCUM, code: 'kgf' };
    const text = { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Grip</div>' };
    const response = await write({ ...members, valueQuantity, text }, { prefer: 'return=OperationOutcome' });
    expect(response.statusCode).toBe(201);
    expect(issuesOf(response)).toEqual([['warning', 'business-rule', 'Observation.bodySite']]);
    expect(await seriesOf(response.subject)).toEqual([]);
  });
});

describe('a foreign Observation of another shape', () => {
  test.each([
    ['of a group', { subject: { reference: 'Group/g' } }],
    ['of a patient elsewhere', { subject: { reference: 'https://other.example/fhir/Patient/7' } }],
    [
      'of a patient by identifier alone',
      { subject: { identifier: { system: 'http://example.org/mrn', value: '7' } } },
    ],
    ['without a subject', { subject: undefined }],
    [
      'with a code of no system we know',
      { code: { coding: [{ system: 'http://example.org/codes', code: 'x' }] } },
    ],
    ['with words alone', { code: { text: 'Left knee bends well' }, bodySite: { text: 'left knee' } }],
    ['without a time', { effectiveDateTime: undefined }],
    ['over a period', { effectiveDateTime: undefined, effectivePeriod: { start: '2026-03-05' } }],
    ['at a timing', { effectiveDateTime: undefined, effectiveTiming: { event: ['2026-03-05'] } }],
    [
      'of a midline site with a side',
      { bodySite: { coding: [{ system: SNOMED, code: '122494005' }], extension: [extension(LEFT)] } },
    ],
    [
      'of a site given by our own code alone',
      { bodySite: { coding: [{ system: OWN, code: 'toes.second.pip' }] } },
    ],
    [
      'that claims a profile we do not know',
      { meta: { profile: ['http://example.org/fhir/StructureDefinition/own'] } },
    ],
    ['with components alone', { component: [{ code: { text: 'a' }, valueString: 'b' }] }],
  ])('%s is stored', async (_what, members) => {
    expect((await write({ code: FLEXION, ...members })).statusCode).toBe(201);
  });

  it('keeps the digits of its value', async () => {
    const payload =
      '{"resourceType":"Observation","status":"final","code":{"text":"x"},"valueQuantity":{"value":30.50}}';
    const headers = { 'content-type': 'application/fhir+json' };
    const { body } = await service.app.inject({ method: 'POST', url: '/fhir/Observation', payload, headers });
    expect(body).toContain('"value":30.50');
  });

  it('is replaced by an update of its id, and its points with it', async () => {
    const { subject, ...response } = await write({
      code: LEFT_GRIP,
      valueQuantity: { value: 20, system: UCUM, code: 'kgf' },
    });
    const sent = response.json<Observation>();
    const payload = { ...sent, status: 'amended', valueQuantity: { value: 25, system: UCUM, code: 'kgf' } };
    const headers = { 'content-type': 'application/fhir+json', 'if-match': 'W/"1"' };
    const update = await service.app.inject({
      method: 'PUT',
      url: `/fhir/Observation/${sent.id ?? ''}`,
      payload,
      headers,
    });
    expect([update.statusCode, update.headers.etag]).toEqual([200, 'W/"2"']);
    const [series] = await seriesOf(subject);
    expect(series?.points.map(({ value }) => value)).toEqual([25]);
  });
});

describe('a foreign Observation that is refused', () => {
  const GRIP_PROFILE = 'https://limbledger.example/fhir/StructureDefinition/msk-grip';
  it('for base R4 is 400, for a profile that it claims 422, with the place of each fault', async () => {
    const faulty = await write({ code: LEFT_GRIP, status: 'done' });
    expect([faulty.statusCode, issuesOf(faulty)[0]]).toEqual([
      400,
      ['error', 'code-invalid', 'Observation.status'],
    ]);
    const claimed = await write({ code: LEFT_GRIP, meta: { profile: [GRIP_PROFILE] } });
    expect(claimed.statusCode).toBe(422);
    const places = issuesOf(claimed).filter(([severity]) => severity === 'error');
    expect(places.length).toBeGreaterThan(0);
    for (const [, , place] of places) expect(place).toMatch(/^Observation/);
  });

  it('with both kinds of fault is 400, and tells both', async () => {
    const both = await write({ code: LEFT_GRIP, status: 'done', meta: { profile: [GRIP_PROFILE] } });
    expect(both.statusCode).toBe(400);
    expect(issuesOf(both).filter(([severity]) => severity === 'error').length).toBeGreaterThan(1);
  });
});

describe('a finding of an exam', () => {
  it('is not replaced over FHIR, neither it nor the panel: the answer names the doors of changes', async () => {
    const exam = (await send(service, examOf('guarded', '2026-03-05T13:10:00Z'))).json<{
      readonly id: string;
      readonly observations: readonly { readonly id: string }[];
    }>();
    for (const id of [exam.id, ...exam.observations.map((one) => one.id)]) {
      const { body } = await service.app.inject(`/fhir/Observation/${id}`);
      const headers = { 'content-type': 'application/fhir+json' };
      const update = await service.app.inject({
        method: 'PUT',
        url: `/fhir/Observation/${id}`,
        payload: body,
        headers,
      });
      expect([update.statusCode, issuesOf(update)]).toEqual([
        422,
        [['error', 'business-rule', 'Observation.id']],
      ]);
      expect(update.body).toContain(`/exams/${exam.id}/corrections`);
      const asked = await service.app.inject({
        ...{ method: 'POST', url: `/fhir/Observation/${id}/$validate?mode=update`, payload: body, headers },
      });
      expect([asked.statusCode, issuesOf(asked)[0]]).toEqual([
        200,
        ['error', 'business-rule', 'Observation.id'],
      ]);
    }
    expect((await service.app.inject(`/exams/${exam.id}`)).json()).toMatchObject({
      status: 'final',
      changes: [],
    });
  });

  it('may be named by a panel of another system without becoming its', async () => {
    const { observations } = (await send(service, examOf('named', '2026-03-05T13:20:00Z'))).json<{
      readonly observations: readonly { readonly id: string }[];
    }>();
    const hasMember = observations.map(({ id }) => ({ reference: `Observation/${id}` }));
    const panel = (await write({ code: { text: 'Panel' }, hasMember })).json<Observation>();
    const headers = { 'content-type': 'application/fhir+json' };
    const url = `/fhir/Observation/${panel.id ?? ''}`;
    expect((await service.app.inject({ method: 'PUT', url, payload: panel, headers })).statusCode).toBe(200);
  });
});

describe('the record of a patient with foreign Observations', () => {
  it('takes the next exam in all the same, whatever they hold', async () => {
    const subject = { reference: `Patient/${PATIENT.id}` };
    const observable = (code: string): object => ({
      coding: [{ system: 'https://limbledger.example/fhir/CodeSystem/msk-observable', code }],
    });
    const shapes = [
      { code: observable('on-body-device') },
      { code: observable('absent-part'), bodySite: { coding: [LEFT_KNEE] } },
      {
        code: observable('knee-look-feel'),
        component: [{ code: { text: 'swelling' }, valueString: 'much' }],
      },
      { code: observable('musculoskeletal-exam'), component: [{ code: { text: 'precaution' } }] },
      { code: observable('knee-exam') },
      { code: LEFT_GRIP, valueQuantity: { value: 1, system: UCUM, code: 'kgf' } },
    ];
    const performer = [{ identifier: { system: 'http://example.org/staff', value: 'x' } }];
    for (const shape of shapes) {
      expect((await write({ ...shape, subject })).statusCode).toBe(201);
      expect((await write({ ...shape, subject, performer })).statusCode).toBe(201);
    }
    const response = await send(service, examOf('after', '2026-03-05T13:30:00Z'));
    expect(response.statusCode).toBe(201);
  });
});
