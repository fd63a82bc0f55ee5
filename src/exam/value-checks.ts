import type { GripFinding } from './exam.js';
import { jointName } from './finding-name.js';
import type { Issue } from './issue.js';
import { listed } from './placed.js';
import { amount, movementWords, readingWords, sentence } from './record-wording.js';
import type { Reading } from './readings.js';
import { ruleIssue } from './rules.js';
import {
  exceeds,
  groupBy,
  isRecent,
  otherSide,
  placeOf,
  rangeError,
  readingsBefore,
  readingsLike,
  twinOf,
  whenWords,
  type Past,
  type Visit,
} from './visit.js';

/** VL-04: active range beyond the passive range of the same session, from whichever exam either comes. */
export function checkPassiveAndActive(visit: Visit): readonly Issue[] {
  return visit.readings.flatMap((reading) => {
    const { mode, unit, finding } = reading;
    if (finding.kind !== 'range' || unit !== 'deg' || (mode !== 'active' && mode !== 'passive')) return [];
    const counterpart = { ...reading, mode: mode === 'active' ? 'passive' : 'active' };
    const lead = mode === 'active' ? 1 : -1;
    const toward = 'lacks' in finding.extent ? -lead : lead;
    const beaten = readingsLike(visit, counterpart, reading.side)
      .filter(({ at }) => Math.abs(at - visit.at) < visit.rules.sessionMinutes * MINUTE_MS)
      .find((past) => exceeds(toward * (reading.value - past.value), sessionMargin(visit, reading, past)));
    return beaten ? [passiveIssue(visit, reading, beaten, counterpart.mode)] : [];
  });
}

const MINUTE_MS = 60_000;

function sessionMargin({ site, rules }: Visit, reading: Reading, past: Past): number {
  return Math.max(site.activeOverPassiveDegrees, rangeError(rules, reading.method, past.method));
}

function passiveIssue(visit: Visit, reading: Reading, past: Past, pastMode: string): Issue {
  const { joint, side, mode, finding } = reading;
  const margin = sessionMargin(visit, reading, past);
  const where = joint === undefined ? '' : `${jointName(joint, side)}: `;
  return ruleIssue(
    'VL-04',
    placeOf(visit, finding),
    sentence(
      `${where}${mode ?? ''} ${readingWords(reading)}, but ${pastMode} ${amount(reading, past.value)} at ` +
        `${whenWords(visit, past.at)}: active goes further than passive by more than ${margin} deg. Is that correct?`,
    ),
    { found: reading.value, allowed: { [pastMode]: past.value, within: margin } },
  );
}

/** VL-07: a grip about 2.2 times, or 0.45 times, the median of the hand's last readings: pounds or kilograms? */
export function checkGripUnit(visit: Visit): readonly Issue[] {
  return visit.readings.flatMap((reading) => {
    const { finding } = reading;
    if (finding.kind !== 'grip') return [];
    const last = readingsBefore(visit, reading).slice(-visit.site.gripSlipReadings);
    const median = medianOf(last.map(({ value }) => value));
    if (median === undefined || median === 0) return [];
    const ratio = reading.value / median;
    const slips = visit.site.gripSlipRatios.some(
      ({ low, high }) => !exceeds(low, ratio) && !exceeds(ratio, high),
    );
    return slips ? [gripIssue(visit, finding, last, ratio)] : [];
  });
}

/** Of an even number the mean of the middle two; undefined of none. */
function medianOf(values: readonly number[]): number | undefined {
  const sorted = [...values].sort((one, other) => one - other);
  const low = sorted[Math.ceil(sorted.length / 2) - 1];
  const high = sorted[Math.floor(sorted.length / 2)];
  return low === undefined || high === undefined ? undefined : (low + high) / 2;
}

function gripIssue(visit: Visit, finding: GripFinding, last: readonly Past[], ratio: number): Issue {
  const { side, trials, unit } = finding;
  const meant = unit === 'lb' ? 'kg' : 'lb';
  return ruleIssue(
    'VL-07',
    placeOf(visit, finding),
    `The ${side} grip of ${trials.join(', ')} ${unit} is ${ratio.toFixed(2)} times the earlier readings of this hand ` +
      `(${last.map(({ value }) => String(value)).join(', ')} kg): is ${unit} correct, or was it ${meant}?`,
    { found: unit },
  );
}

