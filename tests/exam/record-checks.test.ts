import fc from 'fast-check';
import { describe, expect, it } from 'vitest';

import type { AsExpectedFinding, Exam, Finding, Precaution } from '../../src/exam/exam.js';
import { findingKey } from '../../src/exam/finding-key.js';
import type { Issue } from '../../src/exam/issue.js';
import type { PatientRecord, SeriesTail } from '../../src/exam/patient-record.js';
import { readingsOf } from '../../src/exam/readings.js';
import { checkAgainstRecord } from '../../src/exam/record-checks.js';
import { DEFAULT_SITE_RULES } from '../../src/exam/rules.js';
import { standingOf } from '../../src/exam/standing.js';

// The patients and their week are invented; what must be asked and what must pass quietly is common practice of the
// field. Figures: measurement error of goniometry, J Exp Orthop 2018 (doi 10.1186/s40634-018-0161-5), 10 degrees long
// arm, 14 by eye; grip 5 to 6.5 kg, Bohannon 2019 J Phys Ther Sci 31:75-78. 2 cm, 8 % and the pound ratios are design.

/** A shift of the week: odd ones are days (08:00), even ones nights (20:00), from Monday 2 March 2026. */
function shift(number: number, clock = number % 2 === 1 ? '08:00' : '20:00'): string {
  return `2026-03-0${Math.ceil(number / 2) + 1}T${clock}:00-05:00`;
}

type Said = Partial<Pick<Exam, 'precautions' | 'positions' | 'confirmed'>>;

function exam(performedAt: string, findings: readonly Finding[], said: Said = {}): Exam {
  return {
    clientId: performedAt,
    type: 'focused',
    patient: { system: 'http://example.org/demo/mrn', value: 'DEMO' },
    readBack: { name: 'Zzexample' },
    examiner: { identifier: { system: 'http://example.org/staff', value: 'RN' } },
    performedAt,
    recordedAt: performedAt,
    positions: [],
    precautions: [],
    confirmed: [],
    ...said,
    findings,
  };
}

const STAYS: PatientRecord['stays'] = [
  { start: { ms: Date.parse('2026-03-01T12:00:00-05:00'), text: '2026-03-01T12:00:00-05:00' } },
];

/** What earlier exams leave on record, as their points and standing findings do. */
function recordOf(earlier: readonly Exam[], more: Partial<PatientRecord> = {}): PatientRecord {
  const exams = earlier.map((one) => ({ ...one, performedAt: Date.parse(one.performedAt) }));
  const tails = earlier.flatMap((one) =>
    one.findings.flatMap(readingsOf).map(({ value, asExpected, ...words }): SeriesTail => {
      const effective = Date.parse(one.performedAt);
      return { ...words, points: [{ effective, value, asExpected, status: 'final' }] };
    }),
  );
  return { stays: STAYS, series: tails, knownSides: [], ...standingOf(exams), ...more };
}

function issuesOf(taken: Exam, record: PatientRecord): readonly Issue[] {
  const places = new Map(taken.findings.map((finding, index) => [findingKey(finding), `/findings/${index}`]));
  return checkAgainstRecord(taken, places, record, DEFAULT_SITE_RULES);
}

function asked(taken: Exam, record: PatientRecord): readonly string[] {
  return issuesOf(taken, record).map(({ severity, code, place }) => `${severity} ${code} ${place}`);
}

/** The issues of each exam of a series, held against those before it. */
function askedInTurn(exams: readonly Exam[], more: Partial<PatientRecord> = {}): readonly string[] {
  return exams.flatMap((one, index) => asked(one, recordOf(exams.slice(0, index), more)));
}

type Side = 'left' | 'right';
type Mode = 'active' | 'active-assisted' | 'passive';
type RangeOptions = { readonly mode?: Mode; readonly method?: string };

function range(movement: string, side: Side, degrees: number, options: RangeOptions = {}): Finding {
  const { mode = 'active', method = 'goniometer-long-arm' } = options;
  return { kind: 'range', movement, side, mode, method, extent: { degrees: String(degrees) } };
}

function lacks(movement: string, side: Side, degrees: number): Finding {
  const extent = { lacks: String(degrees) };
  return { kind: 'range', movement, side, mode: 'active', method: 'goniometer-long-arm', extent };
}

function full(movement: string, side?: Side): Finding {
  return { kind: 'range', movement, ...(side && { side }), mode: 'active', extent: { word: 'full' } };
}

function grade(movement: string, side: Side | undefined, value: number | string): Finding {
  return { kind: 'strength', movement, ...(side && { side }), grade: String(value) };
}

function grip(side: Side, value: number, unit: 'kg' | 'lb' = 'kg'): Finding {
  return { kind: 'grip', side, trials: [String(value)], unit, rule: 'best-of-3', device: 'hydraulic' };
}

function girth(side: Side, value: string, level = 'mid-patella', unit = 'cm'): Finding {
  return { kind: 'measure', measure: 'circumference', joint: 'knee', side, level, value, unit };
}

function seen(joint: string, side: Side | undefined, items: Readonly<Record<string, string>>): Finding {
  const told = Object.entries(items).map(([item, value]) => ({ item, value }));
  return { kind: 'look-feel', joint, ...(side && { side }), items: told };
}

function expected(joint: string, side: Side, more: Partial<AsExpectedFinding> = {}): AsExpectedFinding {
  return {
    kind: 'as-expected',
    joint,
    side,
    aspects: ['look', 'feel', 'range', 'strength'],
    items: ['swelling', 'redness', 'deformity', 'tenderness', 'warmth'],
    range: [`${joint}.flexion`, `${joint}.extension`],
    strength: [`${joint}.flexion`, `${joint}.extension`],
    definition: '2026-1',
    ...more,
  };
}

