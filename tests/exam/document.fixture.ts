import { readExam, type ExamReading, type SiteRules } from '../../src/exam/index.js';
import { stringifyJson } from '../../src/fhir/index.js';

/** Twenty minutes after the exam of `documentOf` was typed. */
export const NOW = { at: Date.parse('2026-03-05T08:45:00-05:00'), zone: 'America/New_York' };

/** An exam document of an invented patient that nothing is held against; `parts` replace or add to it. */
export function documentOf(parts: Readonly<Record<string, unknown>> = {}): Readonly<Record<string, unknown>> {
  return {
    clientId: 'c-1',
    type: 'focused',
    patient: {
      identifier: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P04' },
      readBack: { name: 'Zzdunmoor', birthDate: '1956' },
    },
    examiner: {
      identifier: { system: 'http://example.org/demo/staff', value: 'DEMO-RN-01' },
      role: 'RN',
    },
    performedAt: '2026-03-05T08:10:00-05:00',
    recordedAt: '2026-03-05T08:25:00-05:00',
    ...parts,
  };
}

export function read(parts: Readonly<Record<string, unknown>> = {}, site?: SiteRules): ExamReading {
  return readExam(stringifyJson(documentOf(parts)), NOW, site);
}

/** Reads a document of these findings alone. */
export function readFindings(...findings: readonly unknown[]): ExamReading {
  return read({ findings });
}

/** `severity code place` of each issue. */
export function issuesOf(reading: ExamReading): readonly string[] {
  return reading.issues.map(({ severity, code, place }) => `${severity} ${code} ${place}`);
}
