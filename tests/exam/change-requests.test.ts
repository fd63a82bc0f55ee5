import { describe, expect, test } from 'vitest';
import { readAddendum, readCorrection, readWithdrawal } from '../../src/exam/change-requests.js';
import { correctFindings, DEFAULT_CHANGE_RULES, withdrawFindings } from '../../src/exam/changes.js';
import type { ExamObservation } from '../../src/exam/component.js';
import { presentExam, type StoredExam } from '../../src/exam/from-observations.js';
import { readExam } from '../../src/exam/read-exam.js';
import { DEFAULT_SITE_RULES } from '../../src/exam/rules.js';
import { toObservations, type ResourceContext } from '../../src/exam/to-observations.js';
import { parseJson, stringifyJson, type JsonValue } from '../../src/fhir/index.js';

const NOW = { at: Date.parse('2026-03-05T12:00:00-05:00'), zone: 'America/New_York' };
const by = { identifier: { system: 'http://example.org/demo/staff', value: 'DEMO-PT-01' }, role: 'PT' };

function contextOf(start: number): ResourceContext {
  let last = start;
  return { patientId: 'p1', practitionerId: () => undefined, newId: () => `o${(last += 1)}` };
}

function json(value: unknown): JsonValue {
  const parsed = parseJson(typeof value === 'string' ? value : stringifyJson(value));
  if (!parsed.ok) throw new Error('not JSON');
  return parsed.value;
}

/** An exam of both knees: the left within expected limits, the right with two findings. */
function storedExam(): StoredExam {
  const document = {
    clientId: 'c1',
    type: 'focused',
    patient: {
      identifier: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P03' },
      readBack: { birthDate: '1960' },
    },
    examiner: by,
    performedAt: '2026-03-05T08:10:00-05:00',
    recordedAt: '2026-03-05T08:25:00-05:00',
    positions: ['supine'],
    asExpected: [{ joints: ['knee'], sides: 'left', aspects: ['range', 'strength'] }],
    findings: [
      { joint: 'knee', side: 'right', movement: 'flexion', degrees: 74, method: 'goniometer-long-arm' },
      { joint: 'knee', side: 'right', movement: 'flexion', strength: 4 },
    ],
  };
  const { exam, issues } = readExam(stringifyJson(document), NOW);
  if (exam === undefined) throw new Error(JSON.stringify(issues));
  const [panel, ...members] = toObservations(exam, contextOf(0));
  return { panel: versioned(panel), members: members.map(versioned) };
}

function versioned(resource: ExamObservation): ExamObservation {
  return { ...resource, meta: { versionId: '1' } };
}

function readCorrected(stored: StoredExam, replaces: unknown): ReturnType<typeof readCorrection> {
  return readCorrection(json({ by, why: 'misread', replaces }), stored, NOW, DEFAULT_SITE_RULES);
}

const knee = { joint: 'knee', side: 'right', movement: 'flexion' };

