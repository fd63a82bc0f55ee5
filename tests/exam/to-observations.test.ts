import fc from 'fast-check';
import { expect, test } from 'vitest';
import { profileUrl } from '../../src/catalogue/index.js';
import { profileOf } from '../../src/exam/finding-profile.js';
import { fromObservations } from '../../src/exam/from-observations.js';
import { toObservations } from '../../src/exam/to-observations.js';
import { parseJson, stringifyJson } from '../../src/fhir/index.js';
import type { ExamObservation } from '../../src/exam/component.js';
import { ownConformance } from '../conformance.js';
import { arbitraryExam } from './arbitrary-exam.js';
import { countingContext } from './counting-context.js';

const { validate } = ownConformance();

/** What a reader gets: written as JSON and read again. */
function throughJson(resources: readonly ExamObservation[]): readonly ExamObservation[] {
  return resources.map((resource) => {
    const parsed = parseJson(stringifyJson(resource));
    if (!parsed.ok) throw new Error('not JSON');
    return parsed.value as unknown as ExamObservation;
  });
}

test('an exam is the same exam after its Observations were written as JSON and read', () => {
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      const [panel, ...members] = throughJson(toObservations(exam, countingContext()));
      expect(panel && fromObservations(panel, members)).toEqual(exam);
    }),
    { numRuns: 300 },
  );
});

// FHIR R4 4.0.1 StructureDefinition Observation, and our profiles. R4 dom-6 (a narrative) is advice that is not taken.
test('each Observation of an exam is valid FHIR R4 and keeps the profile that it claims, without a warning', () => {
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      const written = throughJson(toObservations(exam, countingContext({ testData: true })));
      expect(written.map(({ meta }) => meta?.profile)).toEqual(
        (['exam', ...exam.findings.map(profileOf)] as const).map((id) => [profileUrl(id)]),
      );
      for (const resource of written) {
        expect(validate(resource).filter(({ rule }) => rule !== 'dom-6')).toEqual([]);
      }
    }),
    { numRuns: 200 },
  );
});

test('what is said of a movement stands at the coded site of its joint, with its side in words', () => {
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      const [, ...members] = toObservations(exam, countingContext());
      exam.findings.forEach((finding, index) => {
        if (!('movement' in finding)) return;
        const { bodySite } = members[index] ?? {};
        expect(bodySite?.coding?.length).toBeGreaterThan(0);
        if (finding.side !== undefined) expect(bodySite?.text?.split(' ')[0]).toBe(finding.side);
      });
    }),
    { numRuns: 200 },
  );
});
