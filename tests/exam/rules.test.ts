import { describe, expect, test } from 'vitest';
import { DEFAULT_SITE_RULES, RULES } from '../../src/exam/index.js';
import { issuesOf, read } from './document.fixture.js';

/**
 * One row a rule: a document it catches and its innocent twin. The cases are those of the written documentation rules
 * (source keys in `RULES`); where a rule gives no example, ours is common practice and says what it shows.
 */
interface Case {
  readonly rule: string;
  readonly of: string;
  readonly caught: Readonly<Record<string, unknown>>;
  readonly as: string;
  readonly accepted: Readonly<Record<string, unknown>>;
}

const patient = (readBack: unknown): unknown => ({
  identifier: { system: 'http://example.org/demo/mrn', value: 'DEMO-6E-P04' },
  readBack,
});
const staff = (value: string, role?: string): unknown => ({
  identifier: { system: 'http://example.org/demo/staff', value },
  ...(role && { role }),
});
const one = (...findings: readonly unknown[]): { readonly findings: readonly unknown[] } => ({ findings });
const left = (joint: string, movement: string, said: object): unknown => ({
  joint,
  side: 'left',
  movement,
  ...said,
});
const knee = (said: object): unknown => left('knee', 'flexion', said);
const angle = { method: 'goniometer-long-arm' };
const WARM_KNEE = { joint: 'knee', side: 'left', feel: { warmth: 'warmer' } };
const grip = (said: object): unknown => ({
  measure: 'grip',
  side: 'right',
  unit: 'kg',
  trials: [22.5],
  device: 'hydraulic',
  handlePosition: 2,
  dominant: true,
  ...said,
});
const elements = {
  'pain-rest': 2,
  'pain-passive-stretch': 'none',
  sensation: 'intact',
  movement: 'full',
  colour: 'usual',
  warmth: 'warm',
  'capillary-refill': '<2',
  pulse: 'present',
  swelling: 'none',
};
const limb = (side: string, said: object = {}): unknown => ({
  check: 'neurovascular',
  limb: 'upper',
  side,
  elements: { ...elements, ...said },
});

