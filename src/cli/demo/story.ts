import type { JointId, Side } from '../../catalogue/index.js';
import {
  angle,
  ARM,
  EVERY_JOINT,
  extent,
  graded,
  grip,
  gripAround,
  kneeGirth,
  lacking,
  LEG,
  neurovascular,
  pains,
  seen,
  SIDES,
  weak,
  type Deferral,
  type Entry,
  type Part,
} from './entries.js';
import type { DemoShift } from './shifts.js';

/**
 * A document as the nurse first sent it, which the doors refuse or ask about. `then`: what she did next: confirmed the
 * same document, sent it corrected, or gave up.
 */
export interface FirstTry {
  /** What the document held, where that differs from what was sent in the end. */
  readonly parts?: readonly Part[];
  /** The time it was first said to be done, on the ward's clock. */
  readonly clock?: string;
  /** Codes of the errors and confirms in the answer, all of them. */
  readonly codes: readonly string[];
  readonly then: 'confirmed' | 'corrected' | 'given-up';
}

/** The exam of every joint that a patient is due in each shift. */
export interface ShiftExam {
  readonly parts: readonly Part[];
  readonly clock?: string;
  /** Minutes from the exam to its entry; by default 5 to 13. */
  readonly entryMinutes?: number;
  readonly examiner?: string;
  readonly firstTry?: FirstTry;
  /** Rule labels that the stored answer carries. */
  readonly labels?: readonly string[];
  /** Left unsigned: put as a draft and nothing more. */
  readonly draftOnly?: boolean;
}

/** An exam beside the shift's full one: a therapist's session, one joint, one limb at risk. */
export interface Session {
  readonly shift: number;
  readonly clock: string;
  readonly name: string;
  readonly type: 'brief-screen' | 'focused' | 'neurovascular' | 'therapist';
  /** Default: the patient's nurse of the shift. */
  readonly examiner?: string;
  readonly entryMinutes?: number;
  readonly part: Part;
  readonly firstTry?: FirstTry;
  /** Taken back as entered in error, and entered again as `part` under a second document. */
  readonly withdrawn?: { readonly part: Part; readonly clock: string; readonly why: string };
  readonly addendum?: { readonly clock: string; readonly note: string };
  /** Sent twice, as a device does that saw no answer. */
  readonly sentTwice?: boolean;
}

/** All that the week holds of one patient. */
export interface Story {
  readonly patient: string;
  readonly gait: Entry | Deferral;
  readonly pain: readonly [rest: number, movement: number];
  readonly shiftExam: (shift: DemoShift) => ShiftExam;
  readonly sessions?: readonly Session[];
}

const STEADY: Entry = { gait: { pattern: 'steady', assistance: 'independent', device: 'none' } };
const WITH_FRAME: Entry = { gait: { pattern: 'steady', assistance: 'supervised', device: 'walking-frame' } };

function noGait(reason: string, note?: string): Deferral {
  return { check: 'gait', reason, ...(note !== undefined && { note }) };
}

/** The value of a series told day by day, Monday first; the night keeps its day's. */
function ofDay<T>(shift: DemoShift, values: readonly T[]): T {
  const value = values[shift.day - 1] ?? values.at(-1);
  if (value === undefined) throw new RangeError('an empty series');
  return value;
}

/** The value of a series told shift by shift; after its end the last one stands. */
function ofShift<T>(shift: DemoShift, values: readonly T[]): T {
  const value = values[shift.number - 1] ?? values.at(-1);
  if (value === undefined) throw new RangeError('an empty series');
  return value;
}

/** The number of a day's shift: day 1 is shift 1, day 2 shift 3. */
function dayShift(dayIndex: number): number {
  return dayIndex * 2 + 1;
}

function isBetween(shift: DemoShift, first: number, last: number): boolean {
  return shift.number >= first && shift.number <= last;
}

/** The brief screen's three acts, equal and strong unless told otherwise; none of them is a grade (SC-05). */
function screened(footPush = 'equal and strong'): readonly Entry[] {
  return [
    { screen: 'hand-squeeze', result: 'equal and strong' },
    { screen: 'foot-push', result: footPush },
    { screen: 'foot-pull', result: footPush },
  ];
}

const usual = (...parts: readonly Part[]): ShiftExam => ({ parts });

/** A knee after surgery or a bleed, as the bedside nurse tells it in words; the therapist brings the angles. */
function soreKnee(side: Side, grade: number, look: Entry, feel: Entry = {}): Part {
  const more = { strength: grade, describe: 'operated side' };
  return {
    findings: [
      seen('knee', side, look, feel, { describe: 'operated side' }),
      extent('knee.flexion', side, 'limited', more),
      extent('knee.extension', side, 'limited', more),
    ],
    opened: [{ joints: ['knee'], sides: side, aspects: ['range', 'strength'] }],
  };
}

/** P01: the hip as the order of posterior limits leaves it. */
const hipOrder = 'order: posterior limits, left hip';

const HIP_ASKED = [
  'hip.flexion',
  'hip.straight-leg-raise',
  'hip.extension',
  'hip.abduction',
  'hip.external-rotation',
];

