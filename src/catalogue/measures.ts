import type { JointId } from './joints.js';
import { finderOf, wordsOf } from './text.js';

/** A unit in which a measure may be given, with the words for it. */
export interface MeasureInput {
  /** UCUM code. */
  readonly unit: string;
  readonly words: readonly string[];
}

/** A single number that is measured by itself. */
export interface Measure {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** UCUM code in which its limits stand and in which it is trended. */
  readonly unit: string;
  /** Accepted units, the preferred one first; each converts exactly to `unit`. */
  readonly inputs: readonly MeasureInput[];
  /** Least and most that is believed, in `unit`, both included (design). */
  readonly min: number;
  readonly max: number;
  /** A count: no fraction. */
  readonly whole?: boolean;
  readonly side: 'per-side' | 'none';
  /** Compared only at the same level (VL-10). */
  readonly needsLevel: boolean;
  /** The joints at which it is taken; empty: of the body as a whole. */
  readonly joints: readonly JointId[];
  /** Standing or walking is part of it, so an order against bearing weight forbids it. */
  readonly standing: boolean;
}

const centimetres: MeasureInput = { unit: 'cm', words: ['cm', 'centimetre', 'centimetres', 'centimeters'] };
const millimetres: MeasureInput = { unit: 'mm', words: ['mm', 'millimetre', 'millimetres', 'millimeters'] };
const inches: MeasureInput = { unit: '[in_i]', words: ['in', 'inch', 'inches', '[in_i]'] };
const seconds: MeasureInput = { unit: 's', words: ['s', 'sec', 'second', 'seconds'] };
const degrees: MeasureInput = { unit: 'deg', words: ['deg', 'degree', 'degrees', '°'] };

export const measures: readonly Measure[] = [
  {
    id: 'circumference',
    label: 'circumference',
    synonyms: ['girth', 'limb circumference'],
    unit: 'cm',
    inputs: [centimetres, millimetres, inches],
    min: 1,
    max: 120,
    side: 'per-side',
    needsLevel: true,
    joints: [
      'shoulder',
      'elbow',
      'forearm',
      'wrist',
      'fingers',
      'thumb',
      'hip',
      'knee',
      'ankle',
      'foot',
      'toes',
    ],
    standing: false,
  },
  {
    id: 'leg-length',
    label: 'leg length',
    synonyms: ['limb length', 'true leg length'],
    unit: 'cm',
    inputs: [centimetres, millimetres, inches],
    min: 30,
    max: 130,
    side: 'per-side',
    needsLevel: false,
    joints: ['hip'],
    standing: false,
  },
  {
    id: 'fingertip-to-floor',
    label: 'fingertip to floor',
    synonyms: ['fingertips to floor', 'fingertip to floor distance', 'FTF'],
    unit: 'cm',
    inputs: [centimetres, millimetres, inches],
    min: 0,
    max: 100,
    side: 'none',
    needsLevel: false,
    joints: ['thoracolumbar'],
    standing: true,
  },
  {
    id: 'scoliometer',
    label: 'trunk rotation by scoliometer',
    synonyms: ['angle of trunk rotation', 'ATR', 'scoliometer angle'],
    unit: 'deg',
    inputs: [degrees],
    min: 0,
    max: 40,
    side: 'none',
    needsLevel: false,
    joints: ['thoracolumbar'],
    standing: true,
  },
  {
    id: 'modified-schober',
    label: 'lumbar flexion by the modified Schober test',
    synonyms: ['schober', 'modified schober'],
    unit: 'cm',
    inputs: [centimetres, millimetres],
    min: 0,
    max: 15,
    side: 'none',
    needsLevel: false,
    joints: ['thoracolumbar'],
    standing: true,
  },
  {
    id: 'chest-expansion',
    label: 'chest expansion',
    synonyms: ['chest excursion'],
    unit: 'cm',
    inputs: [centimetres, millimetres, inches],
    min: 0,
    max: 20,
    side: 'none',
    needsLevel: false,
    joints: ['thoracolumbar'],
    standing: false,
  },
  {
    id: 'timed-up-and-go',
    label: 'timed up and go',
    synonyms: ['TUG', 'timed get up and go'],
    unit: 's',
    inputs: [seconds],
    min: 1,
    max: 600,
    side: 'none',
    needsLevel: false,
    joints: [],
    standing: true,
  },
  {
    id: 'chair-stand-30s',
    label: 'chair stands in 30 seconds',
    synonyms: ['30 second chair stand', 'sit to stand in 30 seconds', '30s chair stand', 'chair stand'],
    unit: '{#}/(30.s)',
    inputs: [{ unit: '{#}/(30.s)', words: ['{#}/(30.s)', 'stands', 'repetitions', 'count', 'times'] }],
    min: 0,
    max: 60,
    whole: true,
    side: 'none',
    needsLevel: false,
    joints: [],
    standing: true,
  },
  {
    id: 'gait-speed',
    label: 'gait speed',
    synonyms: ['walking speed', 'usual gait speed'],
    unit: 'm/s',
    inputs: [{ unit: 'm/s', words: ['m/s', 'metres per second', 'meters per second'] }],
    min: 0,
    max: 5,
    side: 'none',
    needsLevel: false,
    joints: [],
    standing: true,
  },
  {
    id: 'one-leg-stance',
    label: 'standing on one leg',
    synonyms: ['single leg stance', 'one leg stand', 'single-leg balance'],
    unit: 's',
    inputs: [seconds],
    min: 0,
    max: 300,
    side: 'per-side',
    needsLevel: false,
    joints: [],
    standing: true,
  },
];