const cases: readonly Case[] = [
  {
    rule: 'ID-01',
    of: 'a patient named by one identifier',
    caught: { patient: patient({}) },
    as: 'error /patient/readBack',
    accepted: { patient: patient({ name: 'Zzdunmoor' }) },
  },
  {
    rule: 'ID-02',
    of: 'an examiner without a role',
    caught: { examiner: staff('DEMO-RN-01') },
    as: 'advise /examiner/role',
    accepted: { examiner: staff('DEMO-RN-01', 'RN') },
  },
  {
    rule: 'ID-03',
    of: 'another person who typed',
    caught: { recorder: staff('DEMO-RN-02') },
    as: 'info /recorder',
    accepted: { recorder: staff('DEMO-RN-01') },
  },
  {
    rule: 'TM-01',
    of: 'a date without a time',
    caught: { performedAt: '2026-03-05' },
    as: 'error /performedAt',
    accepted: { performedAt: '2026-03-05T08:10:00.5-05:00' },
  },
  {
    rule: 'TM-02',
    of: 'an exam more than five minutes ahead of the clock',
    caught: { performedAt: '2026-03-05T08:50:01-05:00', recordedAt: undefined },
    as: 'error /performedAt',
    accepted: { performedAt: '2026-03-05T08:50:00-05:00', recordedAt: undefined },
  },
  {
    rule: 'TM-04',
    of: 'an exam typed more than two hours late',
    caught: { performedAt: '2026-03-05T06:24:00-05:00' },
    as: 'advise /performedAt',
    accepted: { performedAt: '2026-03-05T06:25:00-05:00' },
  },
  {
    rule: 'TM-05',
    of: 'an exam typed days late',
    caught: { performedAt: '2026-03-03T08:10:00-05:00' },
    as: 'advise /performedAt',
    accepted: { performedAt: '2026-03-04T08:10:00-05:00' },
  },
  {
    rule: 'SC-01',
    of: 'grade 6',
    caught: one(knee({ strength: 6 })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: 4 })),
  },
  {
    rule: 'SC-01',
    of: 'grade "6/5"',
    caught: one(knee({ strength: '6/5' })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: '4/5' })),
  },
  {
    rule: 'SC-02',
    of: 'grade "5+"',
    caught: one(knee({ strength: '5+' })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: '5' })),
  },
  {
    rule: 'SC-02',
    of: 'grade "4+" where the site has not switched it on',
    caught: one(knee({ strength: '4+' })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: '4' })),
  },
  {
    rule: 'SC-02',
    of: 'a leading plus',
    caught: one(knee({ strength: '+4' })),
    as: 'confirm /findings/0/strength',
    accepted: one(knee({ strength: 4 })),
  },
  {
    rule: 'SC-03',
    of: 'grade "4/6"',
    caught: one(knee({ strength: '4/6' })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: '4/5' })),
  },
  {
    rule: 'SC-04',
    of: 'an oedema grade in a strength field',
    caught: one(knee({ strength: '2+ oedema' })),
    as: 'error /findings/0/strength',
    accepted: one(knee({ strength: '2' })),
  },
  {
    rule: 'SC-05',
    of: 'a grade as the result of a screen',
    caught: one({ screen: 'hand-squeeze', result: '5/5' }),
    as: 'error /findings/0/result',
    accepted: one({ screen: 'hand-squeeze', result: 'equal and strong' }),
  },
  {
    rule: 'SC-05',
    of: 'a strength beside a screen',
    caught: one({ screen: 'foot-push', result: 'equal and strong', strength: 5 }),
    as: 'error /findings/0/strength',
    accepted: one({ screen: 'foot-push', result: 'left weaker' }),
  },
  {
    rule: 'SC-06',
    of: 'grade 4 with gravity removed',
    caught: one(knee({ strength: 4, gravityEliminated: true })),
    as: 'confirm /findings/0/strength',
    accepted: one(knee({ strength: 2, gravityEliminated: true })),
  },
  {
    rule: 'SC-06',
    of: 'grade 2 with full active range',
    caught: one(knee({ strength: 2, range: 'full' })),
    as: 'confirm /findings/0/strength',
    accepted: one(knee({ strength: 3, range: 'full' })),
  },
  {
    rule: 'SC-07',
    of: 'grade 4 with pain on testing',
    caught: one(knee({ strength: 4, pain: 5 })),
    as: 'advise /findings/0/strength',
    accepted: one(knee({ strength: 5, pain: 5 })),
  },
  {
    rule: 'VL-01',
    of: 'knee flexion of 210 degrees',
    caught: one(knee({ degrees: 210, ...angle })),
    as: 'error /findings/0/degrees',
    accepted: one(knee({ degrees: 120, ...angle })),
  },
  {
    rule: 'VL-01',
    of: 'a jaw opening of 90 mm',
    caught: one({ joint: 'jaw', movement: 'opening', millimetres: 90 }),
    as: 'error /findings/0/millimetres',
    accepted: one({ joint: 'jaw', movement: 'opening', millimetres: 45.5 }),
  },
  {
    rule: 'VL-02',
    of: 'elbow flexion of 172 degrees',
    caught: one(left('elbow', 'flexion', { degrees: 172, ...angle })),
    as: 'confirm /findings/0/degrees',
    accepted: one(left('elbow', 'flexion', { degrees: 145, ...angle })),
  },
  {
    rule: 'VL-03',
    of: 'knee extension of -10 degrees',
    caught: one(left('knee', 'extension', { degrees: -10, ...angle })),
    as: 'error /findings/0/degrees',
    accepted: one(left('knee', 'extension', { lacks: 10, ...angle })),
  },
  {
    rule: 'VL-03',
    of: 'knee extension of 10 degrees, which can be read two ways',
    caught: one(left('knee', 'extension', { degrees: 10, ...angle })),
    as: 'error /findings/0/degrees',
    accepted: one(left('knee', 'extension', { hyperextends: 10, ...angle })),
  },
  {
    rule: 'VL-03',
    of: 'an elbow that lacks and hyperextends at once',
    caught: one(left('elbow', 'extension', { lacks: 10, hyperextends: 5, ...angle })),
    as: 'error /findings/0',
    accepted: one(left('elbow', 'extension', { lacks: 10, ...angle })),
  },
  {
    rule: 'VL-04',
    of: 'active range 11 degrees beyond passive',
    caught: one(knee({ degrees: 101, ...angle }), knee({ degrees: 90, mode: 'passive', ...angle })),
    as: 'confirm /findings/0/degrees',
    accepted: one(knee({ degrees: 100, ...angle }), knee({ degrees: 90, mode: 'passive', ...angle })),
  },
  {
    rule: 'VL-05',
    of: 'degrees without a method',
    caught: one(knee({ degrees: 60 })),
    as: 'advise /findings/0/degrees',
    accepted: one(knee({ degrees: 60, method: 'visual-estimate' })),
  },
  {
    rule: 'VL-06',
    of: 'a grip without its unit',
    caught: one(grip({ unit: undefined })),
    as: 'error /findings/0/unit',
    accepted: one(grip({ unit: 'lb' })),
  },
  {
    rule: 'VL-08',
    of: 'a grip above 90 kg, in pounds',
    caught: one(grip({ trials: [199], unit: 'lb' })),
    as: 'error /findings/0/trials/0',
    accepted: one(grip({ trials: [140], unit: 'lb' })),
  },
  {
    rule: 'VL-08',
    of: 'a grip above 65 kg',
    caught: one(grip({ trials: [65.1] })),
    as: 'confirm /findings/0/trials/0',
    accepted: one(grip({ trials: [65] })),
  },
  {
    rule: 'VL-08',
    of: 'a grip of 0 without a reason',
    caught: one(grip({ trials: [0] })),
    as: 'confirm /findings/0/trials/0',
    accepted: one(grip({ trials: [0], describe: 'no power since the operation' })),
  },
  {
    rule: 'VL-09',
    of: 'a grip that does not say how it was taken',
    caught: one(grip({ device: undefined })),
    as: 'advise /findings/0/trials',
    accepted: one(grip({})),
  },
  {
    rule: 'VL-10',
    of: 'a circumference without its level',
    caught: one({ joint: 'knee', side: 'left', circumferenceCm: 42 }),
    as: 'confirm /findings/0/circumferenceCm',
    accepted: one({ joint: 'knee', side: 'left', circumferenceCm: 42, level: 'mid-patella' }),
  },
  {
    rule: 'VL-11',
    of: 'pain of 11',
    caught: one({ measure: 'pain', value: 11, when: 'rest' }),
    as: 'error /findings/0/value',
    accepted: one({ measure: 'pain', value: 10, when: 'rest' }),
  },
  {
    rule: 'VL-11',
    of: 'pain neither at rest nor on movement',
    caught: one({ measure: 'pain', value: 4 }),
    as: 'error /findings/0/when',
    accepted: one({ measure: 'pain', value: 4, when: 'movement' }),
  },
  {
    rule: 'VL-12',
    of: 'a capillary refill of 21 seconds',
    caught: one(limb('left', { 'capillary-refill': 21 }), limb('right')),
    as: 'error /findings/0/elements/capillary-refill',
    accepted: one(limb('left', { 'capillary-refill': 20 }), limb('right')),
  },
  {
    rule: 'VL-13',
    of: 'a decimal comma',
    caught: one(knee({ degrees: '12,5', ...angle })),
    as: 'error /findings/0/degrees',
    accepted: one(knee({ degrees: 12.5, ...angle })),
  },
  {
    rule: 'VL-13',
    of: 'a number with its unit',
    caught: one(grip({ trials: ['12 kg'] })),
    as: 'error /findings/0/trials/0',
    accepted: one(grip({ trials: [12] })),
  },
  {
    rule: 'LT-01',
    of: 'a paired joint without a side',
    caught: one({ joint: 'knee', look: { swelling: 'none' } }),
    as: 'error /findings/0/side',
    accepted: one({ joint: 'knee', side: 'both', look: { swelling: 'none' } }),
  },
  {
    rule: 'LT-01',
    of: 'one measured number for both sides',
    caught: one({ joint: 'knee', side: 'both', movement: 'flexion', degrees: 90, ...angle }),
    as: 'error /findings/0/side',
    accepted: one(knee({ degrees: 90, ...angle })),
  },
  {
    rule: 'LT-01',
    of: 'an unspecified side',
    caught: one({ joint: 'knee', side: 'unspecified', look: { swelling: 'none' } }),
    as: 'error /findings/0/side',
    accepted: one({ joint: 'knee', side: 'right', look: { swelling: 'none' } }),
  },
  {
    rule: 'LT-02',
    of: 'a left neck',
    caught: one({ joint: 'neck', side: 'left', movement: 'flexion', strength: 5 }),
    as: 'error /findings/0/side',
    accepted: one({ joint: 'neck', movement: 'rotation', direction: 'left', strength: 5 }),
  },
  {
    rule: 'LT-02',
    of: 'a side for the opening of the jaw',
    caught: one({ joint: 'jaw', side: 'left', movement: 'opening', millimetres: 40 }),
    as: 'error /findings/0/side',
    accepted: one({ joint: 'jaw', side: 'left', feel: { tenderness: 'mild' } }),
  },
  {
    rule: 'LT-03',
    of: 'one knee in a full exam',
    caught: { type: 'full', ...one({ joint: 'knee', side: 'left', look: { swelling: 'none' } }) },
    as: 'advise /findings',
    accepted: { type: 'full', ...one({ joint: 'knee', side: 'both', look: { swelling: 'none' } }) },
  },
  {
    rule: 'MV-01',
    of: 'inversion of the wrist',
    caught: one(left('wrist', 'inversion', { strength: 4 })),
    as: 'error /findings/0/movement',
    accepted: one(left('wrist', 'ulnar deviation', { strength: 4 })),
  },
  {
    rule: 'MV-03',
    of: 'bare rotation of the hip',
    caught: one(left('hip', 'rotation', { strength: 4 })),
    as: 'error /findings/0/movement',
    accepted: one(left('hip', 'internal rotation', { strength: 4 })),
  },
  {
    rule: 'MV-03',
    of: 'rotation of the neck without a direction',
    caught: one({ joint: 'neck', movement: 'rotation', range: 'full' }),
    as: 'error /findings/0/direction',
    accepted: one({ joint: 'neck', movement: 'rotation', direction: 'right', range: 'full' }),
  },
  {
    rule: 'MV-04',
    of: 'kyphosis given as a movement',
    caught: one({ joint: 'thoracolumbar', movement: 'kyphosis', range: 'limited' }),
    as: 'confirm /findings/0/movement',
    accepted: one({ joint: 'thoracolumbar', look: { kyphosis: 'present' } }),
  },
  {
    rule: 'MV-05',
    of: 'ABD, one letter from ADD',
    caught: one(left('hip', 'ABD', { strength: 4 })),
    as: 'confirm /findings/0/movement',
    accepted: one(left('hip', 'abduction', { strength: 4 })),
  },
  {
    rule: 'CM-01',
    of: 'a full exam that leaves the hips out',
    caught: { type: 'full', asExpected: [{ joints: ['knee'] }] },
    as: 'advise /findings',
    accepted: { type: 'focused', asExpected: [{ joints: ['knee'] }] },
  },
  {
    rule: 'CM-02',
    of: 'all joints as expected',
    caught: { asExpected: [{ joints: 'all' }] },
    as: 'error /asExpected/0/joints',
    accepted: { asExpected: [{ joints: ['jaw', 'neck'] }] },
  },
  {
    rule: 'CM-05',
    of: 'a reason that is not of the list',
    caught: { notAssessed: [{ joints: ['hip'], reason: 'busy' }] },
    as: 'error /notAssessed/0/reason',
    accepted: { notAssessed: [{ joints: ['hip'], reason: 'no-time' }] },
  },
  {
    rule: 'CM-06',
    of: 'a refusal without its detail',
    caught: { notAssessed: [{ joints: ['hip'], reason: 'declined' }] },
    as: 'confirm /notAssessed/0',
    accepted: {
      notAssessed: [{ joints: ['hip'], reason: 'declined', note: 'offered at 08:00; "not today"' }],
    },
  },
  {
    rule: 'CM-08',
    of: 'a marked swelling without a word about it',
    caught: one({ joint: 'knee', side: 'left', look: { swelling: 'marked' } }),
    as: 'advise /findings/0',
    accepted: one({
      joint: 'knee',
      side: 'left',
      look: { swelling: 'marked' },
      describe: 'new since the night',
    }),
  },
  {
    rule: 'CM-09',
    of: 'a full exam without pain at rest',
    caught: { type: 'full', ...one(knee({ range: 'full', pain: 2 })) },
    as: 'advise /findings',
    accepted: {
      type: 'full',
      ...one(knee({ range: 'full', pain: 2 }), { measure: 'pain', value: 0, when: 'rest' }),
    },
  },
  {
    rule: 'CM-10',
    of: 'a full exam without gait',
    caught: { type: 'full' },
    as: 'advise /findings',
    accepted: { type: 'full', notAssessed: [{ check: 'gait', reason: 'position' }] },
  },
  {
    rule: 'CM-11',
    of: 'a neurovascular check without passive stretch',
    caught: one(limb('left', { 'pain-passive-stretch': undefined }), limb('right')),
    as: 'confirm /findings/0',
    accepted: one(limb('left'), limb('right')),
  },
  {
    rule: 'CM-11',
    of: 'a neurovascular check of one limb without the other',
    caught: one(limb('left')),
    as: 'confirm /findings/0',
    accepted: one(limb('left'), limb('right')),
  },
  {
    rule: 'CM-11',
    of: '"NVI" alone',
    caught: one({ check: 'NVI', limb: 'upper', side: 'left', elements: {} }),
    as: 'error /findings/0/check',
    accepted: one(limb('left'), limb('right')),
  },
  {
    rule: 'CX-01',
    of: 'full range beside a contracture',
    caught: one(
      { joint: 'knee', side: 'left', look: { deformity: 'contracture' } },
      left('knee', 'extension', { range: 'full' }),
    ),
    as: 'confirm /findings/1/range',
    accepted: one(
      { joint: 'knee', side: 'left', look: { deformity: 'contracture' } },
      { joint: 'knee', side: 'right', movement: 'extension', range: 'full' },
    ),
  },
  {
    rule: 'CX-01',
    of: 'a knee as expected beside its contracture',
    caught: {
      asExpected: [{ joints: ['knee'], aspects: ['range'] }],
      ...one({ joint: 'knee', side: 'left', look: { deformity: 'contracture' } }),
    },
    as: 'confirm /asExpected/0',
    accepted: {
      asExpected: [{ joints: ['knee'], aspects: ['strength'] }],
      ...one({ joint: 'knee', side: 'left', look: { deformity: 'contracture' } }),
    },
  },
  {
    rule: 'CX-02',
    of: 'grade 5 where nothing moves',
    caught: one(left('ankle', 'dorsiflexion', { strength: 5, range: 'none' })),
    as: 'error /findings/0/strength',
    accepted: one(left('ankle', 'dorsiflexion', { strength: 0, range: 'none' })),
  },
  {
    rule: 'CX-03',
    of: 'grade 1 with 20 degrees of active movement',
    caught: one(left('ankle', 'dorsiflexion', { strength: 1, degrees: 20, ...angle })),
    as: 'error /findings/0/strength',
    accepted: one(left('ankle', 'dorsiflexion', { strength: 1, degrees: 20, mode: 'passive', ...angle })),
  },
  {
    rule: 'CX-05',
    of: 'a movement limited by a pain of 0',
    caught: one(knee({ degrees: 60, ...angle, pain: 0, limitedBy: 'pain' })),
    as: 'confirm /findings/0/degrees',
    accepted: one(knee({ degrees: 60, ...angle, pain: 6, limitedBy: 'pain' })),
  },
  {
    rule: 'CX-06',
    of: 'a note of no inflammation over a warm knee',
    caught: { ...one(WARM_KNEE), note: 'Both knees: no signs of inflammation.' },
    as: 'confirm /note',
    accepted: { ...one(WARM_KNEE), note: 'Left knee inflamed.' },
  },
  {
    rule: 'CX-06',
    of: 'a warm knee described as within normal limits',
    caught: one({ ...WARM_KNEE, describe: 'within normal limits' }),
    as: 'confirm /findings/0',
    accepted: one({ ...WARM_KNEE, feel: { warmth: 'same' }, describe: 'within normal limits' }),
  },
  {
    rule: 'CX-07',
    of: 'steady, independent walking on a leg of grade 1',
    caught: one(
      left('hip', 'flexion', { strength: 2 }),
      left('knee', 'extension', { strength: 1 }),
      left('ankle', 'dorsiflexion', { strength: 1 }),
      { gait: { pattern: 'steady', assistance: 'independent' } },
    ),
    as: 'confirm /findings/3',
    accepted: one(
      left('hip', 'flexion', { strength: 2 }),
      left('knee', 'extension', { strength: 1 }),
      left('ankle', 'dorsiflexion', { strength: 1 }),
      { gait: { pattern: 'steady', assistance: 'independent', device: 'orthosis' } },
    ),
  },
  {
    rule: 'CX-08',
    of: 'grade 5 beside a foot drop',
    caught: one(
      { joint: 'ankle', side: 'left', look: { deformity: 'foot drop' } },
      left('ankle', 'dorsiflexion', { strength: 5 }),
    ),
    as: 'confirm /findings/0',
    accepted: one(
      { joint: 'ankle', side: 'left', look: { deformity: 'foot drop' } },
      { joint: 'ankle', side: 'right', movement: 'dorsiflexion', strength: 5 },
    ),
  },
  {
    rule: 'CX-09',
    of: 'words that name the other side',
    caught: one({ joint: 'knee', side: 'left', look: { swelling: 'mild' }, describe: 'right knee, new' }),
    as: 'advise /findings/0',
    accepted: one({
      joint: 'knee',
      side: 'left',
      look: { swelling: 'mild' },
      describe: 'more than the right; left was dry',
    }),
  },
  {
    rule: 'CX-09',
    of: 'a note about the other knee',
    caught: {
      note: 'Right knee seen by the team.',
      ...one({ joint: 'knee', side: 'left', look: { swelling: 'none' } }),
    },
    as: 'advise /note',
    accepted: {
      note: 'Left knee seen by the team.',
      ...one({ joint: 'knee', side: 'left', look: { swelling: 'none' } }),
    },
  },
  {
    rule: 'BP-01',
    of: 'feet that push equally, one of them absent',
    caught: {
      absent: [{ joints: ['ankle', 'foot', 'toes'], side: 'right', level: 'below knee' }],
      ...one({ screen: 'foot-push', result: 'equal and strong' }),
    },
    as: 'error /findings/0',
    accepted: {
      absent: [{ joints: ['ankle', 'foot', 'toes'], side: 'right', level: 'below knee' }],
      ...one({ screen: 'foot-push', result: 'unable' }),
    },
  },
  {
    rule: 'BP-01',
    of: 'dorsiflexion of an absent ankle',
    caught: {
      absent: [{ joints: ['ankle', 'foot', 'toes'], side: 'right', level: 'below knee' }],
      ...one({ joint: 'ankle', side: 'right', movement: 'dorsiflexion', strength: 5 }),
    },
    as: 'error /findings/0/strength',
    accepted: {
      absent: [{ joints: ['ankle', 'foot', 'toes'], side: 'right', level: 'below knee' }],
      ...one(left('ankle', 'dorsiflexion', { strength: 5 })),
    },
  },
  {
    rule: 'BP-02',
    of: 'range of an artificial joint',
    caught: {
      onBody: [{ device: 'prosthesis', joints: ['ankle'], side: 'right' }],
      ...one({ joint: 'ankle', side: 'right', movement: 'dorsiflexion', range: 'full' }),
    },
    as: 'error /findings/0/range',
    accepted: {
      onBody: [{ device: 'prosthesis', joints: ['ankle'], side: 'right' }],
      ...one({ joint: 'knee', side: 'right', movement: 'flexion', range: 'full' }),
    },
  },
  {
    rule: 'BP-02',
    of: 'walking on a prosthesis without its device',
    caught: {
      onBody: [{ device: 'prosthesis', joints: ['ankle'], side: 'right' }],
      ...one({ gait: { pattern: 'steady' } }),
    },
    as: 'error /findings/0',
    accepted: {
      onBody: [{ device: 'prosthesis', joints: ['ankle'], side: 'right' }],
      ...one({ gait: { pattern: 'steady', device: 'prosthesis' } }),
    },
  },
  {
    rule: 'BP-03',
    of: 'wrist flexion inside a cast',
    caught: {
      onBody: [{ device: 'cast', joints: ['wrist'], side: 'left' }],
      ...one(left('wrist', 'flexion', { degrees: 60, ...angle })),
    },
    as: 'confirm /findings/0/degrees',
    accepted: {
      onBody: [{ device: 'cast', joints: ['wrist'], side: 'left', until: '2026-03-05T08:00:00-05:00' }],
      ...one(left('wrist', 'flexion', { degrees: 60, ...angle })),
    },
  },
  {
    rule: 'SF-01',
    of: 'hip adduction against the precaution',
    caught: {
      precautions: [{ precaution: 'hip-posterior', side: 'left' }],
      ...one(left('hip', 'adduction', { degrees: 20, ...angle })),
    },
    as: 'confirm /findings/0/degrees',
    accepted: {
      precautions: [{ precaution: 'hip-posterior', side: 'right' }],
      ...one(left('hip', 'adduction', { degrees: 20, ...angle })),
    },
  },
  {
    rule: 'SF-02',
    of: 'strength where a fracture is suspected',
    caught: {
      notAssessed: [
        {
          joints: ['hip'],
          sides: 'left',
          aspects: ['range'],
          reason: 'suspected-injury',
          note: 'doctor told',
        },
      ],
      ...one(left('hip', 'flexion', { strength: 3 })),
    },
    as: 'confirm /findings/0/strength',
    accepted: {
      notAssessed: [
        {
          joints: ['hip'],
          sides: 'right',
          aspects: ['range'],
          reason: 'suspected-injury',
          note: 'doctor told',
        },
      ],
      ...one(left('hip', 'flexion', { strength: 3 })),
    },
  },
  {
    rule: 'SF-03',
    of: 'walking of which nothing says that it was safe',
    caught: one({ gait: { pattern: 'steady' } }),
    as: 'advise /findings/0',
    accepted: one({ gait: { pattern: 'steady', assistance: 'supervised' } }),
  },
  {
    rule: 'SF-04',
    of: 'a test stopped by dizziness without a word',
    caught: one({ joint: 'neck', movement: 'extension', range: 'limited', limitedBy: 'dizziness' }),
    as: 'confirm /findings/0/range',
    accepted: one({
      joint: 'neck',
      movement: 'extension',
      range: 'limited',
      limitedBy: 'dizziness',
      describe: 'stopped, doctor told at 08:12',
    }),
  },
  {
    rule: 'SF-06',
    of: 'strength of a hot, swollen knee',
    caught: one(
      { joint: 'knee', side: 'left', look: { swelling: 'marked' }, feel: { warmth: 'warmer' } },
      knee({ strength: 4 }),
    ),
    as: 'advise /findings/1/strength',
    accepted: one(
      { joint: 'knee', side: 'right', look: { swelling: 'marked' }, feel: { warmth: 'warmer' } },
      knee({ strength: 4 }),
    ),
  },
];