function limitedHip(shift: DemoShift, crossed?: Entry): Part {
  const grade = ofDay(shift, ['not asked', 'not asked', 3, 3, 4, 4, 4] as const);
  const graded = grade === 'not asked' ? {} : { strength: grade };
  const ruledOut = ['adduction', 'internal rotation'];
  return {
    precautions: [{ precaution: 'hip-posterior', side: 'left', note: hipOrder }],
    findings: [
      seen('hip', 'left', { swelling: 'mild' }, {}, { describe: 'operated side' }),
      ...HIP_ASKED.map((id) => extent(id, 'left', 'limited', { ...graded, describe: 'operated side' })),
      ...(crossed === undefined ? [] : [crossed]),
    ],
    opened: [{ joints: ['hip'], sides: 'left', aspects: ['range', 'strength'] }],
    notAssessed: [
      hipDeferral({
        aspects: ['range'],
        movements: crossed === undefined ? ruledOut : ['internal rotation'],
      }),
      hipDeferral({ aspects: ['strength'], ...(grade !== 'not asked' && { movements: ruledOut }) }),
    ],
  };
}

function hipDeferral(what: Partial<Deferral>): Deferral {
  return { joints: ['hip'], sides: 'left', ...what, reason: 'precaution', note: hipOrder };
}

const P01: Story = {
  patient: 'P01',
  gait: WITH_FRAME,
  pain: [2, 4],
  shiftExam: (shift) => ({
    ...usual(limitedHip(shift)),
    ...(shift.number === 5 && {
      firstTry: {
        parts: [
          limitedHip(shift, {
            joint: 'hip',
            side: 'left',
            movement: 'adduction',
            mode: 'active',
            degrees: 15,
          }),
        ],
        codes: ['SF-01'],
        then: 'corrected',
      },
    }),
  }),
  sessions: ['40', '50', '55', '60', '65', '70', '70'].map((degrees, day) => ({
    shift: dayShift(day),
    clock: '14:10',
    name: 'hip',
    type: 'therapist',
    examiner: 'DEMO-PT-03',
    part: {
      positions: ['supine'],
      precautions: [{ precaution: 'hip-posterior', side: 'left' }],
      findings: [angle('hip.flexion', 'left', degrees)],
    },
  })),
};

/** P02: what was asked for and could not be followed at night. */
const cannotFollow: Part = {
  notAssessed: [{ joints: EVERY_JOINT, aspects: ['range', 'strength'], reason: 'unable-follow' }],
  note: 'Restless, cannot follow requests.',
};

const healingHip = seen('hip', 'right', { swelling: 'mild' }, { tenderness: 'mild' });

function fixedHip(shift: DemoShift): Part {
  const grade = ofShift(shift, [4, 4, 4, 4, 4, 2]);
  return {
    findings: [
      healingHip,
      extent('ankle.dorsiflexion', 'right', grade < 3 ? 'limited' : 'full', { strength: grade }),
    ],
    notAssessed: [
      {
        joints: ['hip'],
        sides: 'right',
        aspects: ['range', 'strength'],
        reason: 'precaution',
        note: 'order: no hip testing until day 10',
      },
    ],
  };
}

const P02: Story = {
  patient: 'P02',
  gait: WITH_FRAME,
  pain: [2, 4],
  shiftExam: (shift) =>
    shift.number === 2 || shift.number === 4
      ? usual({ ...cannotFollow, findings: [healingHip] })
      : usual(fixedHip(shift)),
  sessions: [
    {
      shift: 6,
      clock: '21:35',
      name: 'leg',
      type: 'neurovascular',
      part: {
        findings: [
          neurovascular('lower', 'right', {
            sensation: { value: 'reduced', describe: 'numb over the top of the foot, new tonight' },
            movement: { value: 'reduced', describe: 'lifts the foot poorly' },
          }),
          neurovascular('lower', 'left'),
        ],
      },
    },
  ],
};

const P03_FLEXION = ['55', '65', '72', '80', '88', '95', '100'];
const P03_LACKS = ['12', '10', '10', '8', '7', '5', '5'];
/** 10, 11, 11, 10, 9, 8 and 7 % above the other knee's 40.0 cm. */
const P03_GIRTH = ['44.0', '44.4', '44.4', '44.0', '43.6', '43.2', '42.8'];

function kneeAngles(side: Side, flexion: string, lacks: string): Part {
  return {
    positions: ['supine'],
    findings: [angle('knee.flexion', side, flexion), lacking('knee.extension', side, lacks)],
  };
}

const P03: Story = {
  patient: 'P03',
  gait: WITH_FRAME,
  pain: [2, 4],
  shiftExam: (shift) =>
    usual(soreKnee('right', 4, { swelling: ofDay(shift, ['moderate', 'moderate', 'moderate', 'mild']) })),
  sessions: [
    ...P03_FLEXION.map((flexion, day): Session => ({
      shift: dayShift(day),
      clock: '09:30',
      name: 'knees',
      type: 'therapist',
      examiner: 'DEMO-PT-01',
      part: {
        positions: ['supine'],
        findings: [
          ...(kneeAngles('right', flexion, P03_LACKS[day] ?? '5').findings ?? []),
          ...(kneeAngles('left', '128', '0').findings ?? []),
          kneeGirth('right', P03_GIRTH[day] ?? '42.8'),
          kneeGirth('left', '40.0'),
        ],
      },
    })),
    {
      shift: 4,
      clock: '20:10',
      name: 'knee-evening',
      type: 'focused',
      part: kneeAngles('left', '74', '10'),
      firstTry: { codes: ['LT-04'], then: 'confirmed' },
      withdrawn: {
        part: kneeAngles('right', '74', '10'),
        clock: '20:40',
        why: 'Wrong side: the right knee was measured, the left was not.',
      },
    },
  ],
};

