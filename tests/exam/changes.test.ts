import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { profileUrl } from '../../src/catalogue/index.js';
import type { ExamObservation } from '../../src/exam/component.js';
import {
  addToExam,
  changesOf,
  correctFindings,
  DEFAULT_CHANGE_RULES,
  withdrawFindings,
  type ChangeAnswer,
  type ExamChange,
} from '../../src/exam/changes.js';
import type { Exam, Finding, Staff } from '../../src/exam/exam.js';
import { presentExam, type StoredExam } from '../../src/exam/from-observations.js';
import { toProvenance } from '../../src/exam/provenance.js';
import { toObservations, type ResourceContext } from '../../src/exam/to-observations.js';
import { parseJson, stringifyJson } from '../../src/fhir/index.js';
import { ownConformance } from '../conformance.js';
import { arbitraryExam } from './arbitrary-exam.js';

const { validate } = ownConformance();

const STAFF = 'http://example.org/demo/staff';
const therapist: Staff = { identifier: { system: STAFF, value: 'DEMO-PT-01' }, role: 'PT' };
const typist: Staff = { identifier: { system: STAFF, value: 'DEMO-RN-02' }, role: 'RN' };
const stranger: Staff = { identifier: { system: STAFF, value: 'DEMO-RN-09' }, role: 'RN' };
const clerk: Staff = { identifier: { system: STAFF, value: 'DEMO-RC-01' }, role: 'records' };
const AT = '2026-03-05T12:00:00-05:00';

const flexion = (degrees: string, side: 'left' | 'right' = 'left'): Finding => ({
  kind: 'range',
  movement: 'knee.flexion',
  side,
  mode: 'active',
  extent: { degrees },
  method: 'goniometer-long-arm',
});

const exam: Exam = {
  clientId: 'c1',
  type: 'focused',
  patient: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P03' },
  readBack: { birthDate: '1960' },
  examiner: therapist,
  recorder: typist,
  performedAt: '2026-03-05T08:10:00-05:00',
  recordedAt: '2026-03-05T08:25:00-05:00',
  positions: [],
  precautions: [],
  confirmed: [],
  note: 'first note',
  findings: [flexion('74'), { kind: 'strength', movement: 'knee.flexion', side: 'left', grade: '4' }],
};

function contextOf(start: number): ResourceContext {
  let last = start;
  return { patientId: 'p1', practitionerId: () => undefined, newId: () => `o${(last += 1)}` };
}

/** As the store gives them back: with the version they have. */
function stored(resources: readonly ExamObservation[], version = '1'): readonly ExamObservation[] {
  return resources.map((resource) => ({ ...resource, meta: { ...resource.meta, versionId: version } }));
}

function storedExam(from: Exam): StoredExam {
  const [panel, ...members] = stored(toObservations(from, contextOf(0)));
  if (panel === undefined) throw new Error('no panel');
  return { panel, members };
}

function changeOf(answer: ChangeAnswer): ExamChange {
  if (answer.kind === 'refused') throw new Error(answer.issues.map(({ sentence }) => sentence).join(' '));
  return answer.change;
}

function codesOf(answer: ChangeAnswer): readonly string[] {
  return answer.kind === 'refused' ? answer.issues.map(({ code, place }) => `${code} ${place}`) : [];
}

/** The exam after a change was written. */
function after({ panel, members }: StoredExam, { updated, created }: ExamChange): StoredExam {
  const written = stored([...updated, ...created], '2');
  const find = (old: ExamObservation): ExamObservation => written.find(({ id }) => id === old.id) ?? old;
  const fresh = written.filter(({ id }) => created.some((one) => one.id === id));
  return { panel: find(panel), members: [...members.map(find), ...fresh] };
}

const correct = (before: StoredExam, by: Staff, id: string, finding: Finding): ChangeAnswer =>
  correctFindings(
    before,
    { by, at: AT, why: 'misread', replaces: [{ id, finding }] },
    contextOf(100),
    DEFAULT_CHANGE_RULES,
  );

