import type { Finding, NotAssessedFinding } from './exam.js';

/**
 * What a finding is about, without its value: two findings with one key say the same item twice. Joins kind, joint,
 * movement or measure, side, direction, digit, mode, method, level and moment (rest or movement), so that an active
 * and a passive range, or a reading by eye and one by goniometer, stay apart (TR-01, compare like with like).
 */
export function findingKey(finding: Finding): string {
  return [finding.kind, ...identity(finding)].map((part) => part ?? '').join('|');
}

function identity(finding: Finding): readonly (string | undefined)[] {
  switch (finding.kind) {
    case 'range':
      return [...movementIdentity(finding), finding.mode, finding.method];
    case 'strength':
      return movementIdentity(finding);
    case 'grip':
      return [finding.side, finding.rule, finding.device, finding.handlePosition?.toString()];
    case 'measure':
      return [finding.measure, finding.joint, finding.side, finding.level, finding.method];
    case 'pain':
      return [finding.joint, finding.side, finding.movement, finding.direction, finding.mode, finding.when];
    case 'look-feel':
    case 'as-expected':
      return [finding.joint, finding.side];
    case 'not-assessed':
      return notAssessedIdentity(finding);
    case 'screen':
      return [finding.screen];
    case 'neurovascular':
      return [finding.limb, finding.side];
    case 'gait':
      return [];
    case 'on-body':
      return [finding.device, sorted(finding.joints), finding.side];
    case 'absent-part':
      return [sorted(finding.joints), finding.side];
  }
}

function notAssessedIdentity({
  joint,
  side,
  subject,
  aspects,
  movements = [],
  mode,
}: NotAssessedFinding): readonly (string | undefined)[] {
  return [joint, side, subject, sorted(aspects), sorted(movements), mode];
}

interface MovementIdentity {
  readonly movement: string;
  readonly side?: string;
  readonly direction?: string;
  readonly digit?: string;
  readonly digitJoint?: string;
}

function movementIdentity(finding: MovementIdentity): readonly (string | undefined)[] {
  return [finding.movement, finding.side, finding.direction, finding.digit, finding.digitJoint];
}

function sorted(names: readonly string[]): string {
  return [...names].sort().join('+');
}
