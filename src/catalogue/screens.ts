import type { JointId } from './joints.js';
import { finderOf, wordsOf } from './text.js';

/** A two-sided act of the brief exam; its result is words, and never a grade or a force (SC-05). */
export interface Screen {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  readonly limb: 'upper' | 'lower';
  /** The joint without which there is nothing to squeeze or push with, on either side. */
  readonly joint: JointId;
  readonly cue: string;
  readonly notTheSameAs: readonly string[];
}

/** The brief screen: common practice of the whole-body assessment (`opened-nursing-texts`). */
export const screens: readonly Screen[] = [
  {
    id: 'hand-squeeze',
    label: 'hand squeeze, both hands together',
    synonyms: ['hand squeeze', 'finger grips', 'squeeze'],
    limb: 'upper',
    joint: 'wrist',
    cue: 'squeeze my fingers with both hands',
    notTheSameAs: ['dynamometer grip force', 'graded finger flexion'],
  },
  {
    id: 'foot-push',
    label: 'foot push, both feet together',
    synonyms: ['foot push', 'pedal push', 'push down'],
    limb: 'lower',
    joint: 'ankle',
    cue: 'push both feet down against my hands',
    notTheSameAs: ['graded plantar flexion in standing'],
  },
  {
    id: 'foot-pull',
    label: 'foot pull, both feet together',
    synonyms: ['foot pull', 'pull up'],
    limb: 'lower',
    joint: 'ankle',
    cue: 'pull both feet up against my hands',
    notTheSameAs: ['graded dorsiflexion'],
  },
];

/** One of the answers of a screen. */
export interface ScreenResult {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
}

export const screenResults: readonly ScreenResult[] = [
  { id: 'equal-strong', label: 'equal and strong', synonyms: ['equal strong', 'strong and equal'] },
  { id: 'equal-weak', label: 'equal and weak', synonyms: ['equal weak', 'weak and equal'] },
  { id: 'right-weaker', label: 'right weaker', synonyms: ['weaker right', 'right weak'] },
  { id: 'left-weaker', label: 'left weaker', synonyms: ['weaker left', 'left weak'] },
  { id: 'unable', label: 'unable', synonyms: ['cannot', 'not able'] },
];

/** The screen meant by a word. */
export const findScreen: (word: string) => Screen | undefined = finderOf(screens, wordsOf);

/** The result meant by a word. */
export const findScreenResult: (word: string) => ScreenResult | undefined = finderOf(screenResults, wordsOf);