describe('the request of a correction', () => {
  test('is read by the rules of exam documents and keeps the digits', () => {
    const body = `{"by":${JSON.stringify(by)},"why":"misread","replaces":[{"id":"o3","finding":{"joint":"knee","side":"right","movement":"bend","degrees":64.50,"method":"goniometer-long-arm"}}]}`;
    const { request } = readCorrection(json(body), storedExam(), NOW, DEFAULT_SITE_RULES);
    expect(request?.replaces).toMatchObject([
      { id: 'o3', finding: { movement: 'knee.flexion', extent: { degrees: '64.50' } } },
    ]);
    expect(request?.at).toBe('2026-03-05T12:00:00-05:00');
  });

  test('tells each fault at its place in the request', () => {
    const { request, issues } = readCorrected(storedExam(), [
      { id: 'o3', finding: { ...knee, degrees: 210 } },
    ]);
    expect(request).toBeUndefined();
    expect(issues.filter(({ severity }) => severity === 'error')).toMatchObject([
      { code: 'VL-01', place: '/replaces/0/finding/degrees' },
    ]);
  });

  test('of a finding that the exam does not have, or that comes in the future, is refused', () => {
    expect(readCorrected(storedExam(), [{ id: 'o99', finding: knee }]).issues).toMatchObject([
      { code: 'unknown-finding', place: '/replaces/0/id' },
    ]);
    const late = { by, at: '2026-03-06T12:00:00-05:00', why: 'misread', withdraws: 'all' };
    expect(readWithdrawal(json(late), NOW, DEFAULT_SITE_RULES).issues).toMatchObject([
      { code: 'TM-02', place: '/at' },
    ]);
  });

  test('takes one value out of a joint within expected limits and puts it beside it', () => {
    const stored = storedExam();
    const finding = { ...knee, side: 'left', degrees: 55, method: 'goniometer-long-arm' };
    const { request, issues } = readCorrected(stored, [{ id: 'o2', finding }]);
    if (request === undefined) throw new Error(JSON.stringify(issues));
    expect(request.replaces).toMatchObject([
      { id: 'o2', finding: { kind: 'as-expected', range: ['knee.extension'] } },
    ]);
    expect(request.adds).toMatchObject([{ kind: 'range', side: 'left', extent: { degrees: '55' } }]);
    const answer = correctFindings(stored, request, contextOf(100), DEFAULT_CHANGE_RULES);
    if (answer.kind === 'refused') throw new Error('refused');
    expect(answer.change.updated.map(({ id, status }) => [id, status])).toEqual([
      ['o1', 'amended'],
      ['o2', 'corrected'],
    ]);
    expect(answer.change.created).toMatchObject([
      { status: 'final', effectiveDateTime: '2026-03-05T08:10:00-05:00' },
    ]);
  });

  test('of one finding gives one finding', () => {
    const { issues } = readCorrected(storedExam(), [
      { id: 'o3', finding: { ...knee, degrees: 70, pain: 3 } },
    ]);
    expect(issues.map(({ code }) => code)).toContain('one-finding');
  });

  test('never brings back into "as expected" what a withdrawn finding was taken out of', () => {
    const stored = storedExam();
    const finding = { ...knee, side: 'left', degrees: 55 };
    const first = readCorrected(stored, [{ id: 'o2', finding }]).request;
    if (first === undefined) throw new Error('not read');
    const corrected = written(stored, correctFindings(stored, first, contextOf(100), DEFAULT_CHANGE_RULES));
    const withdrawal = { by, at: '2026-03-05T12:00:00-05:00', why: 'not measured', withdraws: ['o101'] };
    const gone = written(
      corrected,
      withdrawFindings(corrected, withdrawal, contextOf(200), DEFAULT_CHANGE_RULES),
    );
    const again = readCorrected(gone, [
      { id: 'o2', finding: { ...knee, side: 'left', strength: 4 } },
    ]).request;
    expect(again?.replaces).toMatchObject([
      { finding: { range: ['knee.extension'], strength: ['knee.extension'] } },
    ]);
    expect(presentExam(gone).exam.findings).toHaveLength(3);
  });
});

function written({ panel, members }: StoredExam, answer: ReturnType<typeof correctFindings>): StoredExam {
  if (answer.kind === 'refused') throw new Error(JSON.stringify(answer.issues));
  const { updated, created } = answer.change;
  const now = (old: ExamObservation): ExamObservation => updated.find(({ id }) => id === old.id) ?? old;
  return { panel: now(panel), members: [...members.map(now), ...created] };
}

describe('the request of an addendum', () => {
  const add = (entries: object): ReturnType<typeof readAddendum> =>
    readAddendum(json({ by, ...entries }), storedExam(), NOW, DEFAULT_SITE_RULES);

  test('reads its entries beside those of the exam', () => {
    const { request } = add({
      findings: [{ joint: 'knee', side: 'right', look: { swelling: 'moderate' } }],
      notAssessed: [{ joints: ['hip'], sides: 'both', reason: 'privacy' }],
    });
    expect(request?.findings.map((finding) => [finding.kind, 'side' in finding && finding.side])).toEqual([
      ['look-feel', 'right'],
      ['not-assessed', 'left'],
      ['not-assessed', 'right'],
    ]);
  });

  test('that contradicts "within expected limits" is refused: that finding is to be corrected', () => {
    const { request, issues } = add({ findings: [{ ...knee, side: 'left', degrees: 80 }] });
    expect(request).toBeUndefined();
    expect(issues.map(({ code }) => code)).toContain('within-expected-already');
  });

  test('with an unknown property or an empty list is refused at its place', () => {
    const places = add({ findings: [], remark: 'x' }).issues.map(({ place }) => place);
    expect(places).toEqual(expect.arrayContaining(['/findings', '/remark']));
  });
});
