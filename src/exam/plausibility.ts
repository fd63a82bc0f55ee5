import {
  bodyDevices,
  findJoint,
  findMovement,
  findPrecaution,
  findStrengthGrade,
  joints,
  neurovascularElements,
  type Aspect,
  type Side,
  fixedDeformities,
} from '../catalogue/index.js';
import { given } from '../fhir/index.js';
import { gapsOf, oneSidedJoints, seenAspects, type Gap } from './completeness.js';
import type {
  AsExpectedFinding,
  Exam,
  Finding,
  LookFeelFinding,
  NotAssessedFinding,
  OnBodyFinding,
  PainFinding,
  RangeFinding,
  StrengthFinding,
} from './exam.js';
import { itemName, jointName, movementName, nameFinding } from './finding-name.js';
import type { Issue } from './issue.js';
import { checkGripLimits, checkRangeLimit } from './limits.js';
import { formIssue, listed, ofKind, type Placed } from './placed.js';
import { parseMovementEntry } from './readings.js';
import { ruleIssue, type SiteRules } from './rules.js';
import { forbids, isAround, isBelow } from './standing-checks.js';
import { touchesOf } from './touches.js';
import { otherSide } from './visit.js';

/** One exam after its words were read and its groups expanded, with the place of each finding. */
export interface Examined {
  readonly exam: Exam;
  readonly placed: readonly Placed[];
  readonly site: SiteRules;
}

/** Every rule that one exam can be held to by itself; the order of the issues is that of the checks. */
export function checkPlausibility(examined: Examined): readonly Issue[] {
  return CHECKS.flatMap((check) => check(examined));
}

const CHECKS: readonly ((examined: Examined) => readonly Issue[])[] = [
  checkRangeCeiling,
  checkPassiveAtLeastActive,
  checkGripPlausible,
  checkGripProtocol,
  checkLevel,
  checkGravity,
  checkNeurovascularSet,
  checkExaminedTwoWays,
  checkFullWithFixedDeformity,
  checkStrengthAgainstMovement,
  checkPainLimit,
  checkWarmthAgainstWords,
  checkWalking,
  checkDropSigns,
  checkNoteSides,
  checkAbsentParts,
  checkProstheses,
  checkInsideDevice,
  checkPrecautions,
  checkSuspectedInjury,
  checkStandingTests,
  checkStopRule,
  checkHotJoint,
  checkGaps,
  checkBothSides,
  checkDetail,
];

/** VL-01 and VL-02. */
function checkRangeCeiling({ placed, site }: Examined): readonly Issue[] {
  return ofKind(placed, 'range').flatMap((one) => checkRangeLimit(one, site));
}

function samePlace(a: RangeFinding | StrengthFinding, b: RangeFinding | StrengthFinding): boolean {
  return movementKey(a) === movementKey(b);
}

type MovementPlace = Pick<RangeFinding, 'movement' | 'side' | 'direction' | 'digit' | 'digitJoint'>;

function movementKey({ movement, side, direction, digit, digitJoint }: MovementPlace): string {
  return [movement, side, direction, digit, digitJoint].join('|');
}

/** VL-04: active more than passive, by more than the error of measuring. */
function checkPassiveAtLeastActive({ placed, site }: Examined): readonly Issue[] {
  const ranges = ofKind(placed, 'range');
  return ranges.flatMap(({ finding: active, place }) => {
    const activeDegrees = degreesOf(active);
    if (active.mode !== 'active' || activeDegrees === undefined) return [];
    return ranges.flatMap(({ finding: passive }) => {
      const passiveDegrees = degreesOf(passive);
      if (passive.mode !== 'passive' || passiveDegrees === undefined || !samePlace(active, passive))
        return [];
      if (activeDegrees - passiveDegrees <= site.activeOverPassiveDegrees) return [];
      const sentence = `The ${movementName(active)} is ${activeDegrees} degrees active and only ${passiveDegrees} passive: passive is at least as far. Is it right?`;
      return [ruleIssue('VL-04', place, sentence, { found: activeDegrees, allowed: { to: passiveDegrees } })];
    });
  });
}

function degreesOf({ extent }: RangeFinding): number | undefined {
  return 'degrees' in extent ? Number(extent.degrees) : undefined;
}

/** VL-08. */
function checkGripPlausible({ placed, site }: Examined): readonly Issue[] {
  return ofKind(placed, 'grip').flatMap(({ finding, place }) =>
    checkGripLimits(nameFinding(finding), finding, place, site),
  );
}