const P04_FLEXION = ['60', '68', '72', '60', '55', '56', '58'];
const P04_GIRTH = ['41.0', '41.3', '42.0', '43.8', '44.6', '44.4', '44.1'];
const P04_PAIN = [4, 4, 5, 7, 8, 7, 7];
const P04_LACKS = ['10', '9', '8', '9', '9', '9', '9'];

const P04: Story = {
  patient: 'P04',
  gait: WITH_FRAME,
  pain: [3, 5],
  shiftExam: (shift) =>
    usual(
      soreKnee(
        'left',
        4,
        { swelling: shift.number < 7 ? 'moderate' : 'marked' },
        { warmth: shift.number < 7 ? 'same as other side' : 'warmer', tenderness: 'moderate' },
      ),
    ),
  sessions: P04_FLEXION.map((flexion, day) => ({
    shift: dayShift(day),
    clock: '10:05',
    name: 'knees',
    type: 'therapist',
    examiner: 'DEMO-PT-01',
    part: {
      positions: ['supine'],
      findings: [
        angle('knee.flexion', 'left', flexion, { pain: P04_PAIN[day] ?? 7 }),
        lacking('knee.extension', 'left', P04_LACKS[day] ?? '9'),
        kneeGirth('left', P04_GIRTH[day] ?? '44.1'),
        kneeGirth('right', '39.8'),
      ],
    },
  })),
};

const oldWeakness: Entry = { describe: 'old weakness, as before' };

const P05: Story = {
  patient: 'P05',
  gait: { gait: { pattern: 'shuffling', assistance: 'one-person', device: 'walking-frame' } },
  pain: [0, 1],
  shiftExam: () =>
    usual(weak(ARM, 'left', 2, 'limited', oldWeakness), weak(LEG, 'left', 3, undefined, oldWeakness)),
};

const weakSide: Entry = { describe: 'the side known to be weak' };

/** P06: the right shoulder, its abduction (the deltoid) told apart from the rest. */
function weakShoulder(abduction: number): Part {
  const { findings = [], opened = [] } = weak(['shoulder'], 'right', 4, undefined, weakSide);
  return {
    findings: findings.map((entry) => (entry['movement'] === 'abduction' ? abductionOf(abduction) : entry)),
    opened,
  };
}

function abductionOf(grade: number): Entry {
  const range = grade >= 3 ? 'full' : grade === 2 ? 'limited' : 'absent';
  return graded('shoulder.abduction', 'right', grade, { mode: 'active', range, ...weakSide });
}

/** P06: grade of the right shoulder's abduction in the full exam of each shift. */
const P06_ABDUCTION = [4, 4, 4, 4, 4, 1, 1, 1, 2];

const P06: Story = {
  patient: 'P06',
  gait: { gait: { pattern: 'shuffling', assistance: 'one-person', device: 'walking-frame' } },
  pain: [0, 1],
  shiftExam: (shift) =>
    usual(
      weakShoulder(ofShift(shift, P06_ABDUCTION)),
      weak(['elbow', 'forearm', 'wrist', 'fingers', 'thumb'], 'right', 4, undefined, weakSide),
      weak(LEG, 'right', 4, undefined, weakSide),
    ),
  sessions: [
    {
      shift: 5,
      clock: '12:00',
      name: 'arm-noon',
      type: 'focused',
      part: { findings: [abductionOf(3), graded('shoulder.abduction', 'left', 5)] },
    },
    {
      shift: 5,
      clock: '15:30',
      name: 'arm-afternoon',
      type: 'focused',
      entryMinutes: 3,
      part: { findings: [abductionOf(1), graded('shoulder.abduction', 'left', 5)] },
      addendum: { clock: '18:20', note: 'Taken for imaging at 15:50; back on the ward at 18:05.' },
    },
  ],
};

const P07_MORNING = ['9', '9.5', '10', '11', '11.5', '12.5', '13'];
const P07_EVENING = ['15', '15.5', '16', '17', '17', '18', '18.5'];

function boggyHands(shift: DemoShift): Part {
  const right = ofDay(shift, shift.kind === 'day' ? P07_MORNING : P07_EVENING);
  const left = String(Number(right) - 0.5);
  return {
    findings: [
      ...SIDES.flatMap((side) => [
        seen(
          'fingers',
          side,
          { swelling: { value: 'moderate', describe: 'boggy knuckles' } },
          { tenderness: 'mild' },
        ),
        seen('wrist', side, { swelling: 'mild' }, { tenderness: 'mild' }),
      ]),
      gripAround('right', right, '0.5'),
      gripAround('left', left, '0.5'),
    ],
  };
}

