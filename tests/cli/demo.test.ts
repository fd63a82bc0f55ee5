import { describe, expect, it } from 'vitest';
import { joints } from '../../src/catalogue/index.js';
import { demoActs, type DemoAct } from '../../src/cli/demo/documents.js';
import { demoShift, demoShifts, DEMO_TIME_ZONE, instantAt, minutesLater } from '../../src/cli/demo/shifts.js';
import { demoPatients, eligiblePatients, wardResources } from '../../src/cli/demo/ward.js';
import { stringifyJson } from '../../src/fhir/index.js';

// The demo week is invented; what it must hold, and the figures below, are those of its own written scenario.

interface Document {
  readonly clientId: string;
  readonly type: string;
  readonly performedAt: string;
  readonly recordedAt: string;
  readonly examiner: { readonly identifier: { readonly value: string } };
  readonly asExpected?: readonly Scope[];
  readonly notAssessed?: readonly Scope[];
  readonly findings?: readonly Finding[];
  readonly confirmed?: readonly string[];
  readonly note?: string;
}

interface Scope {
  readonly joints?: readonly string[] | string;
  readonly sides?: string;
  readonly aspects?: readonly string[];
  readonly movements?: readonly string[];
  readonly reason?: string;
}

type Finding = Readonly<Record<string, unknown>>;

const acts = demoActs();

function documentOf(act: DemoAct): Document {
  return JSON.parse(stringifyJson(act.send.body)) as Document;
}

const exams = acts.filter((act) => act.send.path === '/exams');
const kept = exams.filter((act) => act.expect.outcome === 'kept');

function keptDocument(clientId: string): Document {
  const found = kept.map(documentOf).find((document) => document.clientId === clientId);
  if (found === undefined) throw new Error(`no document ${clientId}`);
  return found;
}

/** The exam documents of a patient by day or shift, e.g. `demo-6e-p03-s05-knees`. */
function series(patient: string, name: string, shifts: readonly number[]): readonly Document[] {
  return shifts.map((shift) => keptDocument(`demo-6e-${patient}-s${String(shift).padStart(2, '0')}-${name}`));
}

const DAYS = [1, 3, 5, 7, 9, 11, 13];

function findingOf(document: Document, like: Finding): Finding {
  const found = (document.findings ?? []).find((row) =>
    Object.entries(like).every(([key, value]) => row[key] === value),
  );
  if (found === undefined) throw new Error(`no ${JSON.stringify(like)} in ${document.clientId}`);
  return found;
}

const ASPECTS = ['look', 'feel', 'range', 'strength'];

/** Each joint, side and aspect of an exam, e.g. `knee left strength`. */
const EVERY_CELL = joints.flatMap((joint) =>
  (joint.structure === 'paired' ? ['left', 'right'] : ['midline']).flatMap((side) =>
    ASPECTS.map((aspect) => `${joint.id} ${side} ${aspect}`),
  ),
);

function cellsOf(scope: Scope): readonly string[] {
  const named = Array.isArray(scope.joints) ? (scope.joints as readonly string[]) : [];
  return EVERY_CELL.filter((cell) => {
    const [joint = '', side = '', aspect = ''] = cell.split(' ');
    const isSide = side === 'midline' || (scope.sides ?? 'both') === 'both' || scope.sides === side;
    return named.includes(joint) && isSide && (scope.aspects ?? ASPECTS).includes(aspect);
  });
}

function cellsOfFinding(row: Finding): readonly string[] {
  const told = ASPECTS.filter(
    (aspect) =>
      aspect in row || (aspect === 'range' && ['degrees', 'lacks', 'hyperextends'].some((key) => key in row)),
  );
  const side = typeof row['side'] === 'string' ? row['side'] : 'midline';
  return typeof row['joint'] === 'string'
    ? told.map((aspect) => `${String(row['joint'])} ${side} ${aspect}`)
    : [];
}

/** Reasons that count as an answer; `no-time` and `equipment` are gaps. */
const GAPS = ['no-time', 'equipment', 'off-unit'];

function answeredCells(document: Document): ReadonlySet<string> {
  const reasoned = (document.notAssessed ?? []).filter(({ reason }) => !GAPS.includes(reason ?? ''));
  return new Set([
    ...(document.asExpected ?? []).flatMap(cellsOf),
    ...reasoned.flatMap(cellsOf),
    ...(document.findings ?? []).flatMap(cellsOfFinding),
  ]);
}

