import { describe, expect, it } from 'vitest';
import {
  bodySiteOf,
  CANONICAL,
  findBodySite,
  findObservable,
  gripObservable,
  hasSite,
  joints,
  lateralityCode,
  measureObservable,
  observables,
  rangeObservable,
  siteCodes,
  siteOfCodings,
  standardCodes,
  standardSiteCodes,
  SYSTEMS,
  type CodeReference,
} from '../../src/catalogue/index.js';
import { readCodes, wrongCodes } from './codes.fixture.js';

const used: readonly CodeReference[] = [
  ...standardCodes,
  ...standardSiteCodes,
  ...(['left', 'right', 'both', 'midline'] as const).map(lateralityCode),
];

/** LOINC check digit: mod 10 over the number (LOINC Users' Guide, appendix on the check digit). */
function loincDigitHolds(code: string): boolean {
  const [number = '', digit] = code.split('-');
  const doubled = Array.from(number)
    .reverse()
    .map((one, index) => (index % 2 === 0 ? String(Number(one) * 2) : one))
    .join('');
  const sum = Array.from(doubled).reduce((total, one) => total + Number(one), 0);
  return String((10 - (sum % 10)) % 10) === digit;
}

const dihedral = [
  '0123456789',
  '1234067895',
  '2340178956',
  '3401289567',
  '4012395678',
  '5987604321',
  '6598710432',
  '7659821043',
  '8765932104',
  '9876543210',
];
const permutation = [
  '0123456789',
  '1576283094',
  '5803796142',
  '8916043527',
  '9453126870',
  '4286573901',
  '2793806415',
  '7046913258',
];

/** SNOMED CT check digit: Verhoeff (SNOMED CT Technical Implementation Guide, check-digit computation). */
function snomedDigitHolds(code: string): boolean {
  return (
    Array.from(code)
      .reverse()
      .reduce((check, digit, index) => {
        const permuted = Number(permutation[index % 8]?.[Number(digit)]);
        return Number(dihedral[check]?.[permuted]);
      }, 0) === 0
  );
}

describe('the codes of the catalogue', () => {
  it('have check digits that hold, recomputed for every LOINC code', () => {
    const codes = used.filter(({ system }) => system === SYSTEMS.loinc);
    expect(codes.length).toBeGreaterThan(25);
    expect(codes.filter(({ code }) => !loincDigitHolds(code))).toEqual([]);
  });

  it('have check digits and a concept partition that hold, recomputed for every SNOMED CT code', () => {
    const codes = used.filter(({ system }) => system === SYSTEMS.snomed);
    expect(codes.length).toBeGreaterThan(100);
    expect(codes.filter(({ code }) => !snomedDigitHolds(code) || !/^\d{3,15}(00|10)\d$/.test(code))).toEqual(
      [],
    );
  });

  it('are checked by a computation that sees a changed digit', () => {
    expect(loincDigitHolds('83174-3')).toBe(true);
    expect(loincDigitHolds('83174-4')).toBe(false);
    expect(loincDigitHolds('83147-3')).toBe(false);
    expect(snomedDigitHolds('6757004')).toBe(true);
    expect(snomedDigitHolds('6757005')).toBe(false);
    expect(snomedDigitHolds('6775004')).toBe(false);
  });

  it('are exactly the codes that were read, each with the wording read for it', () => {
    const systems = { loinc: SYSTEMS.loinc, snomed: SYSTEMS.snomed };
    const read = new Map(readCodes.map(([system, code, display]) => [`${systems[system]}|${code}`, display]));
    const inUse = new Map(used.map(({ system, code, display }) => [`${system}|${code}`, display]));
    expect([...inUse.keys()].sort()).toEqual([...read.keys()].sort());
    for (const [code, display] of inUse) expect(display, code).toBe(read.get(code));
  });

  it.each(wrongCodes)('never include %s: %s', (wrong) => {
    expect(used.filter(({ code }) => code === wrong)).toEqual([]);
    expect(findObservable(SYSTEMS.loinc, wrong)).toBeUndefined();
  });

  it('take 62175007 for the right lower limb and never for a hip', () => {
    expect(findBodySite(SYSTEMS.snomed, '62175007')).toEqual({ joint: 'lower-limb', side: 'right' });
    expect(bodySiteOf('hip', 'right').codings.map(({ code }) => code)).not.toContain('62175007');
  });

  it('take 364564000 for a category and never for a body site', () => {
    expect(standardSiteCodes.map(({ code }) => code)).not.toContain('364564000');
    expect(observables.flatMap(({ codings }) => codings.map(({ code }) => code))).not.toContain('364564000');
  });

  it('stand below one canonical URL and are unique in their own code systems', () => {
    for (const codes of [observables.map(({ code }) => code), siteCodes.map(({ code }) => code)]) {
      expect(new Set(codes).size).toBe(codes.length);
      expect(codes.filter((code) => !/^[a-z0-9][a-z0-9.-]*$/.test(code))).toEqual([]);
    }
    expect(SYSTEMS.observable.startsWith(`${CANONICAL}/CodeSystem/`)).toBe(true);
  });
});

