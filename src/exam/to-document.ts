import { findLookFeelItem, findMovement, findScreen, type Aspect } from '../catalogue/index.js';
import { DECIMAL, decimal, given } from '../fhir/index.js';
import type {
  AbsentPartFinding,
  AsExpectedFinding,
  Exam,
  Finding,
  GaitFinding,
  GripFinding,
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
  ScreenFinding,
  StrengthFinding,
} from './exam.js';

/** An entry of a document's lists. */
export type DocumentEntry = Readonly<Record<string, unknown>>;

/** An exam document in the nurse's terms, with ids and terms of the catalogue; numbers keep their digits. */
export interface WrittenDocument extends DocumentEntry {
  readonly asExpected?: readonly DocumentEntry[];
  readonly findings?: readonly DocumentEntry[];
  readonly onBody?: readonly DocumentEntry[];
  readonly absent?: readonly DocumentEntry[];
  readonly notAssessed?: readonly DocumentEntry[];
}

/** The list of a document that a finding is written in. */
export type List = 'asExpected' | 'findings' | 'onBody' | 'absent' | 'notAssessed';

/** One finding as it is written, and the list it stands in. */
export interface Entry {
  readonly list: List;
  readonly entry: DocumentEntry;
}

/** The document of an exam: read again it is the same exam. */
export function toDocument(exam: Exam): WrittenDocument {
  return given({ ...headOf(exam), ...listsOf(exam.findings.map(entryOf)), note: exam.note });
}

/**
 * The document of an exam as it is shown: each entry carries the `id` of its Observation, by which corrections and
 * withdrawals name it, and one of `asExpected` also says what it `covers`, since findings taken out of it may have
 * been withdrawn by now.
 */
export function toShownDocument(exam: Exam, ids: readonly string[]): WrittenDocument {
  const entries = exam.findings.map((finding, index) => {
    const { list, entry } = entryOf(finding);
    return { list, entry: given({ id: ids[index], ...entry, covers: coveredBy(finding) }) };
  });
  return given({ ...headOf(exam), ...listsOf(entries), note: exam.note });
}

function coveredBy(finding: Finding): DocumentEntry | undefined {
  if (finding.kind !== 'as-expected') return undefined;
  const { items, range, strength } = finding;
  return { items, range, strength };
}

function headOf(exam: Exam): DocumentEntry {
  const { clientId, type, patient, readBack, ward, examiner, recorder, performedAt, recordedAt, lateReason } =
    exam;
  return given({
    clientId,
    type,
    patient: { identifier: patient, readBack },
    ward,
    examiner,
    recorder,
    performedAt,
    recordedAt,
    lateReason,
    positions: exam.positions,
    precautions: exam.precautions.map(precautionEntry),
    confirmed: exam.confirmed,
  });
}

function precautionEntry(said: Precaution): unknown {
  return said.side === undefined && said.note === undefined ? said.precaution : said;
}

function listsOf(entries: readonly Entry[]): Readonly<Record<List, readonly DocumentEntry[] | undefined>> {
  const of = (list: List): readonly DocumentEntry[] | undefined => {
    const found = entries.filter((entry) => entry.list === list).map(({ entry }) => entry);
    return found.length === 0 ? undefined : found;
  };
  return {
    asExpected: of('asExpected'),
    findings: of('findings'),
    onBody: of('onBody'),
    absent: of('absent'),
    notAssessed: of('notAssessed'),
  };
}

/** A finding as an entry of its list. */
export function entryOf(finding: Finding): Entry {
  const { describe, typed } = finding;
  const { list, entry } = bareEntry(finding);
  return { list, entry: given({ ...entry, describe, typed }) };
}

function bareEntry(finding: Finding): Entry {
  switch (finding.kind) {
    case 'range':
      return { list: 'findings', entry: rangeEntry(finding) };
    case 'strength':
      return { list: 'findings', entry: strengthEntry(finding) };
    case 'grip':
      return { list: 'findings', entry: gripEntry(finding) };
    case 'measure':
      return { list: 'findings', entry: measureEntry(finding) };
    case 'pain':
      return { list: 'findings', entry: painEntry(finding) };
    case 'look-feel':
      return { list: 'findings', entry: lookFeelEntry(finding) };
    case 'screen':
      return { list: 'findings', entry: screenEntry(finding) };
    case 'neurovascular':
      return { list: 'findings', entry: neurovascularEntry(finding) };
    case 'gait':
      return { list: 'findings', entry: gaitEntry(finding) };
    case 'as-expected':
      return { list: 'asExpected', entry: asExpectedEntry(finding) };
    case 'not-assessed':
      return { list: 'notAssessed', entry: notAssessedEntry(finding) };
    case 'on-body':
      return { list: 'onBody', entry: onBodyEntry(finding) };
    case 'absent-part':
      return { list: 'absent', entry: absentEntry(finding) };
  }
}

