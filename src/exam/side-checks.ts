import { findLookFeelItem } from '../catalogue/index.js';
import type { Finding } from './exam.js';
import { itemName, jointName } from './finding-name.js';
import type { Issue } from './issue.js';
import type { KnownSide } from './patient-record.js';
import { listed } from './placed.js';
import { amount, readingWords, sentence } from './record-wording.js';
import type { Reading } from './readings.js';
import { ruleIssue } from './rules.js';
import { inForce } from './standing.js';
import {
  exceeds,
  groupBy,
  isClearlyLimited,
  isRecent,
  otherSide,
  placeOf,
  rangeError,
  readingsBefore,
  twinOf,
  type Past,
  type Visit,
} from './visit.js';

/**
 * LT-04: a value that fits the other side's last one and not this side's own, or something seen on the side opposite to
 * a known problem: left or right? Asked once for a joint. Numbers are not asked about where the exam has both sides,
 * for then it compares them.
 */
export function checkKnownSide(visit: Visit): readonly Issue[] {
  const slips = visit.readings.flatMap((reading) => slipOf(visit, reading) ?? []);
  return [
    ...groupBy(slips, ({ reading }) => `${reading.joint ?? ''}|${reading.side ?? ''}`).flatMap((ofJoint) =>
      slipIssue(visit, ofJoint),
    ),
    ...visit.exam.findings.flatMap((finding) => seenOppositeToProblem(visit, finding)),
  ];
}

/** A reading that fits the other side, with the last ones of the other side and its own. */
interface Slip {
  readonly reading: Reading;
  readonly other: Past;
  readonly own?: Past;
}

function slipOf(visit: Visit, reading: Reading): Slip | undefined {
  if (reading.side === undefined || reading.asExpected || twinOf(visit, reading)) return undefined;
  const others = readingsBefore(visit, reading, otherSide(reading.side));
  const other = others.at(-1);
  const errors = other && errorsOf(visit, reading, other);
  if (!errors || !isRecent(visit, other) || far(reading, other, errors.fit)) return undefined;
  const own = readingsBefore(visit, reading).at(-1);
  if (own === undefined) return isKnownOrRunning(visit, reading, others) ? { reading, other } : undefined;
  const differs = far(reading, own, errors.outside) && far(own, other, errors.outside);
  return differs ? { reading, other, own } : undefined;
}

/** Within `fit` a value is like the other side's; beyond `outside` it is not like its own side's. */
interface Errors {
  readonly fit: number;
  readonly outside: number;
}

/**
 * A grade must be the same to fit, since any two grades of healthy sides are near. A circumference never tells the
 * sides apart: healthy ones differ by less than the margin.
 */
function errorsOf({ rules }: Visit, reading: Reading, past: Past): Errors | undefined {
  switch (reading.finding.kind) {
    case 'range': {
      const error = rangeError(rules, reading.method, past.method);
      return reading.unit === 'deg' ? { fit: error, outside: error } : undefined;
    }
    case 'grip': {
      const error = reading.finding.rule === 'single' ? rules.singleGripErrorKg : rules.gripErrorKg;
      return { fit: error, outside: error };
    }
    case 'strength':
    case 'as-expected':
      return { fit: 0, outside: rules.gradeError };
    case 'measure':
      return undefined;
  }
}

function far(one: { readonly value: number }, other: { readonly value: number }, error: number): boolean {
  return exceeds(Math.abs(one.value - other.value), error);
}

/**
 * Where this side was never measured: the other is the known side, or a running series of values so far from the
 * expected that a healthy side would not show them. A first look at a healthy side is thus not asked about.
 */
function isKnownOrRunning(visit: Visit, reading: Reading, others: readonly Past[]): boolean {
  if (knownProblem(visit, reading.joint, otherSide(reading.side))) return true;
  if (others.length < visit.rules.runningReadings) return false;
  return [reading, others.at(-1)].every((one) => one !== undefined && isImpaired(visit, reading, one.value));
}

function isImpaired({ rules }: Visit, { finding, movement, digit, method }: Reading, value: number): boolean {
  if (finding.kind === 'strength') return value <= rules.weakGrade;
  if (finding.kind !== 'range') return false;
  if ('lacks' in finding.extent) return exceeds(value, rangeError(rules, method, method));
  if (!('degrees' in finding.extent) || movement === undefined || digit !== undefined) return false;
  return isClearlyLimited(rules, movement, { value, ...(method && { method }) });
}

function knownProblem(
  { record, at }: Visit,
  joint: string | undefined,
  side: Reading['side'],
): KnownSide | undefined {
  return record.knownSides.find(
    (known) => known.joint === joint && known.side === side && inForce(known, at),
  );
}

