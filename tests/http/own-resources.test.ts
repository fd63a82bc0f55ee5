import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { FhirIssue, Validator } from '../../src/fhir/index.js';
import { ownConformance } from '../conformance.js';
import { openExamService, send } from './exam-service.js';
import type { ExamService } from './exam-service.js';
import { examOf } from './invented-ward.js';

const AT = '2026-03-05T13:10:00Z';

/** What the validator is made to find in the resources of exams, to see what becomes of a bug of ours. */
let found: readonly FhirIssue[] = [];
let service: ExamService;
beforeAll(async () => {
  const { validate, ...conformance } = ownConformance();
  const spoilt: Validator = Object.assign(
    (resource: unknown, type?: string) => [
      ...validate(resource, type),
      ...(type === 'Provenance' ? found : []),
    ],
    { profiles: validate.profiles, remarks: validate.remarks },
  );
  service = await openExamService({ conformance: { ...conformance, validate: spoilt } });
});
afterAll(() => service.drop());

describe('a resource of our own making that breaks a rule', () => {
  const fault: FhirIssue = {
    ...{ severity: 'error', code: 'invariant', rule: 'own-1', expression: 'Provenance.agent[0]' },
    ...{ diagnostics: 'Zzmarlow is not allowed here.', found: 'Zzmarlow' },
  };

  it('is a fault of the service: 500, nothing stored, and the log has rule and place alone', async () => {
    const before = await service.db.query({ text: 'select count(*) from resource' });
    found = [fault];
    const response = await send(service, examOf('spoilt', AT));
    found = [];
    expect(response.statusCode).toBe(500);
    expect(response.body).not.toContain('own-1');
    expect(await service.db.query({ text: 'select count(*) from resource' })).toEqual(before);
    const line = service.log.find((one) => one.includes('request failed')) ?? '';
    expect(line).toContain('own-1 at Provenance.agent[0]');
    expect(line).not.toContain('Zzmarlow');
  });

  it('keeps a change of an exam from being stored, too', async () => {
    const { id, observations } = (await send(service, examOf('sound', AT))).json<{
      readonly id: string;
      readonly observations: readonly { readonly id: string; readonly text: string }[];
    }>();
    const grip = observations.find(({ text }) => text === 'right hand grip');
    const withdrawal = {
      by: { identifier: { system: 'http://example.org/tests/staff', value: 'TEST-RN-01' } },
      why: 'Wrong patient.',
      withdraws: [grip?.id],
    };
    found = [fault];
    const spoilt = await send(service, withdrawal, `/exams/${id}/withdrawals`);
    found = [];
    expect(spoilt.statusCode).toBe(500);
    expect((await service.app.inject(`/exams/${id}`)).json()).toMatchObject({
      status: 'final',
      withdrawn: [],
    });
    expect((await send(service, withdrawal, `/exams/${id}/withdrawals`)).statusCode).toBe(200);
  });

  it('only remarked on is stored', async () => {
    found = [{ ...fault, severity: 'warning' }];
    const response = await send(service, examOf('remarked', AT));
    found = [];
    expect(response.statusCode).toBe(201);
  });
});