const hotKnee: Part = {
  findings: [
    seen(
      'knee',
      'left',
      { swelling: { value: 'moderate', describe: 'new since the night, this knee alone' } },
      { warmth: 'warmer', tenderness: 'moderate' },
    ),
    extent('knee.flexion', 'left', 'limited', { pain: 6, limitedBy: 'pain' }),
  ],
};

const P07: Story = {
  patient: 'P07',
  gait: STEADY,
  pain: [3, 5],
  shiftExam: (shift) =>
    usual(boggyHands(shift), soreHand('left'), soreHand('right'), ...(shift.number >= 9 ? [hotKnee] : [])),
};

function soreHand(side: Side): Part {
  return weak(['fingers'], side, 4, undefined, { limitedBy: 'pain' });
}

/** A wrist in a cast: nothing of it can be examined, nor the turning of the forearm. */
function inCast(side: Side, since: string): Part {
  return {
    onBody: [{ device: 'cast', joints: ['wrist'], side, since }],
    notAssessed: [
      { joints: ['wrist'], sides: side, reason: 'immobilised' },
      { joints: ['forearm'], sides: side, aspects: ['range', 'strength'], reason: 'immobilised' },
    ],
  };
}

function armCheck(side: Side, changes: Entry = {}): Part {
  const other = side === 'left' ? 'right' : 'left';
  return { findings: [neurovascular('upper', side, changes), neurovascular('upper', other)] };
}

/** Checks of a limb at risk, one session a clock time. */
function armChecks(
  side: Side,
  times: Readonly<Record<number, readonly string[]>>,
  changesAt: (shift: number, clock: string) => Entry = () => ({}),
): readonly Session[] {
  return Object.entries(times).flatMap(([number, clocks]) =>
    clocks.map((clock): Session => ({
      shift: Number(number),
      clock,
      name: `limb-${clock.replace(':', '')}`,
      type: 'neurovascular',
      entryMinutes: 3,
      part: armCheck(side, changesAt(Number(number), clock)),
    })),
  );
}

/** Every hour on the hour from one to another, over midnight where `last` is the smaller. */
function hourly(first: number, last: number): readonly string[] {
  const count = ((last - first + 24) % 24) + 1;
  return Array.from({ length: count }, (_, index) => `${String((first + index) % 24).padStart(2, '0')}:00`);
}

function without(clocks: readonly string[], ...left: readonly string[]): readonly string[] {
  return clocks.filter((clock) => !left.includes(clock));
}

/** P08: hourly for a day from the cast, and again from the call at 11:00; 03:00 and 04:00 of the first night missed. */
const P08_CHECKS: Readonly<Record<number, readonly string[]>> = {
  1: hourly(11, 18),
  2: without(hourly(19, 6), '03:00', '04:00'),
  3: hourly(7, 18),
  4: hourly(19, 6),
  5: [...hourly(7, 11), '15:00'],
  6: ['19:00', '23:00', '03:00'],
  7: ['07:00', '11:00', '15:00'],
  8: ['21:00'],
  9: ['09:00'],
  10: ['21:00'],
  11: ['09:00'],
  12: ['21:00'],
  13: ['09:00'],
  14: ['21:00'],
};

/** The call of shift 3: pain and tingling, the pulse as it was. */
const P08_CALL: Entry = {
  'pain-rest': 7,
  'pain-passive-stretch': 8,
  sensation: { value: 'tingling', describe: 'fingers, called for help himself' },
  'capillary-refill': 2,
  pulse: 'present',
  swelling: 'mild',
};

const P08_AFTER: Entry = {
  'pain-rest': 4,
  'pain-passive-stretch': 3,
  sensation: 'tingling',
  swelling: { value: 'mild', describe: 'cast split at 11:35 under order' },
};

const P08: Story = {
  patient: 'P08',
  gait: STEADY,
  pain: [3, 4],
  shiftExam: (shift) => ({
    ...usual(inCast('left', '2026-03-02T10:00:00-05:00')),
    ...(shift.number === 1 && { clock: '10:20' }),
  }),
  sessions: armChecks('left', P08_CHECKS, (shift, clock) => {
    if (shift === 3 && clock === '11:00') return P08_CALL;
    if (shift === 3 && clock === '12:00') return P08_AFTER;
    return { 'pain-rest': 2 };
  }),
};

/** P09: hourly to 24 h, 4-hourly to 48 h, then once a shift; hourly again from the new cast of shift 12, 22:00. */
const P09_CHECKS: Readonly<Record<number, readonly string[]>> = {
  1: [...hourly(7, 14), '18:00'],
  2: ['22:00', '02:00', '06:00'],
  3: ['10:00', '14:00'],
  4: ['21:10'],
  5: ['09:10'],
  6: ['21:10'],
  7: ['09:10'],
  8: ['21:10'],
  9: ['09:10'],
  10: ['21:10'],
  11: ['09:10'],
  12: without(hourly(22, 6), '02:00'),
  13: hourly(7, 18),
  14: [...hourly(19, 22), '02:00', '06:00'],
};

