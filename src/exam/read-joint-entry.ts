import {
  DEFAULT_RANGE_METHOD,
  limitedByWords,
  rangeMethods,
  rangeWords,
  type Joint,
  type Movement,
  type Side,
} from '../catalogue/index.js';
import type { JointEntry } from './document.js';
import type {
  DigitJoint,
  LookFeelFinding,
  LookFeelItem,
  MeasureFinding,
  PainFinding,
  RangeFinding,
  StrengthFinding,
} from './exam.js';
import { jointName, movementName } from './finding-name.js';
import { given } from '../fhir/index.js';
import { readGrade, type GradeReading } from './grade.js';
import { checkRangeLimit } from './limits.js';
import { formIssue, listed, ofKind, pointer, type Placed, type Report } from './placed.js';
import { digitsOf, readMeasure } from './read-measure.js';
import { readPain, readScore } from './read-pain.js';
import { readOneSide, readSides } from './read-sides.js';
import { ruleIssue, type SiteRules } from './rules.js';
import {
  findWord,
  readItem,
  readItemWord,
  readJoint,
  readListedWord,
  readMovement,
  type MovementReading,
} from './read-words.js';

/** What entries are read with: where issues go, and the site's settings. */
export interface Reading {
  readonly report: Report;
  readonly site: SiteRules;
}

/** An entry about one joint: each thing of it becomes a finding of its own. */
export function readJointEntry(entry: JointEntry, place: string, reading: Reading): readonly Placed[] {
  const joint = readJoint(entry.joint, pointer(place, 'joint'), reading.report);
  if (!joint) return [];
  const at: EntryAt = { entry, place, joint, ...reading };
  const found = [...readSeenAndFelt(at), ...readMoved(at), ...readJointPain(at), ...readCircumference(at)];
  if (saysNothing(entry)) {
    const sentence = `The entry for the ${jointName(joint.id)} says nothing: give look, feel, a movement with its value, pain or circumferenceCm.`;
    reading.report(formIssue('nothing-said', place, sentence));
  }
  return found;
}

interface EntryAt extends Reading {
  readonly entry: JointEntry;
  readonly place: string;
  readonly joint: Joint;
}

const VALUES = ['look', 'feel', 'movement', 'pain', 'circumferenceCm'] as const;

function saysNothing(entry: JointEntry): boolean {
  const stray = STRAYS.movement.some((name) => entry[name] !== undefined);
  return !stray && VALUES.every((name) => entry[name] === undefined);
}

function readSeenAndFelt(at: EntryAt): readonly Placed<LookFeelFinding>[] {
  const { entry, place, joint, report } = at;
  if (entry.look === undefined && entry.feel === undefined) return [];
  const items = (['look', 'feel'] as const).flatMap((heading) => readItems(at, heading));
  const sides = readSides(joint, entry.side, place, report);
  if (sides === undefined || items.length === 0) return [];
  const { describe, typed } = entry;
  return sides.map((side) => ({
    place,
    finding: given({ kind: 'look-feel' as const, joint: joint.id, side, items, describe, typed }),
  }));
}

function readItems(
  { entry, joint, place, report }: EntryAt,
  heading: 'look' | 'feel',
): readonly LookFeelItem[] {
  return Object.entries(entry[heading] ?? {}).flatMap(([said, answer]) => {
    const here = pointer(place, heading, said);
    const item = readItem(joint, said, here, report);
    if (!item) return [];
    const { value, describe } = typeof answer === 'string' ? { value: answer } : answer;
    const word = readItemWord(joint, item, value, here, report);
    return word === undefined ? [] : [given({ item: item.id, value: word, describe })];
  });
}

/** Properties that mean nothing without another. */
const STRAYS = {
  movement: [
    'degrees',
    'lacks',
    'hyperextends',
    'millimetres',
    'range',
    'strength',
    'mode',
    'direction',
    'digit',
    'digitJoint',
    'method',
    'gravityEliminated',
    'limitedBy',
  ],
  range: ['mode', 'method'],
  strength: ['gravityEliminated'],
} as const satisfies Record<string, readonly (keyof JointEntry)[]>;

