import type { Reference } from 'fhir/r4.js';
import { given, type Lossless } from '../fhir/index.js';
import { textDetail, textsIn, type ExamObservation } from './component.js';
import type { Finding, InstantText, Staff } from './exam.js';
import { findingKey } from './finding-key.js';
import { profileOf } from './finding-profile.js';
import { nameFinding } from './finding-name.js';
import { findingOf, fromObservations, isInForce, staffOf, type StoredExam } from './from-observations.js';
import type { Issue } from './issue.js';
import { formIssue, pointer } from './placed.js';
import { toProvenance, type Act, type ActKind, type ExamProvenance } from './provenance.js';
import {
  claiming,
  memberReference,
  memberContent,
  staffReference,
  toMember,
  type ResourceContext,
} from './to-observations.js';
import { isSamePerson } from './staff.js';

/** Who changes an exam, when and why. */
export interface ChangeAuthor {
  readonly by: Staff;
  /** When the change is made. */
  readonly at: InstantText;
  readonly why?: string;
  /** Codes of the checks that were confirmed with it. */
  readonly confirmed?: readonly string[];
}

/** A wrong value put right: CR-02 calls it a correction only where the thing itself stays the same. */
export interface Correction extends ChangeAuthor {
  readonly why: string;
  readonly replaces: readonly {
    /** Id of the finding's Observation. */
    readonly id: string;
    readonly finding: Finding;
  }[];
  /** What was said to be within expected limits and was not: findings that stand beside it from now on. */
  readonly adds?: readonly Finding[];
}

/** Findings, or the whole exam, taken back as entered in error. */
export interface Withdrawal extends ChangeAuthor {
  readonly why: string;
  /** Ids of the findings' Observations. */
  readonly withdraws: readonly string[] | 'all';
}

/** Something added to a finished exam. */
export interface Addendum extends ChangeAuthor {
  readonly findings: readonly Finding[];
  readonly note?: string;
}

/** The resources to write for a change: new versions of what is there, new ones, and who did it. */
export interface ExamChange {
  /** Each with the `meta.versionId` of the version that it follows. */
  readonly updated: readonly ExamObservation[];
  readonly created: readonly ExamObservation[];
  readonly provenance: ExamProvenance;
}

export type ChangeAnswer =
  | { readonly kind: 'change'; readonly change: ExamChange }
  | { readonly kind: 'refused'; readonly issues: readonly Issue[] };

/** Who may change a finding beside its examiner and its recorder (CR-03), by the role the site writes. */
export interface ChangeRules {
  readonly recordsRoles: readonly string[];
}

/** The role of the records department, until a site names its own. */
export const DEFAULT_CHANGE_RULES: ChangeRules = { recordsRoles: ['records'] };

/**
 * Puts wrong values right. The finding's Observation keeps its id and becomes `corrected` ("modified to correct an
 * error", R4 observation-status); the panel becomes `amended`, since it names what has changed.
 */
export function correctFindings(
  stored: StoredExam,
  correction: Correction,
  context: ResourceContext,
  rules: ChangeRules,
): ChangeAnswer {
  const ids = correction.replaces.map(({ id }) => id);
  const issues = [
    ...examIssues(stored),
    ...authorIssues(stored, correction.by, ids, rules),
    ...targetIssues(stored, ids, (index) => pointer('', 'replaces', index, 'id')),
    ...sameThingIssues(stored, correction),
  ];
  if (issues.length > 0) return { kind: 'refused', issues };
  const corrected = correction.replaces.flatMap(({ id, finding }) => {
    const present = memberById(stored, id);
    return present === undefined ? [] : [correctedMember(present, finding, correction)];
  });
  const created = membersOf(stored, correction.adds ?? [], correction, context);
  return changed(
    'correction',
    correction,
    [withMembers(amended(stored.panel), created), ...corrected],
    created,
    context,
  );
}

/** Findings that a correction brings to light: examined by the examiner then, on record from now on. */
function membersOf(
  { panel }: StoredExam,
  findings: readonly Finding[],
  { at }: Correction,
  context: ResourceContext,
): readonly ExamObservation[] {
  const exam = fromObservations(panel, []);
  return findings.map((finding) => toMember(finding, { ...exam, recordedAt: at }, context, context.newId()));
}

function withMembers(panel: ExamObservation, created: readonly ExamObservation[]): ExamObservation {
  return given({ ...panel, hasMember: joined(panel.hasMember, created.map(memberReference)) });
}

/** The new content in the same Observation: for whom, by whom and when it was examined stay as they were. */
function correctedMember(present: ExamObservation, finding: Finding, { at }: Correction): ExamObservation {
  const { id, meta, subject, encounter, effectiveDateTime, performer } = present;
  return given({
    resourceType: 'Observation' as const,
    id,
    meta: claiming(meta, profileOf(finding)),
    status: 'corrected' as const,
    ...memberContent(finding),
    subject,
    encounter,
    effectiveDateTime,
    issued: at,
    performer,
  });
}