function cast(joints: readonly string[], side: Side, more: { since?: string; until?: string } = {}): Finding {
  return { kind: 'on-body', device: 'cast', joints, side, ...more };
}

const order = (precaution: string, side?: Side): Precaution => ({ precaution, ...(side && { side }) });

/** Both sides of the legs by grade. */
const legs = (value: number): readonly Finding[] =>
  (['left', 'right'] as const).flatMap((side) => [
    grade('hip.flexion', side, value),
    grade('knee.extension', side, value),
    grade('ankle.dorsiflexion', side, value),
  ]);

describe('the week of the ward: what must be asked or refused', () => {
  it('P01: hip adduction past midline under posterior limits is asked about (S5)', () => {
    const first = exam(shift(1), [range('hip.flexion', 'left', 40)], {
      precautions: [order('hip-posterior', 'left')],
    });
    const later = exam(shift(5), [range('hip.flexion', 'left', 55), range('hip.adduction', 'left', 10)]);
    expect(asked(later, recordOf([first]))).toEqual(['confirm SF-01 /findings/1']);
  });

  it('P03: the knee values of the right side entered on the left are asked about, once (S4)', () => {
    const days = [exam(shift(1), right(55, 12)), exam(shift(3), right(65, 10))];
    const slip = exam(shift(4), [range('knee.flexion', 'left', 74), lacks('knee.extension', 'left', 10)]);
    const [issue, ...others] = issuesOf(slip, recordOf(days));
    expect(others).toEqual([]);
    expect(issue).toMatchObject({ severity: 'confirm', code: 'LT-04', place: '/findings/0', found: 'left' });
    expect(issue?.sentence).toMatch(
      /^Left knee: flexion 74 deg .*right knee \(last 65 deg\).*left or right\?$/,
    );
  });

  it('P03: they are asked about too when the left knee has its own, other value', () => {
    const days = [
      exam(shift(1), [...right(55, 12), range('knee.flexion', 'left', 130)]),
      exam(shift(3), right(65, 10)),
    ];
    const slip = exam(shift(4), [range('knee.flexion', 'left', 74), lacks('knee.extension', 'left', 10)]);
    expect(asked(slip, recordOf(days))).toEqual(['confirm LT-04 /findings/0']);
  });

  it('P09: wrist flexion inside the cast is asked about (S6)', () => {
    const put = exam(shift(1), [cast(['wrist'], 'right')]);
    expect(asked(exam(shift(6), [range('wrist.flexion', 'right', 60)]), recordOf([put]))).toEqual([
      'confirm BP-03 /findings/0',
    ]);
  });

  it('P12: a grip of 53 after 24, 24, 23 is asked about, and 24 the day after is not', () => {
    const days = [24, 24, 23, 53, 24].map((value, day) => exam(shift(2 * day + 1), [grip('right', value)]));
    expect(askedInTurn(days)).toEqual(['confirm VL-07 /findings/0']);
    const [issue] = issuesOf(days[3]!, recordOf(days.slice(0, 3)));
    expect(issue?.sentence).toContain('24, 24, 23 kg');
  });

  it('P14: full range of a knee with an open contracture is asked about (S7)', () => {
    const known = exam(shift(1), [
      seen('knee', 'left', { deformity: 'contracture' }),
      seen('knee', 'right', { deformity: 'contracture' }),
    ]);
    const covering = exam(shift(7), [full('knee.extension', 'left'), full('knee.extension', 'right')]);
    expect(asked(covering, recordOf([known]))).toEqual([
      'confirm CX-01 /findings/0',
      'confirm CX-01 /findings/1',
    ]);
  });

  it('P14: so it is when the record has only the 25 degrees that the knee lacks', () => {
    const days = [1, 3, 5].map((number) =>
      exam(shift(number), [lacks('knee.extension', 'left', 25), lacks('knee.extension', 'right', 25)]),
    );
    const covering = exam(shift(7), [full('knee.extension', 'left')]);
    expect(askedInTurn([...days, covering])).toEqual(['confirm CX-01 /findings/0']);
  });

  it('P15: a finding at an amputated ankle is refused and no confirmation helps (S10)', () => {
    const below: Finding = {
      kind: 'absent-part',
      joints: ['ankle', 'foot', 'toes'],
      side: 'right',
      level: 'below knee',
    };
    const both = exam(
      shift(10),
      [
        grade('ankle.dorsiflexion', 'right', 5),
        grade('ankle.dorsiflexion', 'left', 5),
        expected('knee', 'right'),
      ],
      { confirmed: ['BP-01'] },
    );
    const record = recordOf([exam(shift(1), [below])]);
    expect(asked(both, record)).toEqual(['error BP-01 /findings/0']);
    expect(issuesOf(both, record)[0]?.sentence).toBe(
      'Strength of dorsiflexion is given, and the right ankle is absent (below knee).',
    );
    const pushed: Finding = { kind: 'screen', screen: 'foot-push', result: 'equal-strong' };
    expect(asked(exam(shift(10), [pushed]), record)).toEqual(['error BP-01 /findings/0']);
  });

  it('P16: grade 5 after months of 0 is asked about (S10), once for a joint', () => {
    const days = [1, 3, 5, 7].map((number) => exam(shift(number), legs(0)));
    expect(askedInTurn(days)).toEqual([]);
    const strong = exam(shift(10), [...legs(5), grade('knee.flexion', 'left', 5)]);
    const codes = asked(strong, recordOf(days));
    expect(codes).toHaveLength(6);
    expect(new Set(codes.map((line) => line.slice(0, 13)))).toEqual(new Set(['confirm CX-10']));
    expect(asked({ ...strong, confirmed: ['CX-10'] }, recordOf(days))[0]).toMatch(/^info CX-10/);
  });

  it('P16: so it is when grade 5 is only said as within expected limits', () => {
    const days = [1, 3].map((number) => exam(shift(number), legs(0)));
    const strength = ['ankle.dorsiflexion'];
    const taken = exam(shift(10), [expected('ankle', 'left', { items: [], range: [], strength })]);
    expect(asked(taken, recordOf(days))).toEqual(['confirm CX-10 /findings/0']);
  });

  it('P21: a full forward bend under spine precautions is asked about (S8)', () => {
    const first = exam(shift(1), [], { precautions: [order('spine')] });
    expect(asked(exam(shift(8), [full('trunk.flexion')]), recordOf([first]))).toEqual([
      'confirm SF-01 /findings/0',
    ]);
  });

  it('P22: no swelling with 3 cm more at the same level is asked about (S7)', () => {
    const before = exam(shift(5), [girth('left', '40.0')]);
    const taken = exam(shift(7), [seen('knee', 'left', { swelling: 'none' }), girth('left', '43.0')]);
    expect(asked(taken, recordOf([before]))).toEqual(['confirm CX-04 /findings/1']);
  });

  it('P23: active movement of a replaced shoulder is asked about (S8), and not as more than passive', () => {
    const days = [
      exam(shift(3), [range('shoulder.flexion', 'right', 60, { mode: 'passive' })], {
        precautions: [order('shoulder-replacement', 'right')],
      }),
      exam(shift(7), [range('shoulder.flexion', 'right', 75, { mode: 'passive' })]),
    ];
    expect(askedInTurn(days)).toEqual([]);
    expect(asked(exam(shift(8), [range('shoulder.flexion', 'right', 110)]), recordOf(days))).toEqual([
      'confirm SF-01 /findings/0',
    ]);
  });

  it('P24: an exam before arrival is refused by the arrival', () => {
    const start = { ms: Date.parse('2026-03-04T21:10:00-05:00'), text: '2026-03-04T21:10:00-05:00' };
    const [issue] = issuesOf(exam(shift(6), []), recordOf([], { stays: [{ start }] }));
    expect(issue).toMatchObject({ severity: 'error', code: 'TM-03', place: '/performedAt' });
    expect(issue?.sentence).toContain(start.text);
  });
});

