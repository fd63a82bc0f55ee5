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
export { findingKey } from './finding-key.js';
export { jointName, nameFinding } from './finding-name.js';
export type { Now } from './head-checks.js';
export type { Issue } from './issue.js';
export { readExam, type ExamReading } from './read-exam.js';
export { DEFAULT_SITE_RULES, ruleIssue, RULES, type Rule, type RuleId, type SiteRules } from './rules.js';