/**
 * Takes findings, or the whole exam, back as `entered-in-error`: they leave trends and board at once and stay
 * readable in the history (CR-04). An exam of which nothing stays in force is itself in error.
 */
export function withdrawFindings(
  stored: StoredExam,
  withdrawal: Withdrawal,
  context: ResourceContext,
  rules: ChangeRules,
): ChangeAnswer {
  const { withdraws } = withdrawal;
  const named = withdraws === 'all' ? [] : withdraws;
  const issues = [
    ...examIssues(stored),
    ...authorIssues(stored, withdrawal.by, named, rules),
    ...targetIssues(stored, named, (index) => pointer('', 'withdraws', index)),
  ];
  if (issues.length > 0) return { kind: 'refused', issues };
  const inForce = stored.members.filter(isInForce);
  const taken = withdraws === 'all' ? inForce : inForce.filter(({ id }) => named.includes(id ?? ''));
  const panel = taken.length === inForce.length ? inError(stored.panel) : amended(stored.panel);
  return changed('withdrawal', withdrawal, [panel, ...taken.map(inError)], [], context);
}

/** Adds findings or a note to a finished exam; anyone may, in their own name (CR-03). */
export function addToExam(stored: StoredExam, addendum: Addendum, context: ResourceContext): ChangeAnswer {
  const issues = [...examIssues(stored), ...emptyIssues(addendum), ...twiceIssues(stored, addendum)];
  if (issues.length > 0) return { kind: 'refused', issues };
  const { patient, performedAt } = fromObservations(stored.panel, []);
  const authorship = { patient, examiner: addendum.by, performedAt, recordedAt: addendum.at };
  const created = addendum.findings.map((finding) => toMember(finding, authorship, context, context.newId()));
  const panel = given({
    ...withMembers(amended(stored.panel), created),
    note: joined(stored.panel.note, addendumNotes(addendum, context)),
  });
  return changed('addendum', addendum, [panel], created, context);
}

function addendumNotes(
  { note, by, at }: Addendum,
  context: ResourceContext,
): NonNullable<ExamObservation['note']> {
  return note === undefined ? [] : [{ authorReference: staffReference(by, context), time: at, text: note }];
}

function joined<T>(before: readonly T[] | undefined, added: readonly T[]): readonly T[] | undefined {
  const all = [...(before ?? []), ...added];
  return all.length === 0 ? undefined : all;
}

function changed(
  kind: ActKind,
  { by, at, why, confirmed = [] }: ChangeAuthor,
  [panel, ...members]: readonly [ExamObservation, ...ExamObservation[]],
  created: readonly ExamObservation[],
  context: ResourceContext,
): ChangeAnswer {
  const updated = [withConfirmed(panel, confirmed), ...members];
  const act: Act = given({ kind, by, occurredAt: at, recordedAt: at, why });
  const provenance = toProvenance(act, [...updated, ...created], context);
  return { kind: 'change', change: { updated, created, provenance } };
}

function withConfirmed(panel: ExamObservation, confirmed: readonly string[]): ExamObservation {
  const known = textsIn(panel, 'confirmed');
  const added = confirmed
    .filter((code) => !known.includes(code))
    .flatMap((code) => textDetail('confirmed', code));
  return added.length === 0 ? panel : { ...panel, component: [...(panel.component ?? []), ...added] };
}

function amended(resource: ExamObservation): ExamObservation {
  return { ...resource, status: 'amended' };
}

function inError(resource: ExamObservation): ExamObservation {
  return { ...resource, status: 'entered-in-error' };
}

function memberById({ members }: StoredExam, id: string): ExamObservation | undefined {
  return members.find((member) => member.id === id);
}

function examIssues({ panel }: StoredExam): readonly Issue[] {
  return isInForce(panel)
    ? []
    : [
        formIssue(
          'exam-withdrawn',
          '',
          'This exam was withdrawn as entered in error; it takes no more changes.',
        ),
      ];
}

/** CR-03: the examiner, the recorder, a records role; or whoever added the findings that are changed. */
function authorIssues(
  stored: StoredExam,
  by: Staff,
  ids: readonly string[],
  { recordsRoles }: ChangeRules,
): readonly Issue[] {
  const { examiner, recorder } = fromObservations(stored.panel, []);
  const owners = [examiner, ...(recorder === undefined ? [] : [recorder])];
  const isOwner = owners.some((staff) => isSamePerson(staff, by));
  const isAdder = ids.length > 0 && ids.every((id) => isAddedBy(memberById(stored, id), by));
  if (isOwner || isAdder || (by.role !== undefined && recordsRoles.includes(by.role))) return [];
  const sentence =
    'Only the examiner, the recorder or a records role changes a finding; anyone may add an addendum.';
  return [formIssue('CR-03', '/by', sentence, { found: by.identifier.value })];
}