function isComplete(document: Document): boolean {
  const answered = answeredCells(document);
  const isContradiction = document.confirmed?.includes('CX-10') ?? false;
  return !isContradiction && EVERY_CELL.every((cell) => answered.has(cell));
}

function fullExams(shift: number): readonly Document[] {
  const name = `-s${String(shift).padStart(2, '0')}-full`;
  return kept.map(documentOf).filter(({ clientId }) => clientId.endsWith(name));
}

describe('the demo week', () => {
  it('is the same in every run, to the last byte', () => {
    expect(stringifyJson(demoActs())).toBe(stringifyJson(acts));
  });

  it('tells the ward first and then every act in the order in which it was recorded', () => {
    const instants = acts.map(({ at }) => (at === undefined ? 0 : Date.parse(at)));
    expect(instants).toEqual(instants.toSorted((a, b) => a - b));
    expect(instants.filter((instant) => instant === 0)).toHaveLength(wardResources().length);
  });

  it('has as many complete full exams in each shift as the scenario counts', () => {
    const counts = demoShifts.map(({ number }) => fullExams(number).filter(isComplete).length);
    expect(counts).toEqual([21, 21, 22, 21, 22, 21, 22, 21, 22, 13, 21, 20, 22, 21]);
  });

  it('leaves ten of 23 short in the gap of shift 10, each in the way told', () => {
    const documents = fullExams(10);
    const names = documents.map(({ clientId }) => clientId.slice(8, 11));
    expect(names).toHaveLength(17);
    for (const absent of ['p03', 'p11', 'p18', 'p20', 'p21', 'p23']) expect(names).not.toContain(absent);
    const short = documents
      .filter((document) => !isComplete(document))
      .map((row) => row.clientId.slice(8, 11));
    expect(short).toEqual(
      ['p05', 'p12', 'p16', 'p19'].toSorted((a, b) => names.indexOf(a) - names.indexOf(b)),
    );
    for (const patient of ['p05', 'p12', 'p19']) {
      const cells = answeredCells(keptDocument(`demo-6e-${patient}-s10-full`));
      expect([...cells].filter((cell) => cell.includes(' right '))).toEqual([]);
    }
  });

  it('misses the left strength of P18 in shifts 2 and 8 and nothing else', () => {
    for (const document of series('p18', 'full', [2, 8])) {
      const missing = EVERY_CELL.filter((cell) => !answeredCells(document).has(cell));
      expect(missing).toEqual(EVERY_CELL.filter((cell) => cell.endsWith('left strength')));
    }
  });

  it('never says a thing twice: as expected, not assessed and opened findings do not overlap', () => {
    for (const document of kept.map(documentOf)) {
      const whole = (document.notAssessed ?? []).filter(({ movements }) => movements === undefined);
      const cells = [...(document.asExpected ?? []), ...whole].flatMap(cellsOf);
      expect(new Set(cells).size, document.clientId).toBe(cells.length);
      const reasoned = new Set(whole.flatMap(cellsOf));
      const found = (document.findings ?? []).flatMap(cellsOfFinding);
      expect(
        found.filter((cell) => reasoned.has(cell)),
        document.clientId,
      ).toEqual([]);
    }
  });
});

