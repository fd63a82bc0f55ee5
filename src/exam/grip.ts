import { Big } from 'big.js';
import { findConversion } from '../catalogue/index.js';
import type { DecimalText, GripFinding } from './exam.js';

/** The UCUM code of a trial's unit: a dynamometer's kg and lb are forces. */
export function gripUcum(unit: GripFinding['unit']): string {
  return UCUM[unit];
}

/** The dial's unit that `gripUcum` was made of. */
export function gripUnitOf(ucum: string | undefined): GripFinding['unit'] | undefined {
  return (['kg', 'lb', 'N'] as const).find((unit) => UCUM[unit] === ucum);
}

const UCUM = { kg: 'kgf', lb: '[lbf_av]', N: 'N' } as const;

/** The grip over its trials by its rule, in kgf: a single or best trial in kg keeps its digits as typed. */
export function gripKgf({ trials, unit, rule }: Pick<GripFinding, 'trials' | 'unit' | 'rule'>): DecimalText {
  const decimals = Math.max(0, ...trials.map(decimalsOf));
  if (rule === 'mean-of-3') return inKgf(sum(trials).toFixed(), unit, decimals, trials.length);
  const chosen = rule === 'single' ? trials[0] : best(trials);
  if (chosen === undefined) throw new RangeError('a grip without a trial');
  return unit === 'kg' ? chosen : inKgf(chosen, unit, decimals, 1);
}

/** Multiplies before it divides, so that one rounding is all: to two decimals more than the trials have. */
function inKgf(digits: DecimalText, unit: GripFinding['unit'], decimals: number, count: number): DecimalText {
  const conversion = findConversion(gripUcum(unit), 'kgf');
  if (conversion === undefined) throw new RangeError(`no conversion of ${unit}`);
  const { times, by } = conversion;
  const divisor = new Big(by).times(count);
  return tidy(divide(new Big(digits).times(times), divisor, decimals + 2), decimals);
}

function divide(dividend: Big, divisor: Big, decimals: number): Big {
  const Exact = Big();
  Exact.DP = decimals;
  Exact.RM = Exact.roundHalfUp;
  return new Exact(dividend).div(divisor);
}

/** Drops zeros at the end, down to as many decimals as the trials have. */
function tidy(value: Big, decimals: number): DecimalText {
  const shortest = value.toFixed();
  return decimalsOf(shortest) >= decimals ? shortest : value.toFixed(decimals);
}

function sum(trials: readonly DecimalText[]): Big {
  return trials.reduce((total, trial) => total.plus(trial), new Big(0));
}

function best(trials: readonly DecimalText[]): DecimalText | undefined {
  return trials.reduce<DecimalText | undefined>(
    (top, trial) => (top === undefined || new Big(trial).gt(top) ? trial : top),
    undefined,
  );
}

function decimalsOf(digits: DecimalText): number {
  return /\.(\d+)$/.exec(digits)?.[1]?.length ?? 0;
}