describe('a rule of the exam', () => {
  test.each(cases)('$rule catches $of, and not its innocent twin', ({ rule, caught, as, accepted }) => {
    const [severity, place] = as.split(' ');
    expect(issuesOf(read(caught))).toContain(`${severity} ${rule} ${place}`);
    const twin = read(accepted);
    expect(issuesOf(twin)).not.toContain(`${severity} ${rule} ${place}`);
    expect(twin.exam, JSON.stringify(twin.issues)).toBeDefined();
  });

  test.each(cases.filter(({ as }) => as.startsWith('error')))(
    '$rule does not yield to a confirmation of $of',
    ({ rule, caught }) => {
      const reading = read({ ...caught, confirmed: Object.keys(RULES) });
      expect(reading.exam).toBeUndefined();
      expect(reading.issues).toContainEqual(expect.objectContaining({ severity: 'error', code: rule }));
    },
  );

  test.each(cases.filter(({ as }) => as.startsWith('confirm')))(
    '$rule is answered when the examiner confirms $of, and that stays on the exam',
    ({ rule, caught }) => {
      expect(read(caught).exam).toBeUndefined();
      const { exam, issues } = read({ ...caught, confirmed: Object.keys(RULES) });
      expect(exam?.confirmed).toContain(rule);
      expect(issues).toContainEqual(
        expect.objectContaining({
          severity: 'info',
          code: rule,
          sentence: expect.stringMatching(/^Confirmed/) as string,
        }),
      );
    },
  );

  test.each(cases)(
    '$rule names a place that exists or is missing in the document, for $of',
    ({ rule, caught }) => {
      for (const issue of read(caught).issues.filter(({ code }) => code === rule)) {
        expect(issue.place).toMatch(/^(\/[^/]+)*$/);
        expect(issue.sentence).toMatch(/^["A-Z].*[.?]$/s);
      }
    },
  );

  test('"4+" and "4-" are taken where the site has switched them on; "5+" and "0-" never (MRC, split grade 4)', () => {
    const site = { ...DEFAULT_SITE_RULES, plusMinusGrades: true };
    const gradeOf = (strength: string): unknown => read(one(knee({ strength })), site).exam?.findings[0];
    expect(gradeOf('4+')).toMatchObject({ grade: '4+' });
    expect(gradeOf('4-')).toMatchObject({ grade: '4-' });
    for (const strength of ['5+', '0-', '4++', '3+-']) expect(gradeOf(strength)).toBeUndefined();
  });
});