describe('the series of the demo week', () => {
  const grips = (patient: string, side: string): readonly number[] =>
    series(patient, 'grip', DAYS).map((document) => {
      const { trials, rule } = findingOf(document, { measure: 'grip', side });
      const values = trials as readonly number[];
      const best = Math.max(...values);
      return rule === 'best-of-3' ? best : Number((values.reduce((sum, one) => sum + one, 0) / 3).toFixed(2));
    });

  it('has the hip of P01: flexion by day, strength left alone by order for two days and then graded', () => {
    const flexion = series('p01', 'hip', DAYS).map(
      (row) => findingOf(row, { movement: 'flexion' })['degrees'],
    );
    expect(flexion).toEqual([40, 50, 55, 60, 65, 70, 70]);
    const grades = series('p01', 'full', DAYS).map(
      (row) => findingOf(row, { joint: 'hip', side: 'left', movement: 'flexion' })['strength'],
    );
    expect(grades).toEqual([undefined, undefined, 3, 3, 4, 4, 4]);
    for (const document of series('p01', 'full', [1, 2, 3, 4])) {
      expect(document.notAssessed).toContainEqual(
        expect.objectContaining({
          joints: ['hip'],
          sides: 'left',
          aspects: ['strength'],
          reason: 'precaution',
        }),
      );
    }
  });

  it('has the shoulder of P23, passive only, and the knee of P22 up by 3 cm in shift 7', () => {
    const raised = series('p23', 'shoulder', [3, 7, 11]).map((row) =>
      findingOf(row, { movement: 'flexion' }),
    );
    expect(raised.map(({ mode, degrees }) => [mode, degrees])).toEqual([
      ['passive', 60],
      ['passive', 75],
      ['passive', 90],
    ]);
    const girth = series('p22', 'full', [5, 7]).map(
      (row) => findingOf(row, { side: 'right', level: 'mid-patella' })['circumferenceCm'],
    );
    expect(Number(girth[1]) - Number(girth[0])).toBe(3);
  });

  it('has the knees of P03 and P04 by long-arm goniometer and tape', () => {
    const angles = (patient: string, side: string): readonly unknown[] =>
      series(patient, 'knees', DAYS).map(
        (document) => findingOf(document, { joint: 'knee', side, movement: 'flexion' })['degrees'],
      );
    const girths = (patient: string, side: string): readonly unknown[] =>
      series(patient, 'knees', DAYS).map(
        (document) =>
          document.findings?.find((row) => row['side'] === side && 'circumferenceCm' in row)?.[
            'circumferenceCm'
          ],
      );
    expect(angles('p03', 'right')).toEqual([55, 65, 72, 80, 88, 95, 100]);
    expect(angles('p04', 'left').slice(0, 5)).toEqual([60, 68, 72, 60, 55]);
    expect(girths('p04', 'left').slice(0, 5)).toEqual([41.0, 41.3, 42.0, 43.8, 44.6]);
    const above = girths('p03', 'right').map((cm, day) =>
      Math.round((Number(cm) / Number(girths('p03', 'left')[day]) - 1) * 100),
    );
    expect(above).toEqual([10, 11, 11, 10, 9, 8, 7]);
    const pains = series('p04', 'knees', DAYS).map((row) => findingOf(row, { movement: 'flexion' })['pain']);
    expect(pains.slice(0, 5)).toEqual([4, 4, 5, 7, 8]);
  });

  it('has the grips of P10, P11 and P12, whose fourth day was read in pounds', () => {
    expect(grips('p10', 'right')).toEqual([17.5, 16.8, 15.9, 14.6, 13.2, 12.0, 11.4]);
    expect(grips('p10', 'left')).toEqual([16.5, 15.8, 14.9, 13.6, 12.2, 11.0, 10.4]);
    expect(grips('p11', 'right')).toEqual([21.0, 19.8, 21.4, 20.2, 20.9, 19.5, 20.7]);
    expect(grips('p12', 'right').slice(0, 5)).toEqual([24, 24, 23, 53, 24]);
    const asked = exams.find((act) => act.label === 'P12 S7 grip' && act.expect.outcome === 'refused');
    expect(asked && findingOf(documentOf(asked), { side: 'right' })['unit']).toBe('kg');
    expect(findingOf(keptDocument('demo-6e-p12-s07-grip'), { side: 'right' })['unit']).toBe('lb');
  });

  it('reads the grip of P07 at half past seven, morning and evening, weaker in the morning', () => {
    const read = (shifts: readonly number[]): readonly unknown[] =>
      series('p07', 'full', shifts).map(
        (document) => (findingOf(document, { measure: 'grip', side: 'right' })['trials'] as number[])[1],
      );
    expect(read(DAYS)).toEqual([9, 9.5, 10, 11, 11.5, 12.5, 13]);
    expect(read([2, 4, 6, 8, 10, 12, 14])).toEqual([15, 15.5, 16, 17, 17, 18, 18.5]);
    const clocks = series(
      'p07',
      'full',
      demoShifts.map(({ number }) => number),
    );
    expect(clocks.map(({ performedAt }) => performedAt.slice(11, 16))).toEqual(
      demoShifts.map(({ kind }) => (kind === 'day' ? '07:30' : '19:30')),
    );
  });

  it('keeps the digits of every reading as typed, a final nought included', () => {
    const p04 = kept.find((act) => act.label === 'P04 S1 knees');
    expect(p04 && stringifyJson(p04.send.body)).toContain('"circumferenceCm":41.0');
    const p11 = kept.find((act) => act.label === 'P11 S1 grip');
    expect(p11 && stringifyJson(p11.send.body)).toContain('[20.6,21.0,21.4]');
  });

  it('lets the weakness of P13 climb alike on both sides until he moves', () => {
    const grade = (movement: string, joint: string, side: string): readonly unknown[] =>
      series('p13', 'full', [1, 2, 3, 4, 5]).map(
        (document) => findingOf(document, { joint, movement, side })['strength'],
      );
    for (const side of ['left', 'right']) {
      expect(grade('dorsiflexion', 'ankle', side)).toEqual([5, 4, 4, 3, 2]);
      expect(grade('extension', 'knee', side)).toEqual([5, 5, 4, 4, 3]);
      expect(grade('flexion', 'hip', side)).toEqual([5, 5, 5, 4, 4]);
      expect(grade('flexion', 'fingers', side)).toEqual([5, 5, 5, 5, 4]);
    }
    expect(exams.filter(({ label }) => /^P13 S([6-9]|1\d)/.test(label))).toEqual([]);
  });

  it('shows the falls of P02 and P06 at their own times', () => {
    const p02 = series('p02', 'full', [1, 3, 5, 6, 7]);
    expect(p02.map((row) => findingOf(row, { joint: 'ankle', side: 'right' })['strength'])).toEqual([
      4, 4, 4, 2, 2,
    ]);
    for (const night of series('p02', 'full', [2, 4])) {
      expect(night.notAssessed?.map(({ reason }) => reason)).toContain('unable-follow');
    }
    const p06 = series('p06', 'full', [5]).concat(
      series('p06', 'arm-noon', [5]),
      series('p06', 'arm-afternoon', [5]),
    );
    const abduction = { joint: 'shoulder', side: 'right', movement: 'abduction' };
    expect(p06.map(({ performedAt }) => performedAt.slice(11, 16))).toEqual(['08:10', '12:00', '15:30']);
    expect(p06.map((row) => findingOf(row, abduction)['strength'])).toEqual([4, 3, 1]);
  });

  it('copies P17 from shift 6 to 10: the same numbers and the same 60 characters by two authors in turn', () => {
    const copies = series('p17', 'full', [6, 7, 8, 9, 10]);
    const numbers = copies.map((row) => [
      findingOf(row, { measure: 'grip', side: 'right' })['trials'],
      findingOf(row, { measure: 'grip', side: 'left' })['trials'],
      findingOf(row, { level: 'mid-patella', side: 'right' })['circumferenceCm'],
    ]);
    expect(new Set(numbers.map((row) => JSON.stringify(row)))).toEqual(new Set(['[[22.4],[21.9],39.6]']));
    expect([...new Set(copies.map(({ note }) => note?.length))]).toEqual([60]);
    const [first, second, third, ...rest] = copies.map(({ examiner }) => examiner.identifier.value);
    expect(first).not.toBe(second);
    expect([third, ...rest]).toEqual([first, second, first]);
  });

  it('repeats no other long note, so that only P17 is copied', () => {
    const notes = kept
      .map(documentOf)
      .flatMap(({ note, clientId }) => (note ? [[clientId.slice(8, 11), note] as const] : []));
    const long = notes
      .filter(([patient, note]) => note.length >= 40 && patient !== 'p17')
      .map(([, note]) => note);
    expect(new Set(long).size).toBe(long.length);
  });

  it('misses 03:00 and 04:00 of the first night of P08, and skips only the hour of P09 that does not exist', () => {
    const checks = (patient: string, shift: number): readonly string[] =>
      kept
        .map(documentOf)
        .filter(({ clientId }) =>
          clientId.startsWith(`demo-6e-${patient}-s${String(shift).padStart(2, '0')}-limb`),
        )
        .map(({ performedAt }) => performedAt);
    const clocks = checks('p08', 2).map((instant) => instant.slice(11, 16));
    expect(clocks).toEqual([
      '19:00',
      '20:00',
      '21:00',
      '22:00',
      '23:00',
      '00:00',
      '01:00',
      '02:00',
      '05:00',
      '06:00',
    ]);
    const hours = checks('p09', 12).map((instant) => Date.parse(instant) / 3_600_000);
    expect(hours.slice(1).map((hour, index) => hour - (hours[index] ?? 0))).toEqual(Array(7).fill(1));
    expect(checks('p09', 12).map((instant) => instant.slice(11, 16))).toEqual([
      '22:00',
      '23:00',
      '00:00',
      '01:00',
      '03:00',
      '04:00',
      '05:00',
      '06:00',
    ]);
  });
});

