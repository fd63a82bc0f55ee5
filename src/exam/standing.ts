import { findLookFeelItem } from '../catalogue/index.js';
import type { Finding, LookFeelFinding, OnBodyFinding } from './exam.js';
import type {
  EarlierExam,
  OpenFinding,
  PatientRecord,
  StandingAbsence,
  StandingDevice,
  StandingPrecaution,
} from './patient-record.js';

/** What earlier exams left standing, as far as their findings tell. */
export type StandingThings = Pick<PatientRecord, 'onBody' | 'absent' | 'precautions' | 'openFindings'>;

/**
 * Folds earlier exams into what stands: a device from its `since` (else from its first exam) until an exam gives its
 * `until`; an absent part and a precaution from the exam that first names them; an abnormal look or feel finding until
 * it is found otherwise. What has ended is kept with its end, so that an exam entered late meets what stood then.
 */
export function standingOf(earlier: readonly EarlierExam[]): StandingThings {
  const exams = [...earlier].sort((one, other) => one.performedAt - other.performedAt);
  const dated = exams.flatMap(({ performedAt, findings }) =>
    findings.map((finding) => ({ at: performedAt, finding })),
  );
  return {
    onBody: dated.reduce(withDevice, []),
    absent: dated.reduce(withAbsence, []),
    precautions: precautionsOf(exams),
    openFindings: dated.reduce(withSeen, []),
  };
}

interface Dated {
  readonly at: number;
  readonly finding: Finding;
}

interface Lasting {
  readonly since: number;
  readonly until?: number;
}

/** Whether a standing thing is in force at an instant (ms); its end is the first instant at which it is not. */
export function inForce({ since, until }: Lasting, at: number): boolean {
  return since <= at && (until === undefined || at < until);
}

function withDevice(known: readonly StandingDevice[], { at, finding }: Dated): readonly StandingDevice[] {
  if (finding.kind !== 'on-body') return known;
  const since = finding.since === undefined ? at : Date.parse(finding.since);
  const { device, joints, side } = finding;
  if (finding.until !== undefined) {
    const until = Date.parse(finding.until);
    const ended = known.map((one) => (lasts(one) && isSameDevice(one, finding) ? { ...one, until } : one));
    const met = known.some((one) => isSameDevice(one, finding));
    return met ? ended : [...known, { device, joints, ...(side && { side }), since, until }];
  }
  const again = known.some(
    (one) => lasts(one) && isSameDevice(one, finding) && joints.every((joint) => one.joints.includes(joint)),
  );
  return again ? known : [...known, { device, joints, ...(side && { side }), since }];
}

const lasts = ({ until }: Lasting): boolean => until === undefined;

/** The device that an on-body finding speaks of again: same kind and side, over at least one joint of it. */
export function isSameDevice(
  known: Pick<StandingDevice, 'device' | 'joints' | 'side'>,
  finding: Pick<OnBodyFinding, 'device' | 'joints' | 'side'>,
): boolean {
  return (
    known.device === finding.device &&
    known.side === finding.side &&
    finding.joints.some((joint) => known.joints.includes(joint))
  );
}

function withAbsence(known: readonly StandingAbsence[], { at, finding }: Dated): readonly StandingAbsence[] {
  if (finding.kind !== 'absent-part') return known;
  const { joints, side, level } = finding;
  const again = known.some(
    (one) => one.side === side && one.level === level && joints.every((joint) => one.joints.includes(joint)),
  );
  return again ? known : [...known, { joints, side, level, since: at }];
}

function precautionsOf(exams: readonly EarlierExam[]): readonly StandingPrecaution[] {
  const first = new Map<string, StandingPrecaution>();
  for (const { performedAt, precautions } of exams)
    for (const { precaution, side } of precautions) {
      const key = `${precaution}|${side ?? ''}`;
      if (!first.has(key)) first.set(key, { precaution, ...(side && { side }), since: performedAt });
    }
  return [...first.values()];
}

function withSeen(known: readonly OpenFinding[], { at, finding }: Dated): readonly OpenFinding[] {
  if (finding.kind === 'as-expected') return known.map((one) => endedBy(finding, finding.items, one, at));
  if (finding.kind !== 'look-feel') return known;
  const told = finding.items.map(({ item }) => item);
  const same = (one: OpenFinding): boolean =>
    finding.items.some(({ item, value }) => item === one.item && value === one.value);
  const ended = known.map((one) => (same(one) ? one : endedBy(finding, told, one, at)));
  const stands = (item: string, value: string): boolean =>
    ended.some((one) => lasts(one) && isAt(finding, one) && one.item === item && one.value === value);
  return [...ended, ...abnormal(finding, at).filter(({ item, value }) => !stands(item, value))];
}

type Place = Pick<LookFeelFinding, 'joint' | 'side'>;

function isAt(place: Place, { joint, side }: OpenFinding): boolean {
  return joint === place.joint && side === place.side;
}

function endedBy(place: Place, items: readonly string[], one: OpenFinding, at: number): OpenFinding {
  return lasts(one) && isAt(place, one) && items.includes(one.item) ? { ...one, until: at } : one;
}

function abnormal({ joint, side, items }: LookFeelFinding, since: number): readonly OpenFinding[] {
  return items
    .filter(({ item, value }) => value !== findLookFeelItem(item)?.expected)
    .map(({ item, value }) => ({ joint, ...(side && { side }), item, value, since }));
}