/** A number with its digits as typed. */
function number(digits: string): unknown {
  const whole = Number(digits);
  return Number.isSafeInteger(whole) && String(whole) === digits ? whole : decimal(digits);
}

type Moved = Pick<RangeFinding, 'movement' | 'side' | 'direction' | 'digit' | 'digitJoint'>;

function movementFields({ movement, side, direction, digit, digitJoint }: Moved): DocumentEntry {
  return { joint: findMovement(movement)?.joint, side, movement, direction, digit, digitJoint };
}

function rangeEntry(finding: RangeFinding): DocumentEntry {
  const { mode, extent, method, limitedBy } = finding;
  return { ...movementFields(finding), mode, ...extentFields(extent), method, limitedBy };
}

function extentFields(extent: RangeFinding['extent']): DocumentEntry {
  if ('word' in extent) return { range: extent.word };
  return Object.fromEntries(Object.entries(extent).map(([name, digits]) => [name, number(digits)]));
}

function strengthEntry(finding: StrengthFinding): DocumentEntry {
  const { grade, limitedBy, gravityEliminated } = finding;
  const strength = DECIMAL.test(grade) ? number(grade) : grade;
  return { ...movementFields(finding), strength, gravityEliminated, limitedBy };
}

function gripEntry({
  side,
  trials,
  unit,
  rule,
  device,
  handlePosition,
  dominant,
}: GripFinding): DocumentEntry {
  return { measure: 'grip', side, trials: trials.map(number), unit, rule, device, handlePosition, dominant };
}

function measureEntry({ measure, value, unit, joint, side, level, method }: MeasureFinding): DocumentEntry {
  return { measure, joint, side, level, value: number(value), unit, method };
}

function painEntry({ score, when, joint, side, movement, direction, mode }: PainFinding): DocumentEntry {
  return { measure: 'pain', value: number(score), when, joint, side, movement, direction, mode };
}

function lookFeelEntry({ joint, side, items }: LookFeelFinding): DocumentEntry {
  return { joint, side, look: itemFields(items, 'look'), feel: itemFields(items, 'feel') };
}

function itemFields(items: readonly LookFeelItem[], aspect: Aspect): DocumentEntry | undefined {
  const chosen = items.filter(
    ({ item }) => (findLookFeelItem(item)?.aspect === 'feel' ? 'feel' : 'look') === aspect,
  );
  return chosen.length === 0
    ? undefined
    : Object.fromEntries(
        chosen.map(({ item, value, describe }) => [item, describe ? { value, describe } : value]),
      );
}

function screenEntry({ screen, result }: ScreenFinding): DocumentEntry {
  return { screen, result };
}

function neurovascularEntry({ limb, side, elements }: NeurovascularFinding): DocumentEntry {
  const said = Object.fromEntries(elements.map((element) => [element.element, elementValue(element)]));
  return { check: 'neurovascular', limb, side, elements: said };
}

function elementValue({ value, comparator, describe }: NeurovascularElement): unknown {
  const plain = DECIMAL.test(value) ? number(value) : value;
  const said = comparator === undefined ? plain : `${comparator}${value}`;
  return describe === undefined ? said : { value: said, describe };
}

function gaitEntry({ pattern, assistance, device }: GaitFinding): DocumentEntry {
  return { gait: given({ pattern, assistance, device }) };
}

function asExpectedEntry({ joint, side, aspects }: AsExpectedFinding): DocumentEntry {
  return { joints: [joint], sides: side, aspects };
}

function notAssessedEntry(finding: NotAssessedFinding): DocumentEntry {
  const { joint, side, aspects, movements, mode, subject, reason, note } = finding;
  return {
    joints: joint === undefined ? undefined : [joint],
    sides: side,
    aspects: aspects.length === 0 ? undefined : aspects,
    movements,
    mode,
    ...subjectFields(subject),
    reason,
    note,
  };
}

/** A subject is named as the screen, the check or the measure that it is. */
function subjectFields(subject: string | undefined): DocumentEntry {
  if (subject === undefined) return {};
  if (findScreen(subject)?.id === subject) return { screen: subject };
  return subject === 'gait' || subject === 'neurovascular' ? { check: subject } : { measure: subject };
}

function onBodyEntry({ device, joints, side, since, until }: OnBodyFinding): DocumentEntry {
  return { device, joints, side, since, until };
}

function absentEntry({ joints, side, level }: AbsentPartFinding): DocumentEntry {
  return { joints, side, level };
}
