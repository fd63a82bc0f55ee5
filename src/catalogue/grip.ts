import { finderOf, wordsOf } from './text.js';

export type GripRuleId = 'single' | 'mean-of-3' | 'best-of-3' | 'best-of-6';

/** How the value of a grip follows from its trials; series with different rules are not joined (VL-09). */
export interface GripRule {
  readonly id: GripRuleId;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** How many trials of the one hand the rule needs. */
  readonly trials: number;
  readonly value: 'mean' | 'best';
  readonly source: string;
}

export const gripRules: readonly GripRule[] = [
  {
    id: 'single',
    label: 'single',
    synonyms: ['one trial', 'once'],
    trials: 1,
    value: 'best',
    source: 'common-practice',
  },
  {
    id: 'mean-of-3',
    label: 'mean of three',
    synonyms: ['mean of 3', 'average of three', 'average of 3', 'mean'],
    trials: 3,
    value: 'mean',
    source: 'grip-protocols-2017',
  },
  {
    id: 'best-of-3',
    label: 'best of three',
    synonyms: ['best of 3', 'highest of three', 'best', 'maximum of 3'],
    trials: 3,
    value: 'best',
    source: 'grip-protocols-2017',
  },
  {
    id: 'best-of-6',
    label: 'best of six',
    synonyms: ['best of 6', 'highest of six', 'maximum of 6'],
    trials: 6,
    value: 'best',
    source: 'grip-protocols-2017',
  },
];

/** What measures the grip; different kinds are not interchangeable (`steiber-2016`). */
export interface GripDevice {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
}

export const gripDevices: readonly GripDevice[] = [
  { id: 'hydraulic', label: 'hydraulic dynamometer', synonyms: ['hydraulic hand dynamometer'] },
  { id: 'spring', label: 'spring dynamometer', synonyms: ['mechanical'] },
  { id: 'electronic', label: 'electronic dynamometer', synonyms: ['digital', 'strain gauge', 'load cell'] },
  { id: 'pneumatic', label: 'bulb dynamometer', synonyms: ['bulb', 'pneumatic bulb'] },
];

/**
 * Limits of a grip in kilograms of force (VL-08, design): none is believed above `max`, above `confirmAbove` it is
 * asked about, and nought needs a reason. Handle positions are those of a five-position dynamometer.
 */
export const gripLimits = { max: 90, confirmAbove: 65, handlePositions: [1, 2, 3, 4, 5] } as const;

/** The rule over the trials meant by a word. */
export const findGripRule: (word: string) => GripRule | undefined = finderOf(gripRules, wordsOf);

/** The kind of dynamometer meant by a word. */
export const findGripDevice: (word: string) => GripDevice | undefined = finderOf(gripDevices, wordsOf);
