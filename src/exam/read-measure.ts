import {
  findConversion,
  measures,
  readLevel,
  readMeasureUnit,
  type Measure,
  type Side,
} from '../catalogue/index.js';
import { given } from '../fhir/index.js';
import type { MeasureEntry, TypedNumber } from './document.js';
import type { MeasureFinding } from './exam.js';
import { jointName } from './finding-name.js';
import { formIssue, listed, pointer, type Placed, type Report } from './placed.js';
import { readOneSide } from './read-sides.js';
import { readJoint, readListedWord } from './read-words.js';
import { ruleIssue } from './rules.js';

/** The digits as typed. */
export function digitsOf(typed: TypedNumber): string {
  return String(typed);
}

/** One number with its unit; `valueAt` is the property that it stands in. */
export function readMeasure(
  entry: MeasureEntry,
  place: string,
  report: Report,
  valueAt = 'value',
): readonly Placed<MeasureFinding>[] {
  const row = readListedWord(entry.measure, measures, 'measure', pointer(place, 'measure'), report);
  if (!row) return [];
  const joint = readMeasureJoint(row, entry, place, report);
  const side = readMeasureSide(row, entry, place, report);
  const unit = readUnit(row, entry, place, report);
  const value = digitsOf(entry.value);
  if (unit === undefined || !isBelievable(row, value, unit, pointer(place, valueAt), report)) return [];
  if (joint === false || side === false) return [];
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
  return [{ place: pointer(place, valueAt), finding: given(measured) }];
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