const EXTENTS = ['degrees', 'lacks', 'hyperextends', 'millimetres', 'range'] as const;
type ExtentName = (typeof EXTENTS)[number];

function readMoved(at: EntryAt): readonly Placed[] {
  const { entry, place, joint, report } = at;
  if (entry.movement === undefined) {
    for (const name of STRAYS.movement.filter((one) => entry[one] !== undefined)) {
      const sentence = `"${name}" of the ${jointName(joint.id)} belongs to a movement: say which.`;
      report(formIssue('movement-missing', pointer(place, name), sentence));
    }
    return [];
  }
  const read = readMovement(joint, entry.movement, pointer(place, 'movement'), report);
  if (!read) {
    reportScales(at);
    return [];
  }
  return read.kind === 'seen' ? readSeenMovement(at, read) : readMovementValues(at, read);
}

/** Of a movement that was not understood, what is wrong with its grade and its pain whatever it is. */
function reportScales({ entry, place, joint, report, site }: EntryAt): void {
  const name = jointName(joint.id);
  if (entry.strength !== undefined) {
    const read = readGrade(String(entry.strength), site);
    if (read.kind === 'refused')
      report(gradeRefused(name, read, String(entry.strength), pointer(place, 'strength')));
  }
  if (entry.pain !== undefined) readScore(entry.pain, `${name} pain`, pointer(place, 'pain'), report);
}

/** A finding said as a movement (a drift, a curve) is one that is seen; what stood beside it is kept in words. */
function readSeenMovement(
  { entry, place, joint, report }: EntryAt,
  { target, typed }: Extract<MovementReading, { kind: 'seen' }>,
): readonly Placed<LookFeelFinding>[] {
  const sides = readSides(joint, entry.side, place, report);
  const beside = STRAYS.movement.flatMap((name) => {
    const value = entry[name];
    return value === undefined ? [] : [`${name} ${String(value)}`];
  });
  const describe = [
    entry.describe,
    beside.length > 0 ? `given with ${typed}: ${beside.join(', ')}` : undefined,
  ]
    .filter((words) => words !== undefined)
    .join('; ');
  const items = [given({ item: target.item, value: target.value, describe: describe || undefined })];
  return (sides ?? []).map((side) => ({
    place,
    finding: given({
      kind: 'look-feel' as const,
      joint: target.joint,
      side,
      items,
      typed: entry.typed ?? typed,
    }),
  }));
}

type MovementAt = EntryAt & {
  readonly movement: Movement;
  readonly part?: 'hyperextends';
  /** What all findings of the movement share. */
  readonly shared: MovementShared;
};

interface MovementShared extends DigitJoint {
  readonly movement: string;
  readonly side?: Side;
  readonly direction?: Side;
  readonly describe?: string;
  readonly typed?: string;
}

function readMovementValues(
  at: EntryAt,
  read: Extract<MovementReading, { kind: 'movement' }>,
): readonly Placed[] {
  const { entry, place, report, site } = at;
  const { shared, isWhole } = readShared(at, read);
  const { movement, part } = read;
  const moved: MovementAt = { ...at, movement, shared, ...(part && { part }) };
  const found = [...readRange(moved), ...readStrength(moved), ...readMovementPain(moved)];
  reportStrays(moved);
  if ([...EXTENTS, 'strength' as const, 'pain' as const].every((name) => entry[name] === undefined)) {
    const sentence = `The ${movementName(shared)} has no value: give degrees, range, strength or pain.`;
    report(formIssue('nothing-said', place, sentence));
  }
  if (isWhole) return found;
  ofKind(found, 'range')
    .flatMap((one) => checkRangeLimit(one, site))
    .forEach(report);
  return [];
}