/** Pain from 0 (none) to 10, whole or half points, at rest or on movement (VL-11). */
export const painScale = { unit: '{score}', min: 0, max: 10 } as const;

/** Levels of a circumference as they are usually named (common practice); free words are kept as they come. */
export const circumferenceLevels: readonly {
  readonly id: string;
  readonly synonyms: readonly string[];
}[] = [
  { id: 'mid-patella', synonyms: ['patella', 'mid patellar', 'middle of the kneecap'] },
  { id: '5-cm-above-patella', synonyms: ['5 cm above patella', '5 cm above the kneecap'] },
  { id: '10-cm-above-patella', synonyms: ['10 cm above patella', '10 cm above the kneecap', '10 cm above'] },
  { id: '15-cm-above-patella', synonyms: ['15 cm above patella', '15 cm above the kneecap', '15 cm above'] },
  { id: '10-cm-below-patella', synonyms: ['10 cm below patella', '10 cm below the kneecap', '10 cm below'] },
  { id: 'mid-thigh', synonyms: ['middle of the thigh'] },
  { id: 'widest-calf', synonyms: ['calf', 'widest part of the calf', 'maximum calf'] },
  { id: '10-cm-below-tibial-tuberosity', synonyms: ['10 cm below the tibial tuberosity'] },
  { id: 'figure-of-eight', synonyms: ['figure of eight', 'figure of 8'] },
  { id: 'ankle-bones', synonyms: ['malleoli', 'above the malleoli'] },
  { id: 'metatarsal-heads', synonyms: ['across the metatarsal heads', 'forefoot'] },
  { id: 'mid-upper-arm', synonyms: ['middle of the upper arm'] },
  { id: 'elbow-crease', synonyms: ['at the elbow crease'] },
  { id: 'widest-forearm', synonyms: ['widest part of the forearm'] },
  { id: 'wrist-crease', synonyms: ['ulnar styloid', 'at the wrist crease'] },
  { id: 'knuckles', synonyms: ['metacarpal heads', 'across the knuckles'] },
  { id: 'pip', synonyms: ['pip joint', 'middle joint'] },
];

/** The measure meant by a word. */
export const findMeasure: (word: string) => Measure | undefined = finderOf(measures, wordsOf);

/** The UCUM code meant by a unit's sign or name, when the measure takes it. */
export function readMeasureUnit(measure: Measure, word: string): string | undefined {
  const said = word.trim().toLowerCase();
  return measure.inputs.find(({ words }) => words.some((known) => known.toLowerCase() === said))?.unit;
}

/** The usual name of a level, else its words as they came. */
export function readLevel(word: string): string {
  return findLevel(word)?.id ?? word.trim();
}

const findLevel = finderOf(circumferenceLevels, wordsOf);