/** CX-04: swelling none where the same level grew since the last reading, or is larger than on the other side. */
export function checkSwelling(visit: Visit): readonly Issue[] {
  return visit.readings.flatMap((reading) => {
    const { finding } = reading;
    if (finding.kind !== 'measure' || finding.measure !== 'circumference' || !isSaidUnswollen(visit, reading))
      return [];
    const grown = growth(visit, reading) ?? excess(visit, reading);
    if (grown === undefined) return [];
    const part = reading.joint === undefined ? 'this limb' : jointName(reading.joint, reading.side);
    return [
      ruleIssue(
        'CX-04',
        placeOf(visit, finding),
        sentence(`${part}: no swelling, but ${readingWords(reading)} is ${grown}. Are both correct?`),
        { found: finding.value },
      ),
    ];
  });
}

const SWELLING_ITEMS: ReadonlySet<string> = new Set(['swelling', 'effusion', 'boggy-swelling']);
const NO_SWELLING: ReadonlySet<string> = new Set(['none', 'absent']);

function isSaidUnswollen({ exam }: Visit, { joint, side }: Reading): boolean {
  const said = exam.findings.flatMap((finding) => {
    if (finding.kind !== 'look-feel' && finding.kind !== 'as-expected') return [];
    if (finding.joint !== joint || finding.side !== side) return [];
    return finding.kind === 'look-feel'
      ? finding.items
          .filter(({ item }) => SWELLING_ITEMS.has(item))
          .map(({ value }) => NO_SWELLING.has(value))
      : finding.items.filter((item) => SWELLING_ITEMS.has(item)).map(() => true);
  });
  return said.length > 0 && said.every((none) => none);
}

function growth(visit: Visit, reading: Reading): string | undefined {
  const last = readingsBefore(visit, reading).at(-1);
  if (last === undefined || !exceeds(reading.value - last.value, visit.site.swellingRiseCm)) return undefined;
  const rise = round(reading.value - last.value);
  return `${rise} cm more than at ${whenWords(visit, last.at)} (margin ${visit.site.swellingRiseCm} cm)`;
}

function excess(visit: Visit, reading: Reading): string | undefined {
  const recorded = readingsBefore(visit, reading, otherSide(reading.side)).at(-1);
  const other = twinOf(visit, reading) ?? (recorded && isRecent(visit, recorded) ? recorded : undefined);
  if (other === undefined || other.value <= 0) return undefined;
  const percent = (100 * (reading.value - other.value)) / other.value;
  if (!exceeds(percent, visit.site.swellingSidePercent)) return undefined;
  return `${round(percent)} % more than on the other side (margin ${visit.site.swellingSidePercent} %)`;
}

/** For a sentence only: the decision is made on the unrounded number. */
function round(value: number): number {
  return Math.round(value * 10) / 10;
}

/** CX-10: grades known as 0 or 1 that rise by three or more at once; asked once for a joint. */
export function checkRecovery(visit: Visit): readonly Issue[] {
  const risen = visit.readings.filter((reading) => isUnexplainedRise(visit, reading));
  return groupBy(risen, ({ joint, side, finding }) => `${joint ?? ''}|${side ?? ''}|${finding.kind}`).flatMap(
    (ofJoint) => {
      const [first] = ofJoint;
      if (first === undefined) return [];
      const part = first.joint === undefined ? '' : `${jointName(first.joint, first.side)}: `;
      const last = readingsBefore(visit, first).at(-1);
      const known = last ? ` (grade ${last.value} at ${whenWords(visit, last.at)})` : '';
      return [
        ruleIssue(
          'CX-10',
          placeOf(visit, first.finding),
          sentence(
            `${part}${gradesWords(ofJoint)}, but the last grades were 0 or 1${known}: are patient and entry correct?`,
          ),
          { found: first.value },
        ),
      ];
    },
  );
}

/** Whether a grade rises from a known loss of movement by more than a recovery overnight explains. */
export function isUnexplainedRise(visit: Visit, reading: Reading): boolean {
  if (reading.finding.kind !== 'strength' && reading.finding.kind !== 'as-expected') return false;
  const { paralysedGrade, paralysedReadings } = visit.rules;
  const last = readingsBefore(visit, reading).slice(-paralysedReadings);
  const newest = last.at(-1);
  if (newest === undefined || last.length < paralysedReadings) return false;
  const chronic = last.every(({ value }) => value <= paralysedGrade);
  return chronic && reading.value - newest.value >= visit.site.recoveryGrades;
}

/** Grades with the movements that have them: `grade 5 of flexion and extension`. */
function gradesWords(readings: readonly Reading[]): string {
  const grades = groupBy(readings, ({ value }) => String(value)).map((alike) => {
    const movements = alike.map(({ movement = '', direction }) => movementWords(movement, direction));
    return `grade ${alike[0]?.value ?? ''} of ${listed(movements, 'and')}`;
  });
  return listed(grades, 'and');
}
