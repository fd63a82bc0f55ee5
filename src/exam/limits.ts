import { findConversion, findMovement, gripUnits, referenceRange } from '../catalogue/index.js';
import type { GripFinding, RangeFinding } from './exam.js';
import { nameFinding } from './finding-name.js';
import type { Issue } from './issue.js';
import { pointer, type Placed } from './placed.js';
import { ruleIssue, type SiteRules } from './rules.js';

/** VL-01 and VL-02: above the most that is believed; above the read reference value, unless it is `lacks`. */
export function checkRangeLimit({ finding, place }: Placed<RangeFinding>, site: SiteRules): readonly Issue[] {
  const { extent, movement } = finding;
  const limits = findMovement(movement)?.limits;
  if (!limits || 'word' in extent) return [];
  const [part, digits] = Object.entries(extent)[0] as [string, string];
  const ceiling =
    part in limits
      ? (limits as unknown as Record<string, number>)[part]
      : 'max' in limits
        ? limits.max
        : undefined;
  const value = Number(digits);
  const unit = part === 'millimetres' ? 'mm' : 'degrees';
  const said = `The ${nameFinding(finding)} of ${digits} ${unit}`;
  if (ceiling !== undefined && value > ceiling) {
    const sentence = `${said} is above ${ceiling} ${unit}, the most that is believed.`;
    return [ruleIssue('VL-01', place, sentence, { found: digits, allowed: { from: 0, to: ceiling } })];
  }
  const usual = part === 'degrees' ? referenceRange(movement, finding.digitJoint) : undefined;
  if (!usual || value <= usual.value + site.highRangeDegrees) return [];
  const limit = usual.value + site.highRangeDegrees;
  const sentence = `${said} is unusually high: more than ${site.highRangeDegrees} above the ${usual.value} degrees of ${usual.tableName}. Is it right?`;
  return [ruleIssue('VL-02', place, sentence, { found: digits, allowed: { to: limit } })];
}

/** The trials of one grip; `place` is that of their list. */
export type GripTrials = Pick<GripFinding, 'trials' | 'unit' | 'describe'>;

/** VL-08: below nothing, above what is believed, above what is usual, or nothing at all without a word why. */
export function checkGripLimits(
  name: string,
  { trials, unit, describe }: GripTrials,
  place: string,
  site: SiteRules,
): readonly Issue[] {
  return trials.flatMap((trial, index) => {
    const here = pointer(place, index);
    const kg = inKgf(Number(trial), unit);
    const said = `The ${name} of ${trial} ${unit}${unit === 'kg' ? '' : ` (${kg.toFixed(1)} kg)`}`;
    if (kg < 0 || kg > site.gripMaxKg) {
      const why = kg < 0 ? 'is below 0' : `is above ${site.gripMaxKg} kg, the most that is believed`;
      const allowed = { from: 0, to: site.gripMaxKg };
      return [ruleIssue('VL-08', here, `${said} ${why}.`, { severity: 'error', found: trial, allowed })];
    }
    if (kg > site.gripConfirmKg) {
      const sentence = `${said} is above ${site.gripConfirmKg} kg. Is it right, and is the unit?`;
      return [ruleIssue('VL-08', here, sentence, { found: trial, allowed: { to: site.gripConfirmKg } })];
    }
    if (kg > 0 || describe !== undefined) return [];
    const sentence = `${said} needs its reason in "describe": no power, unable, or did not want to.`;
    return [ruleIssue('VL-08', here, sentence, { found: trial })];
  });
}

function inKgf(value: number, typed: string): number {
  const unit = gripUnits.find((row) => row.typed === typed)?.unit ?? 'kgf';
  const conversion = findConversion(unit, 'kgf');
  return conversion ? (value * Number(conversion.times)) / Number(conversion.by) : value;
}
