import {
  findBodyDevice,
  findExamType,
  findJoint,
  findLookFeelItem,
  findMovement,
  type Aspect,
  type Side,
} from '../catalogue/index.js';
import type { Exam, Finding, LookFeelFinding, NotAssessedFinding, OnBodyFinding } from './exam.js';

/** Something that an exam of its type must answer and does not: a gap, neither examined nor given a reason (CM-01). */
export type Gap =
  | {
      readonly kind: 'joint';
      readonly joint: string;
      readonly side?: Side;
      readonly aspects: readonly Aspect[];
    }
  | { readonly kind: 'screen'; readonly screen: string }
  /** CM-09: pain at rest, on movement, or both. */
  | { readonly kind: 'pain'; readonly when: readonly ('rest' | 'movement')[] }
  | { readonly kind: 'gait' };

/**
 * The gaps of an exam against what its type requires. Examined, within expected limits, not assessed with a reason,
 * absent, or held in a cast or its like all answer; only what is not said is a gap.
 */
export function gapsOf(exam: Pick<Exam, 'type' | 'findings'>): readonly Gap[] {
  const required = findExamType(exam.type);
  if (!required) return [];
  const answered = new Set(exam.findings.flatMap(answersOf));
  const isOpen = (subject: string): boolean => !answered.has(subject);
  return [
    ...required.joints.flatMap((joint) => jointGaps(joint, required, isOpen)),
    ...required.screens.filter(isOpen).map((screen) => ({ kind: 'screen', screen }) as const),
    ...(required.pain ? painGap(isOpen) : []),
    ...(required.gait && isOpen('gait') ? [{ kind: 'gait' } as const] : []),
  ];
}

/**
 * The paired joints of which the exam says something of one side and nothing of the other (LT-03): half an exam,
 * unless only the one side was ordered. A cast or an absent part answers for its side and asks nothing of the other.
 */
export function oneSidedJoints(
  findings: readonly Finding[],
): readonly { readonly joint: string; readonly missing: Side }[] {
  const answered = findings.flatMap(jointSidesOf);
  const told = findings.filter(({ kind }) => kind !== 'on-body' && kind !== 'absent-part');
  const joints = [...new Set(told.flatMap(jointSidesOf).map(({ joint }) => joint))];
  return joints.flatMap((joint) => {
    const sides = new Set(
      answered.filter((one) => one.joint === joint && one.side !== undefined).map(({ side }) => side),
    );
    const [only] = sides;
    if (sides.size !== 1 || only === undefined) return [];
    return [{ joint, missing: only === 'left' ? 'right' : 'left' } as const];
  });
}

type Required = NonNullable<ReturnType<typeof findExamType>>;

function jointGaps(joint: string, required: Required, isOpen: (subject: string) => boolean): readonly Gap[] {
  const aspects = required.aspects.filter(
    (aspect) => aspect !== 'strength' || !required.strengthNotRequired.some((id) => id === joint),
  );
  return sidesOf(joint).flatMap((side) => {
    const open = aspects.filter(
      (aspect) => isOfSide(joint, side, aspect) && isOpen(subjectOf(joint, side, aspect)),
    );
    return open.length > 0 ? [{ kind: 'joint', joint, ...(side && { side }), aspects: open } as const] : [];
  });
}

/** Left and right of a paired joint; the whole of a midline one. The jaw has both: it moves as a whole. */
function sidesOf(joint: string): readonly (Side | undefined)[] {
  if (findJoint(joint)?.structure === 'midline') return [undefined];
  return joint === 'jaw' ? ['left', 'right', undefined] : ['left', 'right'];
}

function isOfSide(joint: string, side: Side | undefined, aspect: Aspect): boolean {
  if (joint !== 'jaw') return true;
  return (side === undefined) === (aspect === 'range' || aspect === 'strength');
}

function painGap(isOpen: (subject: string) => boolean): readonly Gap[] {
  if (!isOpen('pain')) return [];
  const when = (['rest', 'movement'] as const).filter((moment) => isOpen(`pain|${moment}`));
  return when.length > 0 ? [{ kind: 'pain', when }] : [];
}

function subjectOf(joint: string, side: Side | undefined, aspect: Aspect): string {
  return `${joint}|${side ?? ''}|${aspect}`;
}

/** What a finding answers. */
function answersOf(finding: Finding): readonly string[] {
  switch (finding.kind) {
    case 'pain':
      return [`pain|${finding.when}`];
    case 'screen':
      return [finding.screen];
    case 'gait':
      return ['gait'];
    case 'not-assessed':
      return [...(finding.subject === undefined ? [] : [finding.subject]), ...jointAnswers(finding)];
    case 'range':
    case 'strength':
    case 'grip':
    case 'measure':
    case 'look-feel':
    case 'as-expected':
    case 'neurovascular':
    case 'on-body':
    case 'absent-part':
      return jointAnswers(finding);
  }
}

function jointAnswers(finding: Finding): readonly string[] {
  return jointSidesOf(finding).flatMap(({ joint, side, aspects }) =>
    aspects.map((aspect) => subjectOf(joint, side, aspect)),
  );
}

interface JointAnswer {
  readonly joint: string;
  readonly side: Side | undefined;
  readonly aspects: readonly Aspect[];
}

const EVERY: readonly Aspect[] = ['look', 'feel', 'range', 'strength'];

function jointSidesOf(finding: Finding): readonly JointAnswer[] {
  switch (finding.kind) {
    case 'range':
    case 'strength':
      return jointOf(finding.movement).map((joint) => ({
        joint,
        side: finding.side,
        aspects: [finding.kind],
      }));
    case 'grip':
      return [{ joint: 'fingers', side: finding.side, aspects: ['strength'] }];
    case 'look-feel':
      return [{ joint: finding.joint, side: finding.side, aspects: seenAspects(finding) }];
    case 'as-expected':
      return [{ joint: finding.joint, side: finding.side, aspects: finding.aspects }];
    case 'not-assessed':
      return notAssessedSides(finding);
    case 'absent-part':
      return finding.joints.map((joint) => ({ joint, side: finding.side, aspects: EVERY }));
    case 'on-body':
      return coveredSides(finding);
    case 'measure':
    case 'pain':
    case 'screen':
    case 'neurovascular':
    case 'gait':
      return [];
  }
}

/** A test that was left out at a joint says nothing of looking, feeling and moving there. */
function notAssessedSides({ joint, side, subject, aspects }: NotAssessedFinding): readonly JointAnswer[] {
  return joint === undefined || subject !== undefined ? [] : [{ joint, side, aspects }];
}

/** What a cast or its like holds and hides is answered by it while it is on. */
function coveredSides({ device, joints, side, until }: OnBodyFinding): readonly JointAnswer[] {
  const covers = findBodyDevice(device)?.covering === true && until === undefined;
  return covers ? joints.map((joint) => ({ joint, side, aspects: EVERY })) : [];
}

/** Whether a look and feel finding was seen, felt, or both. */
export function seenAspects({ items }: LookFeelFinding): readonly Aspect[] {
  return [...new Set(items.flatMap(({ item }) => findLookFeelItem(item)?.aspect ?? []))];
}

function jointOf(movement: string): readonly string[] {
  const joint = findMovement(movement)?.joint;
  return joint === undefined ? [] : [joint];
}
