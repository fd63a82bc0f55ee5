import { z } from 'zod';
import { given, stringifyJson, type JsonValue } from '../fhir/index.js';
import {
  targetIssues,
  type Addendum,
  type ChangeAuthor,
  type Correction,
  type Withdrawal,
} from './changes.js';
import { DOCUMENT_LIMITS, documentHead } from './document.js';
import type { AsExpectedFinding, Finding } from './exam.js';
import { findingKey } from './finding-key.js';
import { nameFinding } from './finding-name.js';
import { presentExam, type StoredExam } from './from-observations.js';
import { checkChangeTime, writeInstant, type Now } from './head-checks.js';
import type { Issue } from './issue.js';
import { formIssue, pointer, type Report } from './placed.js';
import { readExam } from './read-exam.js';
import type { SiteRules } from './rules.js';
import { readPart } from './shape.js';
import { entryOf, toDocument, type DocumentEntry, type List } from './to-document.js';

const { examiner, recordedAt, confirmed, note } = documentHead.shape;
const why = z.string().min(1).max(DOCUMENT_LIMITS.text).describe('Why the record is changed.');
const findingId = z.string().min(1).max(64).describe("Id of the finding's Observation.");
const entry = z.record(z.string(), z.unknown()).describe('An entry as in an exam document.');
const entries = z.array(entry).min(1).max(DOCUMENT_LIMITS.entries);
const author = {
  by: examiner.describe('Who makes the change.'),
  at: recordedAt.describe('When; default now.'),
  confirmed,
};

/** The body of `POST /exams/{id}/corrections`. */
export const correctionRequest = z.strictObject({
  ...author,
  why,
  replaces: z
    .array(z.strictObject({ id: findingId, finding: entry }))
    .min(1)
    .max(DOCUMENT_LIMITS.entries)
    .describe('Each finding that was wrong, with the entry that stands in its place.'),
});

/** The body of `POST /exams/{id}/withdrawals`. */
export const withdrawalRequest = z.strictObject({
  ...author,
  why,
  withdraws: z
    .union([z.literal('all'), z.array(findingId).min(1).max(DOCUMENT_LIMITS.entries)])
    .describe('The findings that are taken back as entered in error, or `all`.'),
});

/** The body of `POST /exams/{id}/addenda`. */
export const addendumRequest = z.strictObject({
  ...author,
  why: why.optional(),
  findings: entries.optional(),
  notAssessed: entries.optional(),
  onBody: entries.optional(),
  absent: entries.optional(),
  note,
});

/** What became of the body of a change: the change when nothing is open, and all that was found. */
export interface ChangeReading<T> {
  readonly request?: T;
  readonly issues: readonly Issue[];
}

/**
 * Reads a correction. The exam's document is read again with the new entries in it, so that they are held to every
 * rule and to the rest of the exam. An entry for a joint that was "within expected limits" takes what it says out of
 * that finding and becomes a finding of its own.
 */
export function readCorrection(
  body: JsonValue,
  stored: StoredExam,
  now: Now,
  site: SiteRules,
): ChangeReading<Correction> {
  return reading((report) => {
    const said = readPart(correctionRequest, body, '', report);
    if (said === undefined) return undefined;
    const author = authorOf(said, now, site, report);
    const issues = targetIssues(
      stored,
      said.replaces.map(({ id }) => id),
      (index) => pointer('', 'replaces', index, 'id'),
    );
    issues.forEach(report);
    if (issues.length > 0) return undefined;
    const desk = layOut(stored);
    const edits = said.replaces.map(({ id, finding }, index) =>
      replaceEntry(desk, id, finding, pointer('', 'replaces', index, 'finding')),
    );
    const read = readEdited(desk, edits, said.confirmed, { now, site, report });
    return {
      ...author,
      why: said.why,
      replaces: edits.flatMap((edit) => replacementsOf(edit, read, report)),
      adds: edits.filter(({ isNew }) => isNew).flatMap(({ place }) => read(place)),
    };
  });
}