/** VL-09: what a grip is compared by, in words. */
const GRIP_PROTOCOL = {
  device: 'the kind of dynamometer',
  handlePosition: 'the handle position',
  dominant: 'whether this is the dominant hand',
} as const;

function checkGripProtocol({ placed }: Examined): readonly Issue[] {
  return ofKind(placed, 'grip').flatMap(({ finding, place }) => {
    const missing = Object.entries(GRIP_PROTOCOL).filter(([name]) => !(name in finding));
    if (missing.length === 0) return [];
    const words = missing.map(([, label]) => label);
    const sentence = `The ${nameFinding(finding)} is stored without ${listed(words, 'and')}; readings taken differently are not joined.`;
    return [ruleIssue('VL-09', place, sentence, { allowed: missing.map(([name]) => name) })];
  });
}

/** VL-10: a circumference is compared only at the same level. */
function checkLevel({ placed }: Examined): readonly Issue[] {
  return ofKind(placed, 'measure').flatMap(({ finding, place }) => {
    if (finding.measure !== 'circumference' || finding.level !== undefined) return [];
    const sentence = `The ${nameFinding(finding)} of ${finding.value} ${finding.unit} has no level, such as mid-patella; it will be compared with nothing.`;
    return [ruleIssue('VL-10', place, sentence, { found: finding.value })];
  });
}

/** A grade, given by itself or by "within expected limits". */
interface Graded extends MovementPlace {
  readonly joint: string;
  readonly grade: number;
  readonly place: string;
}

function gradesOf(placed: readonly Placed[]): readonly Graded[] {
  return [
    ...ofKind(placed, 'strength').map(({ finding, place }) => ({
      ...finding,
      joint: jointOf(finding.movement),
      grade: findStrengthGrade(finding.grade)?.ordinal ?? Number.parseInt(finding.grade, 10),
      place,
    })),
    ...expectedOf(placed, 'strength').map((one) => ({ ...one, grade: 5 })),
  ];
}

type ExpectedMovement = MovementPlace & { readonly joint: string; readonly place: string };

function expectedOf(placed: readonly Placed[], aspect: 'range' | 'strength'): readonly ExpectedMovement[] {
  return ofKind(placed, 'as-expected').flatMap(({ finding, place }) =>
    finding[aspect].map((entry) => ({
      ...sideOf(finding),
      ...parseMovementEntry(entry),
      joint: finding.joint,
      place,
    })),
  );
}

function sideOf({ side }: AsExpectedFinding): { readonly side?: Side } {
  return side === undefined ? {} : { side };
}

function jointOf(movement: string): string {
  return findMovement(movement)?.joint ?? movement;
}

/** SC-06: grade 3 is movement against gravity; grade 2 is without it. */
function checkGravity({ placed }: Examined): readonly Issue[] {
  const full = ofKind(placed, 'range').filter(
    ({ finding: { mode, extent } }) => mode === 'active' && 'word' in extent && extent.word === 'full',
  );
  return ofKind(placed, 'strength').flatMap(({ finding, place }) => {
    const grade = findStrengthGrade(finding.grade)?.ordinal ?? 0;
    const name = movementName(finding);
    if (grade >= 3 && finding.gravityEliminated === true) {
      const sentence = `The ${name} has grade ${finding.grade} with gravity removed, and grade 3 or more is against gravity. Is it right?`;
      return [ruleIssue('SC-06', place, sentence, { found: finding.grade })];
    }
    const isMoved = full.some((one) => samePlace(one.finding, finding));
    if (Math.floor(grade) !== 2 || finding.gravityEliminated === true || !isMoved) return [];
    const sentence = `The ${name} has grade ${finding.grade} with full active range: was gravity removed?`;
    return [ruleIssue('SC-06', place, sentence, { found: finding.grade })];
  });
}

/** CM-11: the eight elements, and the other limb for comparison. */
function checkNeurovascularSet({ placed }: Examined): readonly Issue[] {
  const checks = ofKind(placed, 'neurovascular');
  return checks.flatMap(({ finding, place, refused = [] }) => {
    const said = new Set([...finding.elements.map(({ element }) => element), ...refused]);
    const missing = neurovascularElements.filter(({ id }) => !said.has(id)).map(({ label }) => label);
    const other = otherSide(finding.side);
    const hasOther =
      checks.some((one) => one.finding.limb === finding.limb && one.finding.side === other) ||
      placed.some((one) => isOtherLimbAnswered(one.finding, finding.limb, other));
    const lacking = [...missing, ...(hasOther ? [] : [`the ${other} side for comparison`])];
    if (lacking.length === 0) return [];
    const sentence = `The ${nameFinding(finding)} lacks ${listed(lacking, 'and')}. Is it complete as it is?`;
    return [ruleIssue('CM-11', place, sentence, { allowed: neurovascularElements.map(({ id }) => id) })];
  });
}

