import {
  findConversion,
  findMovement,
  gripObservable,
  measureObservable,
  rangeObservable,
  seriesDigit,
  seriesItem,
  strengthObservable,
  type Observable,
  type Side,
} from '../catalogue/index.js';
import type {
  AsExpectedFinding,
  Finding,
  GripFinding,
  MeasureFinding,
  RangeFinding,
  StrengthFinding,
} from './exam.js';
import { gripKgf } from './grip.js';

/** The kinds of findings that hold such numbers. */
export type MeasuredFinding =
  RangeFinding | StrengthFinding | GripFinding | MeasureFinding | AsExpectedFinding;

/** One number of an exam as it is held against the record: the words of its series, and the finding it stands in. */
export interface Reading {
  readonly finding: MeasuredFinding;
  /** Item, measure and digit as its points have them (`seriesItem`, `seriesDigit`). */
  readonly item: string;
  readonly measure: string;
  readonly movement?: string;
  readonly joint?: string;
  readonly side?: Side;
  readonly direction?: Side;
  readonly digit?: string;
  readonly mode?: string;
  readonly method?: string;
  readonly level?: string;
  /** UCUM: deg or mm of a range, kgf of a grip, cm of any measured length; `1` for a grade. */
  readonly unit: string;
  readonly value: number;
  /** True for the grade 5 that "within expected limits" stands for. */
  readonly asExpected: boolean;
}

/** The numbers of a finding that a record may contradict: ranges, grades, grips and measures. */
export function readingsOf(finding: Finding): readonly Reading[] {
  switch (finding.kind) {
    case 'range':
      return rangeReading(finding);
    case 'strength':
      return [gradeReading(finding, finding, Number.parseInt(finding.grade, 10), false)];
    case 'grip':
      return [gripReading(finding)];
    case 'measure':
      return [measureReading(finding)];
    case 'as-expected':
      return finding.strength.map((entry) => {
        const { movement, direction } = parseMovementEntry(entry);
        const sides = { ...(finding.side && { side: finding.side }), ...(direction && { direction }) };
        return gradeReading(finding, { movement, ...sides }, 5, true);
      });
    case 'pain':
    case 'look-feel':
    case 'not-assessed':
    case 'screen':
    case 'neurovascular':
    case 'gait':
    case 'on-body':
    case 'absent-part':
      return [];
  }
}

/** The movement and direction of an entry of `AsExpectedFinding`: `neck.rotation>left`. */
export function parseMovementEntry(entry: string): { readonly movement: string; readonly direction?: Side } {
  const [movement = entry, direction] = entry.split('>');
  return direction === 'left' || direction === 'right' ? { movement, direction } : { movement };
}

type Moved = Pick<RangeFinding, 'movement' | 'side' | 'direction' | 'digit' | 'digitJoint'>;

function moved({
  movement,
  side,
  direction,
  digit,
  digitJoint,
}: Moved): Pick<Reading, 'movement' | 'joint' | 'side' | 'direction' | 'digit'> {
  const joint = findMovement(movement)?.joint;
  const whole = seriesDigit(digit, digitJoint);
  return {
    movement,
    ...(joint && { joint }),
    ...(side && { side }),
    ...(direction && { direction }),
    ...(whole && { digit: whole }),
  };
}

function rangeReading(finding: RangeFinding): readonly Reading[] {
  const extent = numberOf(finding.extent);
  if (extent === undefined) return [];
  const { digits, unit, part } = extent;
  return [
    {
      finding,
      ...rangeSeries(finding.movement, finding.mode, part),
      ...moved(finding),
      ...(finding.method && { method: finding.method }),
      unit,
      value: Number(digits),
      asExpected: false,
    },
  ];
}

interface Extent {
  readonly digits: string;
  readonly unit: 'deg' | 'mm';
  readonly part?: 'lacks' | 'hyperextends';
}

function numberOf(extent: RangeFinding['extent']): Extent | undefined {
  if ('word' in extent) return undefined;
  if ('millimetres' in extent) return { digits: extent.millimetres, unit: 'mm' };
  if ('degrees' in extent) return { digits: extent.degrees, unit: 'deg' };
  if ('lacks' in extent) return { digits: extent.lacks, unit: 'deg', part: 'lacks' };
  return { digits: extent.hyperextends, unit: 'deg', part: 'hyperextends' };
}

/** A plus or minus keeps its order but counts as the whole grade. */
function gradeReading(
  finding: StrengthFinding | AsExpectedFinding,
  of: Pick<StrengthFinding, 'movement' | 'side' | 'direction' | 'digit' | 'digitJoint'>,
  value: number,
  asExpected: boolean,
): Reading {
  return { finding, ...series(strengthObservable(of.movement)), ...moved(of), unit: '1', value, asExpected };
}

function gripReading(finding: GripFinding): Reading {
  const { side } = finding;
  return {
    finding,
    ...series(gripObservable(side)),
    joint: 'fingers',
    side,
    unit: 'kgf',
    value: Number(gripKgf(finding)),
    asExpected: false,
  };
}

function measureReading(finding: MeasureFinding): Reading {
  const { measure, joint, side, level, method, unit, value } = finding;
  return {
    finding,
    ...series(measureObservable(measure, side), joint),
    ...(joint && { joint }),
    ...(side && { side }),
    ...(level && { level }),
    ...(method && { method }),
    ...inTrendUnit(unit, Number(value)),
    asExpected: false,
  };
}

/** A length in centimetres and a force in kgf, so that numbers in several units compare; any other as it is. */
export function inTrendUnit(unit: string, value: number): { readonly unit: string; readonly value: number } {
  for (const to of ['cm', 'kgf']) {
    const conversion = findConversion(unit, to);
    if (conversion) return { unit: to, value: (value * Number(conversion.times)) / Number(conversion.by) };
  }
  return { unit, value };
}

/** The words of a range's series that its observable gives; side, direction and unit are the caller's. */
export function rangeSeries(
  movement: string,
  mode: RangeFinding['mode'],
  part?: 'lacks' | 'hyperextends',
): { readonly item: string; readonly measure: string; readonly mode: string } {
  return { ...series(rangeObservable(movement, mode, part)), mode };
}

function series(
  observable: Observable,
  joint?: string,
): { readonly item: string; readonly measure: Observable['kind'] } {
  return { item: seriesItem(observable, joint), measure: observable.kind };
}
