import type { JointId } from './joints.js';
import type { RangeMode } from './range.js';
import { finderOf, wordsOf } from './text.js';

/**
 * One thing that an order rules out. It holds at the order's side where the thing has one. `joints` or `movements`
 * say where; neither: everywhere. `above` (degrees) rules out only more than that, on record as an active or passive
 * angle. `standing` rules out what is done standing or walking.
 */
export interface Forbidden {
  readonly joints?: readonly JointId[];
  readonly movements?: readonly string[];
  readonly aspects: readonly ('range' | 'strength')[];
  /** Absent: every mode. */
  readonly modes?: readonly RangeMode[];
  /** Degrees. */
  readonly above?: number;
  readonly standing?: true;
}

/** A kind of order that limits what may be tested (SF-01). The local order decides; these are what is usual. */
export interface PrecautionRow {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** Whether the order is of a side. */
  readonly sided: boolean;
  readonly forbids: readonly Forbidden[];
  /** Where the kind is from; every row is common practice. */
  readonly source: string;
}

const range = ['range'] as const;
const strength = ['strength'] as const;
const both = ['range', 'strength'] as const;
const actively = ['active', 'active-assisted'] as const;
const trunk: readonly JointId[] = ['thoracolumbar'];
const legs: readonly JointId[] = ['hip', 'knee', 'ankle', 'foot', 'toes'];