function right(flexion: number, lacking: number): readonly Finding[] {
  return [range('knee.flexion', 'right', flexion), lacks('knee.extension', 'right', lacking)];
}

describe('the week of the ward: what must pass quietly', () => {
  it('P01: the other days of the hip', () => {
    const flexion = [40, 50, 55, 60, 65, 70, 70];
    const strength = [undefined, undefined, 3, 3, 4, 4, 4];
    const days = flexion.map((degrees, day) => {
      const value = strength[day];
      return exam(
        shift(2 * day + 1),
        [
          range('hip.flexion', 'left', degrees),
          ...(value === undefined ? [] : [grade('hip.abduction', 'left', value)]),
          expected('hip', 'right', { range: ['hip.flexion'], strength: ['hip.abduction'] }),
        ],
        { precautions: day === 0 ? [order('hip-posterior', 'left')] : [] },
      );
    });
    expect(askedInTurn(days)).toEqual([]);
  });

  it('P02: a foot that falls from 4 to 2', () => {
    const grades: readonly (readonly [number, number])[] = [
      [1, 4],
      [3, 4],
      [5, 4],
      [6, 2],
      [7, 2],
    ];
    const left = exam(shift(1), [grade('ankle.dorsiflexion', 'left', 5)]);
    const week = grades.map(([number, value]) =>
      exam(shift(number), [grade('ankle.dorsiflexion', 'right', value)]),
    );
    expect(askedInTurn([left, ...week])).toEqual([]);
  });

  it('P03: the right knee day by day, the slip withdrawn, with its girth 10 % above the other', () => {
    const days = [55, 65, 72, 80, 88, 95, 100].map((degrees, day) =>
      exam(shift(2 * day + 1), [
        ...right(degrees, [12, 10, 10, 8, 7, 5, 5][day] ?? 0),
        seen('knee', 'right', { swelling: 'moderate' }),
        girth('right', '44'),
        girth('left', '40'),
      ]),
    );
    const slip = recordOf([exam(shift(4), [range('knee.flexion', 'left', 74)])]).series.map((tail) => ({
      ...tail,
      points: tail.points.map((point) => ({ ...point, status: 'entered-in-error' })),
    }));
    const all = days.flatMap((one, index) => {
      const record = recordOf(days.slice(0, index));
      return asked(one, { ...record, series: [...record.series, ...slip] });
    });
    expect(all).toEqual([]);
  });

  it('P06: a weak arm that gets weaker in one day, beside a strong one or alone', () => {
    const steps = [
      ['08:10', 4],
      ['12:00', 3],
      ['15:30', 1],
    ] as const;
    for (const beside of [[], [grade('shoulder.abduction', 'left', 5)]])
      expect(
        askedInTurn(
          [exam(shift(1), [grade('shoulder.abduction', 'left', 5)])].concat(
            steps.map(([clock, value]) =>
              exam(shift(5, clock), [grade('shoulder.abduction', 'right', value), ...beside]),
            ),
          ),
        ),
      ).toEqual([]);
  });

  it('P07: a grip that is weak each morning and stronger each evening, of one hand or both', () => {
    const kilograms = [9, 15, 9.5, 15.5, 10, 16, 11, 16, 11, 17, 11.5, 17, 12.5, 18, 13, 18.5];
    for (const both of [false, true])
      expect(
        askedInTurn(
          kilograms
            .slice(0, 14)
            .map((value, index) =>
              exam(shift(index + 1), [grip('right', value), ...(both ? [grip('left', value - 0.5)] : [])]),
            ),
        ),
      ).toEqual([]);
  });

  it('P10 and P11: a grip that falls slowly, and one that only wavers', () => {
    for (const week of [
      [17.5, 16.8, 15.9, 14.6, 13.2, 12.0, 11.4],
      [21.0, 19.8, 21.4, 20.2, 20.9, 19.5, 20.7],
    ])
      expect(
        askedInTurn(
          week.map((kg, day) => exam(shift(2 * day + 1), [grip('right', kg), grip('left', kg - 1)])),
        ),
      ).toEqual([]);
  });

  it('P13: weakness that climbs on both sides', () => {
    const week = {
      'ankle.dorsiflexion': [5, 4, 4, 3, 2],
      'knee.extension': [5, 5, 4, 4, 3],
      'hip.flexion': [5, 5, 5, 4, 4],
      'fingers.flexion': [5, 5, 5, 5, 4],
    };
    const exams = [0, 1, 2, 3, 4].map((index) =>
      exam(
        shift(index + 1),
        Object.entries(week).flatMap(([movement, grades]) => [
          grade(movement, 'left', grades[index] ?? 5),
          grade(movement, 'right', grades[index] ?? 5),
        ]),
      ),
    );
    expect(askedInTurn(exams)).toEqual([]);
  });
});