const P09_FIRST_CAST = '2026-03-01T14:00:00-05:00';
const P09_NEW_CAST = '2026-03-07T22:00:00-05:00';

/** Wrist flexion typed while the cast is on; the rest as it must be. */
const P09_TYPED_WRIST: Part = {
  onBody: [{ device: 'cast', joints: ['wrist'], side: 'right', since: P09_FIRST_CAST }],
  findings: [{ joint: 'wrist', side: 'right', movement: 'flexion', mode: 'active', degrees: 60 }],
  opened: [{ joints: ['wrist'], sides: 'right', aspects: ['range'] }],
  notAssessed: [
    { joints: ['wrist'], sides: 'right', aspects: ['look', 'feel', 'strength'], reason: 'immobilised' },
    { joints: ['forearm'], sides: 'right', aspects: ['range', 'strength'], reason: 'immobilised' },
  ],
};

const P09: Story = {
  patient: 'P09',
  gait: STEADY,
  pain: [1, 2],
  shiftExam: (shift) => ({
    ...usual(inCast('right', shift.number <= 12 ? P09_FIRST_CAST : P09_NEW_CAST)),
    ...(shift.number === 6 && {
      firstTry: { parts: [P09_TYPED_WRIST], codes: ['BP-03'], then: 'corrected' },
    }),
  }),
  sessions: [
    {
      shift: 12,
      clock: '21:45',
      name: 'cast-off',
      type: 'focused',
      part: {
        onBody: [
          {
            device: 'cast',
            joints: ['wrist'],
            side: 'right',
            since: P09_FIRST_CAST,
            until: '2026-03-07T21:40:00-05:00',
          },
        ],
        findings: [seen('wrist', 'right', { swelling: 'mild' }, { tenderness: 'mild' })],
        note: 'Cast taken off under order; skin whole.',
      },
    },
    {
      shift: 12,
      clock: '22:05',
      name: 'cast-new',
      type: 'focused',
      part: { onBody: [{ device: 'cast', joints: ['wrist'], side: 'right', since: P09_NEW_CAST }] },
    },
    ...armChecks('right', P09_CHECKS),
  ],
};

/** Grip of both hands, taken by one therapist on one device each day. */
function gripSessions(
  clock: string,
  hands: (day: number) => readonly Entry[],
  firstTry: Readonly<Record<number, FirstTry>> = {},
): readonly Session[] {
  return Array.from({ length: 7 }, (_, day) => ({
    shift: dayShift(day),
    clock,
    name: 'grip',
    type: 'therapist' as const,
    examiner: 'DEMO-PT-02',
    part: { positions: ['sitting'], findings: hands(day) },
    ...(firstTry[day] && { firstTry: firstTry[day] }),
  }));
}

const P10_RIGHT = ['17.5', '16.8', '15.9', '14.6', '13.2', '12.0', '11.4'];

function bestOfThree(side: Side, best: string): Entry {
  const [first, last] = [0.6, 0.3].map((less) => (Number(best) - less).toFixed(1));
  return grip(side, [first ?? best, best, last ?? best], 'best-of-3');
}

const tires: Entry = { describe: 'tires after two repeats' };

const P10: Story = {
  patient: 'P10',
  gait: WITH_FRAME,
  pain: [1, 1],
  shiftExam: () => usual(...SIDES.map((side) => weak(LEG, side, 4, undefined, tires))),
  sessions: gripSessions('10:40', (day) => {
    const right = P10_RIGHT[day] ?? '11.4';
    return [bestOfThree('right', right), bestOfThree('left', (Number(right) - 1).toFixed(1))];
  }),
};

const P11_RIGHT = ['21.0', '19.8', '21.4', '20.2', '20.9', '19.5', '20.7'];
const P11_LEFT = ['19.4', '19.9', '19.1', '20.0', '19.3', '19.8', '19.5'];

/** P11: a word of the ankle, which at the wrist is put right and kept as typed. */
const bentBack: Part = {
  findings: [
    { joint: 'wrist', side: 'right', movement: 'dorsiflexion', mode: 'active', range: 'full', strength: 5 },
  ],
};

const P11: Story = {
  patient: 'P11',
  gait: WITH_FRAME,
  pain: [1, 2],
  shiftExam: (shift) =>
    shift.number === 3
      ? { ...usual({ findings: screened() }, bentBack), labels: ['MV-01'] }
      : usual({ findings: screened() }),
  sessions: gripSessions('11:05', (day) => [
    gripAround('right', P11_RIGHT[day] ?? '20.7', '0.4'),
    gripAround('left', P11_LEFT[day] ?? '19.5', '0.4'),
  ]).map((session, day) => ({ ...session, sentTwice: day === 1 })),
};

const P12_RIGHT = ['24', '24', '23', '53', '24', '24', '24.5'];
const P12_LEFT = ['23', '22.5', '22.5', '51', '23', '22.5', '23'];
/** The day on which the dial was read on its scale of pounds. */
const P12_POUNDS_DAY = 3;

function dialRead(day: number, unit: string): readonly Entry[] {
  return [
    gripAround('right', P12_RIGHT[day] ?? '24', '0.5', unit),
    gripAround('left', P12_LEFT[day] ?? '23', '0.5', unit),
  ];
}