function slipIssue(visit: Visit, slips: readonly Slip[]): readonly Issue[] {
  const [first] = slips;
  const { joint, side } = first?.reading ?? {};
  if (first === undefined || side === undefined) return [];
  const part = (of: typeof side): string => (joint === undefined ? `${of} side` : jointName(joint, of));
  const values = listed(
    slips.map(({ reading }) => readingWords(reading)),
    'and',
  );
  const last = listed(
    slips.map(({ reading, other }) => amount(reading, other.value)),
    'and',
  );
  const own = slips.flatMap(({ reading, own: past }) => (past ? [amount(reading, past.value)] : []));
  const here = own.length > 0 ? `, while the ${side} last had ${listed(own, 'and')}` : '';
  return [
    ruleIssue(
      'LT-04',
      placeOf(visit, first.reading.finding),
      sentence(
        `${part(side)}: ${values} fits the ${part(otherSide(side))} (last ${last})${here}: left or right?`,
      ),
      { found: side, allowed: ['left', 'right'] },
    ),
  ];
}

function seenOppositeToProblem(visit: Visit, finding: Finding): readonly Issue[] {
  if (finding.kind !== 'look-feel' || finding.side === undefined) return [];
  const { joint, side } = finding;
  const known = knownProblem(visit, joint, otherSide(side));
  if (!known || knownProblem(visit, joint, side)) return [];
  const fresh = finding.items.find(
    ({ item, value }) => isAbnormal(item, value) && !isOpen(visit, finding, item),
  );
  if (!fresh || isSeenOnBoth(visit, finding, fresh.item)) return [];
  return [
    ruleIssue(
      'LT-04',
      placeOf(visit, finding),
      sentence(
        `${jointName(joint, side)}: ${itemName(fresh.item)} ${fresh.value}, and the record has ${known.problem}` +
          ` on the ${known.side}: left or right?`,
      ),
      { found: side, allowed: ['left', 'right'] },
    ),
  ];
}

function isAbnormal(item: string, value: string): boolean {
  return value !== findLookFeelItem(item)?.expected;
}

function isOpen(
  { record, at }: Visit,
  { joint, side }: Finding & { kind: 'look-feel' },
  item: string,
): boolean {
  return record.openFindings.some(
    (open) => open.joint === joint && open.side === side && open.item === item && inForce(open, at),
  );
}

function isSeenOnBoth(
  { exam }: Visit,
  { joint, side }: Finding & { kind: 'look-feel' },
  item: string,
): boolean {
  return exam.findings.some(
    (other) =>
      other.kind === 'look-feel' &&
      other.joint === joint &&
      other.side === otherSide(side) &&
      other.items.some((one) => one.item === item && isAbnormal(item, one.value)),
  );
}

/**
 * LT-05: left and right both exchanged relative to the last ones, within error, where the sides differed. Asked once
 * for the whole exam.
 */
export function checkSwappedSides(visit: Visit): readonly Issue[] {
  const swaps = visit.readings.flatMap((left) => {
    if (left.side !== 'left') return [];
    const right = twinOf(visit, left);
    return right && isSwapped(visit, left, right) ? [{ left, right }] : [];
  });
  const [first] = swaps;
  if (first === undefined) return [];
  const pairs = listed(
    swaps.map(
      ({ left, right }) =>
        `${left.joint === undefined ? '' : `${jointName(left.joint)} `}${readingWords(left)} left and ` +
        `${amount(right, right.value)} right`,
    ),
    'and',
  );
  return [
    ruleIssue(
      'LT-05',
      placeOf(visit, first.left.finding),
      sentence(`${pairs} are the last values with the sides exchanged: are left and right as you mean them?`),
    ),
  ];
}

function isSwapped(visit: Visit, left: Reading, right: Reading): boolean {
  const lastLeft = readingsBefore(visit, left).at(-1);
  const lastRight = readingsBefore(visit, right).at(-1);
  if (!lastLeft || !lastRight || !isRecent(visit, lastLeft) || !isRecent(visit, lastRight)) return false;
  const errors = swapErrors(visit, left, lastRight);
  if (errors === undefined) return false;
  const { fit, outside } = errors;
  return (
    !far(left, lastRight, fit) &&
    !far(right, lastLeft, fit) &&
    far(left, lastLeft, outside) &&
    far(right, lastRight, outside) &&
    far(lastLeft, lastRight, outside)
  );
}

/**
 * Two sides exchanged at once say more than one: a grade may miss by its error, and a circumference tells the sides
 * apart where they differ by more than its margin.
 */
function swapErrors(visit: Visit, reading: Reading, past: Past): Errors | undefined {
  const { finding } = reading;
  const { swellingRiseCm } = visit.site;
  const { gradeError } = visit.rules;
  if (finding.kind === 'measure' && finding.measure === 'circumference')
    return { fit: swellingRiseCm / 2, outside: swellingRiseCm };
  if (finding.kind === 'strength' || finding.kind === 'as-expected')
    return { fit: gradeError, outside: gradeError };
  return errorsOf(visit, reading, past);
}
