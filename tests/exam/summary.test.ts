import fc from 'fast-check';
import { expect, test } from 'vitest';
import type { Exam, Finding } from '../../src/exam/exam.js';
import { summarise } from '../../src/exam/summary.js';
import { arbitraryExam } from './arbitrary-exam.js';

function examOf(findings: readonly Finding[]): Exam {
  return {
    clientId: 'c1',
    type: 'full',
    patient: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P04' },
    readBack: { name: 'Zzdunmoor' },
    examiner: { identifier: { system: 'http://example.org/demo/staff', value: 'DEMO-PT-01' }, role: 'PT' },
    performedAt: '2026-03-05T08:10:00-05:00',
    recordedAt: '2026-03-05T08:25:00-05:00',
    positions: ['sitting', 'supine'],
    precautions: [],
    confirmed: [],
    findings,
  };
}

test('a summary goes from head to toe with left and right apart, and says why something was not assessed', () => {
  const sides = ['left', 'right'] as const;
  const text = summarise(
    examOf([
      {
        kind: 'range',
        movement: 'knee.flexion',
        side: 'left',
        mode: 'active',
        extent: { degrees: '60.0' },
        method: 'goniometer-long-arm',
      },
      { kind: 'pain', score: '7', when: 'movement', joint: 'knee', side: 'left', movement: 'knee.flexion' },
      {
        kind: 'look-feel',
        joint: 'knee',
        side: 'left',
        items: [{ item: 'swelling', value: 'moderate', describe: 'above the kneecap' }],
      },
      ...sides.map((side): Finding => ({
        kind: 'as-expected',
        joint: 'jaw',
        side,
        aspects: ['look', 'feel'],
        items: ['swelling'],
        range: [],
        strength: [],
        definition: '2026-1',
      })),
      ...sides.map((side): Finding => ({
        kind: 'not-assessed',
        joint: 'hip',
        side,
        aspects: ['look', 'feel', 'range', 'strength'],
        reason: 'privacy',
        note: 'to be offered at 14:00',
      })),
      { kind: 'screen', screen: 'hand-squeeze', result: 'equal-strong' },
    ]),
  );
  expect(text.split('\n')).toEqual([
    'Full examination done 2026-03-05T08:10:00-05:00 by PT DEMO-PT-01, typed 2026-03-05T08:25:00-05:00.',
    'Positions: sitting, lying on the back.',
    'Jaw',
    '  left and right: examined and within expected limits (look, feel).',
    'Hip',
    '  left and right: look, feel, range, strength not assessed: deferred for privacy or dignity (to be offered at 14:00).',
    'Knee',
    '  left: flexion active 60.0° by long-arm goniometer; pain 7/10 on flexion; swelling moderate (above the kneecap).',
    'Whole body',
    '  hand squeeze, both hands together: equal and strong.',
  ]);
});

test('a summary of any exam says each typed number and never the name or the number of the patient', () => {
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      const secret = { patient: { system: 'urn:x', value: 'Qx-patient' }, readBack: { name: 'Qx-name' } };
      const text = summarise({ ...exam, ...secret });
      expect(text).not.toContain('Qx-');
      for (const finding of exam.findings) {
        if (finding.kind === 'grip') for (const trial of finding.trials) expect(text).toContain(trial);
        if (finding.kind === 'measure') expect(text).toContain(finding.value);
      }
    }),
    { numRuns: 100 },
  );
});

test('a summary gives the numbers of a neurovascular check with their scale and unit', () => {
  const elements = [
    { element: 'pain-rest', value: '3' },
    { element: 'capillary-refill', value: '2', comparator: '<' },
    { element: 'pulse', value: 'present' },
  ] as const;
  const text = summarise(examOf([{ kind: 'neurovascular', limb: 'lower', side: 'left', elements }]));
  expect(text).toContain('lower limb: pain at rest 3/10, capillary refill <2 s, pulse present.');
});
