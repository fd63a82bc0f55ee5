import {
  bodyDevices,
  findConversion,
  findGripUnit,
  findMovement,
  gaitWords,
  gripDevices,
  gripRules,
  gripUnits,
  measures,
  neurovascularElements,
  notAssessedReasons,
  readLevel,
  readMeasureUnit,
  screenResults,
  screens,
  type Aspect,
  type GripRuleId,
  type Joint,
  type Measure,
  type NeurovascularElementRow,
  type Side,
} from '../catalogue/index.js';
import type {
  AbsentEntry,
  GaitEntry,
  GripEntry,
  MeasureEntry,
  NeurovascularEntry,
  NotAssessedEntry,
  OnBodyEntry,
  PainEntry,
  ScreenEntry,
  TypedNumber,
} from './document.js';
import type {
  AbsentPartFinding,
  GaitFinding,
  GripFinding,
  MeasureFinding,
  NeurovascularElement,
  NeurovascularFinding,
  NotAssessedFinding,
  OnBodyFinding,
  PainFinding,
  ScreenFinding,
} from './exam.js';
import { jointName, movementName } from './finding-name.js';
import { given } from '../fhir/index.js';
import { formIssue, listed, pointer, type Placed, type Report } from './placed.js';
import {
  digitsOf,
  readJointEntry,
  readOneSide,
  readScore,
  readSides,
  readWhen,
  type Reading,
} from './read-joint-entry.js';
import { findWord, readJoint, readListedWord, readMovement } from './read-words.js';
import { ruleIssue } from './rules.js';
import type { Entry, FindingEntry } from './shape.js';

/** The findings of one entry of `findings`; what is wrong with it is reported. */
export function readFindingEntry(entry: Entry<FindingEntry>, reading: Reading): readonly Placed[] {
  const { entry: finding, place } = entry;
  switch (finding.kind) {
    case 'joint':
      return readJointEntry(finding.entry, place, reading);
    case 'grip':
      return readGrip(finding.entry, place, reading);
    case 'pain':
      return readPain(finding.entry, place, reading);
    case 'measure':
      return readMeasure(finding.entry, place, reading);
    case 'screen':
      return readScreen(finding.entry, place, reading);
    case 'neurovascular':
      return readNeurovascular(finding.entry, place, reading);
    case 'gait':
      return readGait(finding.entry, place, reading);
  }
}

function readGrip(entry: GripEntry, place: string, { report }: Reading): readonly Placed<GripFinding>[] {
  const side = readOneSide('hand grip', entry.side, place, report);
  const unit = readGripUnit(entry, place, report);
  const rule = readGripRule(entry, place, report);
  const device = readOptional(entry.device, gripDevices, 'dynamometer', pointer(place, 'device'), report);
  const trials = entry.trials.map(digitsOf);
  const below = trials.findIndex((trial) => Number(trial) < 0);
  if (below >= 0) {
    const sentence = `A grip of ${trials[below] ?? ''} is below 0.`;
    report(
      ruleIssue('VL-08', pointer(place, 'trials', below), sentence, {
        severity: 'error',
        found: trials[below],
      }),
    );
  }
  if (side === undefined || unit === undefined || rule === undefined || device === false || below >= 0)
    return [];
  const { handlePosition, dominant, describe, typed } = entry;
  const finding = {
    kind: 'grip',
    side,
    trials,
    unit,
    rule,
    device,
    handlePosition,
    dominant,
    describe,
    typed,
  } as const;
  return [{ place: pointer(place, 'trials'), finding: given(finding) }];
}

function readGripUnit(entry: GripEntry, place: string, report: Report): GripFinding['unit'] | undefined {
  const allowed = gripUnits.map(({ typed }) => typed);
  const here = pointer(place, 'unit');
  if (entry.unit === undefined) {
    report(ruleIssue('VL-06', here, `The grip has no unit: give ${listed(allowed)}.`, { allowed }));
    return undefined;
  }
  const unit = findGripUnit(entry.unit);
  if (unit) return unit.typed;
  const sentence = `"${entry.unit}" is no unit of grip: give ${listed(allowed)}.`;
  report(ruleIssue('VL-06', here, sentence, { found: entry.unit, allowed }));
  return undefined;
}

