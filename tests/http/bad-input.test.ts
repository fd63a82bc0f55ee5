import { afterAll, beforeAll, beforeEach, describe, expect, it } from 'vitest';
import { DOCUMENT_LIMITS } from '../../src/exam/document.js';
import { issuesIn, openExamService, send } from './exam-service.js';
import type { ExamService } from './exam-service.js';
import { ARRIVED, examOf, PATIENT } from './invented-ward.js';

let service: ExamService;
beforeAll(async () => {
  service = await openExamService();
});
afterAll(() => service.drop());

const AT = '2026-03-05T13:10:00Z';
const MIB = 1024 * 1024;

type Parts = Readonly<Record<string, unknown>>;

/** The rows that any write would add to. */
async function countStored(): Promise<object | undefined> {
  const [counts] = await service.db.query({
    text: `select (select count(*) from resource) as resources, (select count(*) from resource_history) as history,
                  (select count(*) from change) as changes, (select count(*) from exam) as exams,
                  (select count(*) from draft) as drafts`,
  });
  return counts;
}

const knee = (parts: Parts): Parts => ({
  findings: [{ joint: 'knee', side: 'left', method: 'goniometer-long-arm', ...parts }],
});

/** One fault of an otherwise good document: what it is, the parts that hold it, and what is told of it. */
interface FaultRow {
  readonly fault: string;
  readonly parts: Parts;
  readonly told: {
    readonly code: string;
    readonly place: string;
    readonly found: unknown;
    readonly allowed?: unknown;
  };
}

const GRADES = ['0', '1', '2', '3', '4', '5'];

const FAULTS: readonly FaultRow[] = [
  {
    fault: 'an unknown joint',
    parts: { findings: [{ joint: 'wing', side: 'left', look: { swelling: 'none' } }] },
    told: {
      code: 'unknown-joint',
      place: '/findings/0/joint',
      found: 'wing',
      allowed: expect.arrayContaining(['knee', 'jaw']),
    },
  },
  {
    fault: 'an unknown word for what was seen',
    parts: { findings: [{ joint: 'knee', side: 'left', look: { swelling: 'huge' } }] },
    told: {
      code: 'unknown-word',
      place: '/findings/0/look/swelling',
      found: 'huge',
      allowed: ['none', 'mild', 'moderate', 'marked'],
    },
  },
  {
    fault: 'an unknown movement',
    parts: knee({ movement: 'wiggle', degrees: 4 }),
    told: {
      code: 'MV-01',
      place: '/findings/0/movement',
      found: 'wiggle',
      allowed: ['flexion', 'extension'],
    },
  },
  {
    fault: 'no side on a paired joint',
    parts: { findings: [{ joint: 'knee', look: { swelling: 'none' } }] },
    told: {
      code: 'LT-01',
      place: '/findings/0/side',
      found: undefined,
      allowed: ['left', 'right', 'both'],
    },
  },
  {
    fault: 'a side on a midline joint',
    parts: {
      findings: [{ joint: 'neck', side: 'left', movement: 'flexion', degrees: 40, method: 'inclinometer' }],
    },
    told: { code: 'LT-02', place: '/findings/0/side', found: 'left' },
  },
  {
    fault: 'the grade 5+',
    parts: { findings: [{ joint: 'knee', side: 'left', movement: 'flexion', strength: '5+' }] },
    told: { code: 'SC-02', place: '/findings/0/strength', found: '5+', allowed: GRADES },
  },
  {
    fault: 'the grade 6',
    parts: { findings: [{ joint: 'knee', side: 'left', movement: 'flexion', strength: 6 }] },
    told: { code: 'SC-01', place: '/findings/0/strength', found: '6', allowed: GRADES },
  },
  {
    fault: 'degrees beyond the limit',
    parts: knee({ movement: 'flexion', degrees: 271 }),
    told: { code: 'VL-01', place: '/findings/0/degrees', found: '271', allowed: { from: 0, to: 170 } },
  },
  {
    fault: 'an unknown unit',
    parts: { findings: [{ measure: 'grip', side: 'right', trials: [20], unit: 'stone' }] },
    told: { code: 'VL-06', place: '/findings/0/unit', found: 'stone', allowed: ['kg', 'lb', 'N'] },
  },
  {
    fault: 'an identifier that no patient has',
    parts: {
      patient: { ...PATIENT, id: undefined, identifier: { ...PATIENT.identifier, value: 'NOBODY' } },
    },
    told: {
      code: 'patient-unknown',
      place: '/patient/identifier',
      found: { ...PATIENT.identifier, value: 'NOBODY' },
    },
  },
  {
    fault: 'a name that is not that of the patient',
    parts: { patient: { identifier: PATIENT.identifier, readBack: { name: 'Zzother' } } },
    told: { code: 'patient-mismatch', place: '/patient/readBack/name', found: 'Zzother' },
  },
  {
    fault: 'a time in the future',
    parts: { performedAt: '2026-03-06T13:10:00Z' },
    told: {
      code: 'TM-02',
      place: '/performedAt',
      found: '2026-03-06T13:10:00Z',
      allowed: { until: '2026-03-05T14:00:00+00:00' },
    },
  },
  {
    fault: 'a time before the arrival',
    parts: { performedAt: '2024-02-20T13:10:00Z' },
    told: { code: 'TM-03', place: '/performedAt', found: '2024-02-20T13:10:00Z' },
  },
];