describe('the time of an exam', () => {
  const start = { ms: Date.parse('2026-03-02T09:30:00Z'), text: '2026-03-02T09:30:00Z' };
  const end = { ms: Date.parse('2026-03-04T20:00:00Z'), text: '2026-03-04T20:00:00Z' };
  const codes = (performedAt: string, stays: PatientRecord['stays']): readonly string[] =>
    asked(exam(performedAt, []), recordOf([], { stays }));

  it('is inside a stay from its first to its last moment', () => {
    expect(codes('2026-03-02T04:30:00-05:00', [{ start, end }])).toEqual([]);
    expect(codes('2026-03-04T20:00:00Z', [{ start, end }])).toEqual([]);
    expect(codes('2026-03-09T20:00:00Z', [{ start }])).toEqual([]);
  });

  it('is refused outside every stay, naming the nearer of arrival and discharge', () => {
    const issue = (performedAt: string): Issue | undefined =>
      issuesOf(exam(performedAt, []), recordOf([], { stays: [{ start, end }] }))[0];
    expect(issue('2026-03-02T09:29:59Z')?.sentence).toContain(`arrived at ${start.text}`);
    expect(issue('2026-03-04T20:00:01Z')?.sentence).toContain(`discharged at ${end.text}`);
    expect(issue('2026-03-04T20:00:01Z')?.severity).toBe('error');
  });

  it('counts in an earlier encounter, such as one of the emergency department', () => {
    const emergency = { start: { ms: start.ms - 7_200_000, text: 'earlier' }, end: start };
    expect(codes('2026-03-02T08:00:00Z', [{ start, end }, emergency])).toEqual([]);
  });

  it('is only remarked on where no stay is known', () => {
    expect(codes(shift(1), [])).toEqual(['advise TM-03 /performedAt']);
  });
});

describe('left and right', () => {
  const first = exam(shift(1), [grade('hip.flexion', 'left', 2), grade('hip.flexion', 'right', 5)]);

  it('exchanged for each other are asked about once', () => {
    const swapped = exam(shift(2), [
      grade('hip.flexion', 'left', 5),
      grade('hip.flexion', 'right', 2),
      grip('left', 20),
      grip('right', 30),
    ]);
    const grips = exam(shift(1), [grip('left', 29), grip('right', 20)]);
    expect(asked(swapped, recordOf([first, grips]))).toEqual(['confirm LT-05 /findings/0']);
  });

  it('exchanged are asked about when one grade is said as within expected limits', () => {
    const strength = ['hip.flexion'];
    const swapped = exam(shift(2), [
      expected('hip', 'left', { items: [], range: [], strength }),
      grade('hip.flexion', 'right', 2),
    ]);
    expect(asked(swapped, recordOf([first]))).toContain('confirm LT-05 /findings/0');
  });

  it('as they were, or both alike, are not asked about', () => {
    const same = exam(shift(2), [grade('hip.flexion', 'left', 2), grade('hip.flexion', 'right', 5)]);
    const better = exam(shift(2), [grade('hip.flexion', 'left', 3), grade('hip.flexion', 'right', 5)]);
    expect(asked(same, recordOf([first]))).toEqual([]);
    expect(asked(better, recordOf([first]))).toEqual([]);
  });

  it('are not asked about at a first look at a healthy other side, nor when the exam has both', () => {
    const days = [
      exam(shift(1), [range('knee.flexion', 'right', 128)]),
      exam(shift(3), [range('knee.flexion', 'right', 130)]),
    ];
    expect(asked(exam(shift(5), [range('knee.flexion', 'left', 131)]), recordOf(days))).toEqual([]);
    const stiff = [exam(shift(1), right(55, 12)), exam(shift(3), right(65, 10))];
    const both = exam(shift(5), [range('knee.flexion', 'left', 66), range('knee.flexion', 'right', 70)]);
    expect(asked(both, recordOf(stiff))).toEqual([]);
  });

  it('are asked about by a grade only where it is the very grade of the other side', () => {
    const record = recordOf([
      exam(shift(1), [grade('hip.flexion', 'left', 5), grade('hip.flexion', 'right', 2)]),
    ]);
    expect(asked(exam(shift(2), [grade('hip.flexion', 'left', 2)]), record)).toEqual([
      'confirm LT-04 /findings/0',
    ]);
    expect(asked(exam(shift(2), [grade('hip.flexion', 'left', 3)]), record)).toEqual([]);
  });

  it('are not asked about by a reading older than a week', () => {
    const old = [exam('2026-02-01T08:00:00Z', right(55, 12)), exam('2026-02-02T08:00:00Z', right(65, 10))];
    expect(asked(exam(shift(1), [range('knee.flexion', 'left', 66)]), recordOf(old))).toEqual([]);
  });

  it('are asked about when something new is seen opposite to a known problem', () => {
    const knownSides = [{ joint: 'knee', side: 'left' as const, problem: 'a knee replacement', since: 0 }];
    const record = recordOf([], { knownSides });
    const there = exam(shift(1), [seen('knee', 'right', { swelling: 'moderate' })]);
    expect(asked(there, record)).toEqual(['confirm LT-04 /findings/0']);
    expect(asked(exam(shift(1), [seen('knee', 'left', { swelling: 'moderate' })]), record)).toEqual([]);
    expect(asked(exam(shift(1), [seen('knee', 'right', { swelling: 'none' })]), record)).toEqual([]);
    const open = recordOf([exam(shift(1), there.findings)], { knownSides });
    expect(asked(exam(shift(2), [seen('knee', 'right', { swelling: 'mild' })]), open)).toEqual([]);
  });
});