const P12: Story = {
  patient: 'P12',
  gait: STEADY,
  pain: [1, 2],
  shiftExam: () => usual({ findings: screened() }),
  sessions: gripSessions('11:25', (day) => dialRead(day, day === P12_POUNDS_DAY ? 'lb' : 'kg'), {
    [P12_POUNDS_DAY]: {
      parts: [{ positions: ['sitting'], findings: dialRead(P12_POUNDS_DAY, 'kg') }],
      codes: ['VL-07'],
      then: 'corrected',
    },
  }),
};

/** P13: grades by shift, the same left and right. */
const P13_GRADES = {
  'ankle.dorsiflexion': [5, 4, 4, 3, 2],
  'knee.extension': [5, 5, 4, 4, 3],
  'hip.flexion': [5, 5, 5, 4, 4],
  'fingers.flexion': [5, 5, 5, 5, 4],
} as const;

function climbing(shift: DemoShift): Part {
  return {
    findings: [
      graded('neck.flexion', undefined, ofShift(shift, [5, 5, 5, 5, 4])),
      ...Object.entries(P13_GRADES).flatMap(([id, grades]) =>
        SIDES.map((side) => graded(id, side, ofShift(shift, grades))),
      ),
    ],
  };
}

const P13: Story = {
  patient: 'P13',
  gait: { gait: { pattern: 'unsteady', assistance: 'one-person', device: 'walking-frame' } },
  pain: [1, 1],
  shiftExam: (shift) => usual(climbing(shift)),
  sessions: [
    {
      shift: 4,
      clock: '02:10',
      name: 'screen',
      type: 'brief-screen',
      part: {
        positions: ['supine'],
        findings: [...screened('equal and weak'), ...pains(1, 1)],
        notAssessed: [noGait('position', 'in bed for the night')],
      },
    },
  ],
};

const contractures: Part = {
  findings: SIDES.flatMap((side) => [
    seen('knee', side, { deformity: { value: 'contracture', describe: 'long-standing, unchanged' } }),
    angle('knee.flexion', side, '125'),
    lacking('knee.extension', side, '25'),
  ]),
  opened: [{ joints: ['knee'], aspects: ['range'] }],
};

const P14: Story = {
  patient: 'P14',
  gait: WITH_FRAME,
  pain: [1, 2],
  shiftExam: (shift) => ({
    ...usual(contractures),
    ...(shift.number === 7 && {
      examiner: 'DEMO-RN-02',
      firstTry: {
        parts: [
          {
            findings: [extent('knee.extension', 'left', 'full'), extent('knee.extension', 'right', 'full')],
            blank: [{ joints: ['knee'], aspects: ['look'] }],
          },
        ],
        codes: ['CX-01'],
        then: 'corrected',
      },
    }),
  }),
};

const FOOT: readonly JointId[] = ['ankle', 'foot', 'toes'];

function amputation(shift: DemoShift): Part {
  return {
    ...(shift.number === 1 && { absent: [{ joints: FOOT, side: 'right', level: 'below knee' }] }),
    notAssessed: [{ joints: FOOT, sides: 'right', reason: 'absent-part' }],
  };
}

const P15: Story = {
  patient: 'P15',
  gait: noGait('position', 'wheelchair, no prosthesis yet'),
  pain: [1, 2],
  shiftExam: (shift) => ({
    ...usual(amputation(shift)),
    ...(shift.number === 10 && {
      firstTry: {
        parts: [
          {
            findings: [graded('ankle.dorsiflexion', 'right', 5)],
            opened: [{ joints: ['ankle'], sides: 'right' }],
            notAssessed: [{ joints: ['foot', 'toes'], sides: 'right', reason: 'absent-part' }],
          },
        ],
        codes: ['BP-01'],
        then: 'corrected',
      },
    }),
  }),
};

const longStanding: Entry = { describe: 'long-standing, unchanged' };

const P16: Story = {
  patient: 'P16',
  gait: noGait('position', 'wheelchair user'),
  pain: [0, 0],
  shiftExam: (shift) =>
    shift.number === 10
      ? { ...usual(), firstTry: { codes: ['CX-10'], then: 'confirmed' } }
      : usual(...SIDES.map((side) => weak(LEG, side, 0, 'absent', longStanding))),
};

/** P17: right and left grip in kg and the right knee in cm; shifts 6 to 10 are copies. */
const P17_COPIED = ['22.4', '21.9', '39.6'] as const;
const P17_READINGS: readonly (readonly [right: string, left: string, knee: string])[] = [
  ['22.1', '21.4', '39.9'],
  ['22.8', '21.7', '39.8'],
  ['21.9', '21.2', '39.7'],
  ['22.6', '22.0', '39.8'],
  ['22.0', '21.5', '39.5'],
  P17_COPIED,
  P17_COPIED,
  P17_COPIED,
  P17_COPIED,
  P17_COPIED,
  ['22.9', '21.6', '39.3'],
  ['22.3', '21.8', '39.4'],
  ['23.1', '22.2', '39.2'],
  ['22.7', '22.1', '39.3'],
];
const P17_NOTE = 'Slept well, walks to bathroom with frame, knee dressing dry.';