const BY_NAME = FAULTS.map((row) => [row.fault, row] as const);

/** A sentence of plain words: a capital or a quoted word first, a full stop last, nothing of the program in it. */
const PLAIN_SENTENCE = /^["A-Z](?!.*\b(undefined|null|NaN|Error|Object)\b).*[.?]$/;

describe('an exam document with one fault', () => {
  it.each(BY_NAME)(
    '%s: is refused, told with its place, and nothing is stored',
    async (_fault, { parts, told }) => {
      const before = await countStored();
      const response = await send(service, examOf('faulty', AT, parts));
      expect(response.statusCode).toBe(422);
      const errors = issuesIn(response).filter(({ severity }) => severity === 'error');
      const { found, allowed, ...rest } = told;
      expect(errors).toEqual([
        {
          severity: 'error',
          ...rest,
          ...(found === undefined ? {} : { found }),
          ...(allowed === undefined ? {} : { allowed }),
          sentence: expect.stringMatching(PLAIN_SENTENCE) as unknown,
        },
      ]);
      expect(await countStored()).toEqual(before);
    },
  );

  it('is taken in once the fault is mended', async () => {
    const response = await send(service, examOf('mended', AT));
    expect(response.statusCode).toBe(201);
  });

  it('tells both places of one item given twice with different values', async () => {
    const before = await countStored();
    const one = { joint: 'knee', side: 'left', movement: 'flexion', method: 'goniometer-long-arm' };
    const findings = [
      { ...one, degrees: 90 },
      { ...one, degrees: 95 },
    ];
    const issues = issuesIn(await send(service, examOf('twice', AT, { findings })));
    expect(issues.map(({ code, place, allowed }) => [code, place, allowed])).toEqual([
      ['given-twice', '/findings/0/degrees', '/findings/1/degrees'],
      ['given-twice', '/findings/1/degrees', '/findings/0/degrees'],
    ]);
    expect(issues[0]?.sentence).toContain('90 and degrees 95');
    expect(await countStored()).toEqual(before);
  });

  it('names in an unmatched patient what was sent, and never what the record holds', async () => {
    const readBack = { name: 'Zzother', birthDate: '1907-01-02' };
    const { body } = await send(
      service,
      examOf('not-hers', AT, { patient: { identifier: PATIENT.identifier, readBack } }),
    );
    expect(body).not.toContain(PATIENT.readBack.name);
    expect(body).not.toContain(PATIENT.readBack.birthDate);
  });

  it('gets the same faults when it is only checked', async () => {
    for (const { parts } of FAULTS) {
      const document = examOf('checked', AT, parts);
      const [taken, checked] = [await send(service, document), await send(service, document, '/exams/check')];
      expect(checked.statusCode).toBe(422);
      expect(issuesIn(checked)).toEqual(issuesIn(taken));
    }
  });
});

describe('an exam document with many faults', () => {
  const entries = FAULTS.flatMap(({ parts }) => (parts['findings'] as readonly unknown[] | undefined) ?? []);
  const inFindings = FAULTS.filter(({ parts }) => 'findings' in parts);

  it('is told every fault of its findings at once, each at its place, and of its time', async () => {
    const before = await countStored();
    const document = examOf('many', AT, { findings: entries, performedAt: '2026-03-06T13:10:00Z' });
    const response = await send(service, document);
    const told = issuesIn(response).map(({ code, place }) => `${code} ${place}`);
    const expected = inFindings.map(
      ({ told: { code, place } }, index) => `${code} ${place.replace('/0/', `/${index}/`)}`,
    );
    expect(told).toEqual(expect.arrayContaining([...expected, 'TM-02 /performedAt']));
    expect(await countStored()).toEqual(before);
  });

  it('is told of an unmatched patient beside the faults of its findings', async () => {
    const patient = { identifier: { ...PATIENT.identifier, value: 'NOBODY' }, readBack: PATIENT.readBack };
    const issues = issuesIn(await send(service, examOf('many', AT, { findings: entries, patient })));
    const codes = new Set(issues.map(({ code }) => code));
    for (const code of ['patient-unknown', 'unknown-joint', 'SC-01']) expect(codes).toContain(code);
  });

  it('is told of a time before the arrival beside the faults of its findings', async () => {
    const issues = issuesIn(
      await send(service, examOf('many', AT, { findings: entries, performedAt: '2024-02-20T13:10:00Z' })),
    );
    const codes = new Set(issues.map(({ code }) => code));
    for (const code of ['TM-03', 'unknown-joint', 'SC-01']) expect(codes).toContain(code);
  });
});

describe('what is no exam document', () => {
  let before: object | undefined;
  beforeEach(async () => {
    before = await countStored();
  });

  const deep = (levels: number): string => `${'['.repeat(levels)}${']'.repeat(levels)}`;

  const BODIES: readonly (readonly [what: string, body: string | Buffer, code: string, place: string])[] = [
    ['an empty body', '', 'json-syntax', ''],
    ['white space', ' \n\t ', 'json-syntax', ''],
    ['a text that ends early', '{"clientId": "a"', 'json-syntax', '/clientId'],
    ['single quotes', "{'clientId': 'a'}", 'json-syntax', ''],
    ['a comma too many', '{"clientId": "a",}', 'json-syntax', '/clientId'],
    ['NaN', '{"findings": [NaN]}', 'json-syntax', '/findings/0'],
    ['a form', 'clientId=a&type=full', 'json-syntax', ''],
    ['null', 'null', 'wrong-type', ''],
    ['a list', '[]', 'wrong-type', ''],
    ['a number', '1e999', 'wrong-type', ''],
    ['a text', '"full"', 'wrong-type', ''],
    ['two members of one name', '{"clientId":"a","clientId":"a"}', 'json-duplicate-key', '/clientId'],
    ['lists nested 100,000 deep', deep(100_000), 'json-too-deep', '/0'.repeat(64)],
    ['objects nested 100,000 deep', '{"a":'.repeat(100_000), 'json-too-deep', '/a'.repeat(64)],
    ['the member __proto__', '{"__proto__": {"clientId": "a"}}', 'json-forbidden-key', '/__proto__'],
    ['the member constructor', '{"constructor": {}}', 'json-forbidden-key', '/constructor'],
    ['NUL in a text', '{"clientId": "a\\u0000b"}', 'json-bad-character', '/clientId'],
    ['half a surrogate pair', '{"clientId": "\\ud83d"}', 'json-bad-character', '/clientId'],
    ['a bare control character', '{"clientId": "a\u0007"}', 'json-syntax', '/clientId'],
  ];

  it.each(BODIES)('%s: is refused at its place, and nothing is stored', async (_what, body, code, place) => {
    const response = await send(service, body);
    expect(response.statusCode).toBe(422);
    expect(issuesIn(response)[0]).toMatchObject({ severity: 'error', code, place });
    expect(issuesIn(response)[0]?.sentence).toMatch(/\S/);
    expect(await countStored()).toEqual(before);
  });

  it('is refused as too large from the first byte beyond 2 MiB, and read up to it', async () => {
    const most = await send(service, ' '.repeat(2 * MIB));
    expect(most.statusCode).toBe(422);
    const more = await send(service, ' '.repeat(2 * MIB + 1));
    expect(more.statusCode).toBe(413);
    expect(issuesIn(more)[0]).toMatchObject({
      code: 'too-large',
      sentence: 'The body is larger than 2 MiB.',
    });
  });

  it.each([undefined, 'text/plain', 'application/xml', 'application/x-www-form-urlencoded', 'nonsense'])(
    'is refused as Content-Type %s',
    async (type) => {
      const response = await service.app.inject({
        method: 'POST',
        url: '/exams',
        payload: Buffer.from(JSON.stringify(examOf('other-type', AT))),
        headers: type === undefined ? {} : { 'content-type': type },
      });
      expect(response.statusCode).toBe(415);
      expect(issuesIn(response)[0]).toMatchObject({ code: 'unsupported-media-type' });
      expect(await countStored()).toEqual(before);
    },
  );

  it('is refused when its bytes are no UTF-8, rather than stored as other letters (RFC 8259, 8.1)', async () => {
    const text = JSON.stringify(examOf('latin-1', AT, { note: 'Schürze' }));
    const response = await send(service, Buffer.from(text, 'latin1'));
    expect(response.statusCode).toBeGreaterThanOrEqual(400);
    expect(response.statusCode).toBeLessThan(500);
    expect(await countStored()).toEqual(before);
  });
});

describe('hostile values in a document', () => {
  const huge = 'x'.repeat(MIB);
  const HOSTILE: readonly (readonly [what: string, parts: Parts])[] = [
    ['a huge client id', { clientId: huge }],
    ['a huge note', { note: huge }],
    ['a huge joint', { findings: [{ joint: huge, side: 'left' }] }],
    ['a huge movement', { findings: [{ joint: 'knee', side: 'left', movement: huge, degrees: 1 }] }],
    ['a huge item', { findings: [{ joint: 'knee', side: 'left', look: { [huge]: 'none' } }] }],
    ['a huge patient identifier', { patient: { ...PATIENT, identifier: { system: 'urn:a', value: huge } } }],
    ['a huge ward', { ward: huge }],
    ['a huge unknown member', { [huge]: 1 }],
    ['too many findings', { findings: Array.from({ length: DOCUMENT_LIMITS.entries + 1 }, () => ({})) }],
    ['too many positions', { positions: Array.from({ length: 50_000 }, () => 'sitting') }],
    ['an object where a word stands', { type: {}, ward: [], clientId: { a: 1 } }],
    ['a list where an object stands', { patient: [], examiner: [], findings: {} }],
    ['null everywhere', { type: null, patient: null, findings: [null], notAssessed: null }],
    ['names of what every object has', { toString: 1, hasOwnProperty: 1, valueOf: { a: 1 } }],
    ['such names as items', { findings: [{ joint: 'knee', side: 'left', look: { toString: 'valueOf' } }] }],
    ['such names as words', { findings: [{ joint: 'toString', side: 'left', movement: 'valueOf' }] }],
    ['such a name as a screen', { findings: [{ screen: 'constructor', result: '__proto__' }] }],
    ['such a name as a measure', { findings: [{ measure: '__proto__', value: 1 }] }],
    ['such a name as a device', { onBody: [{ device: 'constructor', joints: ['valueOf'] }] }],
    ['such a name as a reason', { notAssessed: [{ joints: ['knee'], reason: 'hasOwnProperty' }] }],
    ['such a name as a check', { confirmed: ['toString', 'constructor'], type: 'valueOf' }],
    ['markup', { ward: '<script>alert(1)</script>', note: "'; drop table exam; --", type: '<b>' }],
    ['a date that is none', { performedAt: '2026-02-30T10:00:00Z' }],
    ['the last instant there is', { performedAt: '9999-12-31T23:59:59+14:00' }],
    ['the first instant there is', { performedAt: '0001-01-01T00:00:00-12:00' }],
    ['a leap second', { performedAt: '2016-12-31T23:59:60Z' }],
  ];

  it.each(HOSTILE)('%s: are refused as 422, and nothing is stored', async (_what, parts) => {
    const before = await countStored();
    const response = await send(service, examOf('hostile', AT, parts));
    expect(response.statusCode).toBe(422);
    expect(issuesIn(response).some(({ severity }) => severity === 'error')).toBe(true);
    expect(response.body.length).toBeLessThan(3 * MIB);
    expect(await countStored()).toEqual(before);
  });

  const NUMBERS = ['1e400', '-1e400', '1e-400', '-0', '0.1e1', '12345678901234567890123', '1E+2', '-1'];

  it.each(NUMBERS)('the number %s in any place of numbers is no fault of the service', async (digits) => {
    const findings = [
      { joint: 'knee', side: 'left', movement: 'flexion', degrees: '#' },
      { joint: 'elbow', side: 'left', movement: 'extension', lacks: '#' },
      { joint: 'elbow', side: 'right', movement: 'extension', strength: '#' },
      { joint: 'knee', side: 'right', circumferenceCm: '#', level: 'mid-patella' },
      { joint: 'jaw', movement: 'opening', millimetres: '#' },
      { measure: 'grip', side: 'left', trials: ['#', '#'], unit: 'kg' },
      { measure: 'pain', value: '#', when: 'rest' },
      { measure: 'gait-speed', value: '#', unit: 'm/s' },
      { check: 'neurovascular', limb: 'upper', side: 'left', elements: { 'capillary refill': '#' } },
    ];
    const text = JSON.stringify(examOf(`number ${digits}`, AT, { findings })).replaceAll('"#"', digits);
    const response = await send(service, text, '/exams/check');
    expect(response.statusCode).toBe(422);
  });
});

describe('the same exam document sent again', () => {
  /** The same value with the members of each object in the opposite order. */
  function reversed(value: unknown): unknown {
    if (Array.isArray(value)) return value.map(reversed);
    if (typeof value !== 'object' || value === null) return value;
    const members = Object.entries(value).map(([key, held]) => [key, reversed(held)] as const);
    return Object.fromEntries(members.reverse());
  }

  it('gets the first answer to the letter, whatever the order of its keys and its white space', async () => {
    const document = examOf('again', AT);
    const first = await send(service, document);
    expect(first.statusCode).toBe(201);
    const after = await countStored();
    service.clock.now = new Date(service.clock.now.getTime() + 60_000);
    const sentAgain = [document, reversed(document) as object, JSON.stringify(document, undefined, 2)];
    for (const again of sentAgain) {
      const response = await send(service, again);
      expect([response.statusCode, response.body]).toEqual([200, first.body]);
      expect(response.headers['location']).toBe(first.headers['location']);
    }
    expect(await countStored()).toEqual(after);
  });

  it('is refused when anything in it differs, and told the exam that has its client id', async () => {
    const first = await send(service, examOf('differs', AT));
    const { id } = first.json<{ id: string }>();
    const after = await countStored();
    const others = [
      examOf('differs', AT, { note: 'one word more' }),
      examOf('differs', '2026-03-05T13:10:01Z'),
      { clientId: 'differs' },
    ];
    for (const other of others) {
      const response = await send(service, other);
      expect(response.statusCode).toBe(409);
      expect(response.json()).toMatchObject({
        exam: id,
        issues: [{ severity: 'error', code: 'client-id-taken', place: '/clientId', found: 'differs' }],
      });
      expect(issuesIn(response)[0]?.sentence).toContain(id);
    }
    expect(await countStored()).toEqual(after);
  });

  it('counts as another when the digits of a number differ: 30.50 is not 30.5', async () => {
    const text = JSON.stringify(examOf('digits', AT, knee({ movement: 'flexion', degrees: 30.5 })));
    expect((await send(service, text)).statusCode).toBe(201);
    expect((await send(service, text.replace('30.5', '30.50'))).statusCode).toBe(409);
  });

  it('is one record when sixteen arrive at the same moment', async () => {
    const before = (await countStored()) as { exams: number; resources: number };
    const document = examOf('sixteen', AT);
    const responses = await Promise.all(Array.from({ length: 16 }, () => send(service, document)));
    const statuses = responses.map(({ statusCode }) => statusCode).sort();
    expect(statuses).toEqual([...Array.from({ length: 15 }, () => 200), 201]);
    expect(new Set(responses.map(({ body }) => body)).size).toBe(1);
    const after = (await countStored()) as { exams: number; resources: number };
    expect(after.exams).toBe(before.exams + 1);
    // the panel, seven findings, one Provenance
    expect(after.resources).toBe(before.resources + 9);
  });

  it('is one record of two different ones that arrive at the same moment, and the other is told so', async () => {
    const documents = Array.from({ length: 8 }, (_, index) => examOf('race', AT, { note: `${index % 2}` }));
    const responses = await Promise.all(documents.map((document) => send(service, document)));
    const [winner] = responses.filter(({ statusCode }) => statusCode === 201);
    const won = responses.indexOf(winner as (typeof responses)[number]) % 2;
    responses.forEach((response, index) => {
      if (response === winner) return;
      expect(response.statusCode).toBe(index % 2 === won ? 200 : 409);
    });
  });
});

it('the arrival of the invented patient lies before every exam of these tests', () => {
  expect(Date.parse(ARRIVED)).toBeLessThan(Date.parse(AT));
});