describe('values against the record', () => {
  it('active range beyond the passive of the same session is asked about, two hours on it is not', () => {
    const passive = exam(shift(1, '08:00'), [range('knee.flexion', 'left', 80, { mode: 'passive' })]);
    const active = (clock: string, degrees: number, method?: string): readonly string[] =>
      asked(
        exam(shift(1, clock), [
          range('knee.flexion', 'left', degrees, method === undefined ? {} : { method }),
        ]),
        recordOf([passive]),
      );
    expect(active('09:00', 91)).toEqual(['confirm VL-04 /findings/0']);
    expect(active('09:00', 90)).toEqual([]);
    expect(active('10:00', 91)).toEqual([]);
    expect(active('09:00', 93, 'visual-estimate')).toEqual([]);
    expect(active('09:00', 95, 'visual-estimate')).toEqual(['confirm VL-04 /findings/0']);
  });

  it('passive range short of the active of the same session is asked about too, and lacking counts the other way', () => {
    const active = exam(shift(1, '08:00'), [
      range('knee.flexion', 'left', 91),
      lacks('knee.extension', 'left', 5),
    ]);
    const taken = exam(shift(1, '09:00'), [
      range('knee.flexion', 'left', 80, { mode: 'passive' }),
      { ...lacks('knee.extension', 'left', 20), mode: 'passive' } as Finding,
    ]);
    expect(asked(taken, recordOf([active]))).toEqual([
      'confirm VL-04 /findings/0',
      'confirm VL-04 /findings/1',
    ]);
  });

  it('a grip in pounds is held against kilograms: 53 lb after 24 kg is right, 24 lb is asked about', () => {
    const days = [1, 3, 5].map((number) => exam(shift(number), [grip('right', 24)]));
    expect(asked(exam(shift(7), [grip('right', 53, 'lb')]), recordOf(days))).toEqual([]);
    expect(asked(exam(shift(7), [grip('right', 24, 'lb')]), recordOf(days))).toEqual([
      'confirm VL-07 /findings/0',
    ]);
  });

  it('only the last three grips count, and none that was taken after a late entry', () => {
    const grips = [10, 10, 10, 10, 24, 24, 24].map((kg, index) =>
      exam(shift(index + 1), [grip('right', kg)]),
    );
    expect(asked(exam(shift(9), [grip('right', 24)]), recordOf(grips))).toEqual([]);
    expect(asked(exam(shift(1, '07:00'), [grip('right', 24)]), recordOf(grips))).toEqual([]);
  });

  it.each([
    [45.6, true],
    [45.5, false],
    [60, true],
    [60.1, false],
    [12.48, true],
    [12.5, false],
    [9.6, true],
    [9.5, false],
  ])('the ratios of a unit slip end where the rule says: %d kg after 24', (kg, slips) => {
    const days = [1, 3, 5].map((number) => exam(shift(number), [grip('right', 24)]));
    const codes = asked(exam(shift(7), [grip('right', kg)]), recordOf(days));
    expect(codes).toEqual(slips ? ['confirm VL-07 /findings/0'] : []);
  });

  it('no swelling with 8 % more than the other side is asked about; with a word of swelling, or within, it is not', () => {
    const codes = (swelling: string, left: string): readonly string[] =>
      asked(
        exam(shift(1), [seen('knee', 'left', { swelling }), girth('left', left), girth('right', '40')]),
        recordOf([]),
      );
    expect(codes('none', '43.3')).toEqual(['confirm CX-04 /findings/1']);
    expect(codes('none', '43.2')).toEqual([]);
    expect(codes('mild', '43.3')).toEqual([]);
  });

  it('a girth is held against the same level only, whatever the unit of length', () => {
    const none = seen('knee', 'left', { swelling: 'none' });
    const codes = (...now: readonly Finding[]): readonly string[] =>
      asked(exam(shift(3), [none, ...now]), recordOf([exam(shift(1), [girth('left', '40.0')])]));
    expect(codes(girth('left', '48', 'mid-thigh'))).toEqual([]);
    expect(codes(girth('left', '430', 'mid-patella', 'mm'))).toEqual(['confirm CX-04 /findings/1']);
    expect(codes(girth('left', '410', 'mid-patella', 'mm'))).toEqual([]);
    expect(codes(girth('left', '42.0'))).toEqual([]);
  });

  it('a single grade 0, or a rise by 2, is no known loss that recovers unexplained', () => {
    const once = [exam(shift(1), [grade('knee.extension', 'left', 0)])];
    const rise = exam(shift(5), [grade('knee.extension', 'left', 4)]);
    expect(asked(rise, recordOf(once))).toEqual([]);
    const twice = [...once, exam(shift(3), [grade('knee.extension', 'left', 1)])];
    expect(asked(rise, recordOf(twice))).toEqual(['confirm CX-10 /findings/0']);
    expect(asked(exam(shift(5), [grade('knee.extension', 'left', 3)]), recordOf(twice))).toEqual([]);
  });
});

