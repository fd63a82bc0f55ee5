import { UcumLhcUtils } from '@lhncbc/ucum-lhc';
import { Big } from 'big.js';
import { describe, expect, it } from 'vitest';
import {
  conversions,
  findConversion,
  findGripUnit,
  gripCutoffs,
  gripNorms,
  measures,
  movements,
  neurovascularElements,
  painScale,
  rangeOfMotionFigures,
  readMeasureUnit,
  thresholds,
  units,
} from '../../src/catalogue/index.js';

const utils = UcumLhcUtils.getInstance();

describe('the units of the catalogue', () => {
  it('are all valid UCUM (checked by the UCUM library of the US National Library of Medicine)', () => {
    const codes = new Set([
      ...units.map(({ code }) => code),
      ...conversions.flatMap(({ from, to }) => [from, to]),
      ...measures.flatMap(({ unit, inputs }) => [unit, ...inputs.map((input) => input.unit)]),
      ...movements.flatMap(({ limits }) => limits?.unit ?? []),
      ...neurovascularElements.flatMap(({ number }) => number?.unit ?? []),
      ...[...gripNorms, ...gripCutoffs, ...rangeOfMotionFigures, ...thresholds].map(({ unit }) => unit),
      painScale.unit,
    ]);
    for (const code of codes) {
      const answer = utils.validateUnitString(code);
      expect([answer.status, answer.ucumCode], code).toEqual(['valid', code]);
    }
  });

  it.each([
    // Exact by definition, NIST SP 811 appendix B.8 (values from memory): lb 0.45359237 kg, gn 9.80665, inch 2.54 cm.
    ['[lbf_av]', 'kgf', '0.45359237'],
    ['kgf', 'N', '9.80665'],
    ['[lbf_av]', 'N', '4.4482216152605'],
    ['[in_i]', 'cm', '2.54'],
    ['[in_i]', 'mm', '25.4'],
  ])('convert 1 %s to %s by the exact factor %s', (from, to, factor) => {
    const row = findConversion(from, to);
    expect(row && Big(1).times(row.times).div(row.by).toString()).toBe(factor);
  });

  it('convert as the UCUM library does, each row of the table', () => {
    for (const { from, to, times, by } of conversions) {
      const other = utils.convertUnitTo(from, 1000, to);
      expect(other.status).toBe('succeeded');
      expect(Number(Big(1000).times(times).div(by))).toBeCloseTo(Number(other.toVal), 3);
    }
  });

  it('multiply the pound by standard gravity to the pound-force', () => {
    expect(Big('0.45359237').times('9.80665').toString()).toBe('4.4482216152605');
  });

  it('take the kg and lb of a dial for forces, never for masses', () => {
    expect(findGripUnit('kg')?.unit).toBe('kgf');
    expect(findGripUnit('LBS')?.unit).toBe('[lbf_av]');
    expect(findGripUnit('N')?.unit).toBe('N');
    expect(findGripUnit('stone')).toBeUndefined();
    expect(utils.convertUnitTo('kg', 1, 'N').status).not.toBe('succeeded');
  });

  it('lead from each input of a measure to its own unit', () => {
    for (const { id, unit, inputs } of measures) {
      for (const input of inputs)
        expect(findConversion(input.unit, unit), `${id}: ${input.unit}`).toBeDefined();
      expect(inputs[0]?.unit).toBe(unit);
    }
    const girth = measures.find(({ id }) => id === 'circumference');
    expect(girth && readMeasureUnit(girth, 'inches')).toBe('[in_i]');
    expect(girth && readMeasureUnit(girth, 'kg')).toBeUndefined();
  });
});