function reportStrays({ entry, place, shared, report }: MovementAt): void {
  const hasRange = EXTENTS.some((name) => entry[name] !== undefined);
  const hasStrength = entry.strength !== undefined;
  const hasPain = entry.pain !== undefined;
  const strays = [
    ...(hasRange || hasPain ? [] : (['mode'] as const)),
    ...(hasRange ? [] : (['method'] as const)),
    ...(hasStrength ? [] : STRAYS.strength),
    ...(hasRange || hasStrength ? [] : (['limitedBy'] as const)),
  ].filter((name) => entry[name] !== undefined);
  for (const name of strays) {
    const sentence = `"${name}" of the ${movementName(shared)} says nothing without the value it belongs to.`;
    report(formIssue('stray-property', pointer(place, name), sentence, { found: name }));
  }
}

/** What all findings of the movement share; not whole when its side, direction or digit is wrong or missing. */
function readShared(
  at: EntryAt,
  { movement, typed }: Extract<MovementReading, { kind: 'movement' }>,
): { readonly shared: MovementShared; readonly isWhole: boolean } {
  const { entry } = at;
  const side = readMovementSide(at, movement);
  const direction = readDirection(at, movement);
  const digit = readDigit(at, movement);
  const shared = given({
    movement: movement.id,
    side: side === false ? undefined : side,
    direction: direction === false ? undefined : direction,
    ...digit,
    describe: entry.describe,
    typed: entry.typed ?? typed,
  });
  return { shared, isWhole: side !== false && direction !== false && digit !== undefined };
}

/** False when the side is wrong or missing. Beside look and feel words of the jaw, the side is theirs. */
function readMovementSide({ entry, place, report }: EntryAt, movement: Movement): Side | undefined | false {
  const name = movementName({ movement: movement.id });
  if (movement.sideRule === 'per-side') return readOneSide(name, entry.side, place, report) ?? false;
  if (entry.side === undefined || entry.look !== undefined || entry.feel !== undefined) return undefined;
  const hint = movement.sideRule === 'direction' ? '; say where it moves with "direction"' : '';
  const sentence = `The ${name} is one movement of the whole and takes no side${hint}.`;
  report(ruleIssue('LT-02', pointer(place, 'side'), sentence, { found: entry.side }));
  return false;
}

function readDirection({ entry, place, report }: EntryAt, movement: Movement): Side | undefined | false {
  const { direction } = entry;
  const name = movementName({ movement: movement.id });
  const here = pointer(place, 'direction');
  if (movement.sideRule === 'direction' && direction === undefined) {
    const choices = ['left', 'right'];
    report(
      ruleIssue('MV-03', here, `The ${name} needs its direction: left or right.`, {
        choices,
        allowed: choices,
      }),
    );
    return false;
  }
  if (movement.sideRule !== 'direction' && direction !== undefined) {
    report(
      ruleIssue('LT-02', here, `The ${name} has no direction to the left or right.`, { found: direction }),
    );
    return false;
  }
  return direction;
}

/** The digit and its joint; undefined when they are wrong, which is reported. */
function readDigit({ entry, place, joint, report }: EntryAt, movement: Movement): DigitJoint | undefined {
  const { digit: said, digitJoint } = entry;
  const { digits = [], digitJoints = [] } = joint;
  const name = movementName({ movement: movement.id });
  const digit = said === undefined ? undefined : digits.find((one) => one === withoutNoun(said));
  if (said !== undefined && digit === undefined) {
    const known = digits.length > 0 ? `it is one of ${listed(digits)}` : 'it is not measured by digits';
    const sentence = `"${said}" is no digit for the ${name}; ${known}.`;
    report(formIssue('unknown-digit', pointer(place, 'digit'), sentence, { found: said, allowed: digits }));
    return undefined;
  }
  if (digitJoint !== undefined && !digitJoints.includes(digitJoint)) {
    const known =
      digitJoints.length > 0 ? `it is one of ${listed(digitJoints)}` : 'it has no joints of digits';
    const sentence = `"${digitJoint}" is no joint for the ${name}; ${known}.`;
    const details = { found: digitJoint, allowed: digitJoints };
    report(formIssue('unknown-digit', pointer(place, 'digitJoint'), sentence, details));
    return undefined;
  }
  return given({ digit, digitJoint });
}

