import {
  findBodyDevice,
  findExamType,
  findGaitWord,
  findGripDevice,
  findGripRule,
  findJoint,
  findLookFeelItem,
  findMeasure,
  findMovement,
  findNeurovascularElement,
  findNeurovascularWord,
  findNotAssessedReason,
  findPosition,
  findPrecaution,
  findRangeMethod,
  findScreen,
  findScreenResult,
  findUnit,
  joints,
  subjectObservable,
  type Side,
} from '../catalogue/index.js';
import type {
  AsExpectedFinding,
  Exam,
  Finding,
  GaitFinding,
  GripFinding,
  LookFeelItem,
  MeasureFinding,
  NeurovascularElement,
  NotAssessedFinding,
  OnBodyFinding,
  PainFinding,
  RangeFinding,
  Staff,
  StrengthFinding,
} from './exam.js';

/**
 * The exam in plain text, from head to toe with the patient's left and right apart, then what belongs to no joint.
 * It says what was found and what was not assessed and why; it never names a cause. Numbers stand as typed.
 */
export function summarise(exam: Exam): string {
  const lines = [
    headLine(exam),
    ...contextLines(exam),
    ...joints.flatMap(({ id }) => placeLines(placeName(id), findingsAt(exam, id))),
    ...placeLines('Whole body', findingsAt(exam, undefined)),
    ...(exam.note === undefined ? [] : [`Note: ${exam.note}`]),
  ];
  return lines.join('\n');
}

function headLine({ type, performedAt, recordedAt, examiner, recorder }: Exam): string {
  const typedBy = recorder === undefined ? '' : ` by ${staffText(recorder)}`;
  return `${findExamType(type)?.label ?? type} done ${performedAt} by ${staffText(examiner)}, typed ${recordedAt}${typedBy}.`;
}

/** A joint's name without the anatomist's words in brackets. */
function placeName(joint: string): string {
  return (findJoint(joint)?.name ?? joint).replace(/ \(.*\)$/, '');
}

function staffText({ identifier, role }: Staff): string {
  return role === undefined ? identifier.value : `${role} ${identifier.value}`;
}

function contextLines({ positions, precautions, lateReason }: Exam): readonly string[] {
  const ordered = precautions.map(({ precaution, side, note }) =>
    joined([side, labelled(findPrecaution, precaution), note && `(${note})`]),
  );
  return [
    ...listLine(
      'Positions',
      positions.map((position) => labelled(findPosition, position)),
    ),
    ...listLine('Precautions', ordered),
    ...listLine('Entered late', lateReason === undefined ? [] : [lateReason]),
  ];
}

function listLine(label: string, items: readonly string[]): readonly string[] {
  return items.length === 0 ? [] : [`${label}: ${items.join(', ')}.`];
}

function findingsAt(exam: Exam, joint: string | undefined): readonly Finding[] {
  return exam.findings.filter((finding) => placesOf(finding).includes(joint));
}

/** The joints under which a finding is read; undefined for the whole body. */
function placesOf(finding: Finding): readonly (string | undefined)[] {
  if ('movement' in finding) return [findMovement(finding.movement)?.joint];
  if (finding.kind === 'grip') return ['fingers'];
  if ('joints' in finding && finding.joints.length > 0) return finding.joints;
  return ['joint' in finding ? finding.joint : undefined];
}

/** A heading and a line for each side; one line for both when both say the same. */
function placeLines(heading: string, findings: readonly Finding[]): readonly string[] {
  if (findings.length === 0) return [];
  const [left, right, middle] = (['left', 'right', undefined] as const).map((side) =>
    sideText(findings, side),
  );
  if (left !== '' && left === right)
    return [heading, ...line(undefined, middle), `  left and right: ${left}.`];
  return [heading, ...line(undefined, middle), ...line('left', left), ...line('right', right)];
}

function sideText(findings: readonly Finding[], side: Side | undefined): string {
  return findings
    .filter((finding) => sideOf(finding) === side)
    .map(textOf)
    .join('; ');
}

function line(side: Side | undefined, text: string | undefined): readonly string[] {
  if (text === undefined || text === '') return [];
  return [side === undefined ? `  ${text}.` : `  ${side}: ${text}.`];
}

function sideOf(finding: Finding): Side | undefined {
  return 'side' in finding ? finding.side : undefined;
}

/** One finding in words, without its joint and side. */
function textOf(finding: Finding): string {
  const text = bareText(finding);
  return finding.describe === undefined ? text : `${text} (${finding.describe})`;
}

function bareText(finding: Finding): string {
  switch (finding.kind) {
    case 'range':
      return rangeText(finding);
    case 'strength':
      return strengthText(finding);
    case 'grip':
      return gripText(finding);
    case 'measure':
      return measureText(finding);
    case 'pain':
      return painText(finding);
    case 'look-feel':
      return finding.items.map(itemText).join(', ');
    case 'as-expected':
      return asExpectedText(finding);
    case 'not-assessed':
      return notAssessedText(finding);
    case 'screen':
      return `${labelled(findScreen, finding.screen)}: ${labelled(findScreenResult, finding.result)}`;
    case 'neurovascular':
      return `${finding.limb} limb: ${finding.elements.map(elementText).join(', ')}`;
    case 'gait':
      return gaitText(finding);
    case 'on-body':
      return onBodyText(finding);
    case 'absent-part':
      return `part absent, ${finding.level}`;
  }
}

