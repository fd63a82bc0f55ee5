import { findMeasure, findMovement, findScreen, type Aspect, type Side } from '../catalogue/index.js';
import type {
  AsExpectedFinding,
  Finding,
  GripFinding,
  MeasureFinding,
  RangeFinding,
  ScreenFinding,
} from './exam.js';
import { parseMovementEntry } from './readings.js';

/** One thing that a finding did, as a rule to one joint: what an absent part, a cast or a precaution may stand against. */
export interface Touch {
  /** Absent where it is of the body as a whole: walking, rising from a chair. */
  readonly joint?: string;
  /** Joints that do the work beside it: a grip needs wrist and thumb. */
  readonly with: readonly string[];
  readonly side?: Side;
  readonly digit?: string;
  readonly aspect: Aspect | 'measure' | 'pain' | 'screen';
  /** Done standing or walking. */
  readonly standing?: true;
  readonly movement?: string;
  readonly mode?: string;
  /** Degrees, where the movement was measured. */
  readonly degrees?: number;
}

/** What a finding did to which joints; nothing for a test left out, or a neurovascular check. */
export function touchesOf(finding: Finding): readonly Touch[] {
  switch (finding.kind) {
    case 'range':
      return ofMovement(finding, 'range', { mode: finding.mode, ...degreesOf(finding) });
    case 'strength':
      return ofMovement(finding, 'strength');
    case 'grip':
      return [ofGrip(finding)];
    case 'measure':
      return [ofMeasure(finding)];
    case 'gait':
      return [{ with: [], aspect: 'measure', standing: true }];
    case 'pain':
      return finding.when === 'movement' ? ofJoint(finding, 'pain') : [];
    case 'look-feel':
      return ofJoint(finding, 'look');
    case 'as-expected':
      return ofExpected(finding);
    case 'screen':
      return ofScreen(finding);
    case 'not-assessed':
    case 'neurovascular':
    case 'on-body':
    case 'absent-part':
      return [];
  }
}

type Moved = Pick<Touch, 'side' | 'digit'> & { readonly movement: string };

function ofMovement(
  { movement, side, digit }: Moved,
  aspect: Aspect,
  more: Pick<Touch, 'mode' | 'degrees'> = {},
): readonly Touch[] {
  const joint = findMovement(movement)?.joint;
  if (joint === undefined) return [];
  return [{ joint, with: [], aspect, movement, ...sided(side), ...(digit && { digit }), ...more }];
}

function degreesOf({ extent }: RangeFinding): Pick<Touch, 'degrees'> {
  return 'degrees' in extent ? { degrees: Number(extent.degrees) } : {};
}

/** Both sides do a screen together; one that could not be done touched neither. */
function ofScreen({ screen, result }: ScreenFinding): readonly Touch[] {
  const joint = result === 'unable' ? undefined : findScreen(screen)?.joint;
  if (joint === undefined) return [];
  return (['left', 'right'] as const).map((side) => ({ joint, side, with: [], aspect: 'screen' }));
}

function ofGrip({ side }: GripFinding): Touch {
  return { joint: 'fingers', with: ['wrist', 'thumb'], side, aspect: 'strength', movement: 'hand.grip' };
}

function ofMeasure({ measure, joint, side }: MeasureFinding): Touch {
  const standing = findMeasure(measure)?.standing === true;
  return {
    with: [],
    aspect: 'measure',
    ...(joint && { joint }),
    ...sided(side),
    ...(standing && { standing }),
  };
}

function ofExpected({ joint, side, items, range, strength }: AsExpectedFinding): readonly Touch[] {
  const moved = (entry: string): Moved => ({ movement: parseMovementEntry(entry).movement, ...sided(side) });
  return [
    ...(items.length > 0 ? ofJoint({ joint, ...sided(side) }, 'look') : []),
    ...range.flatMap((entry) => ofMovement(moved(entry), 'range', { mode: 'active' })),
    ...strength.flatMap((entry) => ofMovement(moved(entry), 'strength')),
  ];
}

function ofJoint({ joint, side }: Pick<Touch, 'joint' | 'side'>, aspect: Touch['aspect']): readonly Touch[] {
  return joint === undefined ? [] : [{ joint, with: [], aspect, ...sided(side) }];
}

function sided(side: Side | undefined): Pick<Touch, 'side'> {
  return side === undefined ? {} : { side };
}