function copied(shift: DemoShift): Part {
  const [right, left, knee] = ofShift(shift, P17_READINGS);
  return {
    findings: [
      grip('right', [right], 'single'),
      grip('left', [left], 'single'),
      kneeGirth('right', knee),
      kneeGirth('left', '38.9'),
      seen('knee', 'right', { swelling: 'mild' }),
    ],
    ...(isBetween(shift, 6, 10) && { note: P17_NOTE }),
  };
}

const P17: Story = {
  patient: 'P17',
  gait: WITH_FRAME,
  pain: [1, 2],
  shiftExam: (shift) => usual(copied(shift)),
};

const P18: Story = {
  patient: 'P18',
  gait: STEADY,
  pain: [1, 2],
  shiftExam: (shift) => ({
    ...usual(),
    ...(shift.number === 10 && {
      firstTry: {
        parts: [{ everyJointAtOnce: true, note: 'all joints WNL' }],
        codes: ['CM-02'],
        then: 'given-up',
      },
    }),
  }),
};

const seated: Part = {
  positions: ['sitting'],
  notAssessed: [noGait('instability', 'pressure falls on standing; seated version done')],
};

const P19: Story = {
  patient: 'P19',
  gait: STEADY,
  pain: [0, 1],
  shiftExam: (shift) => usual(...(shift.number <= 4 ? [seated] : [])),
};

function declined(note?: string): Part {
  const why = { reason: 'declined', ...(note !== undefined && { note }) };
  return {
    notAssessed: [
      { joints: EVERY_JOINT, ...why },
      { check: 'gait', ...why },
    ],
  };
}

const P20_WORDS: Readonly<Record<number, string>> = {
  3: 'Full exam offered at 07:40 and 08:00; says "not today, I am worn out"; reason explained; offered again tonight.',
  4: 'Offered at 19:50; says "let me sleep"; reason explained; to be offered again in the morning.',
  5: 'Offered at 07:40 and 08:00; gives no reason; use of the exam explained; to be offered again tonight.',
};

const P20: Story = {
  patient: 'P20',
  gait: WITH_FRAME,
  pain: [1, 3],
  shiftExam: (shift) => {
    const words = P20_WORDS[shift.number];
    if (words === undefined) return usual();
    const firstTry: FirstTry = { parts: [declined()], codes: ['CM-06'], then: 'corrected' };
    return { ...usual(declined(words)), ...(shift.number === 3 && { firstTry }) };
  },
};

const spineOrder = 'order: spine limits, brace when up';
const brace: Part = {
  precautions: [{ precaution: 'spine', note: spineOrder }],
  onBody: [{ device: 'brace', joints: ['thoracolumbar'] }],
};
const noBends: Part = {
  notAssessed: [
    {
      joints: ['thoracolumbar'],
      aspects: ['range', 'strength'],
      reason: 'precaution',
      note: spineOrder,
    },
  ],
};
const bentForward: Part = {
  findings: [{ joint: 'thoracolumbar', movement: 'flexion (forward bend)', mode: 'active', range: 'full' }],
  opened: [{ joints: ['thoracolumbar'], aspects: ['range'] }],
  notAssessed: [{ joints: ['thoracolumbar'], aspects: ['strength'], reason: 'precaution', note: spineOrder }],
};

const P21: Story = {
  patient: 'P21',
  gait: WITH_FRAME,
  pain: [2, 4],
  shiftExam: (shift) => ({
    ...usual(brace, noBends),
    ...(shift.number === 8 && {
      firstTry: { parts: [brace, bentForward], codes: ['SF-01'], then: 'corrected' },
    }),
    ...(shift.number === 10 && { draftOnly: true }),
  }),
};

/** P22: the right knee at mid-patella by day, in cm; the left is 41.8. */
const P22_GIRTH = ['43.0', '42.4', '42.0', '45.0', '44.6', '44.0', '43.2'];

function bledKnee(shift: DemoShift): Part {
  const order = 'order: active movement only';
  const girths = [kneeGirth('right', ofDay(shift, P22_GIRTH)), kneeGirth('left', '41.8')];
  return {
    precautions: [{ precaution: 'knee-active-only', side: 'right', note: order }],
    findings: [
      seen('knee', 'right', {
        swelling: ofShift(shift, ['mild', 'mild', 'mild', 'mild', 'mild', 'mild', 'none', 'mild']),
      }),
      ...(shift.kind === 'day' ? girths : []),
    ],
    notAssessed: [
      { joints: ['knee'], sides: 'right', aspects: ['strength'], reason: 'precaution', note: order },
    ],
  };
}

const P22: Story = {
  patient: 'P22',
  gait: WITH_FRAME,
  pain: [2, 3],
  shiftExam: (shift) => ({
    ...usual(bledKnee(shift)),
    ...(shift.number === 7 && { firstTry: { codes: ['CX-04'], then: 'confirmed' } }),
  }),
  sessions: [
    {
      shift: 7,
      clock: '10:45',
      name: 'knee-second-look',
      type: 'focused',
      examiner: 'DEMO-RN-10',
      part: {
        findings: [
          seen('knee', 'right', { swelling: { value: 'mild', describe: 'fullness above the kneecap' } }),
        ],
      },
    },
  ],
};