const withdraw = (before: StoredExam, by: Staff, withdraws: readonly string[] | 'all'): ChangeAnswer =>
  withdrawFindings(
    before,
    { by, at: AT, why: 'wrong knee', withdraws },
    contextOf(100),
    DEFAULT_CHANGE_RULES,
  );

// Statuses after R4 observation-status: corrected = "modified to correct an error", amended = "modified subsequently".
describe('a correction', () => {
  test('keeps the id of the finding and makes it corrected, its panel amended', () => {
    const before = storedExam(exam);
    const change = changeOf(correct(before, therapist, 'o2', flexion('64.0')));
    expect(change.updated.map(({ id, status }) => [id, status])).toEqual([
      ['o1', 'amended'],
      ['o2', 'corrected'],
    ]);
    expect(presentExam(after(before, change)).exam.findings).toEqual([flexion('64.0'), exam.findings[1]]);
  });

  test('keeps who examined and when', () => {
    const before = storedExam(exam);
    const corrected = changeOf(correct(before, clerk, 'o2', flexion('64'))).updated[1];
    expect(corrected?.performer).toEqual(before.members[0]?.performer);
    expect(corrected?.effectiveDateTime).toBe(exam.performedAt);
    expect(corrected?.issued).toBe(AT);
  });

  test('is refused to anyone but the examiner, the recorder and a records role (CR-03)', () => {
    const before = storedExam(exam);
    expect(codesOf(correct(before, stranger, 'o2', flexion('64')))).toEqual(['CR-03 /by']);
    for (const by of [therapist, typist, clerk])
      expect(correct(before, by, 'o2', flexion('64')).kind).toBe('change');
  });

  test('never moves a finding to another side: that is a withdrawal and an addition (CR-02)', () => {
    expect(codesOf(correct(storedExam(exam), therapist, 'o2', flexion('74', 'right')))).toEqual([
      'correction-of-another-thing /replaces/0/finding',
    ]);
  });

  test('of a withdrawn or unknown finding is refused at its place', () => {
    const before = storedExam(exam);
    const withdrawn = after(before, changeOf(withdraw(before, therapist, ['o2'])));
    expect(codesOf(correct(withdrawn, therapist, 'o2', flexion('64')))).toEqual([
      'finding-withdrawn /replaces/0/id',
    ]);
    expect(codesOf(correct(before, therapist, 'o99', flexion('64')))).toEqual([
      'unknown-finding /replaces/0/id',
    ]);
  });
});

describe('a withdrawal', () => {
  test('of one finding leaves the others in force and is listed', () => {
    const before = storedExam(exam);
    const now = presentExam(after(before, changeOf(withdraw(before, therapist, ['o2']))));
    expect(now.status).toBe('amended');
    expect(now.exam.findings).toEqual([exam.findings[1]]);
    expect(now.ids).toEqual(['o3']);
    expect(now.withdrawn).toEqual([{ id: 'o2', finding: flexion('74') }]);
  });

  test('of all findings, at once or one by one, withdraws the exam, which then takes no change', () => {
    const before = storedExam(exam);
    const atOnce = after(before, changeOf(withdraw(before, therapist, 'all')));
    const first = after(before, changeOf(withdraw(before, therapist, ['o2'])));
    const oneByOne = after(first, changeOf(withdraw(first, therapist, ['o3'])));
    for (const gone of [atOnce, oneByOne]) {
      expect(presentExam(gone).status).toBe('entered-in-error');
      expect(gone.members.map(({ status }) => status)).toEqual(['entered-in-error', 'entered-in-error']);
      expect(codesOf(correct(gone, therapist, 'o2', flexion('64')))).toContain('exam-withdrawn ');
    }
  });

  test('keeps every value that was withdrawn', () => {
    const before = storedExam(exam);
    const [, gone] = changeOf(withdraw(before, therapist, ['o2'])).updated;
    expect({ ...gone, status: 'final' }).toEqual(before.members[0]);
  });
});

