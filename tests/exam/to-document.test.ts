import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Exam, Finding } from '../../src/exam/exam.js';
import { readExam } from '../../src/exam/read-exam.js';
import { RULES } from '../../src/exam/rules.js';
import { toDocument, toShownDocument } from '../../src/exam/to-document.js';
import { stringifyJson } from '../../src/fhir/index.js';
import { arbitraryFinding } from './arbitrary-exam.js';

const NOW = { at: Date.parse('2026-03-05T09:00:00-05:00'), zone: 'America/New_York' };

function examOf(findings: readonly Finding[]): Exam {
  return {
    clientId: 'c1',
    type: 'focused',
    patient: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P04' },
    readBack: { name: 'Zzdunmoor', birthDate: '1956' },
    ward: '6E',
    examiner: { identifier: { system: 'http://example.org/demo/staff', value: 'DEMO-PT-01' }, role: 'PT' },
    performedAt: '2026-03-05T08:10:00-05:00',
    recordedAt: '2026-03-05T08:25:00-05:00',
    positions: ['sitting'],
    precautions: [
      { precaution: 'hip-posterior', side: 'left', note: 'day 1' },
      { precaution: 'no weight on it' },
    ],
    confirmed: Object.keys(RULES),
    findings,
  };
}

function reread(exam: Exam): ReturnType<typeof readExam> {
  return readExam(stringifyJson(toDocument(exam)), NOW);
}

describe('the document of an exam', () => {
  test('read again is the same exam, whatever findings the reader takes', () => {
    let taken = 0;
    fc.assert(
      fc.property(fc.array(arbitraryFinding, { maxLength: 2 }), (findings) => {
        const { exam } = reread(examOf(findings));
        if (exam === undefined) return;
        taken += 1;
        expect(reread(exam).exam).toEqual(exam);
      }),
      { numRuns: 400 },
    );
    expect(taken).toBeGreaterThan(80);
  });

  test('keeps the digits of every number as they were typed', () => {
    const range: Finding = {
      kind: 'range',
      movement: 'knee.flexion',
      side: 'left',
      mode: 'active',
      extent: { degrees: '30.50' },
      method: 'goniometer-long-arm',
    };
    expect(stringifyJson(toDocument(examOf([range])))).toContain('"degrees":30.50,');
    expect(reread(examOf([range])).exam?.findings).toEqual([range]);
  });

  test('as it is shown, names each finding by its id and says what "as expected" covers', () => {
    const expected: Finding = {
      kind: 'as-expected',
      joint: 'knee',
      side: 'left',
      aspects: ['range'],
      items: [],
      range: ['knee.extension'],
      strength: [],
      definition: '2026-1',
    };
    expect(toShownDocument(examOf([expected]), ['o2']).asExpected).toEqual([
      {
        id: 'o2',
        joints: ['knee'],
        sides: 'left',
        aspects: ['range'],
        covers: { items: [], range: ['knee.extension'], strength: [] },
      },
    ]);
  });
});
