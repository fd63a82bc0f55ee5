import type { ObservationReferenceRange, Quantity } from 'fhir/r4.js';
import {
  absentPartObservable,
  findBodyDevice,
  findGaitWord,
  findGripDevice,
  findGripRule,
  findLookFeelItem,
  findMovement,
  findNeurovascularElement,
  findNeurovascularWord,
  findNotAssessedReason,
  findRangeMethod,
  findScreenResult,
  findStrengthGrade,
  findUnit,
  gaitObservable,
  gripObservable,
  jointExamObservable,
  lookFeelItemObservable,
  lookFeelObservable,
  measureObservable,
  neurovascularElementObservable,
  neurovascularObservable,
  notAssessedReasonCode,
  onBodyObservable,
  painObservable,
  qualifierOf,
  rangeModes,
  rangeObservable,
  referenceRange,
  screenObservable,
  strengthGradeCode,
  strengthObservable,
  subjectObservable,
  SYSTEMS,
  type CodeReference,
  type Observable,
  type RangeMode,
  type Side,
} from '../catalogue/index.js';
import { DECIMAL, given, type Lossless } from '../fhir/index.js';
import { jointsConcept, sideConceptOf, siteConcept } from './body-site.js';
import {
  conceptOf,
  dateDetail,
  detailConcept,
  directionDetail,
  marked,
  quantity,
  textDetail,
  wholeDetail,
  wordConcept,
  wordDetail,
  yesNoDetail,
  type Component,
  type Concept,
} from './component.js';
import type {
  AbsentPartFinding,
  AsExpectedFinding,
  DecimalText,
  DigitJoint,
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
  RangeFinding,
  ScreenFinding,
  StrengthFinding,
} from './exam.js';
import { gripUcum, gripKgf } from './grip.js';

/** What one finding says in its Observation: all but who, when and for whom. */
export interface FindingContent {
  readonly code: Concept;
  /** Standard codes of a wider meaning, which go beside the category of every finding. */
  readonly wider: readonly CodeReference[];
  readonly bodySite?: Concept | undefined;
  readonly method?: Concept | undefined;
  readonly valueQuantity?: Lossless<Quantity> | undefined;
  readonly valueCodeableConcept?: Concept | undefined;
  readonly dataAbsentReason?: Concept | undefined;
  readonly referenceRange?: readonly Lossless<ObservationReferenceRange>[] | undefined;
  readonly component?: readonly Component[] | undefined;
}

/** The code of an observable, and its wider codes. */
function coded(observable: Observable): Pick<FindingContent, 'code' | 'wider'> {
  return { code: observableConcept(observable), wider: observable.category };
}

function observableConcept({ codings, display }: Observable): Concept {
  return conceptOf(codings, display);
}

/** The coded content of a finding. */
export function contentOf(finding: Finding): FindingContent {
  switch (finding.kind) {
    case 'range':
      return rangeContent(finding);
    case 'strength':
      return strengthContent(finding);
    case 'grip':
      return gripContent(finding);
    case 'measure':
      return measureContent(finding);
    case 'pain':
      return painContent(finding);
    case 'look-feel':
      return lookFeelContent(finding);
    case 'as-expected':
      return asExpectedContent(finding);
    case 'not-assessed':
      return notAssessedContent(finding);
    case 'screen':
      return screenContent(finding);
    case 'neurovascular':
      return neurovascularContent(finding);
    case 'gait':
      return gaitContent(finding);
    case 'on-body':
      return onBodyContent(finding);
    case 'absent-part':
      return absentPartContent(finding);
  }
}

function rangeContent(finding: RangeFinding): FindingContent {
  return {
    ...coded(rangeObservable(finding.movement, finding.mode, partOf(finding.extent))),
    bodySite: movementSite(finding),
    method: methodConcept(finding.mode, finding.method),
    ...extentValue(finding.extent),
    referenceRange: usualRange(finding),
    component: [...directionDetail(finding.direction), ...textDetail('limited-by', finding.limitedBy)],
  };
}