/** Reads a withdrawal. */
export function readWithdrawal(body: JsonValue, now: Now, site: SiteRules): ChangeReading<Withdrawal> {
  return reading((report) => {
    const said = readPart(withdrawalRequest, body, '', report);
    if (said === undefined) return undefined;
    return { ...authorOf(said, now, site, report), why: said.why, withdraws: said.withdraws };
  });
}

/** Reads an addendum: its entries are read in the exam's document, after those that stand there. */
export function readAddendum(
  body: JsonValue,
  stored: StoredExam,
  now: Now,
  site: SiteRules,
): ChangeReading<Addendum> {
  return reading((report) => {
    const said = readPart(addendumRequest, body, '', report);
    if (said === undefined) return undefined;
    const author = authorOf(said, now, site, report);
    const desk = layOut(stored);
    const edits = ADDED_LISTS.flatMap((list) =>
      (said[list] ?? []).map((added, index) => addEntry(desk, list, added, pointer('', list, index))),
    );
    const read = readEdited(desk, edits, said.confirmed, { now, site, report });
    const findings = edits.flatMap(({ place }) => read(place));
    return given({ ...author, why: said.why, findings, note: said.note });
  });
}

const ADDED_LISTS = ['findings', 'notAssessed', 'onBody', 'absent'] as const;

function reading<T>(read: (report: Report) => T | undefined): ChangeReading<T> {
  const issues: Issue[] = [];
  const request = read((issue) => issues.push(issue));
  const isOpen = issues.some(isUnsettled);
  return request === undefined || isOpen ? { issues } : { request, issues };
}

function isUnsettled({ severity }: Issue): boolean {
  return severity === 'error' || severity === 'confirm';
}

interface SaidAuthor {
  readonly by: z.infer<typeof examiner>;
  readonly at?: string | undefined;
  readonly confirmed?: readonly string[] | undefined;
}

function authorOf(said: SaidAuthor, now: Now, site: SiteRules, report: Report): ChangeAuthor {
  const at = said.at ?? writeInstant(now);
  checkChangeTime(at, now, site, report);
  return given({ by: given(said.by), at, confirmed: said.confirmed });
}

/** An exam laid out as its document, with the place of each finding in it; the entries of a change are put in. */
interface Desk {
  readonly head: DocumentEntry;
  readonly lists: Record<List, DocumentEntry[]>;
  readonly laid: readonly Laid[];
}

interface Laid {
  readonly id: string;
  readonly finding: Finding;
  readonly list: List;
  readonly index: number;
}

function layOut(stored: StoredExam): Desk {
  const { exam, ids } = presentExam(stored);
  const lists: Desk['lists'] = { asExpected: [], findings: [], onBody: [], absent: [], notAssessed: [] };
  const laid = exam.findings.map((finding, at): Laid => {
    const { list, entry: written } = entryOf(finding);
    return { id: ids[at] ?? '', finding, list, index: lists[list].push(written) - 1 };
  });
  return { head: toDocument({ ...exam, findings: [] }), lists, laid };
}

/** One entry that a change puts into the document. */
interface Edit {
  /** Its place in the document. */
  readonly place: string;
  /** Its place in the request. */
  readonly asked: string;
  /** The finding that it corrects. */
  readonly target?: Laid;
  /** Whether it stands beside its target, which then loses what the entry says, and not in its place. */
  readonly isNew: boolean;
}

function replaceEntry(desk: Desk, id: string, said: DocumentEntry, asked: string): Edit {
  const target = desk.laid.find((laid) => laid.id === id);
  if (target === undefined) throw new RangeError(`no finding ${id} in the document`);
  if (target.finding.kind === 'as-expected' && 'joint' in said) {
    return { ...addEntry(desk, 'findings', said, asked), target };
  }
  desk.lists[target.list][target.index] = said;
  return { place: pointer('', target.list, target.index), asked, target, isNew: false };
}

function addEntry({ lists }: Desk, list: List, said: DocumentEntry, asked: string): Edit {
  const index = lists[list].push(said) - 1;
  return { place: pointer('', list, index), asked, isNew: true };
}

