import {
  findMovement,
  joints,
  movementsOf,
  type Aspect,
  type JointId,
  type Side,
} from '../../catalogue/index.js';
import { decimal, type JsonValue } from '../../fhir/index.js';

/** One entry of a list of an exam document. */
export type Entry = Readonly<Record<string, JsonValue>>;

/** Joints, sides and aspects that are meant together; default both sides and all four aspects. */
export interface Scope {
  readonly joints: readonly JointId[];
  readonly sides?: Side | 'both';
  readonly aspects?: readonly Aspect[];
}

/** What is not assessed: joints, or a check such as `gait`, and why. */
export interface Deferral extends Partial<Scope> {
  readonly movements?: readonly string[];
  readonly mode?: 'active' | 'passive';
  readonly check?: string;
  readonly reason: string;
  readonly note?: string;
}

/**
 * What an exam holds beside "within expected limits". Whatever is `opened` is told by its findings alone, whatever is
 * `blank` is not told at all; every other cell of the exam is within expected limits.
 */
export interface Part {
  readonly findings?: readonly Entry[];
  readonly opened?: readonly Scope[];
  readonly blank?: readonly Scope[];
  readonly notAssessed?: readonly Deferral[];
  readonly onBody?: readonly Entry[];
  readonly absent?: readonly Entry[];
  readonly precautions?: readonly Entry[];
  readonly positions?: readonly string[];
  readonly note?: string;
  readonly lateReason?: string;
  /** The whole body in one word, as no document may say it (CM-02). */
  readonly everyJointAtOnce?: boolean;
}

/** The sides of a paired joint. */
export const SIDES: readonly Side[] = ['left', 'right'];

/** Every joint, from jaw to toes. */
export const EVERY_JOINT: readonly JointId[] = joints.map((joint) => joint.id);
/** The joints of one arm, without its girdle. */
export const ARM: readonly JointId[] = ['shoulder', 'elbow', 'forearm', 'wrist', 'fingers', 'thumb'];
/** The joints of one leg. */
export const LEG: readonly JointId[] = ['hip', 'knee', 'ankle', 'foot', 'toes'];

/** A number with the digits as typed: `9.50` stays so. */
export function digits(text: string): JsonValue {
  return text.includes('.') ? decimal(text) : Number(text);
}

/** The start of an entry on a movement, in the nurse's words. */
function ofMovement(id: string, side?: Side): Entry {
  const movement = findMovement(id);
  if (movement === undefined) throw new RangeError(`no movement ${id}`);
  return { joint: movement.joint, ...(side && { side }), movement: movement.term };
}

/** Degrees of a movement by long-arm goniometer, unless told otherwise. */
export function angle(id: string, side: Side, degrees: string, more: Entry = {}): Entry {
  return {
    ...ofMovement(id, side),
    mode: 'active',
    degrees: digits(degrees),
    method: 'goniometer-long-arm',
    ...more,
  };
}

/** What extension lacks, in degrees by long-arm goniometer. */
export function lacking(id: string, side: Side, degrees: string, more: Entry = {}): Entry {
  return {
    ...ofMovement(id, side),
    mode: 'active',
    lacks: digits(degrees),
    method: 'goniometer-long-arm',
    ...more,
  };
}

/** Strength of a movement, MRC grade 0 to 5. */
export function graded(id: string, side: Side | undefined, grade: number, more: Entry = {}): Entry {
  return { ...ofMovement(id, side), strength: grade, ...more };
}

/** How far a movement goes, in a word. */
export function extent(id: string, side: Side, word: 'full' | 'limited' | 'absent', more: Entry = {}): Entry {
  return { ...ofMovement(id, side), mode: 'active', range: word, ...more };
}

/** What was seen and felt at one joint of one side. */
export function seen(joint: JointId, side: Side, look: Entry, feel: Entry = {}, more: Entry = {}): Entry {
  return {
    joint,
    side,
    ...(Object.keys(look).length > 0 && { look }),
    ...(Object.keys(feel).length > 0 && { feel }),
    ...more,
  };
}

/** Grip of one hand, every trial as read; everyone on the ward is right-handed. */
export function grip(side: Side, trials: readonly string[], rule: string, unit = 'kg'): Entry {
  return {
    measure: 'grip',
    side,
    trials: trials.map(digits),
    unit,
    rule,
    device: 'hydraulic',
    handlePosition: 2,
    dominant: side === 'right',
  };
}

/** Three trials whose mean is the middle one. */
export function gripAround(side: Side, middle: string, step: string, unit = 'kg'): Entry {
  const [low, high] = [-1, 1].map((sign) => Number(middle) + sign * Number(step));
  const decimals = Math.max(...[middle, step].map((text) => text.split('.')[1]?.length ?? 0));
  return grip(
    side,
    [low, Number(middle), high].map((value) => (value ?? 0).toFixed(decimals)),
    'mean-of-3',
    unit,
  );
}

/** Circumference at mid-patella, in cm. */
export function kneeGirth(side: Side, cm: string): Entry {
  return { joint: 'knee', side, circumferenceCm: digits(cm), level: 'mid-patella' };
}

/** Pain 0 to 10 at rest and on movement, somewhere or as a whole. */
export function pains(rest: number, movement: number, where: Entry = {}): readonly Entry[] {
  return [
    { measure: 'pain', value: rest, when: 'rest', ...where },
    { measure: 'pain', value: movement, when: 'movement', ...where },
  ];
}

/** All strength of some joints of one side at one grade; with `range`, their active range in that word too. */
export function weak(
  at: readonly JointId[],
  side: Side,
  grade: number,
  range?: 'limited' | 'absent',
  more: Entry = {},
): Part {
  const tested = at.flatMap((joint) => movementsOf(joint)).filter((movement) => movement.measure !== 'force');
  return {
    findings: tested
      .filter((movement) => movement.strengthTestable || range !== undefined)
      .map((movement) => ({
        ...ofMovement(movement.id, side),
        ...(range && { mode: 'active', range }),
        ...(movement.strengthTestable && { strength: grade }),
        ...more,
      })),
    opened: [{ joints: at, sides: side, aspects: range ? ['range', 'strength'] : ['strength'] }],
  };
}

/** One neurovascular check of a limb, as expected but for the elements told otherwise. */
export function neurovascular(limb: 'upper' | 'lower', side: Side, changes: Entry = {}): Entry {
  return {
    check: 'neurovascular',
    limb,
    side,
    elements: {
      'pain-rest': 0,
      'pain-passive-stretch': 0,
      sensation: 'intact',
      movement: 'full',
      colour: 'usual',
      warmth: 'warm',
      'capillary-refill': '<2',
      pulse: 'present',
      swelling: 'none',
      ...changes,
    },
  };
}