describe('what the doors refuse or ask about in the demo week', () => {
  it('is sent as the nurse first sent it', () => {
    const refused = exams.filter((act) => act.expect.outcome === 'refused');
    expect(refused.map(({ label, expect: { codes } }) => [label, ...codes])).toEqual([
      ['P20 S3 full', 'CM-06'],
      ['P03 S4 knee-evening', 'LT-04'],
      ['P01 S5 full', 'SF-01'],
      ['P09 S6 full', 'BP-03'],
      ['P24 S6 full', 'TM-03'],
      ['P14 S7 full', 'CX-01'],
      ['P22 S7 full', 'CX-04'],
      ['P12 S7 grip', 'VL-07'],
      ['P21 S8 full', 'SF-01'],
      ['P23 S8 full', 'SF-01'],
      ['P18 S10 full', 'CM-02'],
      ['P15 S10 full', 'BP-01'],
      ['P16 S10 full', 'CX-10'],
    ]);
  });

  it('comes again under the same clientId, but for the one that was given up', () => {
    const refused = exams.filter((act) => act.expect.outcome === 'refused').map(documentOf);
    const given = new Set(kept.map((act) => documentOf(act).clientId));
    expect(refused.filter(({ clientId }) => !given.has(clientId)).map(({ clientId }) => clientId)).toEqual([
      'demo-6e-p18-s10-full',
    ]);
  });

  it('is the same document with `confirmed` where the nurse confirmed it', () => {
    const confirmed = kept.map(documentOf).filter((document) => document.confirmed !== undefined);
    expect(confirmed.map(({ clientId }) => clientId)).toHaveLength(3);
    for (const { confirmed: codes, ...document } of confirmed) {
      const asked = exams.find(
        (act) => act.expect.outcome === 'refused' && documentOf(act).clientId === document.clientId,
      );
      expect(asked && documentOf(asked)).toEqual(document);
      expect(asked?.expect.codes).toEqual(codes);
    }
  });

  it('withdraws the wrong-side entry of P03 and enters it on the right', () => {
    const p03 = acts.filter(({ label }) => label.startsWith('P03 S4 knee-evening'));
    expect(p03.map(({ send }) => send.path)).toEqual([
      '/exams',
      '/exams',
      '/exams/{exam}/withdrawals',
      '/exams',
    ]);
    expect(p03.at(2)?.send).toMatchObject({
      exam: 'demo-6e-p03-s04-knee-evening',
      body: { withdraws: 'all' },
    });
    const again = keptDocument('demo-6e-p03-s04-knee-evening-again');
    expect(findingOf(again, { movement: 'flexion' })).toMatchObject({ side: 'right', degrees: 74 });
    expect(findingOf(again, { movement: 'extension' })).toMatchObject({ side: 'right', lacks: 10 });
  });

  it('types the exam of P24 at 18:55 that was done at 07:40, and stores it with its label', () => {
    const late = kept.find((act) => act.label === 'P24 S7 full');
    expect(late?.expect.codes).toEqual(['TM-04']);
    expect(late && documentOf(late)).toMatchObject({
      performedAt: '2026-03-05T07:40:00-05:00',
      recordedAt: '2026-03-05T18:55:00-05:00',
    });
  });

  it('leaves the exam of P21 in shift 10 a draft', () => {
    const drafts = acts.filter(({ send }) => send.path.startsWith('/drafts/'));
    expect(drafts.map(({ send }) => send.path)).toEqual(['/drafts/demo-6e-p21-s10-full']);
  });
});

