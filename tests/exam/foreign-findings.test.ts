import fc from 'fast-check';
import { isLosslessNumber } from 'lossless-json';
import { expect, it } from 'vitest';
import type { ExamObservation } from '../../src/exam/component.js';
import type { Finding } from '../../src/exam/exam.js';
import {
  checkAgainstRecord,
  DEFAULT_SITE_RULES,
  findingKey,
  findingOf,
  fromObservations,
  NotAnExam,
  standingOf,
  toObservations,
} from '../../src/exam/index.js';
import { hasErrors, parseJson, stringifyJson } from '../../src/fhir/index.js';
import { pointsOf, remarksOn, siteTokensOf } from '../../src/trends/index.js';
import { ownConformance } from '../conformance.js';
import { arbitraryExam } from './arbitrary-exam.js';

/** Every place of a JSON value that holds something in a member or an item. */
function placesIn(
  value: unknown,
  above: readonly (string | number)[] = [],
): (readonly (string | number)[])[] {
  if (typeof value !== 'object' || value === null || isLosslessNumber(value)) return [];
  return Object.entries(value).flatMap(([name, held]) => {
    const here = [...above, Array.isArray(value) ? Number(name) : name];
    return [here, ...placesIn(held, here)];
  });
}

/** A copy without what stands at a place, or with another text there. */
function spoilt(
  value: unknown,
  [step, ...rest]: readonly (string | number)[],
  text: string | undefined,
): unknown {
  if (step === undefined || typeof value !== 'object' || value === null) return value;
  const copy = Array.isArray(value) ? [...(value as unknown[])] : { ...value };
  const members = copy as Record<string | number, unknown>;
  const held = members[step];
  if (rest.length > 0) members[step] = spoilt(held, rest, text);
  else if (text !== undefined && typeof held === 'string') members[step] = text;
  else if (Array.isArray(copy)) copy.splice(Number(step), 1);
  else Reflect.deleteProperty(members, step);
  return copy;
}

const WORDS = ['', 'x', '7771000', '24028007', 'msk', 'thumb', 'hip', '2026-03-05', 'http://snomed.info/sct'];

/** Deletions and other words, as shares of the places that there are. */
const arbitrarySpoiling = fc.array(
  fc.record({
    share: fc.double({ min: 0, max: 0.999, noNaN: true }),
    text: fc.option(fc.constantFrom(...WORDS)),
  }),
  { minLength: 1, maxLength: 6 },
);

function spoil(
  observation: ExamObservation,
  spoilings: readonly { share: number; text: string | null }[],
): ExamObservation {
  return spoilings.reduce<unknown>((value, { share, text }) => {
    const places = placesIn(value);
    const place = places[Math.floor(share * places.length)] ?? [];
    return spoilt(value, place, text ?? undefined);
  }, copyOf(observation)) as ExamObservation;
}

function copyOf(observation: ExamObservation): unknown {
  const parsed = parseJson(stringifyJson(observation));
  return parsed.ok ? parsed.value : undefined;
}

function findingsIn(observation: ExamObservation): readonly Finding[] {
  try {
    return [findingOf(observation)];
  } catch (error) {
    if (error instanceof NotAnExam) return [];
    throw error;
  }
}

/** Whether the doors take it: what claims no profile is held to base R4 alone. */
const isR4 = (observation: ExamObservation): boolean =>
  !hasErrors(ownConformance().validate(observation, 'Observation'));

function unclaimed(observation: ExamObservation): ExamObservation {
  const copy = { ...observation };
  delete copy.meta;
  return copy;
}

it('what another system writes with our codes is read as a finding or as none, and the record stands on', () => {
  const context = { patientId: 'p', practitionerId: () => undefined, newId: () => 'x' };
  fc.assert(
    fc.property(arbitraryExam, arbitrarySpoiling, (exam, spoilings) => {
      const [panel, ...members] = toObservations(exam, context);
      const foreign = members.map((member) => spoil(unclaimed(member), spoilings)).filter(isR4);
      const findings = foreign.flatMap(findingsIn);
      const earlier = { performedAt: Date.parse(exam.performedAt) - 86_400_000, precautions: [], findings };
      const record = { stays: [], series: [], knownSides: [], ...standingOf([earlier]) };
      const places = new Map(
        exam.findings.map((finding, index) => [findingKey(finding), `/findings/${index}`]),
      );
      expect(() => checkAgainstRecord(exam, places, record, DEFAULT_SITE_RULES)).not.toThrow();
      for (const one of foreign) {
        pointsOf(one, 'UTC');
        remarksOn(one);
        siteTokensOf(one);
      }
      try {
        const spoiltPanel = spoil(unclaimed(panel), spoilings);
        if (isR4(spoiltPanel)) fromObservations(spoiltPanel, []);
      } catch (error) {
        expect(error).toBeInstanceOf(NotAnExam);
      }
    }),
    { numRuns: 500 },
  );
});

it('what we write is found by no other site or side than it says (law)', () => {
  const context = { patientId: 'p', practitionerId: () => undefined, newId: () => 'x' };
  fc.assert(
    fc.property(arbitraryExam, (exam) => {
      for (const { bodySite, ...observation } of toObservations(exam, context)) {
        const said = (bodySite?.coding ?? []).map(({ system, code }) => `${system ?? ''}|${code ?? ''}`);
        const understood = siteTokensOf({ ...observation, ...(bodySite && { bodySite }) });
        const sites = understood.filter(({ parameter }) => parameter === '-body-site');
        if (bodySite !== undefined)
          expect(said).toEqual(
            expect.arrayContaining(sites.map(({ system, code }) => `${system ?? ''}|${code}`)),
          );
      }
    }),
    { numRuns: 200 },
  );
});
