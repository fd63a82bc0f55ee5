import type { Aspect } from './types.js';

/** The written definition behind "examined and within expected limits" (CM-03). A change of wording is a new version. */
export interface WithinExpectedDefinition {
  /** Year and number of the wording. */
  readonly version: string;
  readonly wording: Readonly<Record<Aspect, string>>;
  /** What it never says. */
  readonly limits: string;
}

/** Own wording after common practice: what was examined is stated, nothing else. */
export const withinExpectedDefinitions: readonly WithinExpectedDefinition[] = [
  {
    version: '2026-1',
    wording: {
      look: 'Looked at: no swelling, no redness, no deformity; the back also straight from behind with its usual curves.',
      feel: 'Felt: no tenderness, no warmth beyond the other side; the knee also without effusion.',
      range: 'Each movement asked for: full active range.',
      strength: 'Each movement that is graded: grade 5 of 5.',
    },
    limits: 'It holds only for the joints, sides and aspects that it names, and says nothing of any other.',
  },
];

/** The definition in force. */
export const withinExpectedDefinition: WithinExpectedDefinition = currentDefinition();

function currentDefinition(): WithinExpectedDefinition {
  const last = withinExpectedDefinitions.at(-1);
  if (!last) throw new Error('there is no definition of within expected limits');
  return last;
}
