import { describe, expect, it } from 'vitest';
import {
  findMovement,
  findSource,
  findStrengthGrade,
  gripCutoffs,
  gripNorms,
  gripRules,
  gripTables,
  conversions,
  movements,
  precautions,
  rangeOfMotionFigures,
  rangeTables,
  readFigures,
  readRedFlags,
  redFlags,
  referenceRange,
  sources,
  stopRules,
  strengthGrades,
  thresholds,
} from '../../src/catalogue/index.js';

const figures = [...rangeOfMotionFigures, ...gripNorms, ...gripCutoffs, ...thresholds];

describe('a figure', () => {
  it('has a source that exists, as has every row that cites one', () => {
    const cited = [
      ...figures,
      ...redFlags,
      ...stopRules,
      ...strengthGrades,
      ...gripRules,
      ...precautions,
      ...conversions,
    ];
    expect(cited.filter(({ source }) => findSource(source) === undefined)).toEqual([]);
    expect(new Set(sources.map(({ key }) => key)).size).toBe(sources.length);
  });

  it('has an id of its own', () => {
    for (const rows of [rangeOfMotionFigures, gripNorms, gripCutoffs, thresholds, redFlags]) {
      expect(new Set(rows.map(({ id }) => id)).size).toBe(rows.length);
    }
  });

  it('from memory never leaves readFigures', () => {
    const remembered = figures.filter(({ how }) => how === 'from memory').map(({ id }) => id);
    expect(remembered.length).toBeGreaterThan(100);
    const read = new Set([
      ...readFigures(rangeOfMotionFigures).map(({ id }) => id),
      ...readFigures(gripNorms).map(({ id }) => id),
      ...readFigures(gripCutoffs).map(({ id }) => id),
      ...readFigures(thresholds).map(({ id }) => id),
    ]);
    expect(remembered.filter((id) => read.has(id))).toEqual([]);
    expect(read.size).toBe(figures.length - remembered.length);
  });

  it('loses the interval that was not read and keeps the one that was', () => {
    const given = {
      unit: 'deg',
      population: 'any',
      source: 'design',
      how: 'read',
      mean: 20,
      ci95: [18, 22],
    } as const;
    const [partly, wholly] = readFigures([
      { id: 'a', ...given, readParts: ['mean'] },
      { id: 'b', ...given, readParts: ['mean', 'ci95'] },
    ]);
    expect(partly).not.toHaveProperty('ci95');
    expect(wholly).toHaveProperty('ci95', [18, 22]);
    for (const row of readFigures(rangeOfMotionFigures)) {
      if (row.readParts && !row.readParts.includes('ci95')) expect(row, row.id).not.toHaveProperty('ci95');
    }
  });

  it('from memory never becomes a sign to act on', () => {
    expect(redFlags.some(({ signs }) => signs.some(({ how }) => how === 'from memory'))).toBe(true);
    for (const { how, signs } of readRedFlags()) {
      expect([how, ...signs.map((sign) => sign.how)].filter((one) => one !== 'read')).toEqual([]);
    }
  });

  it('belongs to a table that has a name', () => {
    const names = new Set([...rangeTables, ...gripTables].map(({ table }) => table));
    expect([...rangeOfMotionFigures, ...gripNorms].filter(({ table }) => !names.has(table))).toEqual([]);
  });
});

describe('a reference range', () => {
  it.each([
    // 38 CFR 4.71a, General Rating Formula for Diseases and Injuries of the Spine, Note (2).
    ['neck.flexion', 45],
    ['neck.rotation', 80],
    ['trunk.flexion', 90],
    ['trunk.lateral-flexion', 30],
    // 38 CFR 4.71, Plates I and II.
    ['hip.flexion', 125],
    ['knee.flexion', 140],
    ['ankle.dorsiflexion', 20],
    ['ankle.plantar-flexion', 45],
    ['shoulder.flexion', 180],
    ['elbow.flexion', 145],
    ['forearm.supination', 85],
    ['wrist.flexion', 80],
  ])('of %s is %d degrees by the US rating schedule', (movement, value) => {
    expect(referenceRange(movement)).toMatchObject({ value, unit: 'deg', table: 'va-38cfr' });
  });

  it('is a figure that was read, with the name of its list', () => {
    const read = new Set(
      readFigures(rangeOfMotionFigures).map(
        (row) => `${row.table} ${row.movement ?? ''} ${String(row.value)}`,
      ),
    );
    for (const { id } of movements) {
      const found = referenceRange(id);
      if (!found) continue;
      expect(read, id).toContain(`${found.table} ${id} ${String(found.value)}`);
      expect(found.tableName).toBe(rangeTables.find(({ table }) => table === found.table)?.name);
    }
  });

  it('is undefined where only a remembered figure exists', () => {
    // The lists read give no single value of jaw opening; that of 38 CFR 4.150 is from memory.
    expect(
      rangeOfMotionFigures.some(
        ({ movement, how }) => movement === 'jaw.depression' && how === 'from memory',
      ),
    ).toBe(true);
    expect(referenceRange('jaw.depression')).toBeUndefined();
    expect(referenceRange('shoulder.adduction')).toBeUndefined();
  });

  it('is that of the knuckle joint for a finger, and of no other joint of it', () => {
    expect(referenceRange('fingers.flexion', 'mcp')?.value).toBe(90);
    expect(referenceRange('fingers.flexion', 'pip')).toBeUndefined();
  });

  it('lies below the ceiling of its movement, so that a common value is never refused', () => {
    for (const { id, limits } of movements) {
      const found = referenceRange(id);
      if (found && limits && 'max' in limits) expect(found.value, id).toBeLessThan(limits.max);
    }
  });
});