function withoutNoun(digit: string): string {
  return digit
    .trim()
    .toLowerCase()
    .replace(/ (finger|toe)$/, '');
}

function readRange(at: MovementAt): readonly Placed<RangeFinding>[] {
  const { entry, place, report, shared } = at;
  const names = EXTENTS.filter((name) => entry[name] !== undefined);
  const [name] = names;
  if (name === undefined) return [];
  if (names.length > 1) {
    const sentence = `The ${movementName(shared)} has ${listed(names, 'and')} at once: give one of them.`;
    const both = names.includes('lacks') && names.includes('hyperextends');
    report(
      both
        ? ruleIssue('VL-03', place, sentence, { found: names })
        : formIssue('two-extents', place, sentence, { found: names }),
    );
    return [];
  }
  const extent = readExtent(at, name);
  const method = readMethod(at, name);
  if (!extent || method === false) return [];
  const mode = entry.mode ?? 'active';
  const limitedBy = readLimitedBy(entry.limitedBy);
  const finding = given({ kind: 'range' as const, ...shared, mode, extent, method, limitedBy });
  return [{ place: pointer(place, name), finding }];
}

/** False when the method is wrong. Degrees without one count as a visual estimate (VL-05). */
function readMethod(
  { entry, place, report, shared }: MovementAt,
  name: ExtentName,
): string | undefined | false {
  const { method } = entry;
  const measured = name === 'range' ? 'word' : name === 'millimetres' ? 'mm' : 'degrees';
  if (method === undefined) {
    if (measured !== 'degrees') return undefined;
    const sentence = `The ${movementName(shared)} has degrees without a method; it is labelled a visual estimate.`;
    report(
      ruleIssue('VL-05', pointer(place, name), sentence, { allowed: METHODS.degrees.map(({ id }) => id) }),
    );
    return DEFAULT_RANGE_METHOD;
  }
  if (measured === 'word') {
    const sentence = `The ${movementName(shared)} is told in a word, which has no method of measuring.`;
    report(formIssue('stray-property', pointer(place, 'method'), sentence, { found: method }));
    return false;
  }
  const what = `method for ${measured === 'mm' ? 'millimetres' : 'degrees'}`;
  return readListedWord(method, METHODS[measured], what, pointer(place, 'method'), report)?.id ?? false;
}

const METHODS = {
  degrees: rangeMethods.filter(({ measures }) => measures === 'degrees'),
  mm: rangeMethods.filter(({ measures }) => measures === 'mm'),
} as const;

function readExtent(at: MovementAt, name: ExtentName): RangeFinding['extent'] | undefined {
  const { entry, place, report } = at;
  switch (name) {
    case 'range': {
      const word = readListedWord(
        entry.range ?? '',
        rangeWords,
        'word for a range',
        pointer(place, name),
        report,
      );
      return word && { word: word.id };
    }
    case 'millimetres':
      return readMillimetres(at);
    case 'degrees':
      return readDegrees(at);
    case 'lacks':
    case 'hyperextends':
      return readExtension(at, name);
  }
}

function readMillimetres({
  entry,
  movement,
  shared,
  place,
  report,
}: MovementAt): RangeFinding['extent'] | undefined {
  const digits = digitsOf(entry.millimetres ?? 0);
  if (movement.measure !== 'mm') {
    report(wrongMeasure(shared, pointer(place, 'millimetres'), movement, 'millimetres'));
    return undefined;
  }
  if (Number(digits) >= 0) return { millimetres: digits };
  const sentence = `The ${movementName(shared)} of ${digits} mm is below 0.`;
  report(
    ruleIssue('VL-01', pointer(place, 'millimetres'), sentence, { found: digits, allowed: { from: 0 } }),
  );
  return undefined;
}