/** The rule over the trials, which must be as many as it needs; one trial by itself is `single`. */
function readGripRule(entry: GripEntry, place: string, report: Report): GripRuleId | undefined {
  const count = entry.trials.length;
  const here = pointer(place, 'rule');
  if (entry.rule === undefined) {
    if (count === 1) return 'single';
    const choices = gripRules.filter(({ trials }) => trials === count).map(({ id }) => id);
    const sentence = `The grip has ${count} trials and no rule: say whether the best or the mean counts.`;
    report(
      ruleIssue('VL-09', here, sentence, {
        severity: 'error',
        choices,
        allowed: gripRules.map(({ id }) => id),
      }),
    );
    return undefined;
  }
  const rule = readListedWord(entry.rule, gripRules, 'rule for grip trials', here, report);
  if (!rule || rule.trials === count) return rule?.id;
  const sentence = `The rule ${rule.label} needs ${rule.trials} trials, and ${count} ${count === 1 ? 'is' : 'are'} given.`;
  report(
    ruleIssue('VL-09', pointer(place, 'trials'), sentence, {
      severity: 'error',
      found: count,
      allowed: rule.trials,
    }),
  );
  return undefined;
}

/** Undefined when nothing was said, false when it was wrong. */
function readOptional<
  T extends { readonly id: string; readonly label: string; readonly synonyms: readonly string[] },
>(
  said: string | undefined,
  rows: readonly T[],
  what: string,
  place: string,
  report: Report,
): string | undefined | false {
  return said === undefined ? undefined : (readListedWord(said, rows, what, place, report)?.id ?? false);
}

