import {
  findBodyDevice,
  findJoint,
  findPosition,
  findPrecaution,
  type BodyDevice,
  type Forbidden,
  type PrecautionRow,
  type Side,
} from '../catalogue/index.js';
import type { Exam, Finding, GaitFinding } from './exam.js';
import { jointName } from './finding-name.js';
import type { Issue } from './issue.js';
import type { StandingAbsence, StandingDevice } from './patient-record.js';
import { listed } from './placed.js';
import { movementWords, sentence } from './record-wording.js';
import { ruleIssue, type RuleId } from './rules.js';
import { inForce, isSameDevice } from './standing.js';
import { touchesOf, type Touch } from './touches.js';
import { groupBy, placeOf, type Visit } from './visit.js';

/**
 * BP-01: a finding at a part that the record says is absent. Pain at rest may be felt there, and a test left out is
 * no finding.
 */
export function checkAbsentParts(visit: Visit): readonly Issue[] {
  const absent = visit.record.absent
    .filter((one) => inForce(one, visit.at) && !isRestated(visit.exam, one))
    .sort((one, other) => one.since - other.since || one.level.localeCompare(other.level));
  if (absent.length === 0) return [];
  return issuesOfTouches(visit, (touch) => {
    const found = absent.find((one) => isBelow(one, touch));
    return found && { rule: 'BP-01', against: `absent (${found.level})` };
  });
}

/** Where the document says so itself, its own check speaks. */
function isRestated({ findings }: Exam, absence: StandingAbsence): boolean {
  return findings.some(
    (finding) =>
      finding.kind === 'absent-part' &&
      finding.side === absence.side &&
      absence.joints.every((joint) => finding.joints.includes(joint)),
  );
}

const DIGIT = /\b(?:index|middle|ring|little|great|second|third|fourth|fifth)\b/g;

/**
 * Whether a touch is of the absent part. A level that names digits is the absence of those digits only: the others are
 * examined as before.
 */
export function isBelow(
  { joints, side, level }: Pick<StandingAbsence, 'joints' | 'side' | 'level'>,
  touch: Touch,
): boolean {
  if (touch.joint === undefined || !joints.includes(touch.joint) || side !== touch.side) return false;
  const digits = level.toLowerCase().match(DIGIT);
  return digits === null || (touch.digit !== undefined && digits.includes(touch.digit));
}

/** BP-02: range or strength of an artificial joint, and walking on a prosthesis without saying so. */
export function checkProstheses(visit: Visit): readonly Issue[] {
  const worn = devicesInForce(visit, ({ replacesPart }) => replacesPart);
  if (worn.length === 0) return [];
  const onJoints = issuesOfTouches(visit, (touch) => {
    if (touch.aspect !== 'range' && touch.aspect !== 'strength') return undefined;
    const device = worn.find((one) => isAround(one, touch));
    return device && { rule: 'BP-02', against: `a ${device.device}, which takes no range and no strength` };
  });
  const legs = worn.filter(({ joints }) => joints.some((joint) => findJoint(joint)?.region === 'lower-limb'));
  return legs.length === 0 ? onJoints : [...onJoints, ...visit.exam.findings.flatMap(walksUnsaid(visit))];
}

/** Asked and not refused: the patient may have walked without it. */
function walksUnsaid(visit: Visit): (finding: Finding) => readonly Issue[] {
  return (finding) =>
    finding.kind !== 'gait' || finding.device !== undefined || !saysWalking(finding)
      ? []
      : [
          ruleIssue(
            'BP-02',
            placeOf(visit, finding),
            'The patient has a leg prosthesis on record: walking with it is recorded with the device. Was it off?',
            { severity: 'confirm' },
          ),
        ];
}

function saysWalking({ pattern, assistance }: GaitFinding): boolean {
  return pattern !== undefined || assistance !== undefined;
}

/** BP-03: range, strength, girth or grip of a joint inside a cast or its like: was it off? */
export function checkInsideCast(visit: Visit): readonly Issue[] {
  const worn = devicesInForce(visit, ({ covering }) => covering);
  if (worn.length === 0) return [];
  return issuesOfTouches(visit, (touch) => {
    if (touch.aspect !== 'range' && touch.aspect !== 'strength' && touch.aspect !== 'measure')
      return undefined;
    const device = worn.find((one) => isAround(one, touch));
    return device && { rule: 'BP-03', against: `inside the ${device.device}`, ask: 'Was it removed?' };
  });
}

/** Devices of the record that no finding of this exam ends, and that the exam does not name itself. */
function devicesInForce(
  { exam, record, at }: Visit,
  kind: (device: BodyDevice) => boolean,
): readonly StandingDevice[] {
  return record.onBody
    .filter((device) => {
      const row = findBodyDevice(device.device);
      const retold = exam.findings.some(
        (finding) => finding.kind === 'on-body' && isSameDevice(device, finding),
      );
      return row !== undefined && kind(row) && inForce(device, at) && !retold;
    })
    .sort((one, other) => one.since - other.since || one.device.localeCompare(other.device));
}

/** Whether a device is around what was touched. */
export function isAround({ joints, side }: Pick<StandingDevice, 'joints' | 'side'>, touch: Touch): boolean {
  const touched = touch.joint === undefined ? touch.with : [touch.joint, ...touch.with];
  return isOnSide(side, touch.side) && touched.some((joint) => joints.includes(joint));
}

/** A thing without a side holds on both. */
function isOnSide(side: Side | undefined, touched: Side | undefined): boolean {
  return side === undefined || touched === undefined || side === touched;
}