function partOf(extent: RangeFinding['extent']): 'lacks' | 'hyperextends' | undefined {
  if ('lacks' in extent) return 'lacks';
  return 'hyperextends' in extent ? 'hyperextends' : undefined;
}

function extentValue(
  extent: RangeFinding['extent'],
): Pick<FindingContent, 'valueQuantity' | 'valueCodeableConcept'> {
  if ('word' in extent) return { valueCodeableConcept: wordConcept(extent.word) };
  if ('millimetres' in extent) return { valueQuantity: amount(extent.millimetres, 'mm') };
  return { valueQuantity: amount(degreesOf(extent), 'deg') };
}

function degreesOf(
  extent: { degrees: DecimalText } | { lacks: DecimalText } | { hyperextends: DecimalText },
): DecimalText {
  if ('degrees' in extent) return extent.degrees;
  return 'lacks' in extent ? extent.lacks : extent.hyperextends;
}

/**
 * The value that the movement is usually compared with, in the words of the table it was read in. It is text only: a
 * listed value is no limit of what is normal, and must not make a finding abnormal by itself.
 */
function usualRange({ movement, extent }: RangeFinding): FindingContent['referenceRange'] {
  const figure = 'degrees' in extent ? referenceRange(movement) : undefined;
  if (figure === undefined) return undefined;
  const unit = findUnit(figure.unit)?.label ?? figure.unit;
  return [{ text: `usually compared with ${figure.value} ${unit} (${figure.tableName})` }];
}

function strengthContent(finding: StrengthFinding): FindingContent {
  return {
    ...coded(strengthObservable(finding.movement)),
    bodySite: movementSite(finding),
    valueCodeableConcept: gradeConcept(finding.grade),
    component: [
      ...directionDetail(finding.direction),
      ...textDetail('limited-by', finding.limitedBy),
      ...yesNoDetail('gravity-eliminated', finding.gravityEliminated),
    ],
  };
}

type OfMovement = DigitJoint & { readonly movement: string; readonly side?: Side; readonly direction?: Side };

function movementSite({ movement, side, digit, digitJoint }: OfMovement): Concept | undefined {
  const joint = findMovement(movement)?.joint;
  return joint && siteConcept(joint, side, digit, digitJoint);
}

function gripContent(finding: GripFinding): FindingContent {
  const ucum = gripUcum(finding.unit);
  return {
    ...coded(gripObservable(finding.side)),
    bodySite: siteConcept('hand', finding.side),
    valueQuantity: amount(gripKgf(finding), 'kgf'),
    component: [
      ...finding.trials.map((trial) => ({
        code: detailConcept('trial'),
        valueQuantity: quantity(trial, ucum, finding.unit),
      })),
      ...wordDetail('trial-rule', finding.rule, findGripRule(finding.rule)?.label),
      ...wordDetail('device', finding.device, labelOf(findGripDevice, finding.device)),
      ...wholeDetail('handle-position', finding.handlePosition),
      ...yesNoDetail('dominant-hand', finding.dominant),
    ],
  };
}

function measureContent(finding: MeasureFinding): FindingContent {
  return {
    ...coded(measureObservable(finding.measure, finding.side)),
    bodySite: measureSite(finding),
    method: methodConcept(undefined, finding.method),
    valueQuantity: amount(finding.value, finding.unit),
    component: textDetail('level', finding.level),
  };
}

function measureSite({ joint, side }: MeasureFinding): Concept | undefined {
  return joint === undefined ? sideConceptOf(side) : siteConcept(joint, side);
}

function painContent(finding: PainFinding): FindingContent {
  return {
    ...coded(painObservable(finding.when)),
    bodySite: painSite(finding),
    valueQuantity: amount(finding.score, '{score}'),
    component: [
      ...wordDetail('movement', finding.movement, movementTerm(finding.movement)),
      ...directionDetail(finding.direction),
      ...wordDetail('mode', finding.mode),
    ],
  };
}

/** Pain on a movement is at the joint that moves. */
function painSite({ joint, movement = '', side }: PainFinding): Concept | undefined {
  const site = joint ?? findMovement(movement)?.joint;
  return site === undefined ? sideConceptOf(side) : siteConcept(site, side);
}

