import { finderOf, wordsOf } from './text.js';

/** A word for one part of walking. */
export interface GaitWord {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
}

/** Walking is told by its pattern, the help needed and the device (common practice; CM-10, BP-02). */
export const gaitWords: {
  readonly pattern: readonly GaitWord[];
  readonly assistance: readonly GaitWord[];
  readonly device: readonly GaitWord[];
} = {
  pattern: [
    { id: 'steady', label: 'steady', synonyms: ['walks steadily', 'even'] },
    { id: 'unsteady', label: 'unsteady', synonyms: ['wobbly'] },
    { id: 'limp-left', label: 'limp on the left', synonyms: ['limps left', 'left limp'] },
    { id: 'limp-right', label: 'limp on the right', synonyms: ['limps right', 'right limp'] },
    { id: 'pain-limited', label: 'shortened step from pain', synonyms: ['antalgic'] },
    { id: 'shuffling', label: 'shuffling', synonyms: ['short steps'] },
    { id: 'wide-based', label: 'wide-based', synonyms: ['broad-based'] },
    { id: 'high-stepping', label: 'high-stepping', synonyms: ['high stepping'] },
    { id: 'foot-drag-left', label: 'drags the left foot', synonyms: ['left foot drags'] },
    { id: 'foot-drag-right', label: 'drags the right foot', synonyms: ['right foot drags'] },
    { id: 'not-walking', label: 'does not walk', synonyms: ['bed-bound', 'chair-bound', 'non-ambulant'] },
  ],
  assistance: [
    { id: 'independent', label: 'independent', synonyms: ['no help', 'none', 'alone'] },
    { id: 'supervised', label: 'supervised', synonyms: ['stand-by', 'supervision', 'standby'] },
    {
      id: 'one-person',
      label: 'help of one',
      synonyms: ['assist of one', 'one person', 'assist x1', '1 person'],
    },
    {
      id: 'two-person',
      label: 'help of two',
      synonyms: ['assist of two', 'two people', 'assist x2', '2 people'],
    },
    { id: 'unable', label: 'unable', synonyms: ['cannot'] },
  ],
  device: [
    { id: 'none', label: 'no device', synonyms: ['no aid', 'without aid'] },
    { id: 'stick', label: 'stick', synonyms: ['cane', 'walking stick'] },
    { id: 'quad-stick', label: 'four-point stick', synonyms: ['quad cane', 'quadripod'] },
    { id: 'crutches', label: 'crutches', synonyms: ['elbow crutches', 'axillary crutches'] },
    { id: 'walking-frame', label: 'walking frame', synonyms: ['walker', 'frame'] },
    { id: 'wheeled-frame', label: 'wheeled frame', synonyms: ['rollator', 'wheeled walker'] },
    { id: 'wheelchair', label: 'wheelchair', synonyms: ['chair'] },
    { id: 'prosthesis', label: 'prosthesis', synonyms: ['artificial leg'] },
    { id: 'orthosis', label: 'orthosis', synonyms: ['brace', 'AFO', 'ankle-foot orthosis'] },
    { id: 'rail', label: 'rail', synonyms: ['parallel bars', 'handrail'] },
  ],
};

const finders = {
  pattern: finderOf(gaitWords.pattern, wordsOf),
  assistance: finderOf(gaitWords.assistance, wordsOf),
  device: finderOf(gaitWords.device, wordsOf),
};

/** The word for one part of walking, by its id, label or a synonym. */
export function findGaitWord(part: keyof typeof gaitWords, word: string): GaitWord | undefined {
  return finders[part](word);
}