describe('the demo ward', () => {
  it('has 24 patients who cannot be real: names in Zz, a year of birth and nothing to reach them by', () => {
    const patients = wardResources().filter((row) => row.resourceType === 'Patient');
    expect(patients).toHaveLength(24);
    for (const patient of patients) {
      expect(patient.name?.[0]?.family).toMatch(/^Zz/);
      expect(patient.birthDate).toMatch(/^\d{4}$/);
      expect(Object.keys(patient).sort()).toEqual(
        ['active', 'birthDate', 'gender', 'id', 'identifier', 'meta', 'name', 'resourceType'].sort(),
      );
    }
  });

  it('is marked as test data, every resource of it', () => {
    // HTEST, "test health data": code system v3-ActReason of HL7 Terminology
    for (const { meta } of wardResources()) {
      expect(meta?.security).toEqual([
        {
          system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
          code: 'HTEST',
          display: 'test health data',
        },
      ]);
    }
  });

  it('has 28 beds, 12 nurses, 3 therapists and 4 physicians', () => {
    const resources = wardResources();
    const count = (pattern: RegExp): number => resources.filter(({ id }) => pattern.test(id)).length;
    expect([count(/^6E-\d\d$/), count(/^demo-rn-/), count(/^demo-pt-/), count(/^demo-md-/)]).toEqual([
      28, 12, 3, 4,
    ]);
  });

  it('has 23 patients who count in every shift; P13 counts up to shift 5 and P24 from shift 6 on', () => {
    for (const shift of demoShifts) {
      const [from, to] = shift.kind === 'day' ? ['07:00', '19:00'] : ['19:00', '07:00'];
      const keys = eligiblePatients(instantAt(shift, from), instantAt(shift, to)).map(({ key }) => key);
      expect(keys).toHaveLength(23);
      expect([keys.includes('P13'), keys.includes('P24')]).toEqual(
        shift.number <= 5 ? [true, false] : [false, true],
      );
    }
  });

  it('examines within the stay, and types no earlier than it examines', () => {
    for (const act of kept) {
      const { performedAt, recordedAt, clientId } = documentOf(act);
      const patient = demoPatients.find(({ key }) => key === act.patient);
      const done = Date.parse(performedAt);
      expect(done, clientId).toBeGreaterThanOrEqual(Date.parse(patient?.arrived ?? ''));
      expect(done, clientId).toBeLessThanOrEqual(Date.parse(patient?.left ?? ''));
      expect(Date.parse(recordedAt), clientId).toBeGreaterThanOrEqual(done);
    }
  });

  it('gives a nurse no two full exams less than three minutes apart', () => {
    const full = kept.map(documentOf).filter(({ type }) => type === 'full');
    for (const nurse of new Set(full.map(({ examiner }) => examiner.identifier.value))) {
      const times = full
        .filter(({ examiner }) => examiner.identifier.value === nurse)
        .map(({ performedAt }) => Date.parse(performedAt))
        .toSorted((a, b) => a - b);
      const gaps = times.slice(1).map((time, index) => time - (times[index] ?? 0));
      expect(Math.min(...gaps), nurse).toBeGreaterThanOrEqual(3 * 60_000);
    }
  });
});