describe('an addendum', () => {
  const painful: Finding = { kind: 'pain', score: '7', when: 'movement', joint: 'knee', side: 'left' };

  test('adds findings and a note in the name of whoever adds them', () => {
    const before = storedExam(exam);
    const addendum = { by: stranger, at: AT, findings: [painful], note: 'seen again at noon' };
    const now = after(before, changeOf(addToExam(before, addendum, contextOf(100))));
    const { exam: present, addedNotes, status } = presentExam(now);
    expect(present.findings).toEqual([...exam.findings, painful]);
    expect(present.note).toBe('first note');
    expect(addedNotes).toEqual([{ by: stranger, at: AT, note: 'seen again at noon' }]);
    expect(status).toBe('amended');
    expect(now.members.at(-1)?.performer?.[0]?.identifier?.value).toBe('DEMO-RN-09');
    const [id = ''] = presentExam(now).ids.slice(-1);
    expect(correct(now, stranger, id, { ...painful, score: '6' }).kind).toBe('change');
  });

  test('of an item that stands already is refused: it is a correction', () => {
    const addendum = { by: therapist, at: AT, findings: [flexion('80')] };
    expect(codesOf(addToExam(storedExam(exam), addendum, contextOf(100)))).toEqual(['item-twice /findings']);
  });

  test('with nothing in it is refused', () => {
    expect(
      codesOf(addToExam(storedExam(exam), { by: therapist, at: AT, findings: [] }, contextOf(100))),
    ).toEqual(['empty-addendum ']);
  });
});

describe('who changed what, when and why', () => {
  test('is told by the Provenances, in order of time, each naming the versions it wrote', () => {
    const before = storedExam(exam);
    const taken = changeOf(withdraw(before, therapist, ['o2'])).provenance;
    const act = {
      kind: 'exam',
      by: therapist,
      occurredAt: exam.performedAt,
      recordedAt: exam.recordedAt,
    } as const;
    const first = toProvenance(act, toObservations(exam, contextOf(0)), contextOf(50));
    expect(changesOf([taken, first])).toEqual([
      { kind: 'exam', by: therapist, at: exam.recordedAt, resources: ['o1', 'o2', 'o3'] },
      { kind: 'withdrawal', by: therapist, at: AT, why: 'wrong knee', resources: ['o1', 'o2'] },
    ]);
    expect(taken.target.map(({ reference }) => reference)).toEqual([
      'Observation/o1/_history/2',
      'Observation/o2/_history/2',
    ]);
  });

  // FHIR R4 4.0.1 StructureDefinitions Observation and Provenance, and our profiles.
  test('is written in valid FHIR R4 that keeps the profiles it claims, whatever the exam', () => {
    fc.assert(
      fc.property(arbitraryExam, (drawn) => {
        const before = storedExam(drawn);
        const { updated, provenance } = changeOf(withdraw(before, drawn.examiner, 'all'));
        expect(updated.map(({ meta }) => meta?.profile?.length)).toEqual(updated.map(() => 1));
        for (const resource of [...updated, provenance]) {
          const parsed = parseJson(stringifyJson(resource));
          if (!parsed.ok) throw new Error('not JSON');
          expect(validate(parsed.value).filter(({ severity }) => severity === 'error')).toEqual([]);
        }
      }),
      { numRuns: 50 },
    );
  });

  test('of a value claims the profile of its kind, also where it was written before there were profiles', () => {
    const { panel, members } = storedExam(exam);
    const old = members.map((member) => ({ ...member, meta: { versionId: '1' } }));
    const { updated } = changeOf(
      correctFindings(
        { panel, members: old },
        { by: therapist, at: AT, why: 'typed wrong', replaces: [{ id: 'o2', finding: flexion('47') }] },
        contextOf(100),
        DEFAULT_CHANGE_RULES,
      ),
    );
    expect(updated.find(({ id }) => id === 'o2')?.meta).toEqual({
      versionId: '1',
      profile: [profileUrl('range')],
    });
  });
});
