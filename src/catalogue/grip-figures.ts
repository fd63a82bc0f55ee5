import type { Figure, FigureGroup } from './figures.js';

/**
 * A published norm of grip, in kilograms of force as the dial shows. Norms of a mean of three trials and of a best
 * trial are not to be mixed, nor those of different kinds of dynamometer.
 */
export interface GripNorm extends Figure, FigureGroup {
  readonly table: string;
  readonly hand: 'right' | 'left' | 'any';
  readonly mean?: number;
  readonly sd?: number;
  readonly low?: number;
  readonly high?: number;
  /** People in the group. */
  readonly n?: number;
  /** By name, `p5` to `p95`. */
  readonly percentiles?: Readonly<Record<string, number>>;
  /** As printed, when it was printed in another unit. */
  readonly published?: Readonly<Record<string, number | string>>;
  /** A doubt about this very cell. */
  readonly caution?: string;
}

/** What a table of grip is made of. */
export interface GripTable {
  readonly table: string;
  readonly name: string;
  /** Rule over the trials behind its figures. */
  readonly rule: 'mean-of-3' | 'best' | 'unknown';
  readonly device: 'hydraulic' | 'spring' | 'any';
}

export const gripTables: readonly GripTable[] = [
  { table: 'mathiowetz-1985', name: 'Mathiowetz 1985', rule: 'mean-of-3', device: 'hydraulic' },
  { table: 'massy-westropp-2011', name: 'Massy-Westropp 2011', rule: 'mean-of-3', device: 'hydraulic' },
  { table: 'tomkinson-2025', name: 'Tomkinson 2025', rule: 'unknown', device: 'any' },
  { table: 'steiber-2016', name: 'Steiber 2016', rule: 'best', device: 'spring' },
  { table: 'dodds-2014-facts', name: 'Dodds 2014, peaks', rule: 'best', device: 'any' },
  { table: 'dodds-2014-centiles-from-memory', name: 'Dodds 2014, centiles', rule: 'best', device: 'any' },
];

type Shared = Pick<GripNorm, 'table' | 'unit' | 'population' | 'source' | 'how'>;

function norms(shared: Shared, rows: readonly Omit<GripNorm, keyof Shared>[]): readonly GripNorm[] {
  return rows.map((row) => ({ ...shared, ...row }));
}