describe('within expected limits', () => {
  const swollen = exam(shift(1), [seen('knee', 'left', { swelling: 'moderate', warmth: 'same' })]);

  it('over an open abnormal finding asks whether it is resolved, naming it', () => {
    const [issue, ...others] = issuesOf(exam(shift(2), [expected('knee', 'left')]), recordOf([swollen]));
    expect(others).toEqual([]);
    expect(issue).toMatchObject({ severity: 'confirm', code: 'CM-04', place: '/findings/0' });
    expect(issue?.sentence).toContain('swelling moderate (2026-03-02 08:00)');
  });

  it('is not asked about on the other side, for aspects it does not say, or after the finding was resolved', () => {
    expect(asked(exam(shift(2), [expected('knee', 'right')]), recordOf([swollen]))).toEqual([]);
    const moved = expected('knee', 'left', { aspects: ['range'], items: [], strength: [] });
    expect(asked(exam(shift(2), [moved]), recordOf([swollen]))).toEqual([]);
    const gone = exam(shift(2), [seen('knee', 'left', { swelling: 'none' })]);
    expect(asked(exam(shift(3), [expected('knee', 'left')]), recordOf([swollen, gone]))).toEqual([]);
    const confirmed = exam(shift(2), [expected('knee', 'left')]);
    expect(asked(exam(shift(3), [expected('knee', 'left')]), recordOf([swollen, confirmed]))).toEqual([]);
  });

  it('over a weak grade or a clearly limited range asks too', () => {
    const weak = exam(shift(1), [grade('knee.extension', 'left', 3), range('knee.flexion', 'left', 65)]);
    const [issue] = issuesOf(exam(shift(2), [expected('knee', 'left')]), recordOf([weak]));
    expect(issue?.code).toBe('CM-04');
    expect(issue?.sentence).toMatch(/strength of extension grade 3 .* and flexion 65 deg/);
    const near = exam(shift(1), [grade('knee.extension', 'left', 4), range('knee.flexion', 'left', 120)]);
    expect(asked(exam(shift(2), [expected('knee', 'left')]), recordOf([near]))).toEqual([]);
  });

  it('over a small range short by no more than its error does not ask', () => {
    const narrow = exam(shift(1), [range('ankle.dorsiflexion', 'left', 10)]);
    const taken = expected('ankle', 'left', { items: [], range: ['ankle.dorsiflexion'], strength: [] });
    expect(asked(exam(shift(2), [taken]), recordOf([narrow]))).toEqual([]);
    const stiff = exam(shift(1), [range('ankle.dorsiflexion', 'left', 5)]);
    expect(asked(exam(shift(2), [taken]), recordOf([stiff]))).toEqual(['confirm CM-04 /findings/0']);
  });

  it('with full range over a contracture asks by both rules, unless the exam says how the joint is limited now', () => {
    const known = recordOf([exam(shift(1), [seen('knee', 'left', { deformity: 'contracture' })])]);
    expect(asked(exam(shift(2), [expected('knee', 'left')]), known)).toEqual([
      'confirm CX-01 /findings/0',
      'confirm CM-04 /findings/0',
    ]);
    const said = [full('knee.extension', 'left'), seen('knee', 'left', { deformity: 'none' })];
    expect(asked(exam(shift(2), said), known)).toEqual([]);
    const bent = [full('knee.flexion', 'left'), lacks('knee.extension', 'left', 25)];
    expect(asked(exam(shift(2), bent), known)).toEqual([]);
  });

  it('entered late is held against what stood then, not against what came after', () => {
    const gone = exam(shift(3), [seen('knee', 'left', { swelling: 'none' })]);
    const record = recordOf([swollen, gone]);
    expect(asked(exam(shift(2), [expected('knee', 'left')]), record)).toEqual(['confirm CM-04 /findings/0']);
    expect(asked(exam(shift(1, '07:00'), [expected('knee', 'left')]), record)).toEqual([]);
    expect(asked(exam(shift(1), [expected('knee', 'left')]), record)).toEqual([]);
  });
});

