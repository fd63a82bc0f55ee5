export {
  bodySiteOf,
  codesOfSites,
  findBodySite,
  hasSite,
  isPairedSite,
  lateralityCode,
  sideOfConcept,
  siteCodes,
  siteOfCodings,
  standardSiteCodes,
  writtenSiteCodes,
} from './body-sites.js';
export type { BodySite, NamedSite, SiteTraits } from './body-sites.js';
export { CANONICAL, DEFINITIONS_VERSION, SYSTEMS } from './canonical.js';
export {
  bodyDevices,
  findBodyDevice,
  findNotAssessedReason,
  findPosition,
  notAssessedReasonCode,
  notAssessedReasons,
  positions,
} from './circumstances.js';
export type { BodyDevice, NotAssessedReason, Position } from './circumstances.js';
export { DETAIL_NOTE_URL, DETAIL_SIDE_URL, detailDisplay, details } from './details.js';
export type { Detail, DetailCode } from './details.js';
export { findingRules, isPairMovedAsOne, SIDELESS_QUALIFIERS } from './finding-rules.js';
export type { FindingRule, FindingRuleKey } from './finding-rules.js';
export { examTypes, findExamType } from './exam-types.js';
export type { ExamTypeId, ExamTypeRow } from './exam-types.js';
export { withinExpectedDefinition, withinExpectedDefinitions } from './expected.js';
export type { WithinExpectedDefinition } from './expected.js';
export { findGaitWord, gaitWords } from './gait.js';
export type { GaitWord } from './gait.js';
export { findGripDevice, findGripRule, gripDevices, gripLimits, gripRules } from './grip.js';
export type { GripDevice, GripRule, GripRuleId } from './grip.js';
export { findJoint, joints } from './joints.js';
export type { Joint, JointId, Region } from './joints.js';
export { LATERALITY_URL, sideOfExtension, sidesOf } from './laterality.js';
export type { SidedObservation } from './laterality.js';
export {
  expectedItems,
  findLookFeelItem,
  fixedDeformities,
  lookFeelItems,
  lookFeelItemsOf,
  lookFeelWordsOf,
  readLookFeelWord,
} from './look-feel.js';
export type { LookFeelItem, LookFeelWord } from './look-feel.js';
export {
  circumferenceLevels,
  findMeasure,
  measures,
  painScale,
  readLevel,
  readMeasureUnit,
} from './measures.js';
export type { Measure, MeasureInput } from './measures.js';
export { misnomers } from './misnomers.js';
export type {
  InspectionTarget,
  Misnomer,
  MisnomerAction,
  MovementTarget,
  RightWord,
  Target,
} from './misnomers.js';
export { readMovementWord } from './movement-words.js';
export type { WordAnswer } from './movement-words.js';
export { expectedMovements, findMovement, movements, movementsOf } from './movements.js';
export type { Movement, MovementLimits, MovementMeasure, SideRule } from './movements.js';
export { findNeurovascularElement, findNeurovascularWord, neurovascularElements } from './neurovascular.js';
export type { NeurovascularElementRow, NeurovascularWord } from './neurovascular.js';
export {
  absentPartObservable,
  findObservable,
  gaitObservable,
  gripObservable,
  jointExamObservable,
  lookFeelItemObservable,
  lookFeelObservable,
  measureObservable,
  neurovascularElementObservable,
  neurovascularObservable,
  observableCodesOfSide,
  observables,
  observationCategory,
  onBodyObservable,
  painObservable,
  panelObservable,
  qualifierOf,
  rangeObservable,
  screenObservable,
  standardCodes,
  strengthObservable,
  subjectObservable,
} from './observables.js';
export type { ExtensionPart, Observable, ObservableKind } from './observables.js';
export { findPrecaution, precautions } from './precautions.js';
export type { Forbidden, PrecautionRow } from './precautions.js';
export { FINDING_PROFILE_URL, profileIds, profileUrl } from './profiles.js';
export type { ProfileId } from './profiles.js';
export {
  DEFAULT_RANGE_METHOD,
  findRangeMethod,
  findRangeMode,
  limitedByWords,
  rangeMethods,
  rangeModes,
  rangeWords,
} from './range.js';
export type { RangeMethod, RangeMode, RangeModeRow } from './range.js';
export { findScreen, findScreenResult, screenResults, screens } from './screens.js';
export type { Screen, ScreenResult } from './screens.js';
export { seriesDigit, seriesItem } from './series-words.js';
export { findStrengthGrade, strengthGradeCode, strengthGrades } from './strength.js';
export type { StrengthGrade } from './strength.js';
export type { Aspect, Code, CodeReference, HowKnown, Side, Source } from './types.js';
export {
  conversions,
  findConversion,
  findGripUnit,
  findUnit,
  findUnitByWord,
  gripUnits,
  units,
} from './units.js';
export type { Conversion, Dimension, Unit } from './units.js';
export { readFigures } from './figures.js';
export type { Figure, FigureGroup } from './figures.js';
export { gripCutoffs, gripNorms, gripTables } from './grip-figures.js';
export type { GripCutoff, GripNorm, GripTable } from './grip-figures.js';
export { rangeOfMotionFigures, rangeTables, referenceRange } from './range-figures.js';
export type { RangeFigure, RangeTable, ReferenceRange } from './range-figures.js';
export { readRedFlags, redFlags, stopRules } from './red-flags.js';
export type { RedFlag, RedFlagSign, StopRule } from './red-flags.js';
export { findSource, sources } from './sources.js';
export { thresholds } from './thresholds.js';
export type { Threshold } from './thresholds.js';
export { publishedCodeSystems } from './code-systems.js';
export { licenceNotices } from './notices.js';
export type { LicenceNotice } from './notices.js';
