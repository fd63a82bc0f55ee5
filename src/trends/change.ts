import { Big } from 'big.js';
import { DECIMAL } from '../fhir/index.js';
import type { Point } from './point.js';

/** A point of one series, whatever else is known of it. */
export type MeasuredPoint = Pick<Point, 'effective' | 'value' | 'digits'>;

/** How far a series has come from where it began. */
export interface ChangeFromBaseline<P extends MeasuredPoint> {
  /** The first point in time. */
  readonly baseline: P;
  /** The last point in time; of several at one instant the last given. */
  readonly latest: P;
  /** Latest less baseline, in the unit of the series, exact to the digits of the two; a grade's sign does not count. */
  readonly change: string;
  /** Milliseconds from the baseline to the latest. */
  readonly elapsedMs: number;
}

/**
 * The change of one series from its first point to its last, a plain difference that judges nothing. Undefined for a
 * series without points. The order of the points is of no account.
 */
export function changeFromBaseline<P extends MeasuredPoint>(
  points: readonly P[],
): ChangeFromBaseline<P> | undefined {
  const ordered = [...points].sort((one, other) => one.effective - other.effective);
  const [baseline] = ordered;
  const latest = ordered.at(-1);
  if (baseline === undefined || latest === undefined) return undefined;
  return {
    baseline,
    latest,
    change: exactValue(latest).minus(exactValue(baseline)).toFixed(),
    elapsedMs: latest.effective - baseline.effective,
  };
}

/** The value as typed; a grade such as `4-` counts as its number. */
function exactValue({ digits, value }: MeasuredPoint): Big {
  return new Big(DECIMAL.test(digits) ? digits : value);
}