describe('casts, prostheses and absent parts on record', () => {
  it('a cast asks about range, strength, grip and girth inside it, not about skin, fingers or the other side', () => {
    const record = recordOf([exam(shift(1), [cast(['wrist'], 'left')])]);
    const inside = [grade('wrist.flexion', 'left', 5), grip('left', 20)];
    expect(asked(exam(shift(2), inside), record)).toEqual([
      'confirm BP-03 /findings/0',
      'confirm BP-03 /findings/1',
    ]);
    const outside = [
      full('fingers.flexion', 'left'),
      range('wrist.flexion', 'right', 70),
      seen('wrist', 'left', { swelling: 'none' }),
    ];
    expect(asked(exam(shift(2), outside), record)).toEqual([]);
  });

  it('a cast is in force until an exam ends it, and no longer', () => {
    const put = exam(shift(1), [cast(['wrist'], 'left')]);
    const off = exam(shift(5), [cast(['wrist'], 'left', { until: shift(4, '22:00') })]);
    const moved = (number: number): readonly string[] =>
      asked(exam(shift(number), [full('wrist.flexion', 'left')]), recordOf([put, off]));
    expect(moved(4)).toEqual(['confirm BP-03 /findings/0']);
    expect(moved(6)).toEqual([]);
    const ending = [cast(['wrist'], 'left', { until: shift(5) }), full('wrist.flexion', 'left')];
    expect(asked(exam(shift(5), ending), recordOf([put]))).toEqual([]);
  });

  it('a test left out and pain at rest are no findings of an absent part; pain on movement is', () => {
    const record = recordOf([
      exam(shift(1), [
        { kind: 'absent-part', joints: ['ankle', 'foot'], side: 'right', level: 'below knee' },
      ]),
    ]);
    const pain = (when: 'rest' | 'movement'): Finding => ({
      kind: 'pain',
      score: '6',
      when,
      joint: 'foot',
      side: 'right',
    });
    const leftOut: Finding = {
      kind: 'not-assessed',
      joint: 'ankle',
      side: 'right',
      aspects: ['range'],
      reason: 'absent-part',
    };
    expect(asked(exam(shift(2), [pain('rest'), leftOut]), record)).toEqual([]);
    expect(asked(exam(shift(2), [pain('movement')]), record)).toEqual(['error BP-01 /findings/0']);
    expect(asked(exam(shift(2), [expected('ankle', 'right', { range: [], strength: [] })]), record)).toEqual([
      'error BP-01 /findings/0',
    ]);
  });

  it('an absent finger takes no finding and leaves the other fingers to be examined', () => {
    const record = recordOf([
      exam(shift(1), [{ kind: 'absent-part', joints: ['fingers'], side: 'left', level: 'ring finger, PIP' }]),
    ]);
    const bend = (digit: string): Finding =>
      ({ ...(range('fingers.flexion', 'left', 70) as object), digit }) as Finding;
    expect(asked(exam(shift(2), [bend('middle'), full('fingers.flexion', 'left')]), record)).toEqual([]);
    expect(asked(exam(shift(2), [bend('ring')]), record)).toEqual(['error BP-01 /findings/0']);
  });

  it('an artificial joint takes no range and no strength, and walking says the device', () => {
    const worn: Finding = { kind: 'on-body', device: 'prosthesis', joints: ['ankle', 'foot'], side: 'right' };
    const record = recordOf([exam(shift(1), [worn])]);
    expect(asked(exam(shift(2), [grade('ankle.dorsiflexion', 'right', 5)]), record)).toEqual([
      'error BP-02 /findings/0',
    ]);
    expect(asked(exam(shift(2), [{ kind: 'gait', pattern: 'steady' }]), record)).toEqual([
      'confirm BP-02 /findings/0',
    ]);
    expect(
      asked(exam(shift(2), [{ kind: 'gait', pattern: 'steady', device: 'prosthesis' }]), record),
    ).toEqual([]);
  });
});

describe('precautions on record', () => {
  const under = (precaution: string, side?: Side): PatientRecord =>
    recordOf([exam(shift(1), [], { precautions: [order(precaution, side)] })]);
  const hip = under('posterior hip precautions', 'left');

  it('ask about what they forbid on their side, by id or in a nurse’s words', () => {
    expect(asked(exam(shift(2), [range('hip.internal-rotation', 'left', 10)]), hip)).toHaveLength(1);
    expect(asked(exam(shift(2), [range('hip.internal-rotation', 'right', 10)]), hip)).toEqual([]);
    expect(asked(exam(shift(2), [range('hip.flexion', 'left', 90)]), hip)).toEqual([]);
    expect(asked(exam(shift(2), [range('hip.flexion', 'left', 91)]), hip)).toHaveLength(1);
  });

  it('leave passive movement of a replaced shoulder alone, and ask about its strength', () => {
    const record = under('shoulder-replacement', 'right');
    expect(
      asked(exam(shift(2), [range('shoulder.flexion', 'right', 60, { mode: 'passive' })]), record),
    ).toEqual([]);
    expect(asked(exam(shift(2), [grade('shoulder.abduction', 'right', 4)]), record)).toHaveLength(1);
  });

  it('against bearing weight ask about rising and walking, not about a leg moved in bed or walked on with a device', () => {
    const record = under('NWB', 'left');
    const rise: Finding = { kind: 'measure', measure: 'chair-stand-30s', value: '8', unit: '{#}/(30.s)' };
    expect(asked(exam(shift(2), [rise]), record)).toEqual(['confirm SF-01 /findings/0']);
    expect(asked(exam(shift(2), [{ kind: 'gait', pattern: 'steady' }]), record)).toHaveLength(1);
    expect(asked(exam(shift(2), [{ kind: 'gait', device: 'crutches' }]), record)).toEqual([]);
    expect(asked(exam(shift(2), [grade('knee.extension', 'left', 4)]), record)).toEqual([]);
  });

  it('of an earlier stay are over; those of an emergency department the hour before are not', () => {
    const start = { ms: Date.parse('2026-03-02T12:00:00-05:00'), text: '' };
    const before = (hours: number): PatientRecord['stays'] => {
      const end = start.ms - hours * 3_600_000;
      return [{ start }, { start: { ms: 0, text: '' }, end: { ms: end, text: '' } }];
    };
    const taken = exam(shift(2), [range('hip.adduction', 'left', 10)]);
    expect(asked(taken, { ...hip, stays: before(1) })).toEqual(['confirm SF-01 /findings/0']);
    expect(asked(taken, { ...hip, stays: before(300) })).toEqual([]);
    expect(asked(taken, { ...hip, stays: [] })).toContain('confirm SF-01 /findings/0');
  });

  it('named by the exam itself are left to the checks of the document', () => {
    const taken = exam(shift(2), [range('hip.adduction', 'left', 10)], {
      precautions: [order('hip-posterior', 'left')],
    });
    expect(asked(taken, hip)).toEqual([]);
  });

  it('in words the catalogue does not know forbid nothing', () => {
    const record = under('as discussed with the team');
    expect(asked(exam(shift(2), [range('hip.adduction', 'left', 10)]), record)).toEqual([]);
  });
});

