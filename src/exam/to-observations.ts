import type { Annotation, Coding, Identifier as FhirIdentifier, Meta, Reference } from 'fhir/r4.js';
import {
  CANONICAL,
  findExamType,
  findPosition,
  findPrecaution,
  observationCategory,
  panelObservable,
  profileUrl,
  type CodeReference,
  type ProfileId,
} from '../catalogue/index.js';
import { given, type Lossless } from '../fhir/index.js';
import {
  conceptOf,
  dateDetail,
  detailConcept,
  marked,
  textDetail,
  wordConcept,
  wordDetail,
  type Component,
  type ExamObservation,
} from './component.js';
import type { Exam, Finding, Identifier, InstantText, Precaution, Staff } from './exam.js';
import { contentOf } from './finding-content.js';
import { profileOf } from './finding-profile.js';

/** System of the sender's own id of an exam document, on the panel. */
export const CLIENT_ID_SYSTEM = `${CANONICAL}/NamingSystem/exam-client-id`;
/** Who typed the exam, when it was not the examiner: R4's Observation has no element for it. */
export const RECORDER_URL = `${CANONICAL}/StructureDefinition/exam-recorder`;
/** The role of a member of staff as the site writes it, on a reference to them. */
export const ROLE_URL = `${CANONICAL}/StructureDefinition/staff-role`;

/** What the resources of an exam need and its document does not hold. */
export interface ResourceContext {
  /** Id of the Patient. */
  readonly patientId: string;
  /** Id of the Encounter in which it was done. */
  readonly encounterId?: string;
  /** Id of the Practitioner with this identifier, when the record has one. */
  readonly practitionerId: (identifier: Identifier) => string | undefined;
  /** A new id; later ones sort after earlier ones. */
  readonly newId: () => string;
  /** Marks each resource as test data (security label HTEST). */
  readonly testData?: boolean;
}

/** For whom, by whom and when a finding was made and typed: an exam says it, or an addendum. */
export interface Authorship {
  readonly patient: Identifier;
  readonly examiner: Staff;
  readonly performedAt: InstantText;
  readonly recordedAt: InstantText;
}

/**
 * The Observations of an exam: its panel first, then one for each finding in their order, all `final`. Nothing of
 * the exam is lost (`fromObservations`). Instants are written as typed and must be FHIR instants.
 */
export function toObservations(
  exam: Exam,
  context: ResourceContext,
): readonly [panel: ExamObservation, ...members: ExamObservation[]] {
  const panelId = context.newId();
  const members = exam.findings.map((finding) => toMember(finding, exam, context, context.newId()));
  return [toPanel(exam, panelId, members, context), ...members];
}

/** One finding as a `final` Observation with this id. */
export function toMember(
  finding: Finding,
  by: Authorship,
  context: ResourceContext,
  id: string,
): ExamObservation {
  return { ...base(id, profileOf(finding), by, context), ...memberContent(finding) };
}

/** What an Observation says of a finding, whoever made it and when. */
export function memberContent(
  finding: Finding,
): Pick<ExamObservation, 'category' | 'code'> & Partial<ExamObservation> {
  const { wider, component = [], ...content } = contentOf(finding);
  const typed = textDetail('typed-word', finding.typed);
  return given({
    category: categories(wider),
    ...content,
    note: notes(finding.describe),
    component: present([...component, ...typed]),
  });
}

/** The category of every finding, then the standard codes of a wider meaning. */
function categories(wider: readonly CodeReference[]): NonNullable<ExamObservation['category']> {
  return [observationCategory, ...wider].map((code) => ({ coding: [code] }));
}

function toPanel(
  exam: Exam,
  id: string,
  members: readonly ExamObservation[],
  context: ResourceContext,
): ExamObservation {
  return given({
    ...base(id, 'exam', exam, context),
    category: categories(panelObservable.category),
    code: conceptOf(panelObservable.codings, examLabel(exam.type)),
    identifier: [clientIdentifier(exam.clientId)],
    extension: exam.recorder && [
      { url: RECORDER_URL, valueReference: staffReference(exam.recorder, context) },
    ],
    note: notes(exam.note),
    hasMember: present(members.map(memberReference)),
    component: present(envelope(exam)),
  });
}

