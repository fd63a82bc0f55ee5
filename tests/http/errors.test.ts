import { fastify, LogController } from 'fastify';
import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import { afterAll, beforeAll, describe, expect, test } from 'vitest';
import { answerError, answerFhirError, FhirError } from '../../src/http/errors.js';
import { StoreRefusal } from '../../src/store/index.js';

const log: Record<string, unknown>[] = [];
let app: FastifyInstance;

const coded = (code: string, message: string): Error => Object.assign(new Error(message), { code });

/** What a door may throw, by the path that throws it. */
const THROWN: Readonly<Record<string, () => unknown>> = {
  gone: () => new FhirError('gone', 'Patient/7 is deleted.'),
  places: () =>
    new FhirError('invalid', 'The Patient is not valid.', [
      { severity: 'error', code: 'value', rule: 'a', expression: 'Patient.gender', diagnostics: 'One.' },
      { severity: 'error', code: 'value', rule: 'b', expression: 'Patient.active', diagnostics: 'Two.' },
    ]),
  conflict: () => new StoreRefusal('version-conflict', 'Patient/7 is at version 2.'),
  taken: () => new StoreRefusal('client-id-taken', 'Exam 7 was accepted under this id.'),
  refused: () => coded('ECONNREFUSED', 'connect ECONNREFUSED 10.0.0.7:5432'),
  starting: () => coded('57P03', 'the database system is starting up'),
  bug: () => new TypeError("Cannot read properties of undefined (reading 'code')"),
  quoting: () => coded('22P02', 'invalid input syntax for type integer: "Zzsecret"'),
  caused: () => new Error('wrapped Zzsecret', { cause: new RangeError('inner Zzsecret') }),
  text: () => 'Zzsecret',
};

beforeAll(async () => {
  const write = (line: string): void => {
    log.push(JSON.parse(line) as Record<string, unknown>);
  };
  app = fastify({
    loggerInstance: pino({ level: 'trace' }, { write }),
    logController: new LogController({ disableRequestLogging: true }),
    bodyLimit: 100,
  }) as unknown as FastifyInstance;
  const register = (prefix: string, answer: typeof answerError): void => {
    void app.register(
      (scope, _options, done) => {
        scope.setErrorHandler(answer);
        scope.all('/:fault/:name', (request) => {
          throw THROWN[(request.params as { fault: string }).fault]?.();
        });
        done();
      },
      { prefix },
    );
  };
  register('/fhir', answerFhirError);
  register('/plain', answerError);
  await app.ready();
});
afterAll(async () => {
  await app.close();
});

const ask = async (url: string) => {
  log.length = 0;
  return app.inject({ url: `${url}/Zzname` });
};

describe('a fault of a door', () => {
  test.each([
    ['gone', 410, 'deleted'],
    ['conflict', 412, 'conflict'],
    ['taken', 409, 'conflict'],
    ['refused', 503, 'transient'],
    ['starting', 503, 'transient'],
    ['bug', 500, 'exception'],
    ['text', 500, 'exception'],
  ])('%s is %i %s as an OperationOutcome, and the same status elsewhere', async (fault, status, code) => {
    const response = await ask(`/fhir/${fault}`);
    expect(response.statusCode).toBe(status);
    expect(response.headers['content-type']).toBe('application/fhir+json; charset=utf-8');
    expect(response.json()).toMatchObject({
      resourceType: 'OperationOutcome',
      issue: [{ severity: 'error', code }],
    });
    const plain = await ask(`/plain/${fault}`);
    expect(plain.statusCode).toBe(status);
    expect(plain.json()).toMatchObject({ issues: [{ severity: 'error', place: '' }] });
  });

  test('with several places tells each of them', async () => {
    const { issue } = (await ask('/fhir/places')).json<{ issue: { expression: string[] }[] }>();
    expect(issue.flatMap(({ expression }) => expression)).toEqual(['Patient.gender', 'Patient.active']);
  });

  test('of the moment says when to try again', async () => {
    expect((await ask('/plain/refused')).headers['retry-after']).toBe('5');
  });

  test('of the caller is not logged', async () => {
    await ask('/fhir/gone');
    expect(log).toEqual([]);
  });

  test('in the body is told by what the caller did', async () => {
    const send = (payload: string, type: string) =>
      app.inject({ method: 'POST', url: '/plain/gone/x', payload, headers: { 'content-type': type } });
    expect((await send(`"${'a'.repeat(200)}"`, 'application/json')).statusCode).toBe(413);
    expect((await send('<a/>', 'application/xml')).statusCode).toBe(415);
  });
});

describe('a fault of ours', () => {
  test.each(['bug', 'quoting', 'caused', 'text', 'refused'])(
    '(%s) is logged by its route, without data of a patient',
    async (fault) => {
      const response = await ask(`/plain/${fault}`);
      expect(response.body).not.toContain('Zz');
      const lines = JSON.stringify(log);
      expect(log).toHaveLength(1);
      expect(lines).toContain('/plain/:fault/:name');
      expect(lines).not.toContain('Zz');
    },
  );

  test('is logged with its kind, code, cause and place in the program', async () => {
    await ask('/plain/caused');
    expect(log[0]).toMatchObject({ cause: { kind: 'Error', cause: { kind: 'RangeError' } } });
    expect(JSON.stringify(log[0])).toContain('errors.test.ts');
    await ask('/plain/quoting');
    expect(log[0]).toMatchObject({ cause: { code: '22P02' } });
  });

  test('tells the caller a number that is in the log', async () => {
    const { issues } = (await ask('/plain/bug')).json<{ issues: { sentence: string }[] }>();
    expect(issues[0]?.sentence).toContain(String(log[0]?.['reqId']));
  });
});