describe('the clock of the demo ward', () => {
  /** The wall clock of an instant in the ward's zone, by the time zone database of the platform (IANA tzdb). */
  function wallClock(instant: string): string {
    return new Intl.DateTimeFormat('sv-SE', {
      timeZone: DEMO_TIME_ZONE,
      dateStyle: 'short',
      timeStyle: 'medium',
    })
      .format(new Date(instant))
      .replace(' ', 'T');
  }

  it('writes every instant of the week with the offset that its zone had', () => {
    for (const act of exams) {
      const { performedAt, recordedAt } = documentOf(act);
      for (const instant of [performedAt, recordedAt]) expect(instant.slice(0, 19)).toBe(wallClock(instant));
    }
  });

  it('makes the night of 7 March eleven hours long and every other shift twelve', () => {
    const hours = demoShifts.map((shift) => {
      const [from, to] = shift.kind === 'day' ? ['07:00', '19:00'] : ['19:00', '07:00'];
      return (Date.parse(instantAt(shift, to)) - Date.parse(instantAt(shift, from))) / 3_600_000;
    });
    expect(hours).toEqual(demoShifts.map(({ number }) => (number === 12 ? 11 : 12)));
  });

  it('knows no half past two on 8 March', () => {
    expect(() => instantAt(demoShift(12), '02:30')).toThrow(RangeError);
    expect(minutesLater(instantAt(demoShift(12), '01:59'), 1)).toBe('2026-03-08T03:00:00-04:00');
  });
});