function readPain(entry: PainEntry, place: string, { report }: Reading): readonly Placed<PainFinding>[] {
  const where = readPainPlace(entry, place, report);
  const score = readScore(entry.value, 'pain', pointer(place, 'value'), report);
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
  return [{ place: pointer(place, 'value'), finding }];
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

function readMeasure(
  entry: MeasureEntry,
  place: string,
  { report }: Reading,
): readonly Placed<MeasureFinding>[] {
  const row = readListedWord(entry.measure, measures, 'measure', pointer(place, 'measure'), report);
  if (!row) return [];
  const joint = readMeasureJoint(row, entry, place, report);
  const side = readMeasureSide(row, entry, place, report);
  const unit = readUnit(row, entry, place, report);
  if (joint === false || side === false || unit === undefined) return [];
  const value = digitsOf(entry.value);
  if (!isBelievable(row, value, unit, pointer(place, 'value'), report)) return [];
  const level = entry.level === undefined ? undefined : readLevel(entry.level);
  const { method, describe, typed } = entry;
  const measured = {
    kind: 'measure',
    measure: row.id,
    joint,
    side,
    level,
    value,
    unit,
    method,
    describe,
    typed,
  } as const;
  return [{ place: pointer(place, 'value'), finding: given(measured) }];
}

/** Undefined for a measure of the whole body, false when the joint is wrong or missing. */
function readMeasureJoint(
  row: Measure,
  entry: MeasureEntry,
  place: string,
  report: Report,
): string | undefined | false {
  const here = pointer(place, 'joint');
  if (entry.joint === undefined) {
    if (row.joints.length < 2) return undefined;
    const sentence = `The ${row.label} needs its joint: one of ${listed(row.joints)}.`;
    report(formIssue('joint-missing', here, sentence, { allowed: row.joints }));
    return false;
  }
  const joint = readJoint(entry.joint, here, report);
  if (!joint) return false;
  if (row.joints.includes(joint.id)) return joint.id;
  const where = row.joints.length > 0 ? `at ${listed(row.joints)}` : 'of the whole body';
  const sentence = `The ${row.label} is taken ${where}, not at the ${jointName(joint.id)}.`;
  report(formIssue('wrong-joint', here, sentence, { found: joint.id, allowed: row.joints }));
  return false;
}

function readMeasureSide(
  row: Measure,
  entry: MeasureEntry,
  place: string,
  report: Report,
): Side | undefined | false {
  if (row.side === 'per-side') return readOneSide(row.label, entry.side, place, report) ?? false;
  if (entry.side === undefined) return undefined;
  const sentence = `The ${row.label} takes no side.`;
  report(ruleIssue('LT-02', pointer(place, 'side'), sentence, { found: entry.side }));
  return false;
}

/** The UCUM code of the unit as given; a bare count needs none. */
function readUnit(row: Measure, entry: MeasureEntry, place: string, report: Report): string | undefined {
  const allowed = row.inputs.map(({ words: [word = ''] }) => word);
  if (entry.unit === undefined && row.whole === true) return row.unit;
  const unit = entry.unit === undefined ? undefined : readMeasureUnit(row, entry.unit);
  if (unit !== undefined) return unit;
  const here = pointer(place, 'unit');
  const fault = entry.unit === undefined ? 'has no unit' : `is not given in "${entry.unit}"`;
  const sentence = `The ${row.label} ${fault}: give ${listed(allowed)}.`;
  report(formIssue('unit', here, sentence, { found: entry.unit, allowed }));
  return undefined;
}

function isBelievable(row: Measure, value: string, unit: string, place: string, report: Report): boolean {
  const conversion = findConversion(unit, row.unit);
  const amount = conversion
    ? (Number(value) * Number(conversion.times)) / Number(conversion.by)
    : Number(value);
  const { min, max, whole } = row;
  if (whole === true && !Number.isInteger(amount)) {
    report(
      formIssue('not-whole', place, `The ${row.label} of ${value} is a count and has no fraction.`, {
        found: value,
      }),
    );
    return false;
  }
  if (amount >= min && amount <= max) return true;
  const sentence = `The ${row.label} of ${value} ${unit} is outside ${min} to ${max} ${row.unit}.`;
  report(
    formIssue('out-of-limits', place, sentence, {
      found: value,
      allowed: { from: min, to: max, unit: row.unit },
    }),
  );
  return false;
}

function readScreen(
  entry: ScreenEntry,
  place: string,
  { report }: Reading,
): readonly Placed<ScreenFinding>[] {
  const screen = readListedWord(entry.screen, screens, 'screen', pointer(place, 'screen'), report);
  const result = readScreenResult(entry.result, pointer(place, 'result'), report);
  if (!screen || result === undefined) return [];
  const { describe, typed } = entry;
  return [{ place, finding: given({ kind: 'screen' as const, screen: screen.id, result, describe, typed }) }];
}

function readScreenResult(said: string, place: string, report: Report): string | undefined {
  if (!/^[+-]?\d/.test(said.trim())) {
    return readListedWord(said, screenResults, 'result of a screen', place, report)?.id;
  }
  const allowed = screenResults.map(({ label }) => label);
  const sentence = `"${said}" is a grade, and a screen is told in words: ${listed(allowed)}.`;
  report(ruleIssue('SC-05', place, sentence, { found: said, allowed }));
  return undefined;
}

function readNeurovascular(
  entry: NeurovascularEntry,
  place: string,
  { report }: Reading,
): readonly Placed<NeurovascularFinding>[] {
  const isCheck = /^neurovascular( (check|observations?))?$|^nv( check)?$/i.test(entry.check.trim());
  if (!isCheck) {
    const sentence = `"${entry.check}" is no check: "neurovascular" is, with its elements.`;
    report(ruleIssue('CM-11', pointer(place, 'check'), sentence, { severity: 'error', found: entry.check }));
  }
  const { limb, describe, typed } = entry;
  const side = readOneSide(`${limb} limb`, entry.side, place, report);
  const elements = Object.entries(entry.elements).flatMap(([said, answer]) =>
    readElement(said, answer, pointer(place, 'elements', said), report),
  );
  if (Object.keys(entry.elements).length === 0) {
    const sentence = `The neurovascular check of the ${limb} limb has no element.`;
    report(ruleIssue('CM-11', pointer(place, 'elements'), sentence, { severity: 'error' }));
  }
  if (side === undefined || elements.length === 0 || !isCheck) return [];
  return [
    { place, finding: given({ kind: 'neurovascular' as const, limb, side, elements, describe, typed }) },
  ];
}

type ElementAnswer = NeurovascularEntry['elements'][string];

function readElement(
  said: string,
  answer: ElementAnswer,
  place: string,
  report: Report,
): readonly NeurovascularElement[] {
  const row = readListedWord(said, neurovascularElements, 'element of a neurovascular check', place, report);
  if (!row) return [];
  const isBare = typeof answer !== 'object' || !('value' in answer) || 'isLosslessNumber' in answer;
  const { value, describe } = isBare ? { value: answer as string | TypedNumber } : answer;
  const read =
    typeof value === 'string'
      ? readElementWord(row, value, place, report)
      : readElementNumber(row, value, place, report);
  return read ? [given({ element: row.id, ...read, describe })] : [];
}

type ElementValue = Pick<NeurovascularElement, 'value' | 'comparator'>;

/** `<2`, `< 2 s`, `>3 seconds`: the comparator is kept (VL-12). */
const COMPARED = /^([<>])\s*(\d+(?:\.\d+)?)\s*(?:s|sec|seconds)?$/;

function readElementWord(
  row: NeurovascularElementRow,
  said: string,
  place: string,
  report: Report,
): ElementValue | undefined {
  const [, comparator, digits] = COMPARED.exec(said.trim()) ?? [];
  if (digits !== undefined && row.number?.comparator === true) {
    const read = readElementNumber(row, Number(digits), place, report);
    return read && { value: digits, comparator: comparator === '<' ? '<' : '>' };
  }
  if (row.number && /^[<>]?\s*[\d.,]+/.test(said.trim())) {
    const rule = row.number.unit === 's' ? 'VL-12' : 'VL-13';
    const forms = row.number.comparator ? 'a number, or "<2" with its sign' : 'a number';
    const sentence = `The ${row.label} "${said}" is refused: give ${forms}, without its unit.`;
    report(ruleIssue(rule, place, sentence, { found: said, allowed: forms }));
    return undefined;
  }
  if (row.words.length > 0) {
    const word = readListedWord(said, row.words, `answer for ${row.label}`, place, report);
    return word && { value: word.id };
  }
  report(outsideElement(row, said, place));
  return undefined;
}

function readElementNumber(
  row: NeurovascularElementRow,
  value: TypedNumber,
  place: string,
  report: Report,
): ElementValue | undefined {
  const digits = digitsOf(value);
  if (row.number && Number(digits) >= row.number.min && Number(digits) <= row.number.max)
    return { value: digits };
  report(outsideElement(row, digits, place));
  return undefined;
}

function outsideElement(
  row: NeurovascularElementRow,
  found: string,
  place: string,
): ReturnType<typeof ruleIssue> {
  const { number, label, words } = row;
  if (!number) {
    const allowed = words.map(({ id }) => id);
    return formIssue('unknown-word', place, `The ${label} is told in words: ${listed(allowed)}.`, {
      found,
      allowed,
    });
  }
  const { min, max, unit } = number;
  const named = unit === 's' ? 'seconds' : 'on the scale';
  const sentence = `The ${label} of ${found} is outside ${min} to ${max} ${named}.`;
  const details = { severity: 'error', found, allowed: { from: min, to: max } } as const;
  return ruleIssue(unit === 's' ? 'VL-12' : 'VL-11', place, sentence, details);
}

const GAIT_PARTS = ['pattern', 'assistance', 'device'] as const;

function readGait(entry: GaitEntry, place: string, { report }: Reading): readonly Placed<GaitFinding>[] {
  const said = typeof entry.gait === 'string' ? { pattern: entry.gait } : entry.gait;
  const read = GAIT_PARTS.map((part) => {
    const here = typeof entry.gait === 'string' ? pointer(place, 'gait') : pointer(place, 'gait', part);
    return [
      part,
      readOptional(said[part], gaitWords[part], `word for the ${part} of gait`, here, report),
    ] as const;
  });
  if (read.every(([, word]) => word === undefined)) {
    report(
      formIssue(
        'nothing-said',
        pointer(place, 'gait'),
        'The gait says nothing: give pattern, assistance or device.',
      ),
    );
    return [];
  }
  if (read.some(([, word]) => word === false)) return [];
  const { describe, typed } = entry;
  const words = Object.fromEntries(read) as Pick<GaitFinding, (typeof GAIT_PARTS)[number]>;
  return [{ place, finding: given({ kind: 'gait' as const, ...words, describe, typed }) }];
}

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
    return read?.kind === 'movement' ? [read.movement.id] : [];
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
