import {
  findGripUnit,
  gaitWords,
  gripDevices,
  gripRules,
  gripUnits,
  neurovascularElements,
  screenResults,
  screens,
  type GripRuleId,
  type NeurovascularElementRow,
} from '../catalogue/index.js';
import { given } from '../fhir/index.js';
import { isTypedNumber } from './document.js';
import type { GaitEntry, GripEntry, NeurovascularEntry, ScreenEntry, TypedNumber } from './document.js';
import type {
  GaitFinding,
  GripFinding,
  NeurovascularElement,
  NeurovascularFinding,
  ScreenFinding,
} from './exam.js';
import { checkGripLimits } from './limits.js';
import { formIssue, listed, pointer, type Placed, type Report } from './placed.js';
import { readJointEntry, type Reading } from './read-joint-entry.js';
import { digitsOf, readMeasure } from './read-measure.js';
import { readPain } from './read-pain.js';
import { readOneSide } from './read-sides.js';
import { readListedWord, type WordRow } from './read-words.js';
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
      return readPain(finding.entry, place, reading.report);
    case 'measure':
      return readMeasure(finding.entry, place, reading.report);
    case 'screen':
      return readScreen(finding.entry, place, reading);
    case 'neurovascular':
      return readNeurovascular(finding.entry, place, reading);
    case 'gait':
      return readGait(finding.entry, place, reading);
  }
}

function readGrip(
  entry: GripEntry,
  place: string,
  { report, site }: Reading,
): readonly Placed<GripFinding>[] {
  const side = readOneSide('hand grip', entry.side, place, report);
  const unit = readGripUnit(entry, place, report);
  const rule = readGripRule(entry, place, report);
  const device = readOptional(entry.device, gripDevices, 'dynamometer', pointer(place, 'device'), report);
  const trials = entry.trials.map(digitsOf);
  const { handlePosition, dominant, describe, typed } = entry;
  const at = pointer(place, 'trials');
  if (side === undefined || unit === undefined || rule === undefined || device === false) {
    if (unit !== undefined)
      checkGripLimits('hand grip', given({ trials, unit, describe }), at, site).forEach(report);
    return [];
  }
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
  return [{ place: at, finding: given(finding) }];
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
    report(formIssue('missing', here, sentence, { choices, allowed: gripRules.map(({ id }) => id) }));
    return undefined;
  }
  const rule = readListedWord(entry.rule, gripRules, 'rule for grip trials', here, report);
  if (!rule || rule.trials === count) return rule?.id;
  const sentence = `The rule ${rule.label} needs ${rule.trials} trials, and ${count} ${count === 1 ? 'is' : 'are'} given.`;
  report(
    formIssue('trial-count', pointer(place, 'trials'), sentence, { found: count, allowed: rule.trials }),
  );
  return undefined;
}

/** Undefined when nothing was said, false when it was wrong. */
function readOptional(
  said: string | undefined,
  rows: readonly WordRow[],
  what: string,
  place: string,
  report: Report,
): string | undefined | false {
  return said === undefined ? undefined : (readListedWord(said, rows, what, place, report)?.id ?? false);
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
  const told = Object.entries(entry.elements).flatMap(([said, answer]) =>
    readElement(said, answer, pointer(place, 'elements', said), report),
  );
  const elements = told.flatMap(({ read }) => read ?? []);
  const refused = told.flatMap(({ row, read }) => (read ? [] : [row.id]));
  reportDoubles(elements, `${limb} limb`, pointer(place, 'elements'), report);
  if (Object.keys(entry.elements).length === 0) {
    const sentence = `The neurovascular check of the ${limb} limb has no element.`;
    report(ruleIssue('CM-11', pointer(place, 'elements'), sentence, { severity: 'error' }));
  }
  if (side === undefined || elements.length === 0 || !isCheck) return [];
  const finding = given({ kind: 'neurovascular' as const, limb, side, elements, describe, typed });
  return [{ place, finding, refused }];
}

/** One element under two of its names. */
function reportDoubles(
  elements: readonly NeurovascularElement[],
  name: string,
  place: string,
  report: Report,
): void {
  const ids = elements.map(({ element }) => element);
  for (const id of new Set(ids.filter((one, index) => ids.indexOf(one) < index))) {
    const sentence = `The ${id.replaceAll('-', ' ')} of the ${name} is given twice under two names: give it once.`;
    report(formIssue('given-twice', place, sentence, { found: id }));
  }
}

/** An element that was named, and what was read of it: nothing when its answer was refused. */
interface ToldElement {
  readonly row: NeurovascularElementRow;
  readonly read: NeurovascularElement | undefined;
}

type ElementAnswer = NeurovascularEntry['elements'][string];

function readElement(
  said: string,
  answer: ElementAnswer,
  place: string,
  report: Report,
): readonly ToldElement[] {
  const row = readListedWord(said, neurovascularElements, 'element of a neurovascular check', place, report);
  if (!row) return [];
  const { value, describe } = answerOf(answer);
  const read =
    typeof value === 'string'
      ? readElementWord(row, value, place, report)
      : readElementNumber(row, value, place, report);
  return [{ row, read: read && given({ element: row.id, ...read, describe }) }];
}

function answerOf(answer: ElementAnswer): {
  readonly value: string | TypedNumber;
  readonly describe?: string | undefined;
} {
  return typeof answer === 'string' || isTypedNumber(answer) ? { value: answer } : answer;
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
  if (row.number && (row.words.length === 0 || /^[<>=]*\s*[\d.,]+/.test(said.trim()))) {
    const rule = row.number.unit === 's' ? 'VL-12' : 'VL-13';
    const forms = row.number.comparator ? 'a number, or "<2" with its sign' : 'a number';
    const sentence = `The ${row.label} "${said}" is refused: give ${forms}, without its unit.`;
    report(ruleIssue(rule, place, sentence, { found: said, allowed: forms }));
    return undefined;
  }
  const word = readListedWord(said, row.words, `answer for ${row.label}`, place, report);
  return word && { value: word.id };
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
