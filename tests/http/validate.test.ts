import type { CapabilityStatement, OperationOutcome, Parameters } from 'fhir/r4.js';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { VALIDATED_TYPES } from '../../src/fhir/index.js';
import { ownConformance } from '../conformance.js';
import { openFhirService } from './fhir-service.js';
import type { FhirService } from './fhir-service.js';

/**
 * HL7 FHIR R4 4.0.1, operation Resource-validate: "This operation returns a 200 OK whether or not the resource is valid.
 * A 4xx or 5xx error means that the validation itself could not be performed".
 */
let service: FhirService;
beforeAll(async () => {
  service = await openFhirService();
  await service.store({ ...GRIP, id: 'kept' } as const);
  const faulty = { resourceType: 'Patient', id: 'kept', gender: 'unsaid' };
  await service.store(faulty);
});
afterAll(() => service.drop());

const NARRATIVE = { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Grip</div>' };
const GRIP = { resourceType: 'Observation', text: NARRATIVE, status: 'final', code: { text: 'Grip' } };

interface Answer {
  readonly status: number;
  /** Severity, code and place of each issue. */
  readonly issues: readonly (readonly (string | undefined)[])[];
  readonly outcome: OperationOutcome;
}

async function ask(
  url: string,
  payload?: object | string,
  { method = 'POST', headers = {} }: { method?: 'GET' | 'POST'; headers?: Record<string, string> } = {},
): Promise<Answer> {
  const text = typeof payload === 'object' ? JSON.stringify(payload) : payload;
  const response = await service.app.inject({
    ...{ method, url: `/fhir/${url}` },
    headers: { ...(text === undefined ? {} : { 'content-type': 'application/fhir+json' }), ...headers },
    ...(text === undefined ? {} : { payload: text }),
  });
  const outcome = response.json<OperationOutcome>();
  expect(outcome.resourceType).toBe('OperationOutcome');
  expect(
    ownConformance()
      .validate(outcome, 'OperationOutcome')
      .filter(({ severity }) => severity === 'error'),
  ).toEqual([]);
  const issues = outcome.issue.map(({ severity, code, expression }) => [severity, code, expression?.[0]]);
  return { status: response.statusCode, issues, outcome };
}

const parameters = (...parameter: NonNullable<Parameters['parameter']>): Parameters => ({
  resourceType: 'Parameters',
  parameter,
});

const WELL = [['information', 'informational', undefined]];

describe('$validate of a type', () => {
  it('finds nothing in a valid resource and says so in one issue', async () => {
    expect(await ask('Observation/$validate', GRIP)).toMatchObject({ status: 200, issues: WELL });
  });

  it('tells every fault of a resource with its place and rule, and answers 200 all the same', async () => {
    const { status, issues, outcome } = await ask('Observation/$validate', {
      ...{ ...GRIP, status: 'done', colour: 'red', valueQuantity: { value: 3, code: 'kg' } },
    });
    expect(status).toBe(200);
    expect(issues).toEqual([
      ['error', 'code-invalid', 'Observation.status'],
      ['error', 'structure', 'Observation.colour'],
      // R4 datatypes, Quantity: qty-3
      ['error', 'invariant', 'Observation.value'],
    ]);
    expect(outcome.issue.at(2)?.details?.coding?.[0]?.code).toBe('qty-3');
  });

  it('tells a resource of another type than that of the door', async () => {
    const { status, issues } = await ask('Patient/$validate', GRIP);
    expect([status, issues[0]]).toEqual([200, ['error', 'invalid', 'Observation']]);
  });

  it('tells warnings after errors', async () => {
    const { text, ...bare } = { ...GRIP, status: 'done' };
    expect(text).toBe(NARRATIVE);
    const { issues } = await ask('Observation/$validate', bare);
    expect(issues.map(([severity]) => severity)).toEqual(['error', 'warning']);
  });

  it('stores nothing', async () => {
    const rows = 'select count(*) from resource';
    const before = await service.db.query({ text: rows });
    await ask('Observation/$validate?mode=create', { ...GRIP, id: 'not-kept' });
    expect(await service.db.query({ text: rows })).toEqual(before);
  });

  it('takes names that stand twice as a finding, and tells the faults of the rest beside it (R4 json)', async () => {
    const text = '{"resourceType":"Patient","id":"a","id":"b","gender":"x"}';
    const { status, issues } = await ask('Patient/$validate', text);
    expect(status).toBe(200);
    expect(issues.slice(0, 2)).toEqual([
      ['fatal', 'structure', 'Patient.id'],
      ['error', 'code-invalid', 'Patient.gender'],
    ]);
  });

  it.each([...VALIDATED_TYPES])('is there for %s', async (type) => {
    const { status, issues } = await ask(`${type}/$validate`, { resourceType: type, colour: 1 });
    expect(status).toBe(200);
    expect(issues).toContainEqual(['error', 'structure', `${type}.colour`]);
  });
});

describe('the input of $validate as Parameters', () => {
  it('finds faults with places that begin at the resource', async () => {
    const resource = { ...GRIP, status: 'done' } as unknown as Parameters;
    const asked = parameters({ name: 'resource', resource });
    expect(await ask('Observation/$validate', asked)).toMatchObject({
      ...{ status: 200, issues: [['error', 'code-invalid', 'Observation.status']] },
    });
  });

  it('takes mode and profile there as well', async () => {
    const profile = 'http://hl7.org/fhir/StructureDefinition/bodyweight';
    const asked = parameters(
      { name: 'resource', resource: GRIP },
      { name: 'mode', valueCode: 'create' },
      { name: 'profile', valueUri: profile },
    );
    const { status, issues } = await ask('Observation/$validate', asked);
    expect(status).toBe(200);
    expect(issues.map(([, , place]) => place)).toContain('Observation.subject');
  });

  it('at Parameters itself is the form only when it holds Parameters', async () => {
    const inner = parameters({ name: 'x', valueString: 'y' });
    expect((await ask('Parameters/$validate', inner)).issues).toEqual(WELL);
    const faulty = { resourceType: 'Parameters', parameter: [{ valueString: 'y' }] } as unknown as Parameters;
    const { status, issues } = await ask(
      'Parameters/$validate',
      parameters({ name: 'resource', resource: faulty }),
    );
    expect([status, issues[0]]).toEqual([200, ['error', 'required', 'Parameters.parameter[0].name']]);
  });

  test.each([
    ['a parameter without a name', { parameter: [{ valueCode: 'create' }] }, 'Parameters.parameter[0].name'],
    [
      'two values',
      { parameter: [{ name: 'mode', valueCode: 'create', valueString: 'x' }] },
      'Parameters.parameter[0].value',
    ],
    ['an unknown parameter', { parameter: [{ name: 'colour', valueCode: 'red' }] }, 'http.colour'],
    [
      'two resources',
      {
        parameter: [
          { name: 'resource', resource: GRIP },
          { name: 'resource', resource: GRIP },
        ],
      },
      'http.resource',
    ],
    ['no resource', { parameter: [{ name: 'mode', valueCode: 'create' }] }, 'http.resource'],
  ])('that hold %s are refused, with the place', async (_what, body, place) => {
    const { status, issues } = await ask('Observation/$validate', { resourceType: 'Parameters', ...body });
    expect(status).toBe(400);
    expect(issues.map(([, , expression]) => expression)).toContain(place);
  });
});

describe('$validate of an instance', () => {
  it('without a resource holds what stands to the rules, by GET and by POST', async () => {
    expect((await ask('Observation/kept/$validate', undefined, { method: 'GET' })).issues).toEqual(WELL);
    const stored = await ask('Patient/kept/$validate');
    expect(stored).toMatchObject({ status: 200 });
    expect(stored.issues[0]).toEqual(['error', 'code-invalid', 'Patient.gender']);
  });

  it('is there for what is published: every definition of ours is valid', async () => {
    for (const { type, id } of ownConformance().definitions.filter((one) => VALIDATED_TYPES.has(one.type))) {
      const { status, issues } = await ask(`${type}/${id}/$validate`, undefined, { method: 'GET' });
      expect([status, issues.filter(([severity]) => severity === 'error')], `${type}/${id}`).toEqual([
        200,
        [],
      ]);
    }
  });

  it('that is not there is 404, as its read is', async () => {
    expect((await ask('Observation/none/$validate', undefined, { method: 'GET' })).status).toBe(404);
    expect((await ask('StructureDefinition/none/$validate')).status).toBe(404);
  });

  it('in the mode profile holds it to that profile', async () => {
    const url =
      'Observation/kept/$validate?mode=profile&profile=http://hl7.org/fhir/StructureDefinition/bodyweight';
    const { status, issues } = await ask(url, undefined, { method: 'GET' });
    expect(status).toBe(200);
    expect(issues.map(([, , place]) => place)).toContain('Observation.subject');
  });
});

describe('the modes of $validate', () => {
  const kept = { ...GRIP, id: 'kept' };
  test.each([
    ['a create is well', 'Observation/$validate?mode=create', GRIP, {}, WELL],
    [
      'a create of a type that is not written',
      'Provenance/$validate?mode=create',
      undefined,
      {},
      'not-supported',
    ],
    ['a create of a type that is not kept', 'Bundle/$validate?mode=create', undefined, {}, 'not-supported'],
    ['a create of an id that is taken', 'Observation/kept/$validate?mode=create', kept, {}, 'duplicate'],
    [
      'a create of an id that is free',
      'Observation/free/$validate?mode=create',
      { ...GRIP, id: 'free' },
      {},
      WELL,
    ],
    ['an update is well', 'Observation/kept/$validate?mode=update', kept, {}, WELL],
    [
      'an update of another id',
      'Observation/kept/$validate?mode=update',
      { ...GRIP, id: 'other' },
      {},
      'value',
    ],
    [
      'an update of the present version',
      'Observation/kept/$validate?mode=update',
      kept,
      { 'if-match': 'W/"1"' },
      WELL,
    ],
    [
      'an update of a former version',
      'Observation/kept/$validate?mode=update',
      kept,
      { 'if-match': 'W/"7"' },
      'conflict',
    ],
    ['a delete', 'Observation/kept/$validate?mode=delete', undefined, {}, 'not-supported'],
  ] as const)('%s', async (_what, url, resource, headers, told) => {
    const type = url.split('/')[0] ?? '';
    const body = url.includes('delete') ? undefined : (resource ?? { resourceType: type });
    const { status, issues } = await ask(url, body, { headers });
    expect(status).toBe(200);
    if (typeof told === 'string')
      expect(issues.map(([severity, code]) => [severity, code])).toContainEqual(['error', told]);
    else expect(issues).toEqual(told);
  });

  test.each([
    ['an unknown mode', 'Observation/$validate?mode=destroy', GRIP, 400, 'http.mode'],
    ['an update at the type', 'Observation/$validate?mode=update', GRIP, 400, 'http.mode'],
    ['a delete at the type', 'Observation/$validate?mode=delete', undefined, 400, 'http.mode'],
    [
      'the mode profile at the type',
      'Observation/$validate?mode=profile&profile=http://hl7.org/fhir/StructureDefinition/bodyweight',
      undefined,
      400,
      'http.mode',
    ],
    [
      'the mode profile without one',
      'Observation/kept/$validate?mode=profile',
      undefined,
      400,
      'http.profile',
    ],
    [
      'the mode profile with a resource',
      'Observation/kept/$validate?mode=profile&profile=http://hl7.org/fhir/StructureDefinition/bodyweight',
      kept,
      400,
      'http.resource',
    ],
    [
      'an update without a resource',
      'Observation/kept/$validate?mode=update',
      undefined,
      400,
      'http.resource',
    ],
    ['nothing at the type', 'Observation/$validate', undefined, 400, 'http.resource'],
    ['two modes', 'Observation/kept/$validate?mode=create&mode=update', kept, 400, 'http.mode'],
    ['an unknown parameter', 'Observation/$validate?profil=x', GRIP, 400, 'http.profil'],
    [
      'an unknown profile ("it SHALL return an error")',
      'Observation/$validate?profile=http://example.org/none',
      GRIP,
      400,
      'http.profile',
    ],
    [
      'a version of a profile that is not known',
      'Observation/$validate?profile=http://hl7.org/fhir/StructureDefinition/bodyweight|9',
      GRIP,
      400,
      'http.profile',
    ],
    ['a text that breaks off', 'Observation/$validate', '{"resourceType":', 400, 'resourceType'],
    ['a delete of what is not there', 'Observation/none/$validate?mode=delete', undefined, 404, undefined],
    ['a type without rules here', 'Medication/$validate', { resourceType: 'Medication' }, 404, undefined],
    ['a type of no FHIR', 'Colour/$validate', {}, 404, undefined],
  ] as const)('%s is refused', async (_what, url, body, status, place) => {
    const answer = await ask(url, body);
    expect([answer.status, answer.issues[0]?.[2]]).toEqual([status, place]);
  });

  it('take the base definition of the type as a profile', async () => {
    const url = 'Observation/$validate?profile=http://hl7.org/fhir/StructureDefinition/Observation';
    expect((await ask(url, GRIP)).issues).toEqual(WELL);
  });

  it('refuse another content type', async () => {
    const answer = await ask('Observation/$validate', 'a=b', {
      headers: { 'content-type': 'application/x-www-form-urlencoded' },
    });
    expect(answer.status).toBe(415);
  });
});

describe('the statement of capabilities', () => {
  it('names $validate for each type that has it, and the profiles that are known', async () => {
    const statement = (await service.app.inject('/fhir/metadata')).json<CapabilityStatement>();
    const rows = statement.rest?.[0]?.resource ?? [];
    const validated = rows.filter(({ operation }) => operation?.some(({ name }) => name === 'validate'));
    expect(new Set(validated.map(({ type }) => type))).toEqual(VALIDATED_TYPES);
    const { definitions, validate } = ownConformance();
    const observation = rows.find(({ type }) => type === 'Observation');
    expect(observation?.profile).toBe('http://hl7.org/fhir/StructureDefinition/Observation');
    const own = definitions.filter(
      ({ type, content }) =>
        type === 'StructureDefinition' &&
        content['type'] === 'Observation' &&
        content['derivation'] === 'constraint',
    );
    expect(observation?.supportedProfile ?? []).toEqual(own.map(({ url }) => url));
    expect(validate.profiles).toEqual(expect.arrayContaining(own.map(({ url }) => url)));
    // R4, CapabilityStatement: every rule of it is kept.
    expect(validate(statement, 'CapabilityStatement').filter(({ severity }) => severity === 'error')).toEqual(
      [],
    );
  });
});