export const precautions: readonly PrecautionRow[] = [
  {
    id: 'hip-posterior',
    label: 'hip precautions, posterior approach',
    synonyms: [
      'posterior hip precautions',
      'posterior limits',
      'hip posterior',
      'posterior hip',
      'posterior approach',
      'no hip adduction or internal rotation',
    ],
    sided: true,
    forbids: [
      { movements: ['hip.adduction', 'hip.internal-rotation'], aspects: both },
      { movements: ['hip.flexion'], aspects: range, above: 90 },
    ],
    source: 'common-practice',
  },
  {
    id: 'hip-anterior',
    label: 'hip precautions, anterior approach',
    synonyms: [
      'anterior hip precautions',
      'anterior limits',
      'hip anterior',
      'anterior hip',
      'anterior approach',
    ],
    sided: true,
    forbids: [{ movements: ['hip.extension', 'hip.external-rotation'], aspects: both }],
    source: 'common-practice',
  },
  {
    id: 'hip-general',
    label: 'hip precautions',
    synonyms: ['hip', 'hip replacement precautions', 'hip replacement', 'THA precautions', 'THR precautions'],
    sided: true,
    forbids: [
      { movements: ['hip.adduction', 'hip.internal-rotation', 'hip.external-rotation'], aspects: both },
      { movements: ['hip.flexion'], aspects: range, above: 90 },
    ],
    source: 'common-practice',
  },
  {
    id: 'hip-fracture-unfixed',
    label: 'hip not to be moved',
    synonyms: ['suspected hip fracture', 'no hip movement', 'unfixed hip fracture'],
    sided: true,
    forbids: [{ joints: ['hip'], aspects: both }],
    source: 'common-practice',
  },
  {
    id: 'shoulder-replacement',
    label: 'shoulder: no active movement, no resistance',
    synonyms: [
      'shoulder-active',
      'shoulder replacement',
      'shoulder replacement limits',
      'shoulder precautions',
      'no active shoulder movement',
      'passive shoulder only',
      'shoulder passive only',
      'rotator cuff repair',
    ],
    sided: true,
    forbids: [
      { joints: ['shoulder'], aspects: range, modes: actively },
      { joints: ['shoulder'], aspects: strength },
    ],
    source: 'common-practice',
  },
  {
    id: 'spine',
    label: 'spine precautions: no bending, no twisting',
    synonyms: [
      'spinal precautions',
      'spine precautions',
      'back precautions',
      'log roll',
      'log roll only',
      'no bending or twisting',
      'vertebral fracture',
      'vertebral compression fracture',
    ],
    sided: false,
    forbids: [{ joints: trunk, aspects: both }],
    source: 'common-practice',
  },
  {
    id: 'neck',
    label: 'neck not to be moved',
    synonyms: [
      'cervical spine precautions',
      'c-spine precautions',
      'neck precautions',
      'cervical precautions',
      'uncleared neck',
      'collar on',
    ],
    sided: false,
    forbids: [{ joints: ['neck'], aspects: both }],
    source: 'nice-ng41',
  },
  {
    id: 'full-spine',
    label: 'whole spine not to be moved',
    synonyms: ['full spinal precautions', 'unstable spine', 'uncleared spine', 'full spine precautions'],
    sided: false,
    forbids: [{ joints: ['neck', 'thoracolumbar'], aspects: both }],
    source: 'nice-ng41',
  },
  {
    id: 'non-weight-bearing',
    label: 'non-weight-bearing',
    synonyms: ['NWB', 'no weight bearing', 'non weight bearing'],
    sided: true,
    forbids: [{ aspects: both, standing: true }],
    source: 'common-practice',
  },
  {
    id: 'toe-touch-weight-bearing',
    label: 'toe-touch weight-bearing',
    synonyms: ['TTWB', 'touch weight bearing', 'toe touch weight bearing'],
    sided: true,
    forbids: [{ movements: ['ankle.plantar-flexion'], aspects: strength, standing: true }],
    source: 'common-practice',
  },
  {
    id: 'partial-weight-bearing',
    label: 'partial weight-bearing',
    synonyms: ['PWB', 'partial weight bearing'],
    sided: true,
    forbids: [],
    source: 'common-practice',
  },
  {
    id: 'weight-bearing-as-tolerated',
    label: 'weight-bearing as tolerated',
    synonyms: ['WBAT', 'FWB', 'full weight bearing', 'weight bearing as tolerated'],
    sided: true,
    forbids: [],
    source: 'common-practice',
  },
  {
    id: 'no-standing',
    label: 'no standing tests',
    synonyms: ['bed rest', 'not to stand', 'orthostatic precautions', 'low pressure on standing'],
    sided: false,
    forbids: [{ aspects: both, standing: true }],
    source: 'common-practice',
  },
  {
    id: 'no-resisted',
    label: 'no resisted testing',
    synonyms: ['no resistance', 'no strength testing', 'no resisted movement', 'bleeding risk', 'bleed risk'],
    sided: false,
    forbids: [{ aspects: strength }],
    source: 'common-practice',
  },
  {
    id: 'no-resisted-leg',
    label: 'no resisted testing of the leg',
    synonyms: ['no resisted leg', 'no resistance leg', 'suspected clot in the leg'],
    sided: true,
    forbids: [{ joints: legs, aspects: strength }],
    source: 'common-practice',
  },
  {
    id: 'knee-active-only',
    label: 'knee: active range only, no resistance',
    synonyms: ['active knee range only', 'knee bleed', 'active only knee'],
    sided: true,
    forbids: [
      { joints: ['knee'], aspects: range, modes: ['passive', 'active-assisted'] },
      { joints: ['knee'], aspects: strength },
    ],
    source: 'common-practice',
  },
  {
    id: 'knee-extensor-repair',
    label: 'knee: no bending, no straight-leg lift',
    synonyms: [
      'extensor repair',
      'patellar tendon repair',
      'quadriceps tendon repair',
      'knee immobiliser on',
    ],
    sided: true,
    forbids: [
      { movements: ['knee.flexion', 'hip.straight-leg-raise'], aspects: both },
      { movements: ['knee.extension'], aspects: strength },
    ],
    source: 'common-practice',
  },
  {
    id: 'achilles-repair',
    label: 'ankle: no pulling up, no push against resistance',
    synonyms: ['achilles repair', 'achilles tendon repair', 'equinus boot'],
    sided: true,
    forbids: [
      { movements: ['ankle.dorsiflexion'], aspects: both },
      { movements: ['ankle.plantar-flexion'], aspects: strength },
    ],
    source: 'common-practice',
  },
  {
    id: 'flexor-tendon-repair',
    label: 'fingers: no active or resisted bending',
    synonyms: ['finger tendon repair', 'flexor repair', 'hand tendon repair'],
    sided: true,
    forbids: [
      { movements: ['fingers.flexion', 'hand.grip'], aspects: strength },
      { movements: ['fingers.flexion'], aspects: range, modes: ['active', 'active-assisted'] },
    ],
    source: 'common-practice',
  },
  {
    id: 'wrist-cast',
    label: 'wrist in a cast: wrist and grip not tested',
    synonyms: ['cast wrist', 'wrist cast', 'forearm cast', 'wrist fracture', 'colles cast'],
    sided: true,
    forbids: [
      { joints: ['wrist', 'forearm'], aspects: both },
      { movements: ['hand.grip'], aspects: strength },
    ],
    source: 'common-practice',
  },
  {
    id: 'ankle-cast',
    label: 'ankle in a cast: ankle and foot not tested',
    synonyms: ['cast ankle', 'below-knee cast', 'below knee cast', 'boot on'],
    sided: true,
    forbids: [{ joints: ['ankle', 'foot'], aspects: both }],
    source: 'common-practice',
  },
  {
    id: 'jaw-wired',
    label: 'jaw not to be tested',
    synonyms: ['wired jaw', 'jaw fracture', 'jaw surgery'],
    sided: false,
    forbids: [{ joints: ['jaw'], aspects: both }],
    source: 'common-practice',
  },
];

/** The kind of order meant by an id, label or a nurse's words; undefined for free words, which forbid nothing here. */
export const findPrecaution: (word: string) => PrecautionRow | undefined = finderOf(precautions, wordsOf);
