import fc from 'fast-check';
import { expect, test } from 'vitest';
import { fromObservations } from '../../src/exam/from-observations.js';
import { toObservations } from '../../src/exam/to-observations.js';
import { compileValidator, parseJson, r4Definitions, stringifyJson } from '../../src/fhir/index.js';
import type { ExamObservation } from '../../src/exam/component.js';
import { arbitraryExam } from './arbitrary-exam.js';
import { countingContext } from './counting-context.js';

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

// FHIR R4 4.0.1 StructureDefinition Observation, by the validator made of the published tables.
test('each Observation of an exam is valid base FHIR R4', () => {
  const validate = compileValidator(r4Definitions);
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      for (const resource of throughJson(toObservations(exam, countingContext({ testData: true })))) {
        expect(validate(resource).filter(({ severity }) => severity === 'error')).toEqual([]);
      }
    }),
    { numRuns: 100 },
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
