import { describe, expect, it } from 'vitest';
import { demoActs, type DemoAct } from '../../src/cli/demo/index.js';
import { DEMO_TIME_ZONE } from '../../src/cli/demo/shifts.js';
import { demoPatients, wardResources } from '../../src/cli/demo/ward.js';
import { addendumRequest, withdrawalRequest } from '../../src/exam/change-requests.js';
import type { Exam } from '../../src/exam/exam.js';
import type { Issue } from '../../src/exam/issue.js';
import type { PatientRecord, SeriesTail } from '../../src/exam/patient-record.js';
import { readExam } from '../../src/exam/read-exam.js';
import { checkAgainstRecord } from '../../src/exam/record-checks.js';
import { DEFAULT_SITE_RULES } from '../../src/exam/rules.js';
import { standingOf } from '../../src/exam/standing.js';
import { toObservations } from '../../src/exam/to-observations.js';
import { compileValidator, r4Definitions, stringifyJson } from '../../src/fhir/index.js';
import { pointsOf, type Point } from '../../src/trends/index.js';

// The demo week held against the rules without a service: what each document must be answered, by the week's story.

const acts = demoActs();

interface KeptExam {
  readonly clientId: string;
  readonly exam: Exam;
  readonly points: readonly Point[];
}

function pointsOfExam(exam: Exam): readonly Point[] {
  let count = 0;
  const newId = (): string => {
    count += 1;
    return `o${count}`;
  };
  const context = { patientId: 'p', practitionerId: () => undefined, newId };
  return toObservations(exam, context).flatMap((observation) => pointsOf(observation, DEMO_TIME_ZONE));
}

function seriesOf(kept: readonly KeptExam[]): readonly SeriesTail[] {
  const series = new Map<string, Point[]>();
  for (const { points } of kept) {
    for (const point of points) {
      const { item, measure, side, direction, mode, method, level, digit, unit } = point;
      const key = JSON.stringify([item, measure, side, direction, mode, method, level, digit, unit]);
      series.set(key, [...(series.get(key) ?? []), point]);
    }
  }
  return [...series.values()].flatMap((points) => {
    const [first] = points;
    return first === undefined ? [] : [{ ...first, points: points.toReversed().slice(0, 5) }];
  });
}

function recordOf(patient: string, kept: readonly KeptExam[]): PatientRecord {
  const stays = demoPatients
    .filter(({ key }) => key === patient)
    .map(({ arrived, left }) => ({
      start: { ms: Date.parse(arrived), text: arrived },
      end: { ms: Date.parse(left), text: left },
    }));
  const earlier = kept.map(({ exam }) => ({ ...exam, performedAt: Date.parse(exam.performedAt) }));
  return { stays, series: seriesOf(kept), knownSides: [], ...standingOf(earlier) };
}

interface Told {
  readonly act: DemoAct;
  readonly issues: readonly Issue[];
}

/** Sends a patient's acts to the rules alone, keeping what they take. */
function tellWeek(patient: string): readonly Told[] {
  const told: Told[] = [];
  let kept: readonly KeptExam[] = [];
  for (const act of acts) {
    if (act.patient !== patient || act.expect.outcome === 'repeated') continue;
    if (act.send.path.endsWith('/withdrawals'))
      kept = kept.filter(({ clientId }) => clientId !== act.send.exam);
    if (act.send.path !== '/exams') continue;
    const { exam, issues, places } = readExam(
      stringifyJson(act.send.body),
      { at: Date.parse(act.at ?? ''), zone: DEMO_TIME_ZONE },
      DEFAULT_SITE_RULES,
    );
    const record = recordOf(patient, kept);
    const asked = exam ? checkAgainstRecord(exam, places, record, DEFAULT_SITE_RULES) : [];
    const all = [...issues, ...asked];
    told.push({ act, issues: all });
    if (exam && !all.some(isBlocking)) {
      kept = [...kept, { clientId: exam.clientId, exam, points: pointsOfExam(exam) }];
    }
  }
  return told;
}

function isBlocking({ severity }: Issue): boolean {
  return severity === 'error' || severity === 'confirm';
}

describe('the rules told the demo week', () => {
  it.each(demoPatients.map(({ key }) => key))(
    'ask and refuse of %s what the story has, and nothing else',
    (patient) => {
      const week = tellWeek(patient);
      const found = week.map(({ act, issues }) => [
        act.label,
        [...new Set(issues.filter(isBlocking).map(({ code }) => code))],
      ]);
      const expected = week.map(
        ({
          act: {
            label,
            expect: { outcome, codes },
          },
        }) => [label, outcome === 'refused' ? codes : []],
      );
      expect(found).toEqual(expected);
    },
  );

  it('label what was typed late and what was put right', () => {
    const labelled = acts.filter(({ expect: { outcome, codes } }) => outcome === 'kept' && codes.length > 0);
    expect(labelled.map(({ label }) => label)).toEqual(['P11 S3 full', 'P24 S7 full']);
    for (const { patient = '', label, expect: expected } of labelled) {
      const answer = tellWeek(patient).find(({ act }) => act.label === label);
      expect(answer?.issues.map(({ code }) => code)).toEqual(expect.arrayContaining([...expected.codes]));
    }
  });
});

describe('the changes of the demo week', () => {
  it('have the form that their doors take', () => {
    const changes = acts.filter(({ send }) => send.exam !== undefined);
    const schemas = { withdrawals: withdrawalRequest, addenda: addendumRequest };
    expect(changes.map(({ send }) => send.path.split('/').at(-1))).toEqual(['withdrawals', 'addenda']);
    for (const { send, label } of changes) {
      const schema = schemas[send.path.split('/').at(-1) as keyof typeof schemas];
      expect(schema.safeParse(send.body).error, label).toBeUndefined();
    }
  });
});

describe('the resources of the demo ward', () => {
  it('are valid FHIR R4 by the base definitions of HL7', () => {
    const validate = compileValidator(r4Definitions);
    for (const resource of wardResources()) {
      expect(
        validate(resource).filter(({ severity }) => severity === 'error' || severity === 'fatal'),
        resource.id,
      ).toEqual([]);
    }
  });
});
