/** What a unit measures. */
export type Dimension = 'force' | 'length' | 'angle' | 'time' | 'speed' | 'score' | 'count';

/** A unit as it is stored: a UCUM code. */
export interface Unit {
  /** UCUM code. */
  readonly code: string;
  /** As people write it. */
  readonly label: string;
  readonly dimension: Dimension;
  /** Other ways of writing it, in small letters. */
  readonly synonyms?: readonly string[];
}

export const units: readonly Unit[] = [
  { code: 'kgf', label: 'kgf', dimension: 'force' },
  { code: '[lbf_av]', label: 'lbf', dimension: 'force' },
  { code: 'N', label: 'N', dimension: 'force' },
  { code: 'deg', label: '°', dimension: 'angle', synonyms: ['deg', 'degree', 'degrees'] },
  {
    code: 'cm',
    label: 'cm',
    dimension: 'length',
    synonyms: ['centimetre', 'centimetres', 'centimeter', 'centimeters'],
  },
  {
    code: 'mm',
    label: 'mm',
    dimension: 'length',
    synonyms: ['millimetre', 'millimetres', 'millimeter', 'millimeters'],
  },
  { code: 'm', label: 'm', dimension: 'length' },
  { code: '[in_i]', label: 'in', dimension: 'length', synonyms: ['inch', 'inches'] },
  { code: 's', label: 's', dimension: 'time', synonyms: ['sec', 'second', 'seconds'] },
  { code: 'min', label: 'min', dimension: 'time', synonyms: ['minute', 'minutes'] },
  { code: 'm/s', label: 'm/s', dimension: 'speed' },
  { code: '{score}', label: 'of 10', dimension: 'score' },
  { code: '{#}/(30.s)', label: 'in 30 s', dimension: 'count' },
];

/** An exact conversion: value in `to` = value in `from` x `times` / `by`. Decimals as text, so that none is rounded. */
export interface Conversion {
  /** UCUM code. */
  readonly from: string;
  /** UCUM code. */
  readonly to: string;
  readonly times: string;
  readonly by: string;
  readonly source: string;
}

/** Exact by definition: NIST SP 811 appendix B (pound 0.453 592 37 kg, standard gravity 9.806 65, inch 2.54 cm). */
export const conversions: readonly Conversion[] = [
  { from: '[lbf_av]', to: 'kgf', times: '0.45359237', by: '1', source: 'nist-sp811' },
  { from: 'N', to: 'kgf', times: '1', by: '9.80665', source: 'nist-sp811' },
  { from: 'kgf', to: 'N', times: '9.80665', by: '1', source: 'nist-sp811' },
  { from: '[lbf_av]', to: 'N', times: '4.4482216152605', by: '1', source: 'nist-sp811' },
  { from: '[in_i]', to: 'cm', times: '2.54', by: '1', source: 'nist-sp811' },
  { from: '[in_i]', to: 'mm', times: '25.4', by: '1', source: 'nist-sp811' },
  { from: 'mm', to: 'cm', times: '1', by: '10', source: 'nist-sp811' },
  { from: 'cm', to: 'mm', times: '10', by: '1', source: 'nist-sp811' },
  { from: 'm', to: 'cm', times: '100', by: '1', source: 'nist-sp811' },
  { from: 'm', to: 'mm', times: '1000', by: '1', source: 'nist-sp811' },
  { from: 'min', to: 's', times: '60', by: '1', source: 'nist-sp811' },
];

/** The exact conversion between two UCUM codes; the same unit converts to itself. */
export function findConversion(from: string, to: string): Conversion | undefined {
  if (from === to) return { from, to, times: '1', by: '1', source: 'nist-sp811' };
  return conversions.find((row) => row.from === from && row.to === to);
}

export function findUnit(code: string): Unit | undefined {
  return units.find((unit) => unit.code === code);
}

/** The unit that a word names, where a quantity has words for its unit and no code. */
export function findUnitByWord(word: string): Unit | undefined {
  const said = word.trim().toLowerCase();
  return units.find(({ label, synonyms = [] }) => label === said || synonyms.includes(said));
}

/**
 * What the dial of a dynamometer says: its "kg" and "lb" are forces (UCUM `kg` and `[lb_av]` are masses, which no
 * conversion turns into newtons).
 */
export const gripUnits: readonly {
  readonly typed: 'kg' | 'lb' | 'N';
  readonly unit: string;
  readonly synonyms: readonly string[];
}[] = [
  { typed: 'kg', unit: 'kgf', synonyms: ['kgf', 'kilogram', 'kilograms', 'kilo', 'kilos', 'kgs'] },
  { typed: 'lb', unit: '[lbf_av]', synonyms: ['lbs', 'lbf', 'pound', 'pounds', '[lbf_av]'] },
  { typed: 'N', unit: 'N', synonyms: ['newton', 'newtons'] },
];

/** The unit of a grip as typed on the dial, by its sign or name. */
export function findGripUnit(word: string): (typeof gripUnits)[number] | undefined {
  const said = word.trim().toLowerCase();
  return gripUnits.find(({ typed, synonyms }) =>
    [typed, ...synonyms].some((known) => known.toLowerCase() === said),
  );
}