function isOtherLimbAnswered(finding: Finding, limb: 'upper' | 'lower', side: Side): boolean {
  if (finding.kind === 'not-assessed')
    return finding.subject === 'neurovascular' && finding.side !== otherSide(side);
  return (
    finding.kind === 'absent-part' &&
    finding.side === side &&
    finding.joints.some((joint) => findJoint(joint)?.region === `${limb}-limb`)
  );
}

/** A thing is examined or it is not assessed; both at once is neither. */
function checkExaminedTwoWays({ placed }: Examined): readonly Issue[] {
  const left = ofKind(placed, 'not-assessed');
  return placed.flatMap(({ finding, place }) =>
    left
      .filter((one) => isSameThing(finding, one.finding))
      .map((one) => {
        const sentence = `The ${nameFinding(finding)} has a finding, and at ${one.place} it is not assessed: it is one or the other.`;
        return formIssue('examined-and-not-assessed', place, sentence, { allowed: one.place });
      }),
  );
}

function isSameThing(finding: Finding, left: NotAssessedFinding): boolean {
  const thing = thingOf(finding);
  if (thing === undefined || thing.subject !== left.subject) return false;
  const { joint, side, aspects, movement, mode } = thing;
  const isEverySide = left.subject !== undefined && left.side === undefined;
  return (
    left.joint === joint &&
    (left.side === side || isEverySide) &&
    (aspects.length === 0 || aspects.some((aspect) => left.aspects.includes(aspect))) &&
    (movement === undefined || (left.movements?.includes(movement) ?? true)) &&
    (mode === undefined || left.mode === undefined || left.mode === mode)
  );
}

/** What a finding examined, in the words in which it might have been left out. */
interface Thing {
  readonly subject?: string;
  readonly joint?: string;
  readonly side?: Side;
  readonly aspects: readonly Aspect[];
  readonly movement?: string;
  readonly mode?: RangeFinding['mode'];
}

function thingOf(finding: Finding): Thing | undefined {
  switch (finding.kind) {
    case 'range':
      return { ...movementThing(finding), mode: finding.mode };
    case 'strength':
      return movementThing(finding);
    case 'look-feel':
      return given({ joint: finding.joint, side: finding.side, aspects: seenAspects(finding) });
    case 'grip':
      return { subject: 'grip', side: finding.side, aspects: [] };
    case 'measure':
      return given({ subject: finding.measure, joint: finding.joint, side: finding.side, aspects: [] });
    case 'screen':
      return { subject: finding.screen, aspects: [] };
    case 'gait':
      return { subject: 'gait', aspects: [] };
    case 'pain':
      return painThing(finding);
    case 'neurovascular':
      return { subject: 'neurovascular', side: finding.side, aspects: [] };
    case 'as-expected':
    case 'not-assessed':
    case 'on-body':
    case 'absent-part':
      return undefined;
  }
}

/** Only pain of no place in particular is what "pain was not assessed" speaks of. */
function painThing({ joint, movement }: PainFinding): Thing | undefined {
  return joint === undefined && movement === undefined ? { subject: 'pain', aspects: [] } : undefined;
}

function movementThing({ kind, movement, side }: RangeFinding | StrengthFinding): Thing {
  return given({ joint: jointOf(movement), side, aspects: [kind] as const, movement });
}

/** Deformities that no full range goes with. */

/** CX-01: full range beside a fixed deformity of the same joint, or beside degrees that are lacking. */
function checkFullWithFixedDeformity({ placed }: Examined): readonly Issue[] {
  const fixed = new Map(
    ofKind(placed, 'look-feel').flatMap(({ finding }) => {
      const word = finding.items.find(
        ({ item, value }) => item === 'deformity' && fixedDeformities.has(value),
      );
      return word ? [[sideKey(finding.joint, finding.side), word.value] as const] : [];
    }),
  );
  const lacking = ofKind(placed, 'range').filter(
    ({ finding: { extent } }) => 'lacks' in extent && Number(extent.lacks) > 0,
  );
  return fullRanges(placed).flatMap(({ joint, side, movement, place }) => {
    const deformity = fixed.get(sideKey(joint, side));
    const short = lacking.find(({ finding }) => finding.movement === movement && finding.side === side)
      ?.finding.extent;
    const against =
      deformity ?? (short && 'lacks' in short ? `extension lacking ${short.lacks} degrees` : undefined);
    if (against === undefined) return [];
    const sentence = `The ${jointName(joint, side)} has full range, and ${against} beside it. Is it right?`;
    return [ruleIssue('CX-01', place, sentence, { found: against })];
  });
}