function movementTerm(movement: string | undefined): string | undefined {
  return movement === undefined ? undefined : findMovement(movement)?.term;
}

function lookFeelContent(finding: LookFeelFinding): FindingContent {
  return {
    ...coded(lookFeelObservable(finding.joint)),
    bodySite: siteConcept(finding.joint, finding.side),
    component: finding.items.map(lookFeelComponent),
  };
}

function lookFeelComponent({ item, value, describe }: LookFeelItem): Component {
  const label = findLookFeelItem(item)?.words.find((word) => word.id === value)?.label;
  const said = codedWord(value, label, qualifierOf(value));
  return marked(
    {
      code: observableConcept(lookFeelItemObservable(item)),
      valueCodeableConcept:
        describe === undefined ? said : { ...said, text: `${label ?? value}: ${describe}` },
    },
    { note: describe },
  );
}

/** A word with the standard code of the same meaning before our own, where there is one. */
function codedWord(word: string, label: string | undefined, standard: CodeReference | undefined): Concept {
  const own = wordConcept(word, label);
  return standard === undefined ? own : { ...own, coding: [standard, ...(own.coding ?? [])] };
}

function labelOf(
  find: (word: string) => { readonly label: string } | undefined,
  word: string | undefined,
): string | undefined {
  return word === undefined ? undefined : find(word)?.label;
}

/** A quantity with its unit as people write it. */
function amount(digits: DecimalText, ucum: string): Lossless<Quantity> {
  return quantity(digits, ucum, findUnit(ucum)?.label);
}

function gradeConcept(grade: string): Concept {
  const row = findStrengthGrade(grade);
  const code = row ? strengthGradeCode(row) : { system: SYSTEMS.strengthGrade, code: grade };
  return conceptOf([code], `${grade}/5`);
}

/** How it was measured: who moved the joint (SNOMED CT, where it has a code), and with what (our own code). */
function methodConcept(mode: RangeMode | undefined, method: string | undefined): Concept | undefined {
  const moved = rangeModes.find(({ id }) => id === mode);
  const label = labelOf(findRangeMethod, method);
  const own = method === undefined ? [] : [given({ system: SYSTEMS.method, code: method, display: label })];
  const codes = [...(moved?.code === undefined ? [] : [moved.code]), ...own];
  const text = [moved?.label, label ?? method].filter((part) => part !== undefined).join(', ');
  return codes.length === 0 ? undefined : conceptOf(codes, text);
}

function asExpectedContent(finding: AsExpectedFinding): FindingContent {
  return {
    ...coded(jointExamObservable(finding.joint)),
    bodySite: siteConcept(finding.joint, finding.side),
    valueCodeableConcept: wordConcept('within-expected', 'examined and within expected limits'),
    component: [
      ...finding.items.map(expectedItem),
      ...finding.range.map((moved) => expectedMovement(moved, 'range')),
      ...finding.strength.map((moved) => expectedMovement(moved, 'strength')),
      ...finding.aspects.flatMap((aspect) => wordDetail('aspect', aspect)),
      ...textDetail('expected-definition', finding.definition),
    ],
  };
}

function expectedItem(item: string): Component {
  const expected = findLookFeelItem(item)?.expected ?? 'none';
  return lookFeelComponent({ item, value: expected });
}

/** Full range or grade 5 of a movement, written `neck.rotation>left` where it has a direction. */
function expectedMovement(moved: string, measure: 'range' | 'strength'): Component {
  const [movement = moved, direction] = moved.split('>');
  const component =
    measure === 'range'
      ? {
          code: observableConcept(rangeObservable(movement, 'active')),
          valueCodeableConcept: wordConcept('full'),
        }
      : { code: observableConcept(strengthObservable(movement)), valueCodeableConcept: gradeConcept('5') };
  return marked(component, { side: direction === 'left' || direction === 'right' ? direction : undefined });
}

