import type { LightMyRequestResponse } from 'fastify';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { issuesIn, openExamService } from './exam-service.js';
import type { ExamService } from './exam-service.js';

let service: ExamService;
beforeAll(async () => {
  service = await openExamService();
});
afterAll(() => service.drop());

const get = (url: string): Promise<LightMyRequestResponse> => service.app.inject({ method: 'GET', url });

const LONG = 'x'.repeat(300);

/** What is wrong with it, and the address. */
const UNREADABLE: readonly (readonly [string, string])[] = [
  ['a % that starts no escape', '%zz'],
  ['bytes that are no UTF-8', '%E0%A4%A'],
  ['an over-long form of a slash', '%c0%af'],
  ['a % at the end', 'a%'],
  ['an id longer than any', LONG],
];

describe('an address that cannot be read', () => {
  it.each(UNREADABLE)('%s: gets a fault of the shape that all doors have', async (_what, step) => {
    for (const url of [`/exams/${step}`, `/drafts/${step}`, `/patients/${step}/trends`]) {
      const response = await get(url);
      expect(response.statusCode).toBeGreaterThanOrEqual(400);
      expect(response.statusCode).toBeLessThan(500);
      expect(issuesIn(response)[0]).toMatchObject({ severity: 'error', place: '' });
    }
  });

  it.each(UNREADABLE)('%s: gets an OperationOutcome under /fhir', async (_what, step) => {
    for (const url of [`/fhir/Patient/${step}`, `/fhir/Observation/${step}/_history`]) {
      const response = await get(url);
      expect(response.statusCode).toBeGreaterThanOrEqual(400);
      expect(response.statusCode).toBeLessThan(500);
      expect(response.headers['content-type']).toContain('application/fhir+json');
      expect(response.json()).toMatchObject({ resourceType: 'OperationOutcome' });
    }
  });

  it.each(UNREADABLE)('%s: tells nobody without a token which doors there are', async (_what, step) => {
    const closed = await openExamService({ auth: 'required' });
    try {
      const nowhere = await closed.app.inject(`/nowhere/${step}`);
      expect(nowhere.statusCode).toBeGreaterThanOrEqual(400);
      for (const url of [`/exams/${step}`, `/fhir/Patient/${step}`, `/docs/static/${step}`])
        expect((await closed.app.inject(url)).statusCode).toBe(nowhere.statusCode);
    } finally {
      await closed.drop();
    }
  });
});

/** Each with what it tries, and the address. */
const ODD: readonly (readonly [string, string])[] = [
  ['NUL as the id of an exam', '/exams/%00'],
  ['NUL as the id of a patient', '/patients/%00/trends'],
  ['NUL as the id of a draft', '/drafts/%00'],
  ['NUL as the author of drafts', '/drafts?author=%00|%00'],
  ['NUL as the ward of drafts', '/drafts?ward=%00'],
  ['NUL as the id of a resource', '/fhir/Patient/%00'],
  ['NUL as a search value', '/fhir/Observation?code=%00&patient=%00&date=%00'],
  ['a way out of the folder', '/exams/..%2f..%2fetc'],
  ['a way out of the folder of the description', '/docs/static/..%2f..%2f..%2fpackage.json'],
  ['two slashes', '//'],
  ['a dot', '/.'],
  ['an exam without an id', '/exams/'],
  ['a list where a word stands', '/patients/x/trends?item[]=1&side=up'],
  ['one parameter twice', '/drafts?ward=a&ward=b'],
  ['a name that every object has', '/patients/x/trends?__proto__=1&constructor=2'],
  ['a search value of 8,000 letters', `/fhir/Patient?name=${'x'.repeat(8000)}`],
  ['a page of a thousand million', '/fhir/Patient?_count=1e9'],
];

describe('an odd address', () => {
  it.each(ODD)('%s: is no fault of the service', async (_what, url) => {
    expect((await get(url)).statusCode).toBeLessThan(500);
  });
});
