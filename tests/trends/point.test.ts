import fc from 'fast-check';
import type { Observation } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import { toObservations } from '../../src/exam/to-observations.js';
import type { Exam, Finding } from '../../src/exam/exam.js';
import { decimal, type Lossless } from '../../src/fhir/index.js';
import { pointsOf, type Point } from '../../src/trends/index.js';
import { arbitraryExam } from '../exam/arbitrary-exam.js';

const NEW_YORK = 'America/New_York';

function exam(finding: Finding): Exam {
  return {
    clientId: 'c1',
    type: 'focused',
    patient: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P04' },
    readBack: { birthDate: '1956' },
    examiner: { identifier: { system: 'http://example.org/demo/staff', value: 'DEMO-PT-01' } },
    performedAt: '2026-03-05T08:10:00-05:00',
    recordedAt: '2026-03-05T08:25:00-05:00',
    positions: [],
    precautions: [],
    confirmed: [],
    findings: [finding],
  };
}

function pointsFor(finding: Finding): readonly Point[] {
  const context = { patientId: 'p', practitionerId: () => undefined, newId: () => 'x' };
  return toObservations(exam(finding), context).flatMap((resource) => pointsOf(resource, NEW_YORK));
}

describe('points of our own Observations', () => {
  test('knee flexion by a long-arm goniometer is one point with side, mode, method and its digits', () => {
    expect(
      pointsFor({
        kind: 'range',
        movement: 'knee.flexion',
        side: 'left',
        mode: 'active',
        extent: { degrees: '60.50' },
        method: 'goniometer-long-arm',
      }),
    ).toEqual([
      {
        item: 'knee.flexion',
        measure: 'range',
        side: 'left',
        mode: 'active',
        method: 'goniometer-long-arm',
        unit: 'deg',
        value: 60.5,
        digits: '60.50',
        effective: Date.UTC(2026, 2, 5, 13, 10),
        status: 'final',
        asExpected: false,
        component: 0,
      },
    ]);
  });

  test('what an extension lacks and how far it goes past straight are two items', () => {
    const items = ['lacks', 'hyperextends'].map(
      (part) =>
        pointsFor({
          kind: 'range',
          movement: 'knee.extension',
          side: 'right',
          mode: 'passive',
          extent: part === 'lacks' ? { lacks: '10' } : { hyperextends: '10' },
        })[0]?.item,
    );
    expect(items).toEqual(['knee.extension-lacks', 'knee.extension-hyperextends']);
  });

  // NIST SP 811, appendix B.8: 1 lbf = 4.448 221 615 260 5 N and 1 kgf = 9.806 65 N, so 1 lbf = 0.453 592 37 kgf.
  test('a grip in pounds is trended in kilogram-force, best of three', () => {
    const [point] = pointsFor({
      kind: 'grip',
      side: 'right',
      trials: ['48', '50', '49'],
      unit: 'lb',
      rule: 'best-of-3',
      device: 'hydraulic',
      handlePosition: 2,
    });
    expect(point).toMatchObject({ item: 'grip', unit: 'kgf', rule: 'best-of-3', position: '2' });
    expect(point?.digits).toBe('22.68');
    expect(point?.device).toBe('hydraulic');
  });

  test('turning the head left is a direction and never a side', () => {
    const [point] = pointsFor({
      kind: 'range',
      movement: 'neck.rotation',
      direction: 'left',
      mode: 'active',
      extent: { degrees: '70' },
    });
    expect(point).toMatchObject({ item: 'neck.rotation', direction: 'left' });
    expect(point).not.toHaveProperty('side');
  });

  test('strength within expected limits is grade 5 of each movement named, marked as expected', () => {
    const points = pointsFor({
      kind: 'as-expected',
      joint: 'knee',
      side: 'left',
      aspects: ['range', 'strength'],
      items: [],
      range: ['knee.flexion'],
      strength: ['knee.flexion', 'knee.extension'],
      definition: '2026-1',
    });
    expect(
      points.map(({ item, value, side, asExpected, component }) => [
        item,
        value,
        side,
        asExpected,
        component,
      ]),
    ).toEqual([
      ['knee.flexion', 5, 'left', true, 2],
      ['knee.extension', 5, 'left', true, 3],
    ]);
  });

  test('a split grade keeps its order and its writing', () => {
    const points = ['4-', '4', '4+'].flatMap((grade) =>
      pointsFor({ kind: 'strength', movement: 'elbow.flexion', side: 'left', grade }),
    );
    expect(points.map(({ digits }) => digits)).toEqual(['4-', '4', '4+']);
    expect([...points].sort((a, b) => a.value - b.value)).toEqual(points);
  });

  test('circumferences of two joints are two series even at a level of one name', () => {
    const items = (['knee', 'elbow'] as const).flatMap((joint) =>
      pointsFor({
        kind: 'measure',
        measure: 'circumference',
        joint,
        side: 'left',
        level: 'middle',
        value: '39.6',
        unit: 'cm',
      }),
    );
    expect(items.map(({ item, level }) => [item, level])).toEqual([
      ['knee.circumference', 'middle'],
      ['elbow.circumference', 'middle'],
    ]);
  });

  test('a range in words and what was not assessed are no points', () => {
    expect(
      pointsFor({
        kind: 'range',
        movement: 'hip.flexion',
        side: 'left',
        mode: 'active',
        extent: { word: 'full' },
      }),
    ).toEqual([]);
    expect(
      pointsFor({ kind: 'not-assessed', side: 'left', aspects: [], subject: 'grip', reason: 'pain' }),
    ).toEqual([]);
  });

  test('no left finding ever gives a right point', () => {
    fc.assert(
      fc.property(arbitraryExam, (drawn) => {
        const lefts = drawn.findings.filter((finding) => 'side' in finding && finding.side === 'left');
        for (const point of lefts.flatMap(pointsFor)) expect(point.side).toBe('left');
      }),
      { numRuns: 100 },
    );
  });
});

