import {
  bodyDevices,
  measures,
  notAssessedReasons,
  screens,
  type Aspect,
  type Joint,
  type Side,
} from '../catalogue/index.js';
import { given } from '../fhir/index.js';
import type { AbsentEntry, NotAssessedEntry, OnBodyEntry } from './document.js';
import type { AbsentPartFinding, NotAssessedFinding, OnBodyFinding } from './exam.js';
import { jointName } from './finding-name.js';
import { formIssue, listed, pointer, type Placed, type Report } from './placed.js';
import type { Reading } from './read-joint-entry.js';
import { EVERY_ASPECT, jointSides, readNamedJoints, readSides } from './read-sides.js';
import { findWord, readJoint, readListedWord, readMovement } from './read-words.js';
import { ruleIssue } from './rules.js';
import type { Entry } from './shape.js';

/** A device on the body; on both sides it is two findings. */
export function readOnBody(
  { entry, place }: Entry<OnBodyEntry>,
  { report }: Reading,
): readonly Placed<OnBodyFinding>[] {
  const device = readListedWord(
    entry.device,
    bodyDevices,
    'device on the body',
    pointer(place, 'device'),
    report,
  );
  const joints = readJoints(entry.joints, place, report);
  const [first] = joints;
  const paired = joints.find(({ structure }) => structure === 'paired') ?? first;
  const sides = paired && readSides(paired, entry.side, place, report);
  const { since, until, describe, typed } = entry;
  if (since !== undefined && until !== undefined && Date.parse(until) < Date.parse(since)) {
    const sentence = `The ${entry.device} ends at ${until}, before it begins at ${since}.`;
    report(
      formIssue('until-before-since', pointer(place, 'until'), sentence, {
        found: until,
        allowed: { from: since },
      }),
    );
    return [];
  }
  if (!device || !sides || joints.length < entry.joints.length) return [];
  const ids = joints.map(({ id }) => id);
  return sides.map((side) => ({
    place,
    finding: given({
      kind: 'on-body' as const,
      device: device.id,
      joints: ids,
      side,
      since,
      until,
      describe,
      typed,
    }),
  }));
}

/** A part that is not there; on both sides it is two findings. */
export function readAbsent(
  { entry, place }: Entry<AbsentEntry>,
  { report }: Reading,
): readonly Placed<AbsentPartFinding>[] {
  const joints = readJoints(entry.joints, place, report);
  const midline = joints.find(({ structure }) => structure === 'midline');
  if (midline) {
    const sentence = `The ${jointName(midline.id)} is in the midline and cannot be absent.`;
    report(ruleIssue('LT-02', pointer(place, 'joints'), sentence, { found: midline.id }));
    return [];
  }
  const [first] = joints;
  const sides = first && readSides(first, entry.side, place, report);
  if (!sides || joints.length < entry.joints.length) return [];
  const { level, describe, typed } = entry;
  const ids = joints.map(({ id }) => id);
  return sides.flatMap((side) =>
    side === undefined
      ? []
      : [
          {
            place,
            finding: given({ kind: 'absent-part' as const, joints: ids, side, level, describe, typed }),
          },
        ],
  );
}

/** The joints that were understood. */
function readJoints(said: readonly string[], place: string, report: Report): readonly Joint[] {
  return said.flatMap((word, index) => readJoint(word, pointer(place, 'joints', index), report) ?? []);
}

