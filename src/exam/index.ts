export {
  addendumRequest,
  correctionRequest,
  readAddendum,
  readCorrection,
  readWithdrawal,
  withdrawalRequest,
  type ChangeReading,
} from './change-requests.js';
export {
  addToExam,
  changesOf,
  correctFindings,
  DEFAULT_CHANGE_RULES,
  withdrawFindings,
  type Addendum,
  type ChangeAnswer,
  type ChangeAuthor,
  type ChangeRecord,
  type ChangeRules,
  type Correction,
  type ExamChange,
  type Withdrawal,
} from './changes.js';
export { gapsOf, oneSidedJoints, type Gap } from './completeness.js';
export { DOCUMENT_LIMITS, examDocument } from './document.js';
export type {
  AbsentPartFinding,
  AsExpectedFinding,
  DecimalText,
  Exam,
  ExamType,
  Finding,
  GaitFinding,
  GripFinding,
  Identifier,
  InstantText,
  LookFeelFinding,
  LookFeelItem,
  MeasureFinding,
  NeurovascularElement,
  NeurovascularFinding,
  NotAssessedFinding,
  OnBodyFinding,
  PainFinding,
  Precaution,
  RangeFinding,
  ReadBack,
  ScreenFinding,
  Staff,
  StrengthFinding,
} from './exam.js';
export { nativeInvariants } from './finding-invariants.js';
export { findingKey } from './finding-key.js';
export { jointName, nameFinding } from './finding-name.js';
export { profileOf } from './finding-profile.js';
export type { Now } from './head-checks.js';
export type { Issue } from './issue.js';
export { readExam, readParsedExam, type ExamReading } from './read-exam.js';
export { DEFAULT_SITE_RULES, ruleIssue, RULES, type Rule, type RuleId, type SiteRules } from './rules.js';
export type { ExamObservation } from './component.js';
export {
  fromObservations,
  clientIdOf,
  findingOf,
  isInForce,
  NotAnExam,
  presentExam,
  staffOf,
  type PresentExam,
  type StoredExam,
} from './from-observations.js';
export { gripKgf } from './grip.js';
export { matchPatient } from './match-patient.js';
export type {
  EarlierExam,
  KnownSide,
  Moment,
  OpenFinding,
  PatientRecord,
  SeriesPoint,
  SeriesTail,
  StandingAbsence,
  StandingDevice,
  StandingPrecaution,
  Stay,
} from './patient-record.js';
export { nextVersion, toProvenance, type Act, type ActKind, type ExamProvenance } from './provenance.js';
export { checkAgainstRecord } from './record-checks.js';
export { DEFAULT_RECORD_RULES, type RecordRules } from './record-rules.js';
export { standingOf, type StandingThings } from './standing.js';
export { toObservations, type Authorship, type ResourceContext } from './to-observations.js';
export { summarise } from './summary.js';
export {
  entryOf,
  toDocument,
  toShownDocument,
  type DocumentEntry,
  type WrittenDocument,
} from './to-document.js';