describe('the rows that the store gives', () => {
  it('are read in the words of their points: a right knee by another method, a withdrawn point passed over', () => {
    const tail = (item: string, value: number, status = 'final'): SeriesTail => ({
      item,
      measure: 'range',
      side: 'right',
      mode: 'active',
      method: 'visual-estimate',
      unit: 'deg',
      points: [
        { effective: Date.parse(shift(3)), value, status, asExpected: false },
        { effective: Date.parse(shift(1)), value: value - 5, status, asExpected: false },
      ],
    });
    const slip = exam(shift(4), [range('knee.flexion', 'left', 74)]);
    const with_ = (series: readonly SeriesTail[]): readonly string[] =>
      asked(slip, { ...recordOf([]), series });
    expect(with_([tail('knee.flexion', 62)])).toEqual(['confirm LT-04 /findings/0']);
    expect(with_([tail('knee.flexion', 62, 'entered-in-error')])).toEqual([]);
    expect(with_([tail('hip.flexion', 62)])).toEqual([]);
  });
});

describe('laws of the checks', () => {
  const side = fc.constantFrom<Side>('left', 'right');
  const movement = fc.constantFrom('knee.flexion', 'hip.flexion', 'wrist.flexion', 'shoulder.flexion');
  const degrees = fc.integer({ min: 0, max: 120 });
  const finding: fc.Arbitrary<Finding> = fc.oneof(
    fc.tuple(movement, side, degrees).map(([of, at, value]) => range(of, at, value)),
    fc.tuple(side, degrees).map(([at, value]) => lacks('knee.extension', at, value)),
    fc.tuple(movement, side).map(([of, at]) => full(of, at)),
    fc.tuple(movement, side, fc.integer({ min: 0, max: 5 })).map(([of, at, value]) => grade(of, at, value)),
    fc.tuple(side, fc.integer({ min: 1, max: 60 })).map(([at, kg]) => grip(at, kg)),
    fc.tuple(side, fc.integer({ min: 30, max: 50 })).map(([at, cm]) => girth(at, String(cm))),
    fc
      .tuple(fc.constantFrom('knee', 'hip', 'wrist'), side, fc.constantFrom('none', 'mild', 'marked'))
      .map(([joint, at, swelling]) => seen(joint, at, { swelling })),
    side.map((at) => seen('knee', at, { deformity: 'contracture' })),
    fc.tuple(fc.constantFrom('knee', 'hip', 'wrist'), side).map(([joint, at]) => expected(joint, at)),
    side.map((at) => cast(['wrist', 'fingers'], at)),
    side.map((at): Finding => ({ kind: 'absent-part', joints: ['ankle'], side: at, level: 'below knee' })),
  );
  const precautions = fc.array(
    fc
      .tuple(fc.constantFrom('hip-posterior', 'shoulder-replacement', 'no-resisted'), side)
      .map(([id, at]) => order(id, at)),
    { maxLength: 2 },
  );
  const findings = fc.uniqueArray(finding, { selector: findingKey, maxLength: 12 });
  const history = fc.array(fc.tuple(findings, precautions), { maxLength: 5 });

  function asExams(past: readonly (readonly [readonly Finding[], readonly Precaution[]])[]): readonly Exam[] {
    return past.map(([said, orders], index) => exam(shift(index + 1), said, { precautions: orders }));
  }

  it('a patient without a record raises nothing but that no stay is known', () => {
    fc.assert(
      fc.property(findings, (said) => {
        const swelling = said.filter((one) => one.kind === 'measure').length > 1;
        const codes = asked(exam(shift(9), said), recordOf([], { stays: [] }));
        expect(codes.filter((line) => !(swelling && line.startsWith('confirm CX-04')))).toEqual([
          'advise TM-03 /performedAt',
        ]);
      }),
    );
  });

  it('the order of the record’s rows changes nothing', () => {
    fc.assert(
      fc.property(history, findings, (past, said) => {
        const record = recordOf(asExams(past));
        const back: PatientRecord = {
          stays: [...record.stays].reverse(),
          series: [...record.series].reverse(),
          onBody: [...record.onBody].reverse(),
          absent: [...record.absent].reverse(),
          precautions: [...record.precautions].reverse(),
          openFindings: [...record.openFindings].reverse(),
          knownSides: [],
        };
        const taken = exam(shift(9), said);
        expect(issuesOf(taken, back)).toEqual(issuesOf(taken, record));
      }),
    );
  });

  it('with left and right exchanged in exam and record the same is asked, of the other side', () => {
    fc.assert(
      fc.property(history, findings, (past, said) => {
        const mirrored = past.map(([of, orders]) => [of.map(mirror), orders.map(mirror)] as const);
        const here = issuesOf(exam(shift(9), said), recordOf(asExams(past)));
        const there = issuesOf(exam(shift(9), said.map(mirror)), recordOf(asExams(mirrored)));
        const words = (issues: readonly Issue[]): readonly string[] =>
          issues
            .filter(({ code }) => code !== 'LT-05')
            .map(({ code, place, sentence }) => `${code} ${place} ${sentence}`);
        expect(words(there)).toEqual(words(here).map(exchange));
        expect(there.map(({ code }) => code)).toEqual(here.map(({ code }) => code));
      }),
    );
  });

  function mirror<T>(of: T): T {
    return JSON.parse(exchange(JSON.stringify(of))) as T;
  }

  function exchange(text: string): string {
    return text.replace(/left(?! or right)|(?<!left or )right|Left|Right/g, (side_) => OTHER[side_] ?? side_);
  }

  const OTHER: Readonly<Record<string, string>> = {
    left: 'right',
    right: 'left',
    Left: 'Right',
    Right: 'Left',
  };
});
