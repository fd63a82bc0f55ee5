import { findMovement } from '../catalogue/index.js';
import { given } from '../fhir/index.js';
import type { PainEntry, TypedNumber } from './document.js';
import type { PainFinding } from './exam.js';
import { jointName, movementName } from './finding-name.js';
import { formIssue, pointer, type Placed, type Report } from './placed.js';
import { digitsOf } from './read-measure.js';
import { readOneSide, readSides } from './read-sides.js';
import { readJoint, readMovement } from './read-words.js';
import { ruleIssue } from './rules.js';

/** Pain 0 to 10 at rest or on movement; `valueAt` is the property that its score stands in. */
export function readPain(
  entry: PainEntry,
  place: string,
  report: Report,
  valueAt = 'value',
): readonly Placed<PainFinding>[] {
  const where = readPainPlace(entry, place, report);
  const score = readScore(entry.value, 'pain', pointer(place, valueAt), report);
  const said = entry.when ?? (entry.movement === undefined ? undefined : 'movement');
  const when = readWhen(said, 'pain', place, report);
  if (!where || score === undefined || when === undefined) return [];
  const { mode, describe, typed } = entry;
  const finding = given({
    kind: 'pain' as const,
    score,
    when,
    ...where,
    mode,
    describe,
    typed: typed ?? where.typed,
  });
  return [{ place: pointer(place, valueAt), finding }];
}

type PainPlace = Pick<PainFinding, 'joint' | 'side' | 'movement' | 'direction' | 'typed'>;

/** Where it hurt: nowhere in particular, at a joint, or on a movement. */
function readPainPlace(entry: PainEntry, place: string, report: Report): PainPlace | undefined {
  if (entry.movement !== undefined) return readPainMovement(entry, entry.movement, place, report);
  if (entry.joint === undefined) {
    if (entry.side !== undefined || entry.direction !== undefined) {
      report(formIssue('stray-property', place, 'The pain has a side but no joint: say where it hurts.'));
      return undefined;
    }
    return {};
  }
  const joint = readJoint(entry.joint, pointer(place, 'joint'), report);
  if (!joint) return undefined;
  if (joint.structure === 'midline') {
    return readSides(joint, entry.side, place, report) && { joint: joint.id };
  }
  const side = readOneSide(`${jointName(joint.id)} pain`, entry.side, place, report);
  return side && { joint: joint.id, side };
}

function readPainMovement(
  entry: PainEntry,
  said: string,
  place: string,
  report: Report,
): PainPlace | undefined {
  const here = pointer(place, 'movement');
  const named = entry.joint === undefined ? findMovement(said)?.joint : entry.joint;
  if (named === undefined) {
    const sentence = `"${said}" needs its joint, or is given by the id of the movement.`;
    report(formIssue('joint-missing', pointer(place, 'joint'), sentence, { found: said }));
    return undefined;
  }
  const joint = readJoint(named, pointer(place, 'joint'), report);
  const read = joint && readMovement(joint, said, here, report);
  if (read?.kind !== 'movement') return undefined;
  const { movement, typed } = read;
  const { sideRule } = movement;
  const { direction } = entry;
  const name = movementName({ movement: movement.id });
  if (sideRule === 'per-side') {
    const side = readOneSide(name, entry.side, place, report);
    return side && given({ movement: movement.id, side, typed });
  }
  if (entry.side !== undefined) {
    const sentence = `The ${name} is one movement of the whole and takes no side.`;
    report(ruleIssue('LT-02', pointer(place, 'side'), sentence, { found: entry.side }));
    return undefined;
  }
  return given({ movement: movement.id, direction: sideRule === 'direction' ? direction : undefined, typed });
}

/** Whether pain was at rest or on movement; it must be said (VL-11). */
function readWhen(
  when: 'rest' | 'movement' | undefined,
  name: string,
  place: string,
  report: Report,
): 'rest' | 'movement' | undefined {
  if (when !== undefined) return when;
  const choices = ['rest', 'movement'];
  const sentence = `The ${name} needs "when": at rest or on movement.`;
  report(
    ruleIssue('VL-11', pointer(place, 'when'), sentence, { severity: 'error', choices, allowed: choices }),
  );
  return undefined;
}

/** A pain score of 0 to 10 (VL-11). */
export function readScore(
  score: TypedNumber,
  name: string,
  place: string,
  report: Report,
): string | undefined {
  const digits = digitsOf(score);
  if (Number(digits) >= 0 && Number(digits) <= 10) return digits;
  const sentence = `The ${name} of ${digits} is outside 0 to 10.`;
  report(
    ruleIssue('VL-11', place, sentence, { severity: 'error', found: digits, allowed: { from: 0, to: 10 } }),
  );
  return undefined;
}