function rangeText(finding: RangeFinding): string {
  const method = finding.method === undefined ? undefined : `by ${labelled(findRangeMethod, finding.method)}`;
  return joined([
    movementText(finding),
    finding.mode,
    extentText(finding.extent),
    method,
    limitText(finding),
  ]);
}

function extentText(extent: RangeFinding['extent']): string {
  if ('degrees' in extent) return `${extent.degrees}°`;
  if ('lacks' in extent) return `lacks ${extent.lacks}°`;
  if ('hyperextends' in extent) return `goes ${extent.hyperextends}° past straight`;
  return 'millimetres' in extent ? `${extent.millimetres} mm` : extent.word;
}

function strengthText(finding: StrengthFinding): string {
  const gravity = finding.gravityEliminated === true ? 'with gravity removed' : undefined;
  return joined([movementText(finding), `strength ${finding.grade}/5`, gravity, limitText(finding)]);
}

function limitText({ limitedBy }: { readonly limitedBy?: string }): string | undefined {
  return limitedBy === undefined ? undefined : `limited by ${limitedBy}`;
}

function movementText(of: {
  readonly movement: string;
  readonly direction?: Side;
  readonly digit?: string;
  readonly digitJoint?: string;
}): string {
  const to = of.direction === undefined ? undefined : `to the ${of.direction}`;
  return joined([of.digit, of.digitJoint?.toUpperCase(), termOf(of.movement), to]);
}

function termOf(movement: string): string {
  return findMovement(movement)?.term ?? words(movement);
}

function gripText({ trials, unit, rule, device, dominant }: GripFinding): string {
  const hand = dominant === true ? '(dominant hand)' : undefined;
  return joined([
    'grip',
    trials.join(', '),
    unit,
    `(${labelled(findGripRule, rule)})`,
    device && `by ${labelled(findGripDevice, device)}`,
    hand,
  ]);
}

function measureText({ measure, value, unit, level, method }: MeasureFinding): string {
  return joined([
    labelled(findMeasure, measure),
    level && `at ${words(level)}`,
    value,
    findUnit(unit)?.label ?? unit,
    method && `by ${labelled(findRangeMethod, method)}`,
  ]);
}

function painText({ score, when, movement, direction, mode }: PainFinding): string {
  const moved = movement && joined([mode, movementText({ movement, ...(direction && { direction }) })]);
  return joined(['pain', `${score}/10`, when === 'rest' ? 'at rest' : `on ${moved ?? 'movement'}`]);
}

function itemText({ item, value, describe }: LookFeelItem): string {
  const row = findLookFeelItem(item);
  const label = row?.words.find((word) => word.id === value)?.label ?? words(value);
  return joined([row?.label ?? words(item), label, describe && `(${describe})`]);
}

function asExpectedText({ aspects }: AsExpectedFinding): string {
  return `examined and within expected limits (${aspects.join(', ')})`;
}

function notAssessedText(finding: NotAssessedFinding): string {
  const what = [
    ...(finding.subject === undefined ? [] : [subjectText(finding.subject)]),
    ...finding.aspects,
    ...(finding.movements ?? []).map(termOf),
    ...(finding.mode === undefined ? [] : [`${finding.mode} movement`]),
  ];
  const why = joined([reasonText(finding.reason), finding.note && `(${finding.note})`]);
  return what.length === 0 ? `not assessed: ${why}` : `${what.join(', ')} not assessed: ${why}`;
}

function reasonText(reason: string): string {
  const label = labelled(findNotAssessedReason, reason);
  return label.charAt(0).toLowerCase() + label.slice(1);
}

function subjectText(subject: string): string {
  return subjectObservable(subject, 'left')?.kind === 'measure'
    ? labelled(findMeasure, subject)
    : words(subject);
}

function elementText({ element, value, comparator, describe }: NeurovascularElement): string {
  const row = findNeurovascularElement(element);
  const said = (row && findNeurovascularWord(row, value)?.label) ?? value + elementUnit(row);
  return joined([row?.label ?? words(element), `${comparator ?? ''}${said}`, describe && `(${describe})`]);
}

function elementUnit(row: ReturnType<typeof findNeurovascularElement>): string {
  if (row?.number === undefined) return '';
  return row.number.unit === 's' ? ' s' : `/${row.number.max}`;
}

function gaitText({ pattern, assistance, device }: GaitFinding): string {
  const parts = Object.entries({ pattern, assistance, device } as const).flatMap(([part, word]) =>
    word === undefined ? [] : [findGaitWord(part as 'pattern', word)?.label ?? words(word)],
  );
  return ['gait', ...parts].join(', ');
}

function onBodyText({ device, since, until }: OnBodyFinding): string {
  return joined([
    labelled(findBodyDevice, device),
    'on',
    since && `since ${since}`,
    until && `until ${until}`,
  ]);
}

/** What the catalogue reads for an id; a free word as it is. */
function labelled(find: (word: string) => { readonly label: string } | undefined, word: string): string {
  return find(word)?.label ?? word;
}

/** An id of the catalogue as words. */
function words(id: string): string {
  return id.replaceAll('-', ' ');
}

function joined(parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== '').join(' ');
}
