import { SYSTEMS } from './canonical.js';
import type { Code } from './types.js';

/** A grade of muscle strength. */
export interface StrengthGrade {
  /** As it is written: `0` to `5`, `4-`, `4+`. */
  readonly grade: string;
  readonly meaning: string;
  /**
   * Place on the scale, 0 to 5: the `ordinalValue` of its code. Grades are ordered; they are never averaged. A split
   * grade stands a third of a step off (design).
   */
  readonly ordinal: number;
  /** Refused unless the site has switched the extended set on (SC-02). */
  readonly extended: boolean;
  readonly source: string;
}

/** MRC 0 to 5 with their meaning as three published tables quote them (`mrc-memorandum-45`), then the split grades. */
export const strengthGrades: readonly StrengthGrade[] = [
  { grade: '0', meaning: 'no contraction', ordinal: 0, extended: false, source: 'mrc-memorandum-45' },
  {
    grade: '1',
    meaning: 'flicker or trace of contraction',
    ordinal: 1,
    extended: false,
    source: 'mrc-memorandum-45',
  },
  {
    grade: '2',
    meaning: 'active movement with gravity eliminated',
    ordinal: 2,
    extended: false,
    source: 'mrc-memorandum-45',
  },
  {
    grade: '3',
    meaning: 'active movement against gravity, none against resistance',
    ordinal: 3,
    extended: false,
    source: 'mrc-memorandum-45',
  },
  {
    grade: '4',
    meaning: 'active movement against gravity and resistance, weaker than normal',
    ordinal: 4,
    extended: false,
    source: 'mrc-memorandum-45',
  },
  { grade: '5', meaning: 'normal power', ordinal: 5, extended: false, source: 'mrc-memorandum-45' },
  { grade: '2-', meaning: 'just under grade 2', ordinal: 1.7, extended: true, source: 'design' },
  { grade: '2+', meaning: 'just over grade 2', ordinal: 2.3, extended: true, source: 'design' },
  { grade: '3-', meaning: 'just under grade 3', ordinal: 2.7, extended: true, source: 'design' },
  { grade: '3+', meaning: 'just over grade 3', ordinal: 3.3, extended: true, source: 'design' },
  { grade: '4-', meaning: 'just under grade 4', ordinal: 3.7, extended: true, source: 'design' },
  { grade: '4+', meaning: 'just over grade 4', ordinal: 4.3, extended: true, source: 'design' },
];

const byGrade = new Map(strengthGrades.map((row) => [row.grade, row]));

/** The row of a grade written as in the catalogue. */
export function findStrengthGrade(grade: string): StrengthGrade | undefined {
  return byGrade.get(grade);
}

/** The code of a grade in our own CodeSystem; its wording shows the meaning beside the number (SC-08). */
export function strengthGradeCode({ grade, meaning }: StrengthGrade): Code {
  return { system: SYSTEMS.strengthGrade, code: grade, display: `${grade}: ${meaning}` };
}
