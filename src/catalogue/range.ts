import { SYSTEMS } from './canonical.js';
import { finderOf, wordsOf } from './text.js';
import type { Code } from './types.js';

export type RangeMode = 'active' | 'active-assisted' | 'passive';

/** Who moves the joint. */
export interface RangeModeRow {
  readonly id: RangeMode;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** Method of an Observation (SNOMED CT), where one was seen. */
  readonly code?: Code;
}

export const rangeModes: readonly RangeModeRow[] = [
  {
    id: 'active',
    label: 'active',
    synonyms: ['AROM', 'active range'],
    code: {
      system: SYSTEMS.snomed,
      code: '710829000',
      display: 'Assessment of active range of motion (procedure)',
    },
  },
  {
    id: 'active-assisted',
    label: 'active-assisted',
    synonyms: ['AAROM', 'assisted', 'active assisted range'],
  },
  {
    id: 'passive',
    label: 'passive',
    synonyms: ['PROM', 'passive range'],
    code: {
      system: SYSTEMS.snomed,
      code: '710830005',
      display: 'Assessment of passive range of motion (procedure)',
    },
  },
];

/** How a range was measured; a trend never mixes methods (TR-01). */
export interface RangeMethod {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** What it measures. */
  readonly measures: 'degrees' | 'mm';
}

export const rangeMethods: readonly RangeMethod[] = [
  {
    id: 'visual-estimate',
    label: 'visual estimate',
    synonyms: ['visual', 'by eye', 'estimate'],
    measures: 'degrees',
  },
  {
    id: 'goniometer-short-arm',
    label: 'short-arm goniometer',
    synonyms: ['short arm', 'goniometer short arm'],
    measures: 'degrees',
  },
  {
    id: 'goniometer-long-arm',
    label: 'long-arm goniometer',
    synonyms: ['long arm', 'goniometer long arm'],
    measures: 'degrees',
  },
  { id: 'inclinometer', label: 'inclinometer', synonyms: ['bubble inclinometer'], measures: 'degrees' },
  { id: 'ruler', label: 'ruler', synonyms: ['millimetre rule', 'calliper'], measures: 'mm' },
];

/** The method that stands for degrees without one (VL-05). */
export const DEFAULT_RANGE_METHOD = 'visual-estimate';

/** The method meant by a word. */
export const findRangeMethod: (word: string) => RangeMethod | undefined = finderOf(rangeMethods, wordsOf);

/** The mode meant by a word. */
export const findRangeMode: (word: string) => RangeModeRow | undefined = finderOf(rangeModes, wordsOf);

/** Words for a range without an angle. */
export const rangeWords: readonly {
  readonly id: 'full' | 'limited' | 'absent';
  readonly label: string;
  readonly synonyms: readonly string[];
}[] = [
  { id: 'full', label: 'full', synonyms: ['full range', 'complete', 'FROM'] },
  { id: 'limited', label: 'limited', synonyms: ['reduced', 'restricted', 'decreased'] },
  { id: 'absent', label: 'absent', synonyms: ['none', 'no movement', 'nil'] },
];

/** What a movement or an effort may be limited by. */
export const limitedByWords: readonly { readonly id: string; readonly synonyms: readonly string[] }[] = [
  { id: 'pain', synonyms: ['painful'] },
  { id: 'stiffness', synonyms: ['stiff'] },
  { id: 'weakness', synonyms: ['weak'] },
  { id: 'swelling', synonyms: ['swollen'] },
  { id: 'contracture', synonyms: ['fixed deformity'] },
  { id: 'spasm', synonyms: ['spasticity', 'muscle spasm'] },
  { id: 'device', synonyms: ['dressing', 'splint', 'brace'] },
  { id: 'fear', synonyms: ['fear of movement', 'guarding'] },
];