interface FullRange {
  readonly joint: string;
  readonly side?: Side;
  readonly movement?: string;
  readonly place: string;
}

function fullRanges(placed: readonly Placed[]): readonly FullRange[] {
  return placed.flatMap(({ finding, place }): readonly FullRange[] => {
    if (finding.kind === 'as-expected' && finding.range.length > 0)
      return [{ joint: finding.joint, ...sideOf(finding), place }];
    if (finding.kind !== 'range' || !('word' in finding.extent) || finding.extent.word !== 'full') return [];
    const { movement, side } = finding;
    return [{ joint: jointOf(movement), movement, ...(side && { side }), place }];
  });
}

function sideKey(joint: string, side = ''): string {
  return `${joint}|${side}`;
}

/** CX-02 and CX-03: a grade of 3 and more moves, a grade of 0 or 1 does not. */
function checkStrengthAgainstMovement({ placed }: Examined): readonly Issue[] {
  const moved = new Map(
    ofKind(placed, 'range')
      .filter(({ finding }) => finding.mode === 'active')
      .map(({ finding }) => [movementKey(finding), movedWords(finding)] as const),
  );
  for (const one of expectedOf(placed, 'range')) moved.set(movementKey(one), 'full active range');
  return gradesOf(placed).flatMap((graded) => {
    const said = moved.get(movementKey(graded));
    if (said === undefined) return [];
    const sentence = `The ${movementName(graded)} has grade ${Math.floor(graded.grade)} and ${said}: one of them is wrong.`;
    if (graded.grade >= 2.7 && said === NO_MOVEMENT)
      return [ruleIssue('CX-02', graded.place, sentence, { found: graded.grade })];
    return graded.grade < 1.5 && said !== NO_MOVEMENT
      ? [ruleIssue('CX-03', graded.place, sentence, { found: graded.grade })]
      : [];
  });
}

const NO_MOVEMENT = 'no active movement';

function movedWords({ extent }: RangeFinding): string | undefined {
  if ('word' in extent) return extent.word === 'absent' ? NO_MOVEMENT : `${extent.word} active range`;
  if ('degrees' in extent)
    return Number(extent.degrees) > 0 ? `${extent.degrees} degrees of active range` : undefined;
  return undefined;
}

/** CX-05: limited by pain that was not there. */
function checkPainLimit({ placed }: Examined): readonly Issue[] {
  const painless = new Set(
    ofKind(placed, 'pain')
      .filter(({ finding }) => finding.movement !== undefined && Number(finding.score) === 0)
      .map(({ finding: { movement = '', side, direction } }) => [movement, side, direction].join('|')),
  );
  return placed.flatMap(({ finding, place }) => {
    if ((finding.kind !== 'range' && finding.kind !== 'strength') || finding.limitedBy !== 'pain') return [];
    const { movement, side, direction } = finding;
    if (!painless.has([movement, side, direction].join('|'))) return [];
    const sentence = `The ${nameFinding(finding)} is limited by pain, and the pain on it is 0. Is it right?`;
    return [ruleIssue('CX-05', place, sentence, { found: 'pain' })];
  });
}

const LEG_JOINTS: readonly string[] = ['hip', 'knee', 'ankle'];

/** CX-07: steady, independent walking on a leg without power, and nothing that carries it. */
function checkWalking({ placed }: Examined): readonly Issue[] {
  const [gait] = ofKind(placed, 'gait');
  if (gait?.finding.assistance !== 'independent' || (gait.finding.pattern ?? 'steady') !== 'steady')
    return [];
  if (gait.finding.device !== undefined && gait.finding.device !== 'none') return [];
  const grades = gradesOf(placed).filter(({ joint }) => LEG_JOINTS.includes(joint));
  const weak = (['left', 'right'] as const).filter((side) => {
    const ofLeg = grades.filter((one) => one.side === side);
    const graded = new Set(ofLeg.map(({ joint }) => joint));
    return graded.size >= 2 && ofLeg.every(({ grade }) => grade < 2.7);
  });
  if (weak.length === 0) return [];
  const sentence = `Walking is steady and independent, and the strength of the ${listed(weak, 'and')} leg is grade 2 or less. Is it right, or is a device worn?`;
  return [ruleIssue('CX-07', gait.place, sentence, { found: weak })];
}