describe('the strength grades', () => {
  it.each([
    // Medical Research Council, Memorandum 45, as tabled in World J Orthop 2017;8:21-29 table 10 and elsewhere.
    ['0', 'no contraction'],
    ['1', 'flicker or trace of contraction'],
    ['2', 'active movement with gravity eliminated'],
    ['3', 'active movement against gravity, none against resistance'],
    ['4', 'active movement against gravity and resistance, weaker than normal'],
    ['5', 'normal power'],
  ])('say of grade %s: %s', (grade, meaning) => {
    expect(findStrengthGrade(grade)).toMatchObject({ meaning, ordinal: Number(grade), extended: false });
  });

  it('have neither 5+ nor 0-, and split grades only as an extension', () => {
    expect(findStrengthGrade('5+')).toBeUndefined();
    expect(findStrengthGrade('0-')).toBeUndefined();
    expect(findStrengthGrade('4++')).toBeUndefined();
    expect(strengthGrades.filter(({ grade }) => /[+-]/.test(grade)).every(({ extended }) => extended)).toBe(
      true,
    );
  });

  it('are ordered as they are read', () => {
    const order = ['0', '1', '2-', '2', '2+', '3-', '3', '3+', '4-', '4', '4+', '5'];
    const sorted = strengthGrades.toSorted((a, b) => a.ordinal - b.ordinal).map(({ grade }) => grade);
    expect(sorted).toEqual(order);
  });
});

describe('the norms of grip', () => {
  it.each([
    // Mathiowetz V et al. Arch Phys Med Rehabil 1985;66:69-74, table of grip, in pounds as printed.
    ['male', 20, 'right', 121.0, 20.6],
    ['male', 20, 'left', 104.5, 21.8],
    ['female', 20, 'right', 70.4, 14.5],
    ['male', 70, 'right', 75.3, 21.5],
    ['female', 70, 'right', 49.6, 11.7],
  ] as const)('give %ss from %d years, %s hand, a mean of %d lb', (sex, age, hand, mean, sd) => {
    const row = gripNorms.find(
      (one) => one.table === 'mathiowetz-1985' && one.sex === sex && one.ageMin === age && one.hand === hand,
    );
    expect(row?.published).toMatchObject({ unit: '[lbf_av]', mean, sd });
    expect(row?.mean).toBeCloseTo(mean * 0.45359237, 1);
  });

  it('hold each mean in kilograms of force to the printed pounds', () => {
    const printed = gripNorms.filter(({ table }) => table === 'mathiowetz-1985');
    expect(printed).toHaveLength(48);
    for (const { id, mean, published } of printed) {
      expect(Math.abs(Number(mean) - Number(published?.['mean']) * 0.45359237), id).toBeLessThanOrEqual(
        0.0501,
      );
    }
  });

  it.each([
    // EWGSOP2 (Age Ageing 2019;48:16-31): grip below 27 kg in men and 16 kg in women.
    ['ewgsop2-male', 27],
    ['ewgsop2-female', 16],
    // AWGS 2019 (J Am Med Dir Assoc 2020;21:300-307).
    ['awgs2019-male', 28],
    ['awgs2019-female', 18],
  ])('give the limit %s of %d kg', (id, value) => {
    expect(gripCutoffs.find((row) => row.id === id)).toMatchObject({ value, unit: 'kgf', how: 'read' });
  });

  it('fall with age in each sex (Tomkinson 2025: highest at 30 to 39 years)', () => {
    for (const sex of ['female', 'male'] as const) {
      const medians = gripNorms
        .filter((row) => row.table === 'tomkinson-2025' && row.sex === sex && (row.ageMin ?? 0) >= 40)
        .toSorted((a, b) => (a.ageMin ?? 0) - (b.ageMin ?? 0))
        .map(({ percentiles }) => Number(percentiles?.['p50']));
      expect(medians.length).toBeGreaterThan(5);
      expect(medians).toEqual(medians.toSorted((a, b) => b - a));
    }
  });
});

describe('a threshold', () => {
  it.each([
    // Bohannon RW. J Phys Ther Sci 2019;31:75-78: 5.0 to 6.5 kg.
    ['grip-mcid-general', { low: 5, high: 6.5, unit: 'kgf' }],
    // British Orthopaedic Association standard on compartment syndrome, 2014: hourly while at risk.
    ['nv-hourly', { value: 1, unit: 'h' }],
    // Huang SC. Spine 1997;22:1985-1989 and SOSORT 2016: 5 and 7 degrees by scoliometer.
    ['scoliometer-5', { value: 5, comparator: '>=' }],
    ['scoliometer-7', { value: 7, comparator: '>=' }],
  ])('%s is as published', (id, expected) => {
    expect(readFigures(thresholds).find((row) => row.id === id)).toMatchObject(expected);
  });

  it('names only movements that the catalogue has', () => {
    const named = rangeOfMotionFigures.flatMap(({ movement }) => movement ?? []);
    expect(named.filter((id) => findMovement(id) === undefined)).toEqual([]);
  });
});