const TOLD_IN: Readonly<Record<Movement['measure'], string>> = {
  degrees: 'degrees',
  mm: 'millimetres',
  qualitative: 'a word: full, limited or absent',
  force: 'a force, with the measure "grip"',
};

function wrongMeasure(
  shared: MovementShared,
  place: string,
  movement: Movement,
  given: string,
): ReturnType<typeof formIssue> {
  const { measure } = movement;
  const instead = TOLD_IN[measure];
  const sentence = `The ${movementName(shared)} is not told in ${given} but in ${instead}.`;
  return formIssue('wrong-measure', place, sentence, { found: given, allowed: instead });
}

function readDegrees(at: MovementAt): RangeFinding['extent'] | undefined {
  const { entry, movement, shared, place, report, part } = at;
  const digits = digitsOf(entry.degrees ?? 0);
  const here = pointer(place, 'degrees');
  const name = movementName(shared);
  if (movement.measure !== 'degrees') {
    report(wrongMeasure(shared, here, movement, 'degrees'));
    return undefined;
  }
  const hasTwoNumbers = movement.limits !== undefined && 'lacks' in movement.limits;
  if (hasTwoNumbers && part !== undefined && Number(digits) >= 0) return { hyperextends: digits };
  if (hasTwoNumbers && Number(digits) === 0) {
    report(
      ruleIssue('VL-03', here, `The ${name} of 0 degrees is stored as lacking 0.`, {
        severity: 'info',
        found: digits,
      }),
    );
    return { lacks: digits };
  }
  if (!hasTwoNumbers && Number(digits) >= 0) return { degrees: digits };
  const bare = digits.replace(/^-/, '');
  const sentence = hasTwoNumbers
    ? `The ${name} of ${digits} degrees can be read two ways: does the joint lack ${bare} degrees, or go ${bare} degrees past straight?`
    : `The ${name} of ${digits} degrees is below 0; degrees are never negative.`;
  const choices = ['lacks', 'hyperextends'];
  report(ruleIssue('VL-03', here, sentence, { found: digits, ...(hasTwoNumbers && { choices }) }));
  return undefined;
}

function readExtension(at: MovementAt, name: 'lacks' | 'hyperextends'): RangeFinding['extent'] | undefined {
  const { entry, movement, shared, place, report } = at;
  const digits = digitsOf(entry[name] ?? 0);
  const here = pointer(place, name);
  if (movement.limits === undefined || !('lacks' in movement.limits)) {
    const sentence = `"${name}" is for extension of the elbow and the knee; the ${movementName(shared)} takes degrees.`;
    report(formIssue('wrong-measure', here, sentence, { found: name, allowed: 'degrees' }));
    return undefined;
  }
  if (Number(digits) >= 0) return name === 'lacks' ? { lacks: digits } : { hyperextends: digits };
  const sentence = `The ${movementName(shared)} with "${name}" of ${digits} degrees is below 0; neither number is ever negative.`;
  report(ruleIssue('VL-03', here, sentence, { found: digits, allowed: { from: 0 } }));
  return undefined;
}

/** A usual word for what limits, else the words as they came. */
function readLimitedBy(said: string | undefined): string | undefined {
  if (said === undefined) return undefined;
  return findWord(said, limitedByWords)?.id ?? said.trim();
}

function readStrength(at: MovementAt): readonly Placed<StrengthFinding>[] {
  const { entry, movement, shared, place, report } = at;
  if (entry.strength === undefined) return [];
  const here = pointer(place, 'strength');
  if (!movement.strengthTestable) {
    const sentence = `The ${movementName(shared)} is only watched: it takes no strength grade.`;
    report(formIssue('no-strength', here, sentence, { found: String(entry.strength) }));
    return [];
  }
  const read = readGradeAt(at, here);
  if (read === undefined) return [];
  const { grade, typed } = read;
  const { gravityEliminated } = entry;
  const limitedBy = readLimitedBy(entry.limitedBy) ?? painLimit(at, grade, here);
  const graded = { kind: 'strength' as const, ...shared, grade, limitedBy, gravityEliminated };
  return [{ place: here, finding: given({ ...graded, typed: shared.typed ?? typed }) }];
}