const shoulderOrder = 'order: passive movement only, sling';
const sling: Part = {
  precautions: [{ precaution: 'shoulder-replacement', side: 'right', note: shoulderOrder }],
  onBody: [{ device: 'sling', joints: ['shoulder'], side: 'right' }],
};

function restedShoulder(...aspects: readonly ('range' | 'strength')[]): Part {
  return {
    notAssessed: [
      { joints: ['shoulder'], sides: 'right', aspects, reason: 'precaution', note: shoulderOrder },
    ],
  };
}

const raisedAlone: Part = {
  findings: [
    {
      joint: 'shoulder',
      side: 'right',
      movement: 'flexion',
      mode: 'active',
      degrees: 110,
      method: 'visual-estimate',
    },
  ],
  opened: [{ joints: ['shoulder'], sides: 'right', aspects: ['range'] }],
};

const P23: Story = {
  patient: 'P23',
  gait: STEADY,
  pain: [2, 4],
  shiftExam: (shift) => ({
    ...usual(sling, restedShoulder('range', 'strength')),
    ...(shift.number === 8 && {
      firstTry: {
        parts: [sling, restedShoulder('strength'), raisedAlone],
        codes: ['SF-01'],
        then: 'corrected',
      },
    }),
  }),
  sessions: [
    [3, '60'],
    [7, '75'],
    [11, '90'],
  ].map(([shift, degrees]) => ({
    shift: Number(shift),
    clock: '13:30',
    name: 'shoulder',
    type: 'therapist',
    examiner: 'DEMO-PT-03',
    part: {
      positions: ['supine'],
      findings: [angle('shoulder.flexion', 'right', String(degrees), { mode: 'passive' })],
    },
  })),
};

const P24: Story = {
  patient: 'P24',
  gait: STEADY,
  pain: [0, 1],
  shiftExam: (shift) => ({
    ...usual(),
    ...(shift.number === 6 && {
      clock: '22:30',
      firstTry: { clock: '20:50', codes: ['TM-03'], then: 'corrected' as const },
    }),
    ...(shift.number === 7 && {
      clock: '07:40',
      entryMinutes: 675,
      parts: [{ lateReason: 'Called away to another patient; typed at the end of the shift.' }],
      labels: ['TM-04'],
    }),
  }),
  sessions: [
    {
      shift: 6,
      clock: '21:20',
      name: 'arrival',
      type: 'brief-screen',
      part: { positions: ['sitting'], findings: [...screened(), ...pains(0, 1), STEADY] },
    },
  ],
};

/** Every patient's week, in the order of the beds. */
export const stories: readonly Story[] = [
  P01,
  P02,
  P03,
  P04,
  P05,
  P06,
  P07,
  P08,
  P09,
  P10,
  P11,
  P12,
  P13,
  P14,
  P15,
  P16,
  P17,
  P18,
  P19,
  P20,
  P21,
  P22,
  P23,
  P24,
];

/** How the exam of a shift fell short: not done at all, one side only, or some of it left blank or put off. */
export type Shortfall = 'nothing' | Part;

const leftSideOnly: Part = { blank: [{ joints: EVERY_JOINT, sides: 'right' }] };
const leftStrengthMissing: Part = { blank: [{ joints: EVERY_JOINT, sides: 'left', aspects: ['strength'] }] };

function leftOut(...at: readonly JointId[]): Part {
  return { blank: [{ joints: at }] };
}

function notDone(...at: readonly JointId[]): Part {
  return { notAssessed: [{ joints: at, reason: 'no-time' }] };
}

/**
 * The shifts' shortfalls, chosen off every shift in which the patient's own story turns. Shift 10 is the gap of the
 * week: ten of 23, of which the draft (P21), the refused one (P18) and the one to check (P16) are in their stories.
 */
export const shortfalls: Readonly<Record<number, Readonly<Record<string, Shortfall>>>> = {
  1: { P05: notDone('jaw'), P16: 'nothing' },
  2: { P18: leftStrengthMissing, P10: leftOut('hip') },
  3: { P05: 'nothing' },
  4: { P12: { blank: [{ joints: EVERY_JOINT, sides: 'left' }] }, P16: leftOut('foot', 'toes') },
  5: { P15: 'nothing' },
  6: { P11: notDone('hip'), P05: leftSideOnly },
  7: { P15: 'nothing' },
  8: { P18: leftStrengthMissing, P12: leftOut('thoracolumbar') },
  9: { P24: notDone('hip') },
  10: {
    P03: 'nothing',
    P11: 'nothing',
    P20: 'nothing',
    P23: 'nothing',
    P05: leftSideOnly,
    P12: leftSideOnly,
    P19: leftSideOnly,
  },
  11: { P14: 'nothing', P24: leftSideOnly },
  12: { P05: 'nothing', P15: 'nothing', P19: notDone('hip') },
  13: { P19: 'nothing' },
  14: { P16: 'nothing', P10: 'nothing' },
};

/** Patients whose hips are left for the morning on every second night, for privacy. */
export const privacyAtNight: readonly string[] = ['P08', 'P11', 'P12', 'P19', 'P24'];
