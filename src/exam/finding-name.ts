import { findMovement, joints, lookFeelItems } from '../catalogue/index.js';
import type { DigitJoint, Finding, NotAssessedFinding, RangeFinding } from './exam.js';

/** What a finding is about, in plain words for a sentence: `left knee flexion`, `neck rotation to the right`. */
export function nameFinding(finding: Finding): string {
  switch (finding.kind) {
    case 'range':
      return rangeName(finding);
    case 'strength':
      return `${movementName(finding)} strength`;
    case 'grip':
      return `${finding.side} hand grip`;
    case 'measure':
      return spaced(finding.side, shortJoint(finding.joint), finding.measure.replaceAll('-', ' '));
    case 'pain':
      return painName(finding);
    case 'look-feel':
    case 'as-expected':
      return jointName(finding.joint, finding.side);
    case 'not-assessed':
      return notAssessedName(finding);
    case 'screen':
      return finding.screen.replaceAll('-', ' ');
    case 'neurovascular':
      return `neurovascular check of the ${finding.side} ${finding.limb} limb`;
    case 'gait':
      return 'gait';
    case 'on-body':
    case 'absent-part':
      return finding.joints.map((joint) => jointName(joint, finding.side)).join(', ');
  }
}

function rangeName(finding: RangeFinding): string {
  return movementName(finding) + (finding.mode === 'active' ? '' : ` (${finding.mode})`);
}

function notAssessedName({ joint, side, subject }: NotAssessedFinding): string {
  return spaced(side, shortJoint(joint), subject?.replaceAll('-', ' '));
}

/** A joint with its side, in plain words: `left knee`. */
export function jointName(joint: string, side?: string): string {
  return spaced(side, shortJoint(joint));
}

/** An item that is looked or felt for, in plain words. */
export function itemName(item: string): string {
  return itemLabels.get(item) ?? item;
}

interface MovementAt extends DigitJoint {
  readonly movement: string;
  readonly side?: string;
  readonly direction?: string;
}

/** A movement with its side or direction, in plain words: `left knee flexion`, `neck rotation to the right`. */
export function movementName({ movement, side, direction, digit, digitJoint }: MovementAt): string {
  const known = findMovement(movement);
  const joint = shortJoint(known?.joint);
  const towards = direction === undefined ? undefined : `to the ${direction}`;
  return spaced(side, digit, digitJoint?.toUpperCase(), joint, shortTerm(known?.term ?? movement), towards);
}

function painName(finding: Extract<Finding, { kind: 'pain' }>): string {
  const { movement, direction, side, joint, when } = finding;
  if (movement === undefined) {
    return spaced(side, shortJoint(joint), when === 'rest' ? 'pain at rest' : 'pain on movement');
  }
  const at = { movement, ...(side && { side }), ...(direction && { direction }) };
  return `pain on ${movementName(at)}`;
}

function shortJoint(joint: string | undefined): string | undefined {
  return joint === undefined ? undefined : (jointNames.get(joint) ?? joint);
}

/** Without the explanation in brackets. */
function shortTerm(term: string): string {
  return term.replace(/ \(.*\)$/, '');
}

const jointNames: ReadonlyMap<string, string> = new Map(
  joints.map(({ id, name }) => [id, shortTerm(name).toLowerCase()]),
);
const itemLabels: ReadonlyMap<string, string> = new Map(lookFeelItems.map(({ id, label }) => [id, label]));

function spaced(...parts: readonly (string | undefined)[]): string {
  return parts.filter((part) => part !== undefined && part !== '').join(' ');
}