describe('points of Observations of another system', () => {
  const foreign = (more: Partial<Lossless<Observation>>): Lossless<Observation> => ({
    resourceType: 'Observation',
    status: 'final',
    code: { coding: [{ system: 'http://loinc.org', code: '83174-3' }] },
    effectiveDateTime: '2026-03-05',
    valueQuantity: { value: decimal('50.0'), system: 'http://unitsofmeasure.org', code: '[lbf_av]' },
    ...more,
  });

  test('a right grip by its LOINC code alone is understood, its day read on the clock of the site', () => {
    expect(pointsOf(foreign({}), NEW_YORK)).toEqual([
      {
        item: 'grip',
        measure: 'grip',
        side: 'right',
        unit: 'kgf',
        value: 22.6796185,
        digits: '22.68',
        effective: Date.UTC(2026, 2, 5, 5),
        status: 'final',
        asExpected: false,
        component: 0,
      },
    ]);
  });

  test('a code of the right hand at a left body site gives no point', () => {
    const bodySite = { coding: [{ system: 'http://snomed.info/sct', code: '85151006' }] };
    expect(pointsOf(foreign({ bodySite }), NEW_YORK)).toEqual([]);
  });

  // R4 datatypes, Quantity: `unit` is for people, and a quantity need not have a code.
  test.each([
    ['lbs', '50.0', '22.68'],
    ['kg', '20', '20'],
  ])('a grip in %s, in words alone, is in kilogram-force as well', (unit, value, digits) => {
    const valueQuantity = { value: decimal(value), unit };
    expect(pointsOf(foreign({ valueQuantity }), NEW_YORK)).toMatchObject([{ unit: 'kgf', digits }]);
  });

  test('an angle in degrees, in words alone, joins those with a code', () => {
    const code = { coding: [{ system: 'http://loinc.org', code: '41299-9' }] };
    const valueQuantity = { value: 90, unit: 'Degrees' };
    expect(pointsOf(foreign({ code, valueQuantity }), NEW_YORK)).toMatchObject([
      { item: 'shoulder.abduction', side: 'left', unit: 'deg', value: 90 },
    ]);
  });

  test('a unit that cannot be converted stays a series of its own', () => {
    const valueQuantity = { value: 3, system: 'http://unitsofmeasure.org', code: 'kPa' };
    expect(pointsOf(foreign({ valueQuantity }), NEW_YORK)).toMatchObject([
      { unit: 'kPa', value: 3, digits: '3' },
    ]);
  });

  test('an unknown code, a missing time and a "less than" give no point', () => {
    const unknown = { coding: [{ system: 'http://loinc.org', code: '8867-4' }] };
    expect(pointsOf(foreign({ code: unknown }), NEW_YORK)).toEqual([]);
    const { effectiveDateTime, ...timeless } = foreign({});
    expect([effectiveDateTime, pointsOf(timeless, NEW_YORK)]).toEqual(['2026-03-05', []]);
    const below = { ...foreign({}).valueQuantity, comparator: '<' as const };
    expect(pointsOf(foreign({ valueQuantity: below }), NEW_YORK)).toEqual([]);
  });
});