// prettier-ignore
export const gripNorms: readonly GripNorm[] = [
  ...norms({ table: 'mathiowetz-1985', unit: 'kgf', population: 'healthy US adults; mean of three trials', source: 'mathiowetz-1985', how: 'read' }, [
    { id: 'mathiowetz1985-male-20-24-right', sex: 'male', ageMin: 20, ageMax: 24, hand: 'right', mean: 54.9, sd: 9.3, low: 41.3, high: 75.7, published: { unit: '[lbf_av]', mean: 121, sd: 20.6, se: 3.8, low: 91, high: 167 } },
    { id: 'mathiowetz1985-male-20-24-left', sex: 'male', ageMin: 20, ageMax: 24, hand: 'left', mean: 47.4, sd: 9.9, low: 32.2, high: 68, published: { unit: '[lbf_av]', mean: 104.5, sd: 21.8, se: 4, low: 71, high: 150 } },
    { id: 'mathiowetz1985-male-25-29-right', sex: 'male', ageMin: 25, ageMax: 29, hand: 'right', mean: 54.8, sd: 10.4, low: 35.4, high: 71.7, published: { unit: '[lbf_av]', mean: 120.8, sd: 23, se: 4.4, low: 78, high: 158 } },
    { id: 'mathiowetz1985-male-25-29-left', sex: 'male', ageMin: 25, ageMax: 29, hand: 'left', mean: 50.1, sd: 7.3, low: 34.9, high: 63, published: { unit: '[lbf_av]', mean: 110.5, sd: 16.2, se: 4.4, low: 77, high: 139 }, caution: 'printed SE 4.4 does not fit SD 16.2 beside the right-hand SD 23.0 / SE 4.4; treat the SE or the SD of this cell with care' },
    { id: 'mathiowetz1985-male-30-34-right', sex: 'male', ageMin: 30, ageMax: 34, hand: 'right', mean: 55.2, sd: 10.2, low: 31.8, high: 77.1, published: { unit: '[lbf_av]', mean: 121.8, sd: 22.4, se: 4.3, low: 70, high: 170 } },
    { id: 'mathiowetz1985-male-30-34-left', sex: 'male', ageMin: 30, ageMax: 34, hand: 'left', mean: 50.1, sd: 9.8, low: 29, high: 65.8, published: { unit: '[lbf_av]', mean: 110.4, sd: 21.7, se: 4.2, low: 64, high: 145 } },
    { id: 'mathiowetz1985-male-35-39-right', sex: 'male', ageMin: 35, ageMax: 39, hand: 'right', mean: 54.3, sd: 10.9, low: 34.5, high: 79.8, published: { unit: '[lbf_av]', mean: 119.7, sd: 24, se: 4.8, low: 76, high: 176 } },
    { id: 'mathiowetz1985-male-35-39-left', sex: 'male', ageMin: 35, ageMax: 39, hand: 'left', mean: 51.2, sd: 9.8, low: 33.1, high: 71.2, published: { unit: '[lbf_av]', mean: 112.9, sd: 21.7, se: 4.2, low: 73, high: 157 } },
    { id: 'mathiowetz1985-male-40-44-right', sex: 'male', ageMin: 40, ageMax: 44, hand: 'right', mean: 53, sd: 9.4, low: 38.1, high: 74.8, published: { unit: '[lbf_av]', mean: 116.8, sd: 20.7, se: 4.1, low: 84, high: 165 } },
    { id: 'mathiowetz1985-male-40-44-left', sex: 'male', ageMin: 40, ageMax: 44, hand: 'left', mean: 51.2, sd: 8.5, low: 33.1, high: 71.2, published: { unit: '[lbf_av]', mean: 112.8, sd: 18.7, se: 3.7, low: 73, high: 157 } },
    { id: 'mathiowetz1985-male-45-49-right', sex: 'male', ageMin: 45, ageMax: 49, hand: 'right', mean: 49.8, sd: 10.4, low: 29.5, high: 70.3, published: { unit: '[lbf_av]', mean: 109.9, sd: 23, se: 4.3, low: 65, high: 155 } },
    { id: 'mathiowetz1985-male-45-49-left', sex: 'male', ageMin: 45, ageMax: 49, hand: 'left', mean: 45.7, sd: 10.3, low: 26.3, high: 72.6, published: { unit: '[lbf_av]', mean: 100.8, sd: 22.8, se: 4.3, low: 58, high: 160 } },
    { id: 'mathiowetz1985-male-50-54-right', sex: 'male', ageMin: 50, ageMax: 54, hand: 'right', mean: 51.5, sd: 8.2, low: 35.8, high: 68.5, published: { unit: '[lbf_av]', mean: 113.6, sd: 18.1, se: 3.6, low: 79, high: 151 } },
    { id: 'mathiowetz1985-male-50-54-left', sex: 'male', ageMin: 50, ageMax: 54, hand: 'left', mean: 46.2, sd: 7.7, low: 31.8, high: 64.9, published: { unit: '[lbf_av]', mean: 101.9, sd: 17, se: 3.4, low: 70, high: 143 } },
    { id: 'mathiowetz1985-male-55-59-right', sex: 'male', ageMin: 55, ageMax: 59, hand: 'right', mean: 45.9, sd: 12.1, low: 26.8, high: 69.9, published: { unit: '[lbf_av]', mean: 101.1, sd: 26.7, se: 5.8, low: 59, high: 154 } },
    { id: 'mathiowetz1985-male-55-59-left', sex: 'male', ageMin: 55, ageMax: 59, hand: 'left', mean: 37.7, sd: 10.6, low: 19.5, high: 58.1, published: { unit: '[lbf_av]', mean: 83.2, sd: 23.4, se: 5.1, low: 43, high: 128 } },
    { id: 'mathiowetz1985-male-60-64-right', sex: 'male', ageMin: 60, ageMax: 64, hand: 'right', mean: 40.7, sd: 9.3, low: 23.1, high: 62.1, published: { unit: '[lbf_av]', mean: 89.7, sd: 20.4, se: 4.2, low: 51, high: 137 } },
    { id: 'mathiowetz1985-male-60-64-left', sex: 'male', ageMin: 60, ageMax: 64, hand: 'left', mean: 34.8, sd: 9.2, low: 12.2, high: 52.6, published: { unit: '[lbf_av]', mean: 76.8, sd: 20.3, se: 4.1, low: 27, high: 116 } },
    { id: 'mathiowetz1985-male-65-69-right', sex: 'male', ageMin: 65, ageMax: 69, hand: 'right', mean: 41.3, sd: 9.3, low: 25.4, high: 59.4, published: { unit: '[lbf_av]', mean: 91.1, sd: 20.6, se: 4, low: 56, high: 131 } },
    { id: 'mathiowetz1985-male-65-69-left', sex: 'male', ageMin: 65, ageMax: 69, hand: 'left', mean: 34.8, sd: 9, low: 19.5, high: 53.1, published: { unit: '[lbf_av]', mean: 76.8, sd: 19.8, se: 3.8, low: 43, high: 117 } },
    { id: 'mathiowetz1985-male-70-74-right', sex: 'male', ageMin: 70, ageMax: 74, hand: 'right', mean: 34.2, sd: 9.8, low: 14.5, high: 49, published: { unit: '[lbf_av]', mean: 75.3, sd: 21.5, se: 4.2, low: 32, high: 108 } },
    { id: 'mathiowetz1985-male-70-74-left', sex: 'male', ageMin: 70, ageMax: 74, hand: 'left', mean: 29.4, sd: 8.2, low: 14.5, high: 42.2, published: { unit: '[lbf_av]', mean: 64.8, sd: 18.1, se: 3.7, low: 32, high: 93 } },
    { id: 'mathiowetz1985-male-75+-right', sex: 'male', ageMin: 75, hand: 'right', mean: 29.8, sd: 9.5, low: 18.1, high: 61.2, published: { unit: '[lbf_av]', mean: 65.7, sd: 21, se: 4.2, low: 40, high: 135 } },
    { id: 'mathiowetz1985-male-75+-left', sex: 'male', ageMin: 75, hand: 'left', mean: 24.9, sd: 7.7, low: 14.1, high: 54, published: { unit: '[lbf_av]', mean: 55, sd: 17, se: 3.4, low: 31, high: 119 } },
    { id: 'mathiowetz1985-female-20-24-right', sex: 'female', ageMin: 20, ageMax: 24, hand: 'right', mean: 31.9, sd: 6.6, low: 20.9, high: 43.1, published: { unit: '[lbf_av]', mean: 70.4, sd: 14.5, se: 2.8, low: 46, high: 95 } },
    { id: 'mathiowetz1985-female-20-24-left', sex: 'female', ageMin: 20, ageMax: 24, hand: 'left', mean: 27.7, sd: 5.9, low: 15, high: 39.9, published: { unit: '[lbf_av]', mean: 61, sd: 13.1, se: 2.6, low: 33, high: 88 } },
    { id: 'mathiowetz1985-female-25-29-right', sex: 'female', ageMin: 25, ageMax: 29, hand: 'right', mean: 33.8, sd: 6.3, low: 21.8, high: 44, published: { unit: '[lbf_av]', mean: 74.5, sd: 13.9, se: 2.7, low: 48, high: 97 } },
    { id: 'mathiowetz1985-female-25-29-left', sex: 'female', ageMin: 25, ageMax: 29, hand: 'left', mean: 28.8, sd: 5.5, low: 21.8, high: 44, published: { unit: '[lbf_av]', mean: 63.5, sd: 12.2, se: 2.4, low: 48, high: 97 } },
    { id: 'mathiowetz1985-female-30-34-right', sex: 'female', ageMin: 30, ageMax: 34, hand: 'right', mean: 35.7, sd: 8.7, low: 20.9, high: 62.1, published: { unit: '[lbf_av]', mean: 78.7, sd: 19.2, se: 3.8, low: 46, high: 137 } },
    { id: 'mathiowetz1985-female-30-34-left', sex: 'female', ageMin: 30, ageMax: 34, hand: 'left', mean: 30.8, sd: 8, low: 16.3, high: 52.2, published: { unit: '[lbf_av]', mean: 68, sd: 17.7, se: 3.5, low: 36, high: 115 } },
    { id: 'mathiowetz1985-female-35-39-right', sex: 'female', ageMin: 35, ageMax: 39, hand: 'right', mean: 33.6, sd: 4.9, low: 22.7, high: 44.9, published: { unit: '[lbf_av]', mean: 74.1, sd: 10.8, se: 2.2, low: 50, high: 99 } },
    { id: 'mathiowetz1985-female-35-39-left', sex: 'female', ageMin: 35, ageMax: 39, hand: 'left', mean: 30.1, sd: 5.3, low: 22.2, high: 41.3, published: { unit: '[lbf_av]', mean: 66.3, sd: 11.7, se: 2.3, low: 49, high: 91 } },
    { id: 'mathiowetz1985-female-40-44-right', sex: 'female', ageMin: 40, ageMax: 44, hand: 'right', mean: 31.9, sd: 6.1, low: 17.2, high: 46.7, published: { unit: '[lbf_av]', mean: 70.4, sd: 13.5, se: 2.4, low: 38, high: 103 } },
    { id: 'mathiowetz1985-female-40-44-left', sex: 'female', ageMin: 40, ageMax: 44, hand: 'left', mean: 28.3, sd: 6.3, low: 15.9, high: 42.6, published: { unit: '[lbf_av]', mean: 62.3, sd: 13.8, se: 2.5, low: 35, high: 94 } },
    { id: 'mathiowetz1985-female-45-49-right', sex: 'female', ageMin: 45, ageMax: 49, hand: 'right', mean: 28.2, sd: 6.8, low: 17.7, high: 45.4, published: { unit: '[lbf_av]', mean: 62.2, sd: 15.1, se: 3, low: 39, high: 100 } },
    { id: 'mathiowetz1985-female-45-49-left', sex: 'female', ageMin: 45, ageMax: 49, hand: 'left', mean: 25.4, sd: 5.8, low: 16.8, high: 37.6, published: { unit: '[lbf_av]', mean: 56, sd: 12.7, se: 2.1, low: 37, high: 83 }, caution: 'printed SE 2.1 does not fit SD 12.7 beside the right-hand SD 15.1 / SE 3.0; treat the SE with care' },
    { id: 'mathiowetz1985-female-50-54-right', sex: 'female', ageMin: 50, ageMax: 54, hand: 'right', mean: 29.8, sd: 5.3, low: 17.2, high: 39.5, published: { unit: '[lbf_av]', mean: 65.8, sd: 11.6, se: 2.3, low: 38, high: 87 } },
    { id: 'mathiowetz1985-female-50-54-left', sex: 'female', ageMin: 50, ageMax: 54, hand: 'left', mean: 26, sd: 4.9, low: 15.9, high: 34.5, published: { unit: '[lbf_av]', mean: 57.3, sd: 10.7, se: 2.1, low: 35, high: 76 } },
    { id: 'mathiowetz1985-female-55-59-right', sex: 'female', ageMin: 55, ageMax: 59, hand: 'right', mean: 26, sd: 5.7, low: 15, high: 39, published: { unit: '[lbf_av]', mean: 57.3, sd: 12.5, se: 2.5, low: 33, high: 86 } },
    { id: 'mathiowetz1985-female-55-59-left', sex: 'female', ageMin: 55, ageMax: 59, hand: 'left', mean: 21.5, sd: 5.4, low: 14.1, high: 34.5, published: { unit: '[lbf_av]', mean: 47.3, sd: 11.9, se: 2.4, low: 31, high: 76 } },
    { id: 'mathiowetz1985-female-60-64-right', sex: 'female', ageMin: 60, ageMax: 64, hand: 'right', mean: 25, sd: 4.6, low: 16.8, high: 34.9, published: { unit: '[lbf_av]', mean: 55.1, sd: 10.1, se: 2, low: 37, high: 77 } },
    { id: 'mathiowetz1985-female-60-64-left', sex: 'female', ageMin: 60, ageMax: 64, hand: 'left', mean: 20.7, sd: 4.6, low: 13.2, high: 29.9, published: { unit: '[lbf_av]', mean: 45.7, sd: 10.1, se: 2, low: 29, high: 66 } },
    { id: 'mathiowetz1985-female-65-69-right', sex: 'female', ageMin: 65, ageMax: 69, hand: 'right', mean: 22.5, sd: 4.4, low: 15.9, high: 33.6, published: { unit: '[lbf_av]', mean: 49.6, sd: 9.7, se: 1.8, low: 35, high: 74 } },
    { id: 'mathiowetz1985-female-65-69-left', sex: 'female', ageMin: 65, ageMax: 69, hand: 'left', mean: 18.6, sd: 3.7, low: 13.2, high: 28.6, published: { unit: '[lbf_av]', mean: 41, sd: 8.2, se: 1.5, low: 29, high: 63 } },
    { id: 'mathiowetz1985-female-70-74-right', sex: 'female', ageMin: 70, ageMax: 74, hand: 'right', mean: 22.5, sd: 5.3, low: 15, high: 35.4, published: { unit: '[lbf_av]', mean: 49.6, sd: 11.7, se: 2.2, low: 33, high: 78 } },
    { id: 'mathiowetz1985-female-70-74-left', sex: 'female', ageMin: 70, ageMax: 74, hand: 'left', mean: 18.8, sd: 4.6, low: 10.4, high: 30.4, published: { unit: '[lbf_av]', mean: 41.5, sd: 10.2, se: 1.9, low: 23, high: 67 } },
    { id: 'mathiowetz1985-female-75+-right', sex: 'female', ageMin: 75, hand: 'right', mean: 19.3, sd: 5, low: 11.3, high: 29.5, published: { unit: '[lbf_av]', mean: 42.6, sd: 11, se: 2.2, low: 25, high: 65 } },
    { id: 'mathiowetz1985-female-75+-left', sex: 'female', ageMin: 75, hand: 'left', mean: 17.1, sd: 4, low: 10.9, high: 27.7, published: { unit: '[lbf_av]', mean: 37.6, sd: 8.9, se: 1.7, low: 24, high: 61 } },
  ]),
  ...norms({ table: 'massy-westropp-2011', unit: 'kgf', population: 'without hand pain or arthritis, north-west Adelaide, Australia', source: 'massy-westropp-2011', how: 'read' }, [
    { id: 'massywestropp2011-male-20-29-right', sex: 'male', ageMin: 20, ageMax: 29, hand: 'right', mean: 47, sd: 9.5 },
    { id: 'massywestropp2011-male-20-29-left', sex: 'male', ageMin: 20, ageMax: 29, hand: 'left', mean: 45, sd: 9.7, caution: 'the deviation is doubtful: 9.7 as read; check the table of the article before use' },
    { id: 'massywestropp2011-male-30-39-right', sex: 'male', ageMin: 30, ageMax: 39, hand: 'right', mean: 47, sd: 9.7 },
    { id: 'massywestropp2011-male-30-39-left', sex: 'male', ageMin: 30, ageMax: 39, hand: 'left', mean: 47, sd: 9.8 },
    { id: 'massywestropp2011-male-40-49-right', sex: 'male', ageMin: 40, ageMax: 49, hand: 'right', mean: 47, sd: 9.5 },
    { id: 'massywestropp2011-male-40-49-left', sex: 'male', ageMin: 40, ageMax: 49, hand: 'left', mean: 45, sd: 9.3 },
    { id: 'massywestropp2011-male-50-59-right', sex: 'male', ageMin: 50, ageMax: 59, hand: 'right', mean: 45, sd: 8.4 },
    { id: 'massywestropp2011-male-50-59-left', sex: 'male', ageMin: 50, ageMax: 59, hand: 'left', mean: 43, sd: 8.3 },
    { id: 'massywestropp2011-male-60-69-right', sex: 'male', ageMin: 60, ageMax: 69, hand: 'right', mean: 40, sd: 8.3 },
    { id: 'massywestropp2011-male-60-69-left', sex: 'male', ageMin: 60, ageMax: 69, hand: 'left', mean: 38, sd: 8 },
    { id: 'massywestropp2011-male-70+-right', sex: 'male', ageMin: 70, hand: 'right', mean: 33, sd: 7.8 },
    { id: 'massywestropp2011-male-70+-left', sex: 'male', ageMin: 70, hand: 'left', mean: 32, sd: 7.5 },
    { id: 'massywestropp2011-female-20-29-right', sex: 'female', ageMin: 20, ageMax: 29, hand: 'right', mean: 30, sd: 7 },
    { id: 'massywestropp2011-female-20-29-left', sex: 'female', ageMin: 20, ageMax: 29, hand: 'left', mean: 28, sd: 6.1 },
    { id: 'massywestropp2011-female-30-39-right', sex: 'female', ageMin: 30, ageMax: 39, hand: 'right', mean: 31, sd: 6.4 },
    { id: 'massywestropp2011-female-30-39-left', sex: 'female', ageMin: 30, ageMax: 39, hand: 'left', mean: 29, sd: 6 },
    { id: 'massywestropp2011-female-40-49-right', sex: 'female', ageMin: 40, ageMax: 49, hand: 'right', mean: 29, sd: 5.7 },
    { id: 'massywestropp2011-female-40-49-left', sex: 'female', ageMin: 40, ageMax: 49, hand: 'left', mean: 28, sd: 5.7 },
    { id: 'massywestropp2011-female-50-59-right', sex: 'female', ageMin: 50, ageMax: 59, hand: 'right', mean: 28, sd: 6.3 },
    { id: 'massywestropp2011-female-50-59-left', sex: 'female', ageMin: 50, ageMax: 59, hand: 'left', mean: 26, sd: 5.7 },
    { id: 'massywestropp2011-female-60-69-right', sex: 'female', ageMin: 60, ageMax: 69, hand: 'right', mean: 24, sd: 5.3 },
    { id: 'massywestropp2011-female-60-69-left', sex: 'female', ageMin: 60, ageMax: 69, hand: 'left', mean: 23, sd: 5 },
    { id: 'massywestropp2011-female-70+-right', sex: 'female', ageMin: 70, hand: 'right', mean: 20, sd: 5.8 },
    { id: 'massywestropp2011-female-70+-left', sex: 'female', ageMin: 70, hand: 'left', mean: 19, sd: 5.5 },
  ]),
  ...norms({ table: 'tomkinson-2025', unit: 'kgf', population: '69 countries and regions, harmonised for method', source: 'tomkinson-2025', how: 'read' }, [
    { id: 'tomkinson2025-male-20-24', sex: 'male', ageMin: 20, ageMax: 24, hand: 'any', percentiles: { p5: 33.9, p10: 36.8, p20: 40.5, p30: 43.2, p40: 45.7, p50: 48, p60: 50.4, p70: 52.9, p80: 56, p90: 60.1, p95: 63.6 } },
    { id: 'tomkinson2025-male-25-29', sex: 'male', ageMin: 25, ageMax: 29, hand: 'any', percentiles: { p5: 35.5, p10: 38.5, p20: 42.1, p30: 44.8, p40: 47.1, p50: 49.3, p60: 51.5, p70: 53.9, p80: 56.7, p90: 60.7, p95: 64 } },
    { id: 'tomkinson2025-male-30-34', sex: 'male', ageMin: 30, ageMax: 34, hand: 'any', percentiles: { p5: 35, p10: 38.3, p20: 42.2, p30: 45, p40: 47.4, p50: 49.7, p60: 52, p70: 54.4, p80: 57.4, p90: 61.5, p95: 64.9 } },
    { id: 'tomkinson2025-male-35-39', sex: 'male', ageMin: 35, ageMax: 39, hand: 'any', percentiles: { p5: 33.8, p10: 37.3, p20: 41.5, p30: 44.5, p40: 47.1, p50: 49.5, p60: 51.9, p70: 54.4, p80: 57.5, p90: 61.8, p95: 65.3 } },
    { id: 'tomkinson2025-male-40-44', sex: 'male', ageMin: 40, ageMax: 44, hand: 'any', percentiles: { p5: 32.3, p10: 36, p20: 40.4, p30: 43.6, p40: 46.3, p50: 48.8, p60: 51.2, p70: 53.9, p80: 57.1, p90: 61.5, p95: 65.1 } },
    { id: 'tomkinson2025-male-45-49', sex: 'male', ageMin: 45, ageMax: 49, hand: 'any', percentiles: { p5: 30.6, p10: 34.4, p20: 39, p30: 42.3, p40: 45.1, p50: 47.6, p60: 50.2, p70: 52.9, p80: 56.2, p90: 60.7, p95: 64.4 } },
    { id: 'tomkinson2025-male-50-54', sex: 'male', ageMin: 50, ageMax: 54, hand: 'any', percentiles: { p5: 28.9, p10: 32.8, p20: 37.4, p30: 40.7, p40: 43.5, p50: 46.2, p60: 48.8, p70: 51.6, p80: 54.8, p90: 59.4, p95: 63.1 } },
    { id: 'tomkinson2025-male-55-59', sex: 'male', ageMin: 55, ageMax: 59, hand: 'any', percentiles: { p5: 27.2, p10: 31, p20: 35.6, p30: 38.9, p40: 41.7, p50: 44.4, p60: 47, p70: 49.8, p80: 53.1, p90: 57.7, p95: 61.4 } },
    { id: 'tomkinson2025-male-60-64', sex: 'male', ageMin: 60, ageMax: 64, hand: 'any', percentiles: { p5: 25.5, p10: 29.1, p20: 33.6, p30: 36.9, p40: 39.7, p50: 42.4, p60: 45, p70: 47.8, p80: 51.1, p90: 55.6, p95: 59.3 } },
    { id: 'tomkinson2025-male-65-69', sex: 'male', ageMin: 65, ageMax: 69, hand: 'any', percentiles: { p5: 23.7, p10: 27.2, p20: 31.5, p30: 34.7, p40: 37.5, p50: 40.1, p60: 42.8, p70: 45.6, p80: 48.8, p90: 53.2, p95: 56.8 } },
    { id: 'tomkinson2025-male-70-74', sex: 'male', ageMin: 70, ageMax: 74, hand: 'any', percentiles: { p5: 21.9, p10: 25.2, p20: 29.3, p30: 32.4, p40: 35.1, p50: 37.7, p60: 40.3, p70: 43.1, p80: 46.3, p90: 50.6, p95: 54.1 } },
    { id: 'tomkinson2025-male-75-79', sex: 'male', ageMin: 75, ageMax: 79, hand: 'any', percentiles: { p5: 20, p10: 23.1, p20: 27, p30: 29.9, p40: 32.5, p50: 35.1, p60: 37.6, p70: 40.3, p80: 43.5, p90: 47.7, p95: 51.1 } },
    { id: 'tomkinson2025-male-80-84', sex: 'male', ageMin: 80, ageMax: 84, hand: 'any', percentiles: { p5: 18, p10: 20.8, p20: 24.5, p30: 27.3, p40: 29.8, p50: 32.3, p60: 34.8, p70: 37.5, p80: 40.5, p90: 44.7, p95: 48 } },
    { id: 'tomkinson2025-male-85-89', sex: 'male', ageMin: 85, ageMax: 89, hand: 'any', percentiles: { p5: 15.9, p10: 18.5, p20: 21.9, p30: 24.6, p40: 27, p50: 29.4, p60: 31.8, p70: 34.4, p80: 37.4, p90: 41.5, p95: 44.6 } },
    { id: 'tomkinson2025-male-90-94', sex: 'male', ageMin: 90, ageMax: 94, hand: 'any', percentiles: { p5: 13.7, p10: 16.1, p20: 19.2, p30: 21.7, p40: 24, p50: 26.3, p60: 28.7, p70: 31.2, p80: 34.2, p90: 38.1, p95: 41.2 } },
    { id: 'tomkinson2025-male-95-99', sex: 'male', ageMin: 95, ageMax: 99, hand: 'any', percentiles: { p5: 11.3, p10: 13.5, p20: 16.4, p30: 18.8, p40: 20.9, p50: 23.1, p60: 25.4, p70: 27.9, p80: 30.8, p90: 34.6, p95: 37.5 } },
    { id: 'tomkinson2025-male-100+', sex: 'male', ageMin: 100, hand: 'any', percentiles: { p5: 8.8, p10: 10.8, p20: 13.5, p30: 15.7, p40: 17.8, p50: 19.8, p60: 22, p70: 24.5, p80: 27.2, p90: 30.9, p95: 33.8 } },
    { id: 'tomkinson2025-female-20-24', sex: 'female', ageMin: 20, ageMax: 24, hand: 'any', percentiles: { p5: 19.7, p10: 21.7, p20: 24, p30: 25.7, p40: 27.2, p50: 28.6, p60: 30, p70: 31.6, p80: 33.6, p90: 36.6, p95: 39.1 } },
    { id: 'tomkinson2025-female-25-29', sex: 'female', ageMin: 25, ageMax: 29, hand: 'any', percentiles: { p5: 20, p10: 22, p20: 24.5, p30: 26.3, p40: 27.9, p50: 29.4, p60: 30.9, p70: 32.6, p80: 34.6, p90: 37.4, p95: 39.7 } },
    { id: 'tomkinson2025-female-30-34', sex: 'female', ageMin: 30, ageMax: 34, hand: 'any', percentiles: { p5: 19.6, p10: 21.8, p20: 24.4, p30: 26.4, p40: 28.1, p50: 29.7, p60: 31.3, p70: 33.1, p80: 35.2, p90: 38, p95: 40.4 } },
    { id: 'tomkinson2025-female-35-39', sex: 'female', ageMin: 35, ageMax: 39, hand: 'any', percentiles: { p5: 19, p10: 21.3, p20: 24.1, p30: 26.2, p40: 28, p50: 29.7, p60: 31.4, p70: 33.2, p80: 35.4, p90: 38.4, p95: 40.8 } },
    { id: 'tomkinson2025-female-40-44', sex: 'female', ageMin: 40, ageMax: 44, hand: 'any', percentiles: { p5: 18.3, p10: 20.7, p20: 23.7, p30: 25.8, p40: 27.6, p50: 29.4, p60: 31.1, p70: 33, p80: 35.2, p90: 38.3, p95: 40.8 } },
    { id: 'tomkinson2025-female-45-49', sex: 'female', ageMin: 45, ageMax: 49, hand: 'any', percentiles: { p5: 17.6, p10: 20.1, p20: 23.1, p30: 25.2, p40: 27.1, p50: 28.9, p60: 30.6, p70: 32.5, p80: 34.8, p90: 37.9, p95: 40.4 } },
    { id: 'tomkinson2025-female-50-54', sex: 'female', ageMin: 50, ageMax: 54, hand: 'any', percentiles: { p5: 16.9, p10: 19.4, p20: 22.4, p30: 24.5, p40: 26.4, p50: 28.2, p60: 29.9, p70: 31.8, p80: 34, p90: 37.1, p95: 39.7 } },
    { id: 'tomkinson2025-female-55-59', sex: 'female', ageMin: 55, ageMax: 59, hand: 'any', percentiles: { p5: 16.1, p10: 18.5, p20: 21.5, p30: 23.7, p40: 25.5, p50: 27.3, p60: 29, p70: 30.9, p80: 33, p90: 36.1, p95: 38.6 } },
    { id: 'tomkinson2025-female-60-64', sex: 'female', ageMin: 60, ageMax: 64, hand: 'any', percentiles: { p5: 15.2, p10: 17.6, p20: 20.6, p30: 22.7, p40: 24.5, p50: 26.2, p60: 27.9, p70: 29.7, p80: 31.8, p90: 34.9, p95: 37.4 } },
    { id: 'tomkinson2025-female-65-69', sex: 'female', ageMin: 65, ageMax: 69, hand: 'any', percentiles: { p5: 14.3, p10: 16.6, p20: 19.5, p30: 21.6, p40: 23.3, p50: 25, p60: 26.6, p70: 28.4, p80: 30.5, p90: 33.4, p95: 35.8 } },
    { id: 'tomkinson2025-female-70-74', sex: 'female', ageMin: 70, ageMax: 74, hand: 'any', percentiles: { p5: 13.2, p10: 15.5, p20: 18.3, p30: 20.3, p40: 22, p50: 23.6, p60: 25.2, p70: 26.9, p80: 28.9, p90: 31.8, p95: 34.1 } },
    { id: 'tomkinson2025-female-75-79', sex: 'female', ageMin: 75, ageMax: 79, hand: 'any', percentiles: { p5: 12, p10: 14.3, p20: 17, p30: 18.9, p40: 20.5, p50: 22.1, p60: 23.6, p70: 25.2, p80: 27.2, p90: 29.9, p95: 32.2 } },
    { id: 'tomkinson2025-female-80-84', sex: 'female', ageMin: 80, ageMax: 84, hand: 'any', percentiles: { p5: 10.7, p10: 12.9, p20: 15.5, p30: 17.4, p40: 18.9, p50: 20.4, p60: 21.9, p70: 23.5, p80: 25.3, p90: 28, p95: 30.2 } },
    { id: 'tomkinson2025-female-85-89', sex: 'female', ageMin: 85, ageMax: 89, hand: 'any', percentiles: { p5: 9.3, p10: 11.4, p20: 13.9, p30: 15.7, p40: 17.2, p50: 18.6, p60: 20, p70: 21.5, p80: 23.3, p90: 25.9, p95: 28 } },
    { id: 'tomkinson2025-female-90-94', sex: 'female', ageMin: 90, ageMax: 94, hand: 'any', percentiles: { p5: 7.8, p10: 9.8, p20: 12.2, p30: 13.9, p40: 15.3, p50: 16.7, p60: 18, p70: 19.5, p80: 21.2, p90: 23.6, p95: 25.7 } },
    { id: 'tomkinson2025-female-95-99', sex: 'female', ageMin: 95, ageMax: 99, hand: 'any', percentiles: { p5: 6.1, p10: 8, p20: 10.3, p30: 11.9, p40: 13.3, p50: 14.6, p60: 15.9, p70: 17.3, p80: 18.9, p90: 21.2, p95: 23.2 } },
    { id: 'tomkinson2025-female-100+', sex: 'female', ageMin: 100, hand: 'any', percentiles: { p5: 4.2, p10: 6.1, p20: 8.3, p30: 9.8, p40: 11.2, p50: 12.4, p60: 13.6, p70: 14.9, p80: 16.5, p90: 18.7, p95: 20.6 } },
  ]),
  ...norms({ table: 'steiber-2016', unit: 'kgf', population: 'Germany, national panel 2006-2014', source: 'steiber-2016', how: 'read' }, [
    { id: 'steiber2016-female-17-19', sex: 'female', ageMin: 17, ageMax: 19, hand: 'any', mean: 31.5, sd: 6.2, n: 526, percentiles: { p50: 31.4 } },
    { id: 'steiber2016-female-20-24', sex: 'female', ageMin: 20, ageMax: 24, hand: 'any', mean: 32.5, sd: 5.4, n: 799, percentiles: { p50: 32 } },
    { id: 'steiber2016-female-25-29', sex: 'female', ageMin: 25, ageMax: 29, hand: 'any', mean: 33.6, sd: 5.6, n: 809, percentiles: { p50: 33.5 } },
    { id: 'steiber2016-female-30-34', sex: 'female', ageMin: 30, ageMax: 34, hand: 'any', mean: 33.3, sd: 5.8, n: 942, percentiles: { p50: 33 } },
    { id: 'steiber2016-female-35-39', sex: 'female', ageMin: 35, ageMax: 39, hand: 'any', mean: 34.2, sd: 6.2, n: 1144, percentiles: { p50: 34 } },
    { id: 'steiber2016-female-40-44', sex: 'female', ageMin: 40, ageMax: 44, hand: 'any', mean: 34.5, sd: 6.3, n: 1357, percentiles: { p50: 34.5 } },
    { id: 'steiber2016-female-45-49', sex: 'female', ageMin: 45, ageMax: 49, hand: 'any', mean: 33.4, sd: 6.1, n: 1372, percentiles: { p50: 33 } },
    { id: 'steiber2016-female-50-54', sex: 'female', ageMin: 50, ageMax: 54, hand: 'any', mean: 32.2, sd: 5.9, n: 1291, percentiles: { p50: 32 } },
    { id: 'steiber2016-female-55-59', sex: 'female', ageMin: 55, ageMax: 59, hand: 'any', mean: 30, sd: 5.5, n: 1092, percentiles: { p50: 30 } },
    { id: 'steiber2016-female-60-64', sex: 'female', ageMin: 60, ageMax: 64, hand: 'any', mean: 29, sd: 5.3, n: 1004, percentiles: { p50: 29 } },
    { id: 'steiber2016-female-65-69', sex: 'female', ageMin: 65, ageMax: 69, hand: 'any', mean: 27.6, sd: 5.2, n: 947, percentiles: { p50: 28 } },
    { id: 'steiber2016-female-70-74', sex: 'female', ageMin: 70, ageMax: 74, hand: 'any', mean: 26, sd: 4.9, n: 895, percentiles: { p50: 26 } },
    { id: 'steiber2016-female-75-79', sex: 'female', ageMin: 75, ageMax: 79, hand: 'any', mean: 24.2, sd: 4.5, n: 522, percentiles: { p50: 24 } },
    { id: 'steiber2016-female-80-90', sex: 'female', ageMin: 80, ageMax: 90, hand: 'any', mean: 21.4, sd: 4.1, n: 420, percentiles: { p50: 21 } },
    { id: 'steiber2016-male-17-19', sex: 'male', ageMin: 17, ageMax: 19, hand: 'any', mean: 48.3, sd: 9.6, n: 538, percentiles: { p50: 48.5 } },
    { id: 'steiber2016-male-20-24', sex: 'male', ageMin: 20, ageMax: 24, hand: 'any', mean: 50.7, sd: 8.2, n: 782, percentiles: { p50: 50.5 } },
    { id: 'steiber2016-male-25-29', sex: 'male', ageMin: 25, ageMax: 29, hand: 'any', mean: 52.4, sd: 8.3, n: 710, percentiles: { p50: 52 } },
    { id: 'steiber2016-male-30-34', sex: 'male', ageMin: 30, ageMax: 34, hand: 'any', mean: 53.6, sd: 8.2, n: 730, percentiles: { p50: 53 } },
    { id: 'steiber2016-male-35-39', sex: 'male', ageMin: 35, ageMax: 39, hand: 'any', mean: 53.4, sd: 9.8, n: 924, percentiles: { p50: 52.5 } },
    { id: 'steiber2016-male-40-44', sex: 'male', ageMin: 40, ageMax: 44, hand: 'any', mean: 53.8, sd: 9.3, n: 1172, percentiles: { p50: 54 } },
    { id: 'steiber2016-male-45-49', sex: 'male', ageMin: 45, ageMax: 49, hand: 'any', mean: 52.9, sd: 8.4, n: 1294, percentiles: { p50: 53 } },
    { id: 'steiber2016-male-50-54', sex: 'male', ageMin: 50, ageMax: 54, hand: 'any', mean: 50.4, sd: 8.4, n: 1189, percentiles: { p50: 50.5 } },
    { id: 'steiber2016-male-55-59', sex: 'male', ageMin: 55, ageMax: 59, hand: 'any', mean: 49.1, sd: 8.5, n: 1010, percentiles: { p50: 49 } },
    { id: 'steiber2016-male-60-64', sex: 'male', ageMin: 60, ageMax: 64, hand: 'any', mean: 46.3, sd: 8.4, n: 950, percentiles: { p50: 46.5 } },
    { id: 'steiber2016-male-65-69', sex: 'male', ageMin: 65, ageMax: 69, hand: 'any', mean: 44.1, sd: 7.3, n: 1019, percentiles: { p50: 44 } },
    { id: 'steiber2016-male-70-74', sex: 'male', ageMin: 70, ageMax: 74, hand: 'any', mean: 41.7, sd: 7.6, n: 915, percentiles: { p50: 42 } },
    { id: 'steiber2016-male-75-79', sex: 'male', ageMin: 75, ageMax: 79, hand: 'any', mean: 37.8, sd: 7.9, n: 582, percentiles: { p50: 38 } },
    { id: 'steiber2016-male-80-90', sex: 'male', ageMin: 80, ageMax: 90, hand: 'any', mean: 33.2, sd: 7.5, n: 350, percentiles: { p50: 33 } },
  ]),
  ...norms({ table: 'dodds-2014-facts', unit: 'kgf', population: 'Great Britain, 12 general-population studies', source: 'dodds-2014', how: 'read' }, [
    { id: 'dodds2014-peak-male', sex: 'male', ageMin: 29, ageMax: 39, hand: 'any', percentiles: { p50: 51 } },
    { id: 'dodds2014-peak-female', sex: 'female', ageMin: 26, ageMax: 42, hand: 'any', percentiles: { p50: 31 } },
  ]),
  ...norms({ table: 'dodds-2014-centiles-from-memory', unit: 'kgf', population: 'Great Britain', source: 'dodds-2014', how: 'from memory' }, [
    { id: 'dodds2014-male-5', sex: 'male', ageMin: 5, ageMax: 5, hand: 'any', percentiles: { p10: 6, p25: 7, p50: 8, p75: 9, p90: 10 } },
    { id: 'dodds2014-male-10', sex: 'male', ageMin: 10, ageMax: 10, hand: 'any', percentiles: { p10: 12, p25: 15, p50: 17, p75: 20, p90: 22 } },
    { id: 'dodds2014-male-15', sex: 'male', ageMin: 15, ageMax: 15, hand: 'any', percentiles: { p10: 21, p25: 25, p50: 29, p75: 33, p90: 38 } },
    { id: 'dodds2014-male-20', sex: 'male', ageMin: 20, ageMax: 20, hand: 'any', percentiles: { p10: 30, p25: 35, p50: 40, p75: 46, p90: 52 } },
    { id: 'dodds2014-male-25', sex: 'male', ageMin: 25, ageMax: 25, hand: 'any', percentiles: { p10: 36, p25: 41, p50: 48, p75: 55, p90: 61 } },
    { id: 'dodds2014-male-30', sex: 'male', ageMin: 30, ageMax: 30, hand: 'any', percentiles: { p10: 38, p25: 44, p50: 51, p75: 58, p90: 64 } },
    { id: 'dodds2014-male-35', sex: 'male', ageMin: 35, ageMax: 35, hand: 'any', percentiles: { p10: 39, p25: 45, p50: 51, p75: 58, p90: 64 } },
    { id: 'dodds2014-male-40', sex: 'male', ageMin: 40, ageMax: 40, hand: 'any', percentiles: { p10: 38, p25: 44, p50: 50, p75: 57, p90: 63 } },
    { id: 'dodds2014-male-45', sex: 'male', ageMin: 45, ageMax: 45, hand: 'any', percentiles: { p10: 36, p25: 42, p50: 49, p75: 56, p90: 61 } },
    { id: 'dodds2014-male-50', sex: 'male', ageMin: 50, ageMax: 50, hand: 'any', percentiles: { p10: 35, p25: 41, p50: 48, p75: 54, p90: 60 } },
    { id: 'dodds2014-male-55', sex: 'male', ageMin: 55, ageMax: 55, hand: 'any', percentiles: { p10: 34, p25: 40, p50: 47, p75: 53, p90: 59 } },
    { id: 'dodds2014-male-60', sex: 'male', ageMin: 60, ageMax: 60, hand: 'any', percentiles: { p10: 33, p25: 39, p50: 45, p75: 51, p90: 56 } },
    { id: 'dodds2014-male-65', sex: 'male', ageMin: 65, ageMax: 65, hand: 'any', percentiles: { p10: 31, p25: 37, p50: 43, p75: 48, p90: 53 } },
    { id: 'dodds2014-male-70', sex: 'male', ageMin: 70, ageMax: 70, hand: 'any', percentiles: { p10: 29, p25: 34, p50: 39, p75: 44, p90: 49 } },
    { id: 'dodds2014-male-75', sex: 'male', ageMin: 75, ageMax: 75, hand: 'any', percentiles: { p10: 26, p25: 31, p50: 35, p75: 41, p90: 45 } },
    { id: 'dodds2014-male-80', sex: 'male', ageMin: 80, ageMax: 80, hand: 'any', percentiles: { p10: 23, p25: 27, p50: 32, p75: 37, p90: 42 } },
    { id: 'dodds2014-male-85', sex: 'male', ageMin: 85, ageMax: 85, hand: 'any', percentiles: { p10: 19, p25: 24, p50: 29, p75: 33, p90: 38 } },
    { id: 'dodds2014-male-90', sex: 'male', ageMin: 90, ageMax: 90, hand: 'any', percentiles: { p10: 16, p25: 20, p50: 25, p75: 29, p90: 33 } },
    { id: 'dodds2014-female-5', sex: 'female', ageMin: 5, ageMax: 5, hand: 'any', percentiles: { p10: 6, p25: 7, p50: 8, p75: 9, p90: 10 } },
    { id: 'dodds2014-female-10', sex: 'female', ageMin: 10, ageMax: 10, hand: 'any', percentiles: { p10: 12, p25: 14, p50: 16, p75: 18, p90: 21 } },
    { id: 'dodds2014-female-15', sex: 'female', ageMin: 15, ageMax: 15, hand: 'any', percentiles: { p10: 17, p25: 20, p50: 24, p75: 27, p90: 30 } },
    { id: 'dodds2014-female-20', sex: 'female', ageMin: 20, ageMax: 20, hand: 'any', percentiles: { p10: 21, p25: 24, p50: 28, p75: 32, p90: 36 } },
    { id: 'dodds2014-female-25', sex: 'female', ageMin: 25, ageMax: 25, hand: 'any', percentiles: { p10: 23, p25: 26, p50: 30, p75: 35, p90: 38 } },
    { id: 'dodds2014-female-30', sex: 'female', ageMin: 30, ageMax: 30, hand: 'any', percentiles: { p10: 24, p25: 27, p50: 31, p75: 35, p90: 39 } },
    { id: 'dodds2014-female-35', sex: 'female', ageMin: 35, ageMax: 35, hand: 'any', percentiles: { p10: 23, p25: 27, p50: 31, p75: 35, p90: 39 } },
    { id: 'dodds2014-female-40', sex: 'female', ageMin: 40, ageMax: 40, hand: 'any', percentiles: { p10: 23, p25: 27, p50: 31, p75: 35, p90: 39 } },
    { id: 'dodds2014-female-45', sex: 'female', ageMin: 45, ageMax: 45, hand: 'any', percentiles: { p10: 22, p25: 26, p50: 30, p75: 34, p90: 38 } },
    { id: 'dodds2014-female-50', sex: 'female', ageMin: 50, ageMax: 50, hand: 'any', percentiles: { p10: 21, p25: 25, p50: 29, p75: 33, p90: 37 } },
    { id: 'dodds2014-female-55', sex: 'female', ageMin: 55, ageMax: 55, hand: 'any', percentiles: { p10: 19, p25: 23, p50: 28, p75: 32, p90: 35 } },
    { id: 'dodds2014-female-60', sex: 'female', ageMin: 60, ageMax: 60, hand: 'any', percentiles: { p10: 18, p25: 22, p50: 27, p75: 31, p90: 34 } },
    { id: 'dodds2014-female-65', sex: 'female', ageMin: 65, ageMax: 65, hand: 'any', percentiles: { p10: 17, p25: 21, p50: 25, p75: 29, p90: 33 } },
    { id: 'dodds2014-female-70', sex: 'female', ageMin: 70, ageMax: 70, hand: 'any', percentiles: { p10: 16, p25: 20, p50: 24, p75: 27, p90: 31 } },
    { id: 'dodds2014-female-75', sex: 'female', ageMin: 75, ageMax: 75, hand: 'any', percentiles: { p10: 14, p25: 18, p50: 21, p75: 25, p90: 28 } },
    { id: 'dodds2014-female-80', sex: 'female', ageMin: 80, ageMax: 80, hand: 'any', percentiles: { p10: 13, p25: 16, p50: 19, p75: 23, p90: 26 } },
    { id: 'dodds2014-female-85', sex: 'female', ageMin: 85, ageMax: 85, hand: 'any', percentiles: { p10: 11, p25: 14, p50: 17, p75: 20, p90: 23 } },
    { id: 'dodds2014-female-90', sex: 'female', ageMin: 90, ageMax: 90, hand: 'any', percentiles: { p10: 9, p25: 11, p50: 14, p75: 18, p90: 21 } },
  ]),
];