/** The grade, and what was typed where that was corrected. */
function readGradeAt(
  { entry, shared, report, site }: MovementAt,
  here: string,
): { readonly grade: string; readonly typed?: string } | undefined {
  const found = String(entry.strength);
  const read = readGrade(found, site);
  const name = movementName(shared);
  switch (read.kind) {
    case 'grade':
      return { grade: read.grade };
    case 'leading-plus': {
      const sentence = `The ${name} strength "${found}" has a leading plus; once confirmed it is stored as grade ${read.grade}.`;
      report(ruleIssue('SC-02', here, sentence, { severity: 'confirm', found, choices: [read.grade] }));
      return { grade: read.grade, typed: found };
    }
    case 'refused':
      report(gradeRefused(name, read, found, here));
      return undefined;
  }
}

function gradeRefused(
  name: string,
  { rule, why }: Extract<GradeReading, { kind: 'refused' }>,
  found: string,
  here: string,
): ReturnType<typeof ruleIssue> {
  const sentence = `The ${name} strength "${found}" is refused: ${why}; give a whole grade from 0 to 5.`;
  return ruleIssue(rule, here, sentence, { found, allowed: ['0', '1', '2', '3', '4', '5'] });
}

/** Grade 4 or less with pain on testing is limited by pain, so that no trend reads it as weakness (SC-07). */
function painLimit({ entry, shared, report }: MovementAt, grade: string, here: string): string | undefined {
  if (entry.pain === undefined || Number(digitsOf(entry.pain)) <= 0 || grade.startsWith('5'))
    return undefined;
  const sentence = `The ${movementName(shared)} strength of grade ${grade} came with pain ${digitsOf(entry.pain)}; it is stored as limited by pain.`;
  report(ruleIssue('SC-07', here, sentence, { found: grade }));
  return 'pain';
}

function readMovementPain({ entry, place, shared, report }: MovementAt): readonly Placed<PainFinding>[] {
  if (entry.pain === undefined || entry.when === 'rest') return [];
  const score = readScore(entry.pain, `pain on ${movementName(shared)}`, pointer(place, 'pain'), report);
  if (score === undefined) return [];
  const { movement, side, direction, describe, typed } = shared;
  const { mode } = entry;
  const finding = given({
    kind: 'pain' as const,
    score,
    when: 'movement' as const,
    side,
    movement,
    direction,
    mode,
    describe,
    typed,
  });
  return [{ place: pointer(place, 'pain'), finding }];
}

/** Pain at the joint itself: beside no movement, or at rest. */
function readJointPain({ entry, place, joint, report }: EntryAt): readonly Placed<PainFinding>[] {
  const { pain: value, when, movement, side, describe, typed } = entry;
  if (value === undefined) {
    if (when !== undefined) {
      const sentence = '"when" belongs to a pain score, which is missing.';
      report(formIssue('stray-property', pointer(place, 'when'), sentence));
    }
    return [];
  }
  if (movement !== undefined && when !== 'rest') return [];
  const said = { measure: 'pain', value, when, joint: joint.id, side, describe, typed };
  return readPain(said, place, report, 'pain');
}

function readCircumference({ entry, place, joint, report }: EntryAt): readonly Placed<MeasureFinding>[] {
  const { circumferenceCm: value, level, side, describe, typed } = entry;
  if (value !== undefined) {
    const measured = { measure: 'circumference', value, unit: 'cm', joint: joint.id } as const;
    return readMeasure({ ...measured, side, level, describe, typed }, place, report, 'circumferenceCm');
  }
  if (level !== undefined) {
    const sentence = '"level" belongs to a circumference, which is missing.';
    report(formIssue('stray-property', pointer(place, 'level'), sentence));
  }
  return [];
}
