import type { Aspect, Joint, Side } from '../catalogue/index.js';
import { jointName } from './finding-name.js';
import { listed, pointer, type Report } from './placed.js';
import { readJoint } from './read-words.js';
import { ruleIssue } from './rules.js';

/**
 * The sides of a finding in look and feel words: `both` is two findings. Undefined when the side is missing or not to
 * be given, which is reported (LT-01, LT-02).
 */
export function readSides(
  joint: Joint,
  side: Side | 'both' | undefined,
  place: string,
  report: Report,
): readonly (Side | undefined)[] | undefined {
  const name = jointName(joint.id);
  if (joint.structure === 'midline') {
    if (side === undefined) return [undefined];
    const sentence = `The ${name} is in the midline and takes no side; left and right are directions of its movements.`;
    report(ruleIssue('LT-02', pointer(place, 'side'), sentence, { found: side }));
    return undefined;
  }
  if (side !== undefined) return side === 'both' ? ['left', 'right'] : [side];
  report(sideMissing(name, place, ['left', 'right', 'both']));
  return undefined;
}

function sideMissing(name: string, place: string, allowed: readonly string[]): ReturnType<typeof ruleIssue> {
  const sentence = `The side is missing for the ${name}: give ${listed(allowed)}.`;
  return ruleIssue('LT-01', pointer(place, 'side'), sentence, { allowed });
}

/** The one side of a measured thing; `both` is refused, since two sides are never one number (LT-01). */
export function readOneSide(
  name: string,
  side: Side | 'both' | undefined,
  place: string,
  report: Report,
): Side | undefined {
  if (side === 'left' || side === 'right') return side;
  if (side === undefined) report(sideMissing(name, place, ['left', 'right']));
  else {
    const sentence = `One value for both sides of the ${name} is refused: give the left and the right by themselves.`;
    report(ruleIssue('LT-01', pointer(place, 'side'), sentence, { found: side, allowed: ['left', 'right'] }));
  }
  return undefined;
}

/** Words that would cover joints nobody named (CM-02). */
const SWEEPING = /^(all|every|any)\b|^(everything|both|rest|others?|wnl|wdl|normal)$/i;

/**
 * The joints that an entry names; a sweeping word such as `all` is refused, since it would speak for joints that were
 * not examined (CM-02). Undefined when one was not understood.
 */
export function readNamedJoints(
  said: string | readonly string[],
  place: string,
  report: Report,
): readonly Joint[] | undefined {
  const words = typeof said === 'string' ? [said] : said;
  const read = words.map((word, index) => {
    const here = typeof said === 'string' ? pointer(place, 'joints') : pointer(place, 'joints', index);
    if (!SWEEPING.test(word.trim())) return readJoint(word, here, report);
    const sentence = `"${word}" would speak for joints that were not examined: name each joint that was.`;
    report(ruleIssue('CM-02', here, sentence, { found: word }));
    return undefined;
  });
  return read.every((joint) => joint !== undefined) ? [...new Set(read)] : undefined;
}

export const EVERY_ASPECT: readonly Aspect[] = ['look', 'feel', 'range', 'strength'];

/** A joint at one side, with those of the aspects that belong there. */
export interface JointSide {
  readonly joint: Joint;
  readonly side?: Side;
  readonly aspects: readonly Aspect[];
}

/**
 * The sides of a joint that an entry speaks of, each with its aspects in their order. Movements of the jaw belong to
 * the whole, what is seen and felt of it to a side.
 */
export function jointSides(
  joint: Joint,
  sides: Side | 'both' | undefined,
  said: readonly Aspect[],
  place: string,
  report: Report,
): readonly JointSide[] {
  const aspects = EVERY_ASPECT.filter((aspect) => said.includes(aspect));
  if (joint.structure === 'midline') {
    if (sides === undefined || sides === 'both') return [{ joint, aspects }];
    const sentence = `The ${jointName(joint.id)} is in the midline and takes no side.`;
    report(ruleIssue('LT-02', pointer(place, 'sides'), sentence, { found: sides }));
    return [];
  }
  const each: readonly Side[] = sides === undefined || sides === 'both' ? ['left', 'right'] : [sides];
  if (joint.id !== 'jaw') return each.map((side) => ({ joint, side, aspects }));
  const bySide = aspects.filter((aspect) => aspect === 'look' || aspect === 'feel');
  const ofWhole = aspects.filter((aspect) => aspect === 'range' || aspect === 'strength');
  return [
    ...(bySide.length > 0 ? each.map((side) => ({ joint, side, aspects: bySide })) : []),
    ...(ofWhole.length > 0 ? [{ joint, aspects: ofWhole }] : []),
  ];
}
