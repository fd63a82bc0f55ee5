import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { isUcumCode } from '../../src/fhir/validation/units.js';

// The Unified Code for Units of Measure, version 2.1: case sensitive codes, annotations in braces (section 12).
describe('a unit of UCUM', () => {
  test.each([
    '1',
    '%',
    'kg',
    'kgf',
    'N',
    'N.m',
    'deg',
    'cm',
    '[in_i]',
    '[lb_av]',
    'mm[Hg]',
    '/min',
    '10*12/L',
    '{score}',
    '{reps}/min',
  ])('is %s', (code) => {
    expect(isUcumCode(code)).toBe(true);
  });

  test.each([
    '',
    ' ',
    'kg ',
    ' kg',
    'KG',
    'Kg',
    'lb',
    'lbs',
    'mmHg',
    'degrees',
    'Newton',
    '°',
    '{no space}',
    'cm..',
    'm[',
    'constructor',
    'atoString',
    'm.'.repeat(20000) + 'm',
  ])('is not "%s"', (code) => {
    expect(isUcumCode(code)).toBe(false);
  });

  test('is found or refused whatever the text, without a word on the console', () => {
    const part = fc.constantFrom(
      ...'( ) { } [ ] . / * 10 ^ - + m kg a 1 0 % deg Cel 10* [pH] [degF] B[SPL] dB e-12 \' " \\'.split(' '),
    );
    const word = fc.constantFrom(...Object.getOwnPropertyNames(Object.prototype), 'x', ' ', '\u00b0');
    fc.assert(
      fc.property(fc.array(fc.oneof(part, part, word), { maxLength: 8 }), (parts) => {
        expect(typeof isUcumCode(parts.join(''))).toBe('boolean');
      }),
      { numRuns: 3000 },
    );
  });

  test('is judged the same when asked again after many others', () => {
    expect(isUcumCode('kgf')).toBe(true);
    for (let each = 0; each < 2100; each++) isUcumCode(`{score}.10*${String(each)}`);
    expect(isUcumCode('kgf')).toBe(true);
    expect(isUcumCode('kgff')).toBe(false);
  });
});
