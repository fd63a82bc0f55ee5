import { joints, type JointId } from './joints.js';
import type { Aspect } from './types.js';

export type ExamTypeId = 'full' | 'brief-screen' | 'focused' | 'neurovascular' | 'therapist';

/** What an exam of a type must answer; each is examined, not assessed with a reason, or a gap (CM-01). */
export interface ExamTypeRow {
  readonly id: ExamTypeId;
  readonly label: string;
  /** Each of these joints, both sides where it is paired. */
  readonly joints: readonly JointId[];
  readonly aspects: readonly Aspect[];
  /** Joints of which strength is not routinely graded though the aspect is required. */
  readonly strengthNotRequired: readonly JointId[];
  readonly screens: readonly string[];
  /** Pain and gait are answered too (CM-09, CM-10). */
  readonly pain: boolean;
  readonly gait: boolean;
}

const everyAspect = ['look', 'feel', 'range', 'strength'] as const;

/** A focused, neurovascular or therapist exam answers for what was ordered, so nothing is required of every patient. */
export const examTypes: readonly ExamTypeRow[] = [
  {
    id: 'full',
    label: 'Full examination',
    joints: joints.map(({ id }) => id),
    aspects: everyAspect,
    strengthNotRequired: ['thoracolumbar'],
    screens: [],
    pain: true,
    gait: true,
  },
  {
    id: 'brief-screen',
    label: 'Brief shift screen',
    joints: [],
    aspects: [],
    strengthNotRequired: [],
    screens: ['hand-squeeze', 'foot-push', 'foot-pull'],
    pain: true,
    gait: true,
  },
  {
    id: 'focused',
    label: 'Focused joint examination',
    joints: [],
    aspects: everyAspect,
    strengthNotRequired: [],
    screens: [],
    pain: false,
    gait: false,
  },
  {
    id: 'neurovascular',
    label: 'Neurovascular check',
    joints: [],
    aspects: [],
    strengthNotRequired: [],
    screens: [],
    pain: false,
    gait: false,
  },
  {
    id: 'therapist',
    label: 'Therapist measurement',
    joints: [],
    aspects: [],
    strengthNotRequired: [],
    screens: [],
    pain: false,
    gait: false,
  },
];

export function findExamType(id: string): ExamTypeRow | undefined {
  return examTypes.find((row) => row.id === id);
}