/** What was not assessed: one finding for each joint and side, or for each side of a test. */
export function readNotAssessed(
  { entry, place }: Entry<NotAssessedEntry>,
  { report }: Reading,
): readonly Placed<NotAssessedFinding>[] {
  const reason = readListedWord(
    entry.reason,
    notAssessedReasons,
    'reason for not assessing',
    pointer(place, 'reason'),
    report,
    'CM-05',
  );
  const subject = readSubject(entry, place, report);
  const joints = entry.joints === undefined ? [] : readNamedJoints(entry.joints, place, report);
  if (entry.joints === undefined && subject === undefined) {
    const sentence = 'This entry does not say what was not assessed: give joints, measure, screen or check.';
    report(formIssue('nothing-said', place, sentence));
  }
  if (!reason || !joints || subject === false) return [];
  const { note, mode, describe, typed } = entry;
  if (reason.needsDetail && note === undefined && describe === undefined) {
    const sentence = `"${reason.label}" needs its detail in "note": what was offered or ordered, in whose words, and what is planned.`;
    report(ruleIssue('CM-06', place, sentence, { found: reason.id }));
  }
  const said = { reason: reason.id, subject, mode, note, describe, typed };
  const found =
    joints.length > 0 ? joints.flatMap((joint) => ofJoint(joint, entry, place, report)) : ofSubject(entry);
  return found.map((one) => ({ place, finding: given({ kind: 'not-assessed' as const, ...one, ...said }) }));
}

type NotAssessedPlace = Pick<NotAssessedFinding, 'joint' | 'side' | 'aspects' | 'movements'>;

function ofJoint(
  joint: Joint,
  entry: NotAssessedEntry,
  place: string,
  report: Report,
): readonly NotAssessedPlace[] {
  const isTest = entry.measure !== undefined || entry.screen !== undefined || entry.check !== undefined;
  const movements = entry.movements?.flatMap((word, index) => {
    const read = readMovement(joint, word, pointer(place, 'movements', index), report);
    if (read?.kind !== 'movement') return [];
    if (read.movement.joint === joint.id) return [read.movement.id];
    const sentence = `"${word}" is left out at the ${jointName(read.movement.joint)}: name that joint.`;
    const details = { found: joint.id, allowed: read.movement.joint };
    report(formIssue('wrong-joint', pointer(place, 'movements', index), sentence, details));
    return [];
  });
  const usual: readonly Aspect[] = movements === undefined ? EVERY_ASPECT : ['range', 'strength'];
  const aspects = entry.aspects ?? (isTest ? ['look' as const] : usual);
  return jointSides(joint, entry.sides, aspects, place, report).map(({ side, aspects: kept }) =>
    given({ joint: joint.id, side, aspects: isTest && entry.aspects === undefined ? [] : kept, movements }),
  );
}

function ofSubject({ sides, aspects = [] }: NotAssessedEntry): readonly NotAssessedPlace[] {
  const each: readonly (Side | undefined)[] = sides === 'both' ? ['left', 'right'] : [sides];
  return each.map((side) => given({ side, aspects }));
}

/** Tests that are no row of the measures. */
const OTHER_TESTS = [
  { id: 'grip', label: 'grip', synonyms: ['grip strength', 'hand grip'] },
  { id: 'pain', label: 'pain' },
] as const;

const CHECKS = [
  { id: 'neurovascular', label: 'neurovascular check' },
  { id: 'gait', label: 'gait', synonyms: ['walking'] },
] as const;

/** The test that was not done; undefined when the entry is of joints only, false when it is unknown. */
function readSubject(entry: NotAssessedEntry, place: string, report: Report): string | undefined | false {
  const tests = [
    ['measure', [...OTHER_TESTS, ...measures], 'measure'],
    ['screen', screens, 'screen'],
    ['check', CHECKS, 'check'],
  ] as const;
  const named = tests.filter(([name]) => entry[name] !== undefined);
  const [test] = named;
  if (!test) return undefined;
  if (named.length > 1) {
    const sentence = `One entry names one test, not ${listed(
      named.map(([name]) => name),
      'and',
    )}.`;
    report(formIssue('two-tests', place, sentence));
    return false;
  }
  const [name, rows, what] = test;
  const said = entry[name] ?? '';
  const id = name === 'measure' ? findWord(said, OTHER_TESTS)?.id : undefined;
  return (
    id ??
    readListedWord<{ id: string; label?: string; synonyms?: readonly string[] }>(
      said,
      rows,
      what,
      pointer(place, name),
      report,
    )?.id ??
    false
  );
}