/** SF-01: a result where a precaution in force forbids the test: how was it obtained? */
export function checkPrecautions(visit: Visit): readonly Issue[] {
  const own = new Set(visit.exam.precautions.map(({ precaution, side }) => precautionKey(precaution, side)));
  const stayStart = startOfStay(visit);
  const orders = visit.record.precautions.flatMap(({ precaution, side, ...standing }) => {
    const row = findPrecaution(precaution);
    const speaks =
      row &&
      inForce(standing, visit.at) &&
      standing.since >= stayStart &&
      !own.has(precautionKey(precaution, side));
    return speaks ? [{ row, ...(side && { side }) }] : [];
  });
  if (orders.length === 0) return [];
  return issuesOfTouches(visit, (touch, finding) => {
    const met = orders.filter(
      ({ row, side }) => isOnSide(side, touch.side) && forbids(row, touch, visit.exam, finding),
    );
    const labels = [...new Set(met.map(({ row }) => `"${row.label}"`))].sort();
    if (labels.length === 0) return undefined;
    return { rule: 'SF-01', against: `under ${listed(labels, 'and')}`, ask: 'How was this obtained?' };
  });
}

/** When the patient's present stay began, in ms, over encounters that follow on each other; with none known, ever. */
function startOfStay({ record, at, rules }: Visit): number {
  if (record.stays.length === 0) return Number.NEGATIVE_INFINITY;
  const gap = rules.sameStayHours * 3_600_000;
  return [...record.stays]
    .filter(({ start }) => start.ms <= at)
    .sort((one, other) => other.start.ms - one.start.ms)
    .reduce(
      (began, { start, end }) => ((end?.ms ?? at) >= began - gap ? Math.min(began, start.ms) : began),
      at,
    );
}

function precautionKey(precaution: string, side: Side | undefined): string {
  return `${findPrecaution(precaution)?.id ?? precaution}|${side ?? ''}`;
}

/** Whether an order of this kind, on the touched side, forbids what a finding of the exam did. */
export function forbids(
  { forbids: rows, sided }: PrecautionRow,
  touch: Touch,
  exam: Pick<Exam, 'positions'>,
  finding: Finding,
): boolean {
  const unloaded = sided && finding.kind === 'gait' && finding.device !== undefined;
  return rows.some((row) =>
    row.standing ? !unloaded && isStanding(row, touch, exam) : isForbidden(row, touch),
  );
}

/**
 * Standing tests. A leg kept off the ground may walk with a device; a movement is taken to be done standing where the
 * exam names no other position.
 */
function isStanding(row: Forbidden, touch: Touch, { positions }: Pick<Exam, 'positions'>): boolean {
  if (row.movements === undefined && row.joints === undefined) return touch.standing === true;
  const stood =
    positions.length > 0 && positions.every((position) => findPosition(position)?.standing === true);
  return stood && isForbidden(row, touch);
}

function isForbidden({ joints, movements, aspects, modes, above }: Forbidden, touch: Touch): boolean {
  if (!aspects.some((aspect) => aspect === touch.aspect)) return false;
  if (movements && (touch.movement === undefined || !movements.includes(touch.movement))) return false;
  if (joints && !joints.some((joint) => joint === touch.joint)) return false;
  if (modes && touch.mode !== undefined && !modes.some((mode) => mode === touch.mode)) return false;
  return above === undefined || (touch.degrees !== undefined && touch.degrees > above);
}

interface Objection {
  readonly rule: RuleId;
  /** What the record says of the part: `absent (below knee)`, `inside the cast`. */
  readonly against: string;
  readonly ask?: string;
}

/** One issue for each finding and objection, which names every movement that it concerns. */
function issuesOfTouches(
  visit: Visit,
  object: (touch: Touch, finding: Finding) => Objection | undefined,
): readonly Issue[] {
  return visit.exam.findings.flatMap((finding) => {
    const met = touchesOf(finding).flatMap((touch) => {
      const objection = object(touch, finding);
      return objection ? [{ touch, ...objection }] : [];
    });
    return groupBy(met, ({ rule, against }) => `${rule} ${against}`).flatMap((alike) => {
      const [first] = alike;
      if (first === undefined) return [];
      const what = listed([...new Set(alike.map((one) => touchWords(one.touch)))], 'and');
      const part =
        first.touch.joint === undefined ? 'patient' : jointName(first.touch.joint, first.touch.side);
      return [ruleIssue(first.rule, placeOf(visit, finding), objectionWords(what, part, first))];
    });
  });
}

/** `Flexion is given, and the left wrist is inside the cast. Was it removed?` */
function objectionWords(what: string, part: string, { against, ask }: Objection): string {
  const given = `${sentence(what)} ${what.includes(' and ') ? 'are' : 'is'} given`;
  const stands = `the ${part} ${/(?:fingers|toes)$/.test(part) ? 'are' : 'is'} ${against}`;
  return [`${given}, and ${stands}.`, ask].filter((words) => words !== undefined).join(' ');
}

function touchWords({ movement, aspect, standing }: Touch): string {
  if (movement !== undefined)
    return `${aspect === 'strength' ? 'strength of ' : ''}${movementWords(movement)}`;
  return standing ? 'standing or walking' : ASPECT_WORDS[aspect];
}

const ASPECT_WORDS: Readonly<Record<Touch['aspect'], string>> = {
  look: 'look and feel',
  feel: 'look and feel',
  range: 'range',
  strength: 'strength',
  measure: 'measurement',
  pain: 'pain on movement',
  screen: 'a screen of both sides together',
};
