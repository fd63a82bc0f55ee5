import { CANONICAL } from './canonical.js';

/** The kinds of Observation that are written here; each has a profile that says what it always holds. */
export const profileIds = [
  'exam',
  'range',
  'strength',
  'grip',
  'circumference',
  'measure',
  'pain',
  'look-feel',
  'as-expected',
  'screen',
  'neurovascular',
  'gait',
  'on-body',
  'absent-part',
  'not-assessed',
] as const;

export type ProfileId = (typeof profileIds)[number];

/** The profile that all others are derived from; no Observation claims it by itself. */
export const FINDING_PROFILE_URL = `${CANONICAL}/StructureDefinition/msk-finding`;

/** Canonical URL of a kind's profile, as `meta.profile` claims it. */
export function profileUrl(id: ProfileId): string {
  return `${CANONICAL}/StructureDefinition/msk-${id}`;
}