/** Signs of lost power, and the movements whose full grade they speak against. */
const DROP_SIGNS: readonly {
  readonly item: string;
  readonly value: string;
  readonly movements: readonly string[];
}[] = [
  { item: 'deformity', value: 'wrist-drop', movements: ['wrist.extension'] },
  { item: 'deformity', value: 'foot-drop', movements: ['ankle.dorsiflexion'] },
  {
    item: 'drift',
    value: 'present',
    movements: [
      'shoulder.flexion',
      'shoulder.abduction',
      'shoulder.external-rotation',
      'elbow.flexion',
      'elbow.extension',
      'forearm.supination',
    ],
  },
];

/** CX-08: grade 5 beside a drop or a drift of the same side. */
function checkDropSigns({ placed }: Examined): readonly Issue[] {
  const grades = gradesOf(placed).filter(({ grade }) => grade === 5);
  return ofKind(placed, 'look-feel').flatMap(({ finding, place }) =>
    DROP_SIGNS.filter(({ item, value }) =>
      finding.items.some((one) => one.item === item && one.value === value),
    ).flatMap(({ item, value, movements }) => {
      const strong = grades.filter((one) => one.side === finding.side && movements.includes(one.movement));
      if (strong.length === 0) return [];
      const sign = value === 'present' ? itemName(item) : value.replaceAll('-', ' ');
      const names = strong.map((one) => movementName(one));
      const sentence = `The ${jointName(finding.joint, finding.side)} has ${sign}, and ${listed(names, 'and')} is grade 5. Is it right?`;
      return [ruleIssue('CX-08', place, sentence, { found: sign })];
    }),
  );
}

/** CX-06: words that say all is well of a joint that is warm or red; those of the whole exam speak of every joint. */
function checkWarmthAgainstWords({ exam, placed }: Examined): readonly Issue[] {
  const warm = ofKind(placed, 'look-feel').filter(
    ({ finding: { items } }) => isFound(items, 'warmth', 'warmer') || isFound(items, 'redness'),
  );
  const [first] = warm;
  if (first === undefined) return [];
  const at = warm.flatMap(({ finding, place }) =>
    calmWords(finding.describe).map((said) => ({ finding, place, said })),
  );
  const noted = calmWords(exam.note).map((said) => ({ finding: first.finding, place: '/note', said }));
  return [...at, ...noted].map(({ finding: { joint, side }, place, said }) => {
    const sentence = `The ${jointName(joint, side)} is warm or red, and the words say "${said}". Is it right?`;
    return ruleIssue('CX-06', place, sentence, { found: said });
  });
}

const CALM =
  /\b(?:no (?:signs? of )?(?:inflammation|warmth|redness)|not (?:inflamed|warm|red)|within (?:normal|expected) limits|WNL|WDL)\b/i;

function calmWords(words: string | undefined): readonly string[] {
  const [said] = CALM.exec(words ?? '') ?? [];
  return said === undefined ? [] : [said];
}

/** CX-09: words that name the other side than the fields, or weakness beside grade 5; nothing is changed. */
function checkNoteSides({ exam, placed }: Examined): readonly Issue[] {
  return [...placed.flatMap(checkDescribe), ...checkExamNote(exam)];
}

function checkDescribe({ finding, place }: Placed): readonly Issue[] {
  const { describe } = finding;
  if (describe === undefined) return [];
  const side = 'side' in finding ? finding.side : undefined;
  if (side !== undefined && names(describe, otherSide(side)) && !names(describe, side)) {
    const sentence = `The words about the ${nameFinding(finding)} say "${otherSide(side)}".`;
    return [ruleIssue('CX-09', place, sentence, { found: otherSide(side) })];
  }
  if (finding.kind !== 'strength' || finding.grade !== '5' || !names(describe, 'weak(?:er|ness)?')) return [];
  return [ruleIssue('CX-09', place, `The words about the ${nameFinding(finding)} of grade 5 say "weak".`)];
}

function names(text: string, word: string): boolean {
  return new RegExp(String.raw`\b${word}\b`, 'i').test(text);
}