function examLabel(type: Exam['type']): string {
  return findExamType(type)?.label ?? panelObservable.display;
}

/** What every Observation of an exam has but its content. */
function base(
  id: string,
  profile: ProfileId,
  by: Authorship,
  context: ResourceContext,
): Omit<ExamObservation, 'code'> {
  return given({
    resourceType: 'Observation' as const,
    id,
    meta: claiming(metaOf(context), profile),
    status: 'final' as const,
    subject: subjectOf(by.patient, context),
    encounter: encounterOf(context),
    effectiveDateTime: by.performedAt,
    issued: by.recordedAt,
    performer: [staffReference(by.examiner, context)],
  });
}

/** R4 security labels: HTEST marks a resource that is test data (v3-ActReason). */
const TEST_DATA: Coding = {
  system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
  code: 'HTEST',
  display: 'test health data',
};

/** The `meta` of a new resource: only the label of test data. */
export function metaOf({ testData }: ResourceContext): Lossless<Meta> | undefined {
  return testData === true ? { security: [TEST_DATA] } : undefined;
}

/** The `meta` that claims the profile of a kind. */
export function claiming(meta: Lossless<Meta> | undefined, profile: ProfileId): Lossless<Meta> {
  return { ...meta, profile: [profileUrl(profile)] };
}

function subjectOf(identifier: Identifier, { patientId }: ResourceContext): Lossless<Reference> {
  return { reference: `Patient/${patientId}`, type: 'Patient', identifier };
}

function encounterOf({ encounterId }: ResourceContext): Lossless<Reference> | undefined {
  return encounterId === undefined ? undefined : { reference: `Encounter/${encounterId}`, type: 'Encounter' };
}

/** A member of staff by identifier, and by their resource when the record has it. */
export function staffReference(staff: Staff, { practitionerId }: ResourceContext): Lossless<Reference> {
  const id = practitionerId(staff.identifier);
  return given({
    extension: staff.role === undefined ? undefined : [{ url: ROLE_URL, valueString: staff.role }],
    reference: id === undefined ? undefined : `Practitioner/${id}`,
    type: 'Practitioner',
    identifier: staff.identifier,
  });
}

/** The sender's id of the exam document as a business identifier. */
export function clientIdentifier(clientId: string): Lossless<FhirIdentifier> {
  return { system: CLIENT_ID_SYSTEM, value: clientId };
}

export function memberReference({ id }: ExamObservation): Lossless<Reference> {
  return { reference: `Observation/${id ?? ''}`, type: 'Observation' };
}

function notes(text: string | undefined): readonly Lossless<Annotation>[] | undefined {
  return text === undefined ? undefined : [{ text }];
}

function present<T>(items: readonly T[]): readonly T[] | undefined {
  return items.length === 0 ? undefined : items;
}

/** What the document said of the exam as a whole. */
function envelope(exam: Exam): readonly Component[] {
  return [
    ...wordDetail('exam-type', exam.type, findExamType(exam.type)?.label),
    ...textDetail('ward', exam.ward),
    ...exam.positions.flatMap((position) => wordDetail('position', position, findPosition(position)?.label)),
    ...exam.precautions.map(precautionDetail),
    ...exam.confirmed.flatMap((id) => textDetail('confirmed', id)),
    ...textDetail('read-back-name', exam.readBack.name),
    ...dateDetail('read-back-birth-date', exam.readBack.birthDate),
    ...textDetail('late-reason', exam.lateReason),
  ];
}

function precautionDetail({ precaution, side, note }: Precaution): Component {
  const valueCodeableConcept = wordConcept(precaution, findPrecaution(precaution)?.label);
  return marked({ code: detailConcept('precaution'), valueCodeableConcept }, { side, note });
}
