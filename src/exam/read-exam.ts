import { findPrecaution, positions } from '../catalogue/index.js';
import { type ParsedJson, given, parseJson, type JsonFault } from '../fhir/index.js';
import type { DocumentHead } from './document.js';
import type { Exam, Finding, InstantText, Precaution } from './exam.js';
import { expandAsExpected, settleTwice } from './expand.js';
import { findingKey } from './finding-key.js';
import { checkIdentity, checkTimes, recordedAtOf, type Now } from './head-checks.js';
import type { Issue } from './issue.js';
import { formIssue, pointer, type Placed, type Report } from './placed.js';
import { checkPlausibility } from './plausibility.js';
import { readAbsent, readNotAssessed, readOnBody } from './read-circumstances.js';
import { readFindingEntry } from './read-entries.js';
import type { Reading } from './read-joint-entry.js';
import { readListedWord } from './read-words.js';
import { DEFAULT_SITE_RULES, ruleIssue, RULES, type SiteRules } from './rules.js';
import { readShape, type DocumentShape, type Entry } from './shape.js';
import { isSamePerson } from './staff.js';

/** What became of a document. */
export interface ExamReading {
  /** The exam, when nothing is refused and all that must be confirmed is. */
  readonly exam?: Exam;
  /** The exam as far as it could be read, also when it is refused: to be held against the patient's record at once. */
  readonly legible?: Exam;
  /** Whom it is about, also when no more of its head could be read. */
  readonly whom?: Pick<Exam, 'patient' | 'readBack'>;
  /** The JSON Pointer of each finding of the legible exam by its key (`findingKey`); empty without one. */
  readonly places: ReadonlyMap<string, string>;
  /** All that was found, in the order of the document's parts and then of the checks. */
  readonly issues: readonly Issue[];
}

/**
 * Reads one exam document: its form, its words, what its groups stand for, and the rules that it can be held to by
 * itself. Every fault is told at once, each with its place. Never throws, whatever the text.
 */
export function readExam(text: string, now: Now, site: SiteRules = DEFAULT_SITE_RULES): ExamReading {
  return readParsedExam(parseJson(text), now, site);
}

/** The same of a text that was parsed already. */
export function readParsedExam(parsed: ParsedJson, now: Now, site: SiteRules): ExamReading {
  if (!parsed.ok) return refused(parsed.faults.map(jsonIssue));
  const issues: Issue[] = [];
  const report: Report = (issue) => issues.push(issue);
  const shape = readShape(parsed.value, report);
  if (!shape) return refused(issues);
  const placed = readPlaced(shape, { report, site });
  const exam = shape.head && readHead(shape.head, placed, now, { report, site });
  if (exam) issues.push(...checkPlausibility({ exam, placed, site }));
  if (exam && saysNothing(exam, issues)) issues.push(ruleIssue('CM-01', '/findings', NOTHING));
  const settled = issues.map((issue) => withConfirmation(issue, shape.head?.entry.confirmed ?? []));
  const { patient } = shape;
  const whom = patient && { patient: patient.identifier, readBack: given(patient.readBack) };
  if (!exam) return given({ ...refused(settled), whom });
  const legible = { ...given({ whom }), legible: exam, places: placesOf(placed), issues: settled };
  return settled.some(isOpen) ? legible : { ...legible, exam };
}

const NOTHING = 'Nothing is recorded: no joint examined, and none not assessed.';

/** An exam of a type that requires nothing has no gaps that would tell. */
function saysNothing({ findings }: Exam, issues: readonly Issue[]): boolean {
  return (
    findings.length === 0 && !issues.some(({ severity, code }) => severity === 'error' || code === 'CM-01')
  );
}

function refused(issues: readonly Issue[]): ExamReading {
  return { places: new Map(), issues };
}

/** Whether an issue keeps the exam from being stored. */
function isOpen({ severity }: Issue): boolean {
  return severity === 'error' || severity === 'confirm';
}

function jsonIssue({ pointer: place, sentence, line, column, code }: JsonFault): Issue {
  return formIssue(code, place, `${sentence} (line ${line}, column ${column})`, { found: { line, column } });
}

function readPlaced(shape: DocumentShape, reading: Reading): readonly Placed[] {
  const told = [
    ...shape.findings.flatMap((entry) => readEntry(entry, readFindingEntry, reading)),
    ...shape.onBody.flatMap((entry) => readEntry(entry, readOnBody, reading)),
    ...shape.absent.flatMap((entry) => readEntry(entry, readAbsent, reading)),
    ...shape.notAssessed.flatMap((entry) => readEntry(entry, readNotAssessed, reading)),
  ];
  const once = settleTwice(told, reading);
  const [whole, partly] = [shape.asExpected.filter(isWhole), shape.asExpected.filter((one) => !isWhole(one))];
  for (const entry of partly) readEntry(entry, (one, at) => expandAsExpected([one], once, at), reading);
  return [...expandAsExpected(whole, once, reading), ...once];
}