/** A published limit below which grip is called low: a screening definition, shown at most as context. */
export interface GripCutoff extends Figure {
  readonly label: string;
  readonly sex: 'female' | 'male';
  readonly comparator: '<';
  readonly value: number;
}

// prettier-ignore
export const gripCutoffs: readonly GripCutoff[] = [
  { id: 'ewgsop2-male', label: 'Low grip (probable sarcopenia)', sex: 'male', comparator: '<', value: 27, unit: 'kgf', population: 'older adults, Europe', source: 'ewgsop2-2019', how: 'read' },
  { id: 'ewgsop2-female', label: 'Low grip (probable sarcopenia)', sex: 'female', comparator: '<', value: 16, unit: 'kgf', population: 'older adults, Europe', source: 'ewgsop2-2019', how: 'read' },
  { id: 'fnih-male', label: 'Low grip (weakness)', sex: 'male', comparator: '<', value: 26, unit: 'kgf', population: 'older adults, USA', source: 'fnih-2014', how: 'read' },
  { id: 'fnih-female', label: 'Low grip (weakness)', sex: 'female', comparator: '<', value: 16, unit: 'kgf', population: 'older adults, USA', source: 'fnih-2014', how: 'read' },
  { id: 'awgs2019-male', label: 'Low grip', sex: 'male', comparator: '<', value: 28, unit: 'kgf', population: 'older adults, Asia', source: 'awgs-2019', how: 'read' },
  { id: 'awgs2019-female', label: 'Low grip', sex: 'female', comparator: '<', value: 18, unit: 'kgf', population: 'older adults, Asia', source: 'awgs-2019', how: 'read' },
  { id: 'sdoc2020-male', label: 'Low grip', sex: 'male', comparator: '<', value: 35.5, unit: 'kgf', population: 'community-dwelling older men', source: 'sdoc-2020', how: 'read' },
  { id: 'sdoc2020-female', label: 'Low grip', sex: 'female', comparator: '<', value: 20, unit: 'kgf', population: 'community-dwelling older women', source: 'sdoc-2020', how: 'read' },
  { id: 'ewgsop1-male', label: 'Low grip (superseded by EWGSOP2)', sex: 'male', comparator: '<', value: 30, unit: 'kgf', population: 'older adults, Europe', source: 'ewgsop-2010', how: 'from memory' },
  { id: 'ewgsop1-female', label: 'Low grip (superseded by EWGSOP2)', sex: 'female', comparator: '<', value: 20, unit: 'kgf', population: 'older adults, Europe', source: 'ewgsop-2010', how: 'from memory' },
];