/** A note that names a side of a joint of which the fields tell only the other. */
function checkExamNote({ note, findings }: Exam): readonly Issue[] {
  if (note === undefined || !/\b(left|right)\b/i.test(note)) return [];
  return oneSidedJoints(findings).flatMap(({ joint, missing }) => {
    const words = [joint, ...(joints.find(({ id }) => id === joint)?.synonyms ?? [])].map(escapeWord);
    if (!new RegExp(String.raw`\b${missing}\s+(?:${words.join('|')})\b`, 'i').test(note)) return [];
    const sentence = `The note names the ${jointName(joint, missing)}, and the findings tell only of the ${otherSide(missing)}.`;
    return [ruleIssue('CX-09', '/note', sentence, { found: missing })];
  });
}

function escapeWord(word: string): string {
  return word.replaceAll(/[.*+?^${}()|[\]\\]/g, String.raw`\$&`);
}

/** BP-01: a finding of a part that the document itself says is absent. */
function checkAbsentParts({ placed }: Examined): readonly Issue[] {
  const absent = ofKind(placed, 'absent-part');
  return placed.flatMap(({ finding, place }) => {
    const against = absent.find(({ finding: part }) =>
      touchesOf(finding).some((touch) => isBelow(part, touch)),
    );
    if (!against) return [];
    const sentence = `The ${nameFinding(finding)} cannot be found: the part is absent (${against.finding.level}).`;
    return [ruleIssue('BP-01', place, sentence, { found: nameFinding(finding), allowed: against.place })];
  });
}

function devicesWorn(
  { exam, placed }: Examined,
  trait: 'covering' | 'replacesPart',
): readonly OnBodyFinding[] {
  const at = Date.parse(exam.performedAt);
  return ofKind(placed, 'on-body')
    .map(({ finding }) => finding)
    .filter(({ device, since, until }) => {
      const isWorn =
        (since === undefined || Date.parse(since) <= at) && (until === undefined || at < Date.parse(until));
      return isWorn && bodyDevices.find(({ id }) => id === device)?.[trait] === true;
    });
}

/** BP-02: an artificial joint has no range and no strength, and walking on it is walking with a device. */
function checkProstheses(examined: Examined): readonly Issue[] {
  const worn = devicesWorn(examined, 'replacesPart');
  if (worn.length === 0) return [];
  const onLeg = worn.some(({ joints: around }) =>
    around.some((joint) => findJoint(joint)?.region === 'lower-limb'),
  );
  return examined.placed.flatMap(({ finding, place }) => {
    const isOn = touchesOf(finding).some(
      (touch) =>
        (touch.aspect === 'range' || touch.aspect === 'strength') &&
        worn.some((device) => isAround(device, touch)),
    );
    if (isOn) {
      const sentence = `The ${nameFinding(finding)} is of a prosthesis, which takes no range and no strength.`;
      return [ruleIssue('BP-02', place, sentence, { found: nameFinding(finding) })];
    }
    const walks =
      finding.kind === 'gait' && finding.pattern !== 'not-walking' && finding.device === undefined;
    if (!walks || !onLeg) return [];
    const sentence = 'The patient has a leg prosthesis: walking is recorded with its device.';
    return [ruleIssue('BP-02', place, sentence, { allowed: 'device' })];
  });
}

/** BP-03: range, strength or girth of a joint inside a cast or its like. */
function checkInsideDevice(examined: Examined): readonly Issue[] {
  const worn = devicesWorn(examined, 'covering');
  if (worn.length === 0) return [];
  return examined.placed.flatMap(({ finding, place }) => {
    const around = touchesOf(finding)
      .filter(({ aspect }) => aspect === 'range' || aspect === 'strength' || aspect === 'measure')
      .flatMap((touch) => worn.find((device) => isAround(device, touch)) ?? []);
    const [device] = around;
    if (!device) return [];
    const sentence = `The ${nameFinding(finding)} is inside the ${device.device.replaceAll('-', ' ')}. Was it removed?`;
    return [ruleIssue('BP-03', place, sentence, { found: nameFinding(finding) })];
  });
}

