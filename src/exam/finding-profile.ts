import { findMeasure, type ProfileId } from '../catalogue/index.js';
import type { Finding } from './exam.js';

/** The profile of each kind of finding, but for a measure taken at a level of the limb, which has its own. */
const PROFILES = {
  range: 'range',
  strength: 'strength',
  grip: 'grip',
  measure: 'measure',
  pain: 'pain',
  'look-feel': 'look-feel',
  'as-expected': 'as-expected',
  'not-assessed': 'not-assessed',
  screen: 'screen',
  neurovascular: 'neurovascular',
  gait: 'gait',
  'on-body': 'on-body',
  'absent-part': 'absent-part',
} as const satisfies Readonly<Record<Finding['kind'], ProfileId>>;

/** The profile that the Observation of a finding claims. */
export function profileOf(finding: Finding): ProfileId {
  const isAtLevel = finding.kind === 'measure' && findMeasure(finding.measure)?.needsLevel === true;
  return isAtLevel ? 'circumference' : PROFILES[finding.kind];
}