/** The findings that were read at a place of the edited document. */
type ReadAt = (place: string) => readonly Finding[];

interface EditReading {
  readonly now: Now;
  readonly site: SiteRules;
  readonly report: Report;
}

/** Reads the edited document; what it says of its own head and of what is missing was answered with the exam. */
function readEdited(
  { head, lists, laid }: Desk,
  edits: readonly Edit[],
  confirmedNow: readonly string[] = [],
  { now, site, report }: EditReading,
): ReadAt {
  const confirmedAll = [...(head['confirmed'] as readonly string[]), ...confirmedNow];
  const text = stringifyJson({ ...head, ...lists, confirmed: confirmedAll });
  const { exam, places, issues } = readExam(text, now, site);
  for (const issue of issues) {
    const edit = edits.find(({ place }) => issue.place === place || issue.place.startsWith(`${place}/`));
    if (edit !== undefined) report({ ...issue, place: edit.asked + issue.place.slice(edit.place.length) });
    else if (isUnsettled(issue)) report({ ...issue, place: '' });
  }
  const found = (exam?.findings ?? []).map((finding) => ({ finding, at: places.get(findingKey(finding)) }));
  const read: ReadAt = (place) =>
    found
      .filter(({ at }) => at === place || at?.startsWith(`${place}/`) === true)
      .map(({ finding }) => finding);
  if (exam !== undefined) reportTaken(laid, edits, read, report);
  return read;
}

/** A finding "within expected limits" loses nothing to a change that does not name it. */
function reportTaken(laid: readonly Laid[], edits: readonly Edit[], read: ReadAt, report: Report): void {
  for (const one of laid) {
    if (one.finding.kind !== 'as-expected' || edits.some(({ target }) => target === one)) continue;
    const [after] = read(pointer('', one.list, one.index));
    if (after !== undefined && sharedWith(one.finding, after) === one.finding) continue;
    const sentence = `${nameFinding(one.finding)} was found within expected limits (${one.id}), which this contradicts; correct that finding.`;
    report(formIssue('within-expected-already', '', sentence, { found: one.id }));
  }
}

function replacementsOf(edit: Edit, read: ReadAt, report: Report): Correction['replaces'] {
  const { target, place, asked, isNew } = edit;
  if (target === undefined) return [];
  const { id, finding } = target;
  if (isNew && finding.kind === 'as-expected') {
    const [after] = read(pointer('', target.list, target.index));
    if (after !== undefined) return [{ id, finding: sharedWith(finding, after) }];
    const sentence = `Nothing of ${nameFinding(finding)} stays within expected limits; withdraw it and add what was found.`;
    report(formIssue('nothing-left', asked, sentence, { found: id }));
    return [];
  }
  const [one, ...others] = read(place);
  if (one === undefined) return [];
  if (others.length > 0) {
    const sentence = 'One finding is replaced by one: give each value as a replacement of its own finding.';
    report(formIssue('one-finding', asked, sentence, { found: others.length + 1, allowed: 1 }));
  }
  return [{ id, finding: one }];
}

/**
 * What two readings of one "within expected limits" both cover. The later one may cover more, since a finding that
 * was taken out of it may have been withdrawn; that was never examined as expected. The earlier one itself when
 * nothing is lost.
 */
function sharedWith(before: AsExpectedFinding, after: Finding): AsExpectedFinding {
  if (after.kind !== 'as-expected') return before;
  const kept = {
    items: before.items.filter((item) => after.items.includes(item)),
    range: before.range.filter((moved) => after.range.includes(moved)),
    strength: before.strength.filter((moved) => after.strength.includes(moved)),
    aspects: before.aspects.filter((aspect) => after.aspects.includes(aspect)),
  };
  const isWhole = (['items', 'range', 'strength', 'aspects'] as const).every(
    (part) => kept[part].length === before[part].length,
  );
  return isWhole ? before : { ...before, ...kept };
}