describe('an observable', () => {
  it('shares no coding with another, so that $lastn folds neither two movements nor two hands', () => {
    const owners = new Map<string, string>();
    for (const { code, codings } of observables) {
      for (const coding of codings) {
        const key = `${coding.system}|${coding.code}`;
        expect(owners.get(key) ?? code, key).toBe(code);
        owners.set(key, code);
      }
    }
  });

  it('is grip by the LOINC code of its side and by no other coding', () => {
    expect(gripObservable('right').codings).toEqual([
      { system: 'http://loinc.org', code: '83174-3', display: 'Grip strength Hand - right Dynamometer' },
    ]);
    expect(gripObservable('left').codings.map(({ code }) => code)).toEqual(['83173-5']);
    expect(measureObservable('grip', 'left')).toBe(gripObservable('left'));
  });

  it('keeps a LOINC code that does not say the mode in the category', () => {
    for (const mode of ['active', 'passive'] as const) {
      const { codings, category } = rangeObservable('hip.flexion', mode);
      expect(codings.map(({ system }) => system)).toEqual([SYSTEMS.observable]);
      expect(category.map(({ code }) => code)).toEqual(['364564000', '100293-0']);
    }
  });

  it('leads with LOINC where LOINC says movement and mode', () => {
    expect(rangeObservable('shoulder.flexion', 'active').codings[0]?.code).toBe('41389-8');
    expect(rangeObservable('shoulder.flexion', 'passive').codings[0]?.code).toBe('41390-6');
    expect(rangeObservable('shoulder.flexion', 'active-assisted').codings[0]?.system).toBe(
      SYSTEMS.observable,
    );
  });

  it('is found again by each of its codings, with the side that a code says', () => {
    for (const row of observables) {
      for (const { system, code } of row.codings) expect(findObservable(system, code)).toBe(row);
    }
    expect(findObservable(SYSTEMS.loinc, '41299-9')).toMatchObject({
      item: 'shoulder.abduction',
      mode: 'active',
      side: 'left',
    });
    expect(findObservable(SYSTEMS.loinc, '0000-0')).toBeUndefined();
  });
});

describe('a body site', () => {
  it('has the code of its side for the large joints', () => {
    expect(bodySiteOf('knee', 'right')).toMatchObject({
      codings: [{ code: '6757004', display: 'Structure of right knee region' }, { code: 'knee' }],
      text: 'right knee',
      laterality: { code: '24028007' },
    });
    expect(bodySiteOf('knee', 'left').codings[0]?.code).toBe('82169009');
  });

  it('never has the code of the other side', () => {
    for (const { id, structure } of joints.filter((joint) => joint.structure === 'paired')) {
      const sided = (side: 'left' | 'right'): readonly string[] =>
        bodySiteOf(id, side).codings.map(({ code }) => code);
      for (const { code, display } of bodySiteOf(id, 'left').codings) {
        expect(display ?? '', code).not.toMatch(/\bright\b/i);
        const named = findBodySite(SYSTEMS.snomed, code)?.side;
        expect(named ?? 'left', `${structure} ${id}`).toBe('left');
      }
      expect(sided('right').filter((code) => findBodySite(SYSTEMS.snomed, code)?.side === 'left')).toEqual(
        [],
      );
    }
  });

  it('has no laterality on a midline structure, and takes no side there', () => {
    expect(bodySiteOf('neck').laterality).toBeUndefined();
    expect(() => bodySiteOf('neck', 'left')).toThrow('no side');
  });

  it('is read back by its codings, to the joint of the digit', () => {
    const { codings } = bodySiteOf('fingers', 'left', 'ring', 'pip');
    expect(siteOfCodings(codings)).toEqual({
      joint: 'fingers',
      digit: 'ring',
      digitJoint: 'pip',
      side: 'left',
    });
    expect(siteOfCodings(bodySiteOf('thumb', 'right', undefined, 'mcp').codings)).toEqual({
      joint: 'thumb',
      digitJoint: 'mcp',
      side: 'right',
    });
  });

  it('exists for every joint of a finger, the thumb and a toe, and for no joint that a digit has not', () => {
    const digits: readonly (readonly [string, readonly (string | undefined)[], readonly string[]])[] = [
      ['fingers', ['index', 'middle', 'ring', 'little'], ['mcp', 'pip', 'dip']],
      ['thumb', [undefined], ['cmc', 'mcp', 'ip']],
      ['toes', ['great'], ['mtp', 'ip']],
      ['toes', ['second', 'third', 'fourth', 'little'], ['mtp', 'pip', 'dip']],
    ];
    for (const [joint, names, digitJoints] of digits) {
      for (const digit of names) {
        for (const digitJoint of digitJoints) expect(hasSite(joint, digit, digitJoint)).toBe(true);
      }
    }
    expect(hasSite('toes', 'great', 'pip')).toBe(false);
    expect(hasSite('knee', 'index')).toBe(false);
    expect(() => bodySiteOf('fingers', 'left', 'thumb')).toThrow('no such body site');
  });
});