/** SF-01: a result that a precaution of the document forbids. */
function checkPrecautions({ exam, placed }: Examined): readonly Issue[] {
  const orders = exam.precautions.flatMap(({ precaution, side }) => {
    const row = findPrecaution(precaution);
    return row ? [{ row, side }] : [];
  });
  return placed.flatMap(({ finding, place }) => {
    const order = orders.find(({ row, side }) =>
      touchesOf(finding).some(
        (touch) =>
          (side === undefined || touch.side === undefined || side === touch.side) &&
          forbids(row, touch, exam, finding),
      ),
    );
    if (!order) return [];
    const sentence = `The ${nameFinding(finding)} is against the precaution "${order.row.label}". How was it obtained?`;
    return [ruleIssue('SF-01', place, sentence, { found: order.row.id })];
  });
}

/** SF-02: range or strength where a fracture, dislocation or spine injury is suspected. */
function checkSuspectedInjury({ placed }: Examined): readonly Issue[] {
  const suspected = ofKind(placed, 'not-assessed').filter(
    ({ finding }) => finding.reason === 'suspected-injury',
  );
  if (suspected.length === 0) return [];
  return placed.flatMap(({ finding, place }) => {
    const touched = touchesOf(finding).filter(({ aspect }) => aspect === 'range' || aspect === 'strength');
    const injury = suspected.find(({ finding: { joint, side } }) =>
      touched.some(
        (touch) => touch.joint !== undefined && isSameRegion(joint, touch.joint) && side === touch.side,
      ),
    );
    if (!injury) return [];
    const sentence = `The ${nameFinding(finding)} was tested where an injury is suspected. Is it right?`;
    return [ruleIssue('SF-02', place, sentence, { found: nameFinding(finding), allowed: injury.place })];
  });
}

/** The neck and the back are one region here: neither is moved while the spine is in doubt. */
function isSameRegion(joint: string | undefined, other: string): boolean {
  if (joint === undefined) return false;
  const regions = [joint, other].map((id) => findJoint(id)?.region);
  return joint === other || regions.every((region) => region === 'spine');
}

/** SF-03: standing tests of a patient of whom nothing says how safe standing is. */
function checkStandingTests({ exam, placed }: Examined): readonly Issue[] {
  const standing = placed.find(({ finding }) => isStandingTest(finding, exam.positions));
  const isSaid =
    exam.precautions.length > 0 ||
    placed.some(
      ({ finding }) =>
        finding.kind === 'gait' && (finding.assistance !== undefined || finding.describe !== undefined),
    );
  if (!standing || isSaid) return [];
  const sentence = `The ${nameFinding(standing.finding)} was tested standing: fall risk, weight-bearing order, blood pressure and helper come first.`;
  return [ruleIssue('SF-03', standing.place, sentence)];
}

function isStandingTest(finding: Finding, positions: readonly string[]): boolean {
  if (finding.kind === 'gait') return finding.pattern !== 'not-walking';
  return finding.kind === 'range' && finding.movement === 'trunk.flexion' && positions.includes('standing');
}

/** What stops a test, beside pain: common practice. */
const STOPPED = /stopp|dizz|faint|numb|tingl|breathless|short of breath|colour change/i;

/** SF-04: a test that was stopped says why and who was told. */
function checkStopRule({ placed }: Examined): readonly Issue[] {
  return placed.flatMap(({ finding, place }) => {
    if (finding.kind !== 'range' && finding.kind !== 'strength') return [];
    const { limitedBy, describe } = finding;
    if (limitedBy === undefined || !STOPPED.test(limitedBy) || describe !== undefined) return [];
    const sentence = `The ${nameFinding(finding)} was stopped (${limitedBy}): say in "describe" why and who was told.`;
    return [ruleIssue('SF-04', place, sentence, { found: limitedBy })];
  });
}

/** SF-06: strength against resistance at a joint that is warm and swollen. */
function checkHotJoint({ placed }: Examined): readonly Issue[] {
  const hot = ofKind(placed, 'look-feel')
    .map(({ finding }) => finding)
    .filter(
      ({ items }) => isFound(items, 'warmth', 'warmer') && SWOLLEN.some((item) => isFound(items, item)),
    );
  return ofKind(placed, 'strength').flatMap(({ finding, place }) => {
    const joint = jointOf(finding.movement);
    if (!hot.some((one) => one.joint === joint && one.side === finding.side)) return [];
    const sentence = `The ${jointName(joint, finding.side)} is warm and swollen: active movement only, no resistance.`;
    return [ruleIssue('SF-06', place, sentence, { found: finding.grade })];
  });
}

const SWOLLEN: readonly string[] = ['swelling', 'effusion', 'boggy-swelling'];
const UNREMARKABLE: ReadonlySet<string> = new Set(['none', 'absent', 'same', 'straight', 'level', 'soft']);