function isAddedBy(member: ExamObservation | undefined, by: Staff): boolean {
  const staff = staffOf(member?.performer?.[0]);
  return staff !== undefined && isSamePerson(staff, by);
}

/** What stands against changing these findings: unknown, named twice, or withdrawn already. */
export function targetIssues(
  stored: StoredExam,
  ids: readonly string[],
  placeOf: (index: number) => string,
): readonly Issue[] {
  return ids.flatMap((id, index) => {
    const place = placeOf(index);
    const member = memberById(stored, id);
    if (ids.indexOf(id) < index) {
      return [formIssue('finding-twice', place, `The finding ${id} is named twice.`, { found: id })];
    }
    if (member === undefined) {
      const allowed = stored.members.filter(isInForce).flatMap((one) => one.id ?? []);
      return [formIssue('unknown-finding', place, `The exam has no finding ${id}.`, { found: id, allowed })];
    }
    return isInForce(member)
      ? []
      : [
          formIssue('finding-withdrawn', place, `The finding ${id} was withdrawn as entered in error.`, {
            found: id,
          }),
        ];
  });
}

function sameThingIssues(stored: StoredExam, { replaces }: Correction): readonly Issue[] {
  return replaces.flatMap(({ id, finding }, index) => {
    const present = memberById(stored, id);
    if (present === undefined) return [];
    const before = findingOf(present);
    if (thingOf(before) === thingOf(finding)) return [];
    const sentence = `A correction keeps the thing and changes its value: this finding is ${nameFinding(before)}, not ${nameFinding(finding)}; withdraw it and add the other.`;
    return [
      formIssue('correction-of-another-thing', pointer('', 'replaces', index, 'finding'), sentence, {
        found: nameFinding(finding),
        allowed: nameFinding(before),
      }),
    ];
  });
}

/** What a finding is about: how it was taken (mode, method, level, device) may be corrected with the value. */
function thingOf(finding: Finding): string {
  const held: Readonly<Record<string, unknown>> = { ...finding };
  return JSON.stringify([finding.kind, ...THING.map((name) => held[name] ?? null)]);
}

const THING = [
  'joint',
  'joints',
  'side',
  'movement',
  'direction',
  'digit',
  'digitJoint',
  'measure',
  'screen',
  'limb',
  'subject',
] as const;

function emptyIssues({ findings, note }: Addendum): readonly Issue[] {
  return findings.length === 0 && note === undefined
    ? [formIssue('empty-addendum', '', 'An addendum has at least a finding or a note.')]
    : [];
}

/** The same item twice is a correction, not an addition. */
function twiceIssues(stored: StoredExam, { findings }: Addendum): readonly Issue[] {
  const taken = new Set(stored.members.filter(isInForce).map((member) => findingKey(findingOf(member))));
  return findings.flatMap((finding) => {
    if (!taken.has(findingKey(finding))) return [];
    const sentence = `The exam has ${nameFinding(finding)} already; correct it instead of adding it again.`;
    return [formIssue('item-twice', '/findings', sentence, { found: nameFinding(finding) })];
  });
}

/** One change of an exam as it is shown beside its document. */
export interface ChangeRecord {
  readonly kind: ActKind;
  readonly by: Staff;
  readonly at: InstantText;
  readonly why?: string;
  /** Ids of the Observations that it wrote, the panel's among them. */
  readonly resources: readonly string[];
}

const KINDS: Readonly<Record<string, ActKind>> = {
  CREATE: 'exam',
  UPDATE: 'correction',
  NULLIFY: 'withdrawal',
  APPEND: 'addendum',
};

/** The acts on an exam, in the order in which they were recorded. */
export function changesOf(provenances: readonly ExamProvenance[]): readonly ChangeRecord[] {
  return provenances
    .flatMap((provenance) => changeOf(provenance) ?? [])
    .sort((a, b) => byInstant(a.at, b.at));
}

function byInstant(a: InstantText, b: InstantText): number {
  return Date.parse(a) - Date.parse(b);
}

function changeOf({ activity, agent, recorded, reason, target }: ExamProvenance): ChangeRecord | undefined {
  const kind = KINDS[activity?.coding?.[0]?.code ?? ''];
  const by = agent[0] && staffOf(agent[0].who);
  if (kind === undefined || by === undefined) return undefined;
  return given({ kind, by, at: recorded, why: reason?.[0]?.text, resources: target.flatMap(idOf) });
}

function idOf({ reference }: Lossless<Reference>): readonly string[] {
  const id = reference?.split('/')[1];
  return id === undefined ? [] : [id];
}