function notAssessedContent(finding: NotAssessedFinding): FindingContent {
  return {
    ...notAssessedCode(finding),
    bodySite:
      finding.joint === undefined ? sideConceptOf(finding.side) : siteConcept(finding.joint, finding.side),
    dataAbsentReason: reasonConcept(finding),
    component: [
      ...wordDetail('subject', finding.subject),
      ...finding.aspects.flatMap((aspect) => wordDetail('aspect', aspect)),
      ...(finding.movements ?? []).flatMap((id) => wordDetail('movement', id, movementTerm(id))),
      ...wordDetail('mode', finding.mode),
      ...textDetail('reason-detail', finding.note),
    ],
  };
}

/** The thing that was not assessed; by its word where the catalogue has no single observable for it. */
function notAssessedCode({
  joint,
  side,
  subject,
}: NotAssessedFinding): Pick<FindingContent, 'code' | 'wider'> {
  const observable = subject === undefined ? undefined : subjectObservable(subject, side);
  if (observable !== undefined) return coded(observable);
  if (joint !== undefined) return coded(jointExamObservable(joint));
  return { code: wordConcept(subject ?? 'examination'), wider: [] };
}

/** HL7's code and our own reason beside it. */
function reasonConcept({ reason, note }: NotAssessedFinding): Concept {
  const row = findNotAssessedReason(reason);
  const label = row?.label ?? reason;
  const codes = row
    ? [row.dataAbsentReason, notAssessedReasonCode(row)]
    : [{ system: SYSTEMS.notDoneReason, code: reason }];
  return conceptOf(codes, note === undefined ? label : `${label}: ${note}`);
}

function screenContent(finding: ScreenFinding): FindingContent {
  return {
    ...coded(screenObservable(finding.screen)),
    valueCodeableConcept: wordConcept(finding.result, findScreenResult(finding.result)?.label),
  };
}

function neurovascularContent(finding: NeurovascularFinding): FindingContent {
  return {
    ...coded(neurovascularObservable(finding.limb)),
    bodySite: siteConcept(`${finding.limb}-limb`, finding.side),
    component: finding.elements.map(neurovascularComponent),
  };
}

function neurovascularComponent({ element, value, comparator, describe }: NeurovascularElement): Component {
  const row = findNeurovascularElement(element);
  const said = DECIMAL.test(value)
    ? { valueQuantity: given({ ...amount(value, row?.number?.unit ?? '1'), comparator }) }
    : { valueCodeableConcept: elementConcept(element, value) };
  return marked(
    { code: observableConcept(neurovascularElementObservable(element)), ...said },
    { note: describe },
  );
}

function elementConcept(element: string, value: string): Concept {
  const row = findNeurovascularElement(element);
  const word = row && findNeurovascularWord(row, value);
  return codedWord(value, word?.label, word?.code);
}

function gaitContent(finding: GaitFinding): FindingContent {
  return {
    ...coded(gaitObservable),
    component: [
      ...wordDetail('gait-pattern', finding.pattern, gaitLabel('pattern', finding.pattern)),
      ...wordDetail('gait-assistance', finding.assistance, gaitLabel('assistance', finding.assistance)),
      ...wordDetail('device', finding.device, gaitLabel('device', finding.device)),
    ],
  };
}

function gaitLabel(part: 'pattern' | 'assistance' | 'device', word: string | undefined): string | undefined {
  return word === undefined ? undefined : findGaitWord(part, word)?.label;
}

function onBodyContent(finding: OnBodyFinding): FindingContent {
  return {
    ...coded(onBodyObservable),
    bodySite: jointsConcept(finding.joints, finding.side),
    valueCodeableConcept: wordConcept(finding.device, labelOf(findBodyDevice, finding.device)),
    component: [
      ...finding.joints.flatMap((joint) => wordDetail('joint', joint)),
      ...dateDetail('since', finding.since),
      ...dateDetail('until', finding.until),
    ],
  };
}

function absentPartContent(finding: AbsentPartFinding): FindingContent {
  return {
    ...coded(absentPartObservable),
    bodySite: jointsConcept(finding.joints, finding.side),
    valueCodeableConcept: wordConcept(finding.level),
    component: finding.joints.flatMap((joint) => wordDetail('joint', joint)),
  };
}