function isFound(
  items: readonly { readonly item: string; readonly value: string }[],
  item: string,
  value?: string,
): boolean {
  const said = items.find((one) => one.item === item)?.value;
  return value === undefined ? said !== undefined && !UNREMARKABLE.has(said) : said === value;
}

/** CM-01, CM-09, CM-10: what an exam of this type still leaves unsaid. */
function checkGaps({ exam }: Examined): readonly Issue[] {
  const halves = new Set(
    isBothSidesAsked(exam)
      ? oneSidedJoints(exam.findings).map(({ joint, missing }) => sideKey(joint, missing))
      : [],
  );
  return gapsOf(exam).flatMap((gap) =>
    gap.kind === 'joint' && halves.has(sideKey(gap.joint, gap.side)) ? [] : [gapIssue(gap)],
  );
}

function gapIssue(gap: Gap): Issue {
  switch (gap.kind) {
    case 'joint': {
      const sentence = `Not recorded: ${listed(gap.aspects, 'and')} of the ${jointName(gap.joint, gap.side)}. Enter it or give a reason.`;
      return ruleIssue('CM-01', '/findings', sentence, { allowed: gap });
    }
    case 'screen': {
      const sentence = `Not recorded: ${gap.screen.replaceAll('-', ' ')}. Enter it or give a reason.`;
      return ruleIssue('CM-01', '/findings', sentence, { allowed: gap });
    }
    case 'pain': {
      const sentence = `Not recorded: pain ${listed(
        gap.when.map((when) => (when === 'rest' ? 'at rest' : 'on movement')),
        'and',
      )}. Enter it or give a reason.`;
      return ruleIssue('CM-09', '/findings', sentence, { allowed: gap });
    }
    case 'gait':
      return ruleIssue(
        'CM-10',
        '/findings',
        'Not recorded: gait, help and device. Enter them or give a reason.',
        {
          allowed: gap,
        },
      );
  }
}

/** A focused, neurovascular or therapist's exam may have been ordered of one limb. */
function isBothSidesAsked({ type }: Exam): boolean {
  return type === 'full' || type === 'brief-screen';
}

/** LT-03: one side of a paired joint is half an exam. */
function checkBothSides({ exam }: Examined): readonly Issue[] {
  if (!isBothSidesAsked(exam)) return [];
  return oneSidedJoints(exam.findings).map(({ joint, missing }) => {
    const sentence = `Not recorded: ${jointName(joint, missing)}, and the other side is. Enter it or give a reason.`;
    return ruleIssue('LT-03', '/findings', sentence, { allowed: { joint, side: missing } });
  });
}

/** CM-08: an abnormal finding has its detail; asked for and never demanded. */
function checkDetail({ placed }: Examined): readonly Issue[] {
  return placed.flatMap(({ finding, place }) => {
    if (finding.describe !== undefined) return [];
    const what = remarkable(finding);
    if (what === undefined) return [];
    const sentence = `The ${what} has no detail in "describe": where, how much, new or known.`;
    return [ruleIssue('CM-08', place, sentence)];
  });
}

function remarkable(finding: Finding): string | undefined {
  switch (finding.kind) {
    case 'look-feel':
      return remarkableItems(finding);
    case 'range':
      return remarkableRange(finding);
    case 'strength':
      return remarkableGrade(finding);
    case 'grip':
    case 'measure':
    case 'pain':
    case 'as-expected':
    case 'not-assessed':
    case 'screen':
    case 'neurovascular':
    case 'gait':
    case 'on-body':
    case 'absent-part':
      return undefined;
  }
}

function remarkableItems({ joint, side, items }: LookFeelFinding): string | undefined {
  const said = items.filter(
    ({ item, value, describe }) =>
      (item === 'swelling' || item === 'deformity') && !UNREMARKABLE.has(value) && describe === undefined,
  );
  if (said.length === 0) return undefined;
  return `${jointName(joint, side)} ${listed(
    said.map(({ item }) => item),
    'and',
  )}`;
}

function remarkableRange(finding: RangeFinding): string | undefined {
  const isLimited = 'word' in finding.extent && finding.extent.word === 'limited';
  return isLimited && finding.limitedBy === undefined ? `limited ${nameFinding(finding)}` : undefined;
}

function remarkableGrade(finding: StrengthFinding): string | undefined {
  const isLess = finding.grade !== '5' && finding.limitedBy === undefined;
  return isLess ? `${nameFinding(finding)} of grade ${finding.grade}` : undefined;
}
