import type { Exam } from './exam.js';
import type { Issue } from './issue.js';
import type { PatientRecord, Stay } from './patient-record.js';
import { checkFullRange, checkKnownProblems } from './problem-checks.js';
import { DEFAULT_RECORD_RULES, type RecordRules } from './record-rules.js';
import { ruleIssue, type SiteRules } from './rules.js';
import { checkKnownSide, checkSwappedSides } from './side-checks.js';
import { checkAbsentParts, checkInsideCast, checkPrecautions, checkProstheses } from './standing-checks.js';
import { checkGripUnit, checkPassiveAndActive, checkRecovery, checkSwelling } from './value-checks.js';
import { openVisit, type Visit } from './visit.js';

/**
 * Holds an exam against the patient's record: what no document can tell by itself. It asks and refuses, and never
 * judges the patient. A question whose rule stands in the exam's `confirmed` comes back as `info`; an error never
 * yields. `places` has the JSON Pointer of each finding by its key (`findingKey`). The order of the record's rows is
 * of no account, and what was recorded at or after the exam's moment is left out.
 */
export function checkAgainstRecord(
  exam: Exam,
  places: ReadonlyMap<string, string>,
  record: PatientRecord,
  site: SiteRules,
  rules: RecordRules = DEFAULT_RECORD_RULES,
): readonly Issue[] {
  const visit = openVisit(exam, places, record, site, rules);
  return CHECKS.flatMap((check) => check(visit)).map((issue) => withConfirmation(issue, exam.confirmed));
}

const CHECKS: readonly ((visit: Visit) => readonly Issue[])[] = [
  checkStay,
  checkAbsentParts,
  checkProstheses,
  checkInsideCast,
  checkPrecautions,
  checkKnownSide,
  checkSwappedSides,
  checkPassiveAndActive,
  checkGripUnit,
  checkSwelling,
  checkRecovery,
  checkFullRange,
  checkKnownProblems,
];

function withConfirmation(issue: Issue, confirmed: readonly string[]): Issue {
  if (issue.severity !== 'confirm' || !confirmed.includes(issue.code)) return issue;
  return { ...issue, severity: 'info', sentence: `Confirmed by the examiner: ${issue.sentence}` };
}

/** TM-03: the exam's moment in no stay of the patient; both ends of a stay belong to it. */
function checkStay({ exam, at, record }: Visit): readonly Issue[] {
  const { performedAt } = exam;
  if (record.stays.length === 0)
    return [
      ruleIssue('TM-03', '/performedAt', 'No stay of this patient is on record to hold the time against.', {
        severity: 'advise',
        found: performedAt,
      }),
    ];
  if (record.stays.some(({ start, end }) => start.ms <= at && (end === undefined || at <= end.ms))) return [];
  const limit = nearestEnd(record.stays, at);
  return [
    ruleIssue(
      'TM-03',
      '/performedAt',
      `The exam at ${performedAt} is in no stay of this patient: ${limit}.`,
      {
        found: performedAt,
      },
    ),
  ];
}

/** The arrival or discharge nearest to a moment outside every stay, in words. */
function nearestEnd(stays: readonly Stay[], at: number): string {
  const ends = stays.flatMap(({ start, end }) => [
    { ms: start.ms, words: `the patient arrived at ${start.text}` },
    ...(end === undefined ? [] : [{ ms: end.ms, words: `the patient was discharged at ${end.text}` }]),
  ]);
  const [nearest] = ends.sort(
    (one, other) => Math.abs(one.ms - at) - Math.abs(other.ms - at) || one.ms - other.ms,
  );
  return nearest?.words ?? '';
}