function isWhole({ leftOut }: Entry<unknown>): boolean {
  return leftOut === undefined;
}

/** The findings of an entry; of one with a part of the wrong form only what else is wrong with it. */
function readEntry<T>(
  entry: Entry<T>,
  read: (entry: Entry<T>, reading: Reading) => readonly Placed[],
  { report, site }: Reading,
): readonly Placed[] {
  const { leftOut } = entry;
  if (leftOut === undefined) return read(entry, { report, site });
  const own: Report = (issue) => {
    if (isOpen(issue) && !isOfLeftOut(issue, leftOut)) report(issue);
  };
  read(entry, { report: own, site });
  return [];
}

/** Issues that follow from a missing part, and so say nothing of their own where it was given in a wrong form. */
const OF_MISSING: ReadonlySet<string> = new Set([
  'nothing-said',
  'stray-property',
  'movement-missing',
  'joint-missing',
  'examined-and-not-assessed',
  'CM-06',
]);

function isOfLeftOut({ place, code }: Issue, leftOut: readonly string[]): boolean {
  return OF_MISSING.has(code) || leftOut.some((part) => place === part || place.startsWith(`${part}/`));
}

/** The exam of a document whose head has the right form; its own faults are reported. */
function readHead(
  { entry: head, leftOut = [] }: Entry<DocumentHead>,
  placed: readonly Placed[],
  now: Now,
  { report, site }: Reading,
): Exam {
  checkIdentity(head, report);
  if (!leftOut.includes('/recordedAt')) checkTimes(head, now, site, report);
  const { clientId, type, patient, ward, examiner, recorder, performedAt, lateReason, note } = head;
  return given({
    clientId,
    type,
    patient: patient.identifier,
    readBack: given(patient.readBack),
    ward,
    examiner: given(examiner),
    // The examiner who also typed is named once.
    recorder: recorder && !isSamePerson(given(recorder), given(examiner)) ? given(recorder) : undefined,
    performedAt,
    recordedAt: recordedAtOf(head, now) satisfies InstantText,
    lateReason,
    positions: readPositions(head, report),
    precautions: readPrecautions(head, report),
    confirmed: readConfirmed(head, report),
    note,
    findings: placed.map(({ finding }): Finding => finding),
  });
}

function readPositions({ positions: said = [] }: DocumentHead, report: Report): readonly string[] {
  return said.flatMap((word, index) => {
    const row = readListedWord(word, positions, 'position', pointer('/positions', index), report);
    return row ? [row.id] : [];
  });
}

/** Orders by their ids; one that the catalogue does not know stays in its own words, and that is told. */
function readPrecautions({ precautions = [] }: DocumentHead, report: Report): readonly Precaution[] {
  return precautions.map((said, index) => {
    const { precaution, ...rest } = typeof said === 'string' ? { precaution: said } : said;
    const row = findPrecaution(precaution);
    if (!row) {
      const sentence = `The precaution "${precaution}" is kept in its own words; no test is held against it.`;
      const place = pointer('/precautions', index);
      report(formIssue('precaution-in-words', place, sentence, { severity: 'info', found: precaution }));
    }
    return given({ precaution: row?.id ?? precaution, ...rest });
  });
}

/** The confirmed codes that are rules of ours; others are told and left out. */
function readConfirmed({ confirmed = [] }: DocumentHead, report: Report): readonly string[] {
  return [...new Set(confirmed)].filter((code) => {
    if (code in RULES) return true;
    const place = pointer('/confirmed', confirmed.indexOf(code));
    const sentence = `"${code}" is no check that can be confirmed; it is left out.`;
    report(formIssue('unknown-check', place, sentence, { severity: 'info', found: code }));
    return false;
  });
}

/** What the examiner confirmed is told and no longer asked; an error never yields. */
function withConfirmation(issue: Issue, confirmed: readonly string[]): Issue {
  if (issue.severity !== 'confirm' || !confirmed.includes(issue.code)) return issue;
  return { ...issue, severity: 'info', sentence: `Confirmed by the examiner: ${issue.sentence}` };
}

function placesOf(placed: readonly Placed[]): ReadonlyMap<string, string> {
  return new Map(placed.map(({ finding, place }) => [findingKey(finding), place]));
}
