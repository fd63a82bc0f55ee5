import { findLookFeelItem, findMovement, fixedDeformities } from '../catalogue/index.js';
import type { AsExpectedFinding, Finding, RangeFinding } from './exam.js';
import { jointName } from './finding-name.js';
import type { Issue } from './issue.js';
import type { OpenFinding } from './patient-record.js';
import { listed } from './placed.js';
import { parseMovementEntry, rangeSeries } from './readings.js';
import { amount, movementWords, sentence } from './record-wording.js';
import { ruleIssue } from './rules.js';
import { inForce } from './standing.js';
import { isUnexplainedRise } from './value-checks.js';
import {
  exceeds,
  isClearlyLimited,
  isRecent,
  placeOf,
  rangeError,
  readingsBefore,
  whenWords,
  type Visit,
} from './visit.js';

/**
 * CM-04: "within expected limits" over a joint with an open abnormal finding, a known weak grade or a range known to be
 * clearly limited: resolved, unchanged, or not examined? What CX-10 asks about is not asked again.
 */
export function checkKnownProblems(visit: Visit): readonly Issue[] {
  return visit.exam.findings.flatMap((finding) => {
    if (finding.kind !== 'as-expected') return [];
    const problems = [
      ...openAt(visit, finding)
        .filter(({ item }) => finding.items.includes(item))
        .map((open) => openWords(visit, open)),
      ...weakGrades(visit, finding),
      ...limitedRanges(visit, finding),
    ];
    if (problems.length === 0) return [];
    const part = jointName(finding.joint, finding.side);
    return [
      ruleIssue(
        'CM-04',
        placeOf(visit, finding),
        sentence(
          `${part} is said to be within expected limits, but the record has ${listed(problems, 'and')}: ` +
            'resolved, unchanged, or not examined?',
        ),
      ),
    ];
  });
}

type JointPlace = Pick<AsExpectedFinding, 'joint' | 'side'>;

function openAt({ record, at }: Visit, { joint, side }: JointPlace): readonly OpenFinding[] {
  return record.openFindings
    .filter((open) => open.joint === joint && open.side === side && open.since < at && inForce(open, at))
    .sort((one, other) => one.since - other.since || one.item.localeCompare(other.item));
}

function openWords(visit: Visit, { item, value, since }: OpenFinding): string {
  const row = findLookFeelItem(item);
  const word = row?.words.find(({ id }) => id === value)?.label ?? value;
  return `${row?.label ?? item} ${word} (${whenWords(visit, since)})`;
}

function weakGrades(visit: Visit, finding: AsExpectedFinding): readonly string[] {
  return (visit.byFinding.get(finding) ?? []).flatMap((reading) => {
    if (isUnexplainedRise(visit, reading)) return [];
    const last = readingsBefore(visit, reading).at(-1);
    if (!last || last.value > visit.rules.weakGrade) return [];
    const movement = movementWords(reading.movement ?? '', reading.direction);
    return [`strength of ${movement} ${amount(reading, last.value)} (${whenWords(visit, last.at)})`];
  });
}

function limitedRanges(visit: Visit, finding: AsExpectedFinding): readonly string[] {
  return finding.range.flatMap((entry) => {
    const { movement, direction } = parseMovementEntry(entry);
    const series = { ...rangeSeries(movement, 'active'), ...(direction && { direction }), unit: 'deg' };
    const last = readingsBefore(visit, series, finding.side).at(-1);
    if (!last || !isRecent(visit, last) || !isClearlyLimited(visit.rules, movement, last)) return [];
    return [`${movementWords(movement, direction)} ${last.value} deg (${whenWords(visit, last.at)})`];
  });
}

/** Deformities that no joint moves fully with. */

/**
 * CX-01: full range where a contracture or fusion is open, or full extension where the last reading lacked more than
 * its error. Not where the exam itself says how the joint is
 * limited now.
 */
export function checkFullRange(visit: Visit): readonly Issue[] {
  return visit.exam.findings.flatMap((finding) => {
    const full = fullRangeOf(finding);
    if (full === undefined) return [];
    const against = fixedDeformity(visit, full) ?? lackingExtension(visit, full);
    if (against === undefined || saysLimits(visit, full)) return [];
    const part = jointName(full.joint, full.side);
    return [
      ruleIssue(
        'CX-01',
        placeOf(visit, finding),
        sentence(`${part}: full range, but the record has ${against}. Is that correct?`),
        { found: 'full' },
      ),
    ];
  });
}

interface FullRange extends JointPlace {
  readonly movements: readonly string[];
}

function fullRangeOf(finding: Finding): FullRange | undefined {
  if (finding.kind === 'as-expected' && finding.range.length > 0)
    return {
      ...jointPlace(finding),
      movements: finding.range.map((entry) => parseMovementEntry(entry).movement),
    };
  if (finding.kind !== 'range' || !('word' in finding.extent) || finding.extent.word !== 'full')
    return undefined;
  const { movement, side } = finding;
  return { joint: jointOf(movement), ...(side && { side }), movements: [movement] };
}

function jointPlace({ joint, side }: JointPlace): JointPlace {
  return { joint, ...(side && { side }) };
}

/** Whether the exam itself tells the deformity, or a movement of the joint that is not full. */
function saysLimits({ exam }: Visit, { joint, side }: JointPlace): boolean {
  return exam.findings.some((finding) => {
    if (finding.kind === 'range')
      return finding.side === side && jointOf(finding.movement) === joint && isLimited(finding.extent);
    if (finding.kind !== 'look-feel' || finding.joint !== joint || finding.side !== side) return false;
    return finding.items.some(({ item }) => item === 'deformity');
  });
}

function isLimited(extent: RangeFinding['extent']): boolean {
  if ('word' in extent) return extent.word !== 'full';
  return 'lacks' in extent && Number(extent.lacks) > 0;
}

function jointOf(movement: string): string {
  return findMovement(movement)?.joint ?? movement;
}

function fixedDeformity(visit: Visit, place: JointPlace): string | undefined {
  const open = openAt(visit, place).find(
    ({ item, value }) => item === 'deformity' && fixedDeformities.has(value),
  );
  return open && openWords(visit, open);
}

function lackingExtension(visit: Visit, { side, movements }: FullRange): string | undefined {
  for (const movement of movements.filter(hasTwoNumbers))
    for (const mode of ['active', 'passive'] as const) {
      const series = { ...rangeSeries(movement, mode, 'lacks'), unit: 'deg' };
      const last = readingsBefore(visit, series, side).at(-1);
      if (last && exceeds(last.value, rangeError(visit.rules, last.method, last.method)))
        return `${movementWords(movement)} lacking ${last.value} deg (${whenWords(visit, last.at)})`;
    }
  return undefined;
}

/** Extension of elbow and knee: degrees lacking, degrees beyond straight (GR-11). */
function hasTwoNumbers(movement: string): boolean {
  const limits = findMovement(movement)?.limits;
  return limits !== undefined && 'lacks' in limits;
}
