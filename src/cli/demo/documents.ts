import { joints as catalogueJoints, type Aspect, type JointId, type Side } from '../../catalogue/index.js';
import type { JsonValue } from '../../fhir/index.js';
import { EVERY_JOINT, pains, SIDES, type Deferral, type Entry, type Part, type Scope } from './entries.js';
import { demoShift, demoShifts, instantAt, minutesLater, type DemoShift } from './shifts.js';
import {
  privacyAtNight,
  shortfalls,
  stories,
  type FirstTry,
  type Session,
  type ShiftExam,
  type Story,
} from './story.js';
import {
  DEMO_SYSTEMS,
  DEMO_WARD,
  demoIdentifier,
  demoPatient,
  eligiblePatients,
  wardResources,
} from './ward.js';

/** One thing sent to the doors, with the answer that it should have. */
export interface DemoAct {
  /** When it was recorded, with its offset. Undefined for what stands before the first shift. */
  readonly at?: string;
  readonly label: string;
  /** Acts of one patient are sent one after the other. */
  readonly patient?: string;
  readonly send: {
    readonly method: 'PUT' | 'POST';
    /** With `{exam}` where the id stands that an earlier document was given. */
    readonly path: string;
    /** The `clientId` whose exam `{exam}` means. */
    readonly exam?: string;
    readonly body: Entry;
  };
  readonly expect: {
    /** Kept as new, refused with nothing kept, or answered as the first time. */
    readonly outcome: 'kept' | 'refused' | 'repeated';
    /** HTTP statuses of that outcome on a ward without earlier data. */
    readonly statuses: readonly number[];
    /** Refused: the codes of all errors and confirms. Kept: codes that the answer carries as labels. */
    readonly codes: readonly string[];
  };
}

/** Everything the demo sends: the ward first, then every act of the week in the order in which it was recorded. */
export function demoActs(): readonly DemoAct[] {
  const acts = [...demoShifts.flatMap(shiftExamActs), ...stories.flatMap(sessionActs)];
  const inOrder = acts.sort((a, b) => Date.parse(a.at ?? '') - Date.parse(b.at ?? ''));
  return [...wardActs(), ...inOrder];
}

function wardActs(): readonly DemoAct[] {
  return wardResources().map((resource) => ({
    label: `${resource.resourceType} ${resource.id}`,
    send: {
      method: 'PUT',
      path: `/fhir/${resource.resourceType}/${resource.id}`,
      // FHIR's types are interfaces, which say nothing of further keys
      body: { ...resource } as unknown as Entry,
    },
    expect: { outcome: 'kept', statuses: [200, 201], codes: [] },
  }));
}

/** An exam before it is written as a document. */
interface Plan {
  readonly patient: string;
  readonly shift: DemoShift;
  readonly name: string;
  readonly type: 'full' | Session['type'];
  readonly clock: string;
  readonly entryMinutes: number;
  readonly examiner: string;
  readonly parts: readonly Part[];
  readonly firstTry?: FirstTry;
  readonly labels?: readonly string[];
}

/** Full exams of a shift begin at half past seven, each nurse's ten minutes apart. */
function shiftExamActs(shift: DemoShift): readonly DemoAct[] {
  const start = instantAt(shift, shift.kind === 'day' ? '07:00' : '19:00');
  const end = instantAt(shift, shift.kind === 'day' ? '19:00' : '07:00');
  return eligiblePatients(start, end).flatMap(({ key }) => {
    const story = storyOf(key);
    const shortfall = shortfalls[shift.number]?.[key];
    if (shortfall === 'nothing') return [];
    const exam = story.shiftExam(shift);
    const plan = planShiftExam(story, shift, exam, shortfall);
    return exam.draftOnly === true ? [draftAct(plan)] : examActs(plan);
  });
}

function storyOf(patient: string): Story {
  const story = stories.find((row) => row.patient === patient);
  if (story === undefined) throw new RangeError(`no story of ${patient}`);
  return story;
}

function planShiftExam(story: Story, shift: DemoShift, exam: ShiftExam, shortfall: Part | undefined): Plan {
  const { patient } = story;
  const around = [standing(story, exam.parts), ...(shortfall ? [shortfall] : privacy(patient, shift))];
  const { firstTry } = exam;
  return {
    patient,
    shift,
    name: 'full',
    type: 'full',
    clock: exam.clock ?? roundClock(patient, shift),
    entryMinutes: exam.entryMinutes ?? entryMinutes(patient, shift),
    examiner: exam.examiner ?? nurseOf(patient, shift),
    parts: [...exam.parts, ...around],
    ...(firstTry && {
      firstTry: { ...firstTry, ...(firstTry.parts && { parts: [...firstTry.parts, ...around] }) },
    }),
    ...(exam.labels && { labels: exam.labels }),
  };
}

/** Pain and walking, which every full exam tells, unless the shift's own story puts walking off. */
function standing(story: Story, parts: readonly Part[]): Part {
  const deferred = parts.flatMap((part) => part.notAssessed ?? []);
  const gait = deferred.some(({ check }) => check === 'gait') ? [] : [story.gait];
  return {
    findings: [...pains(...story.pain), ...gait.filter((row): row is Entry => !isDeferral(row))],
    notAssessed: gait.filter(isDeferral),
  };
}

function isDeferral(row: Entry | Deferral): row is Deferral {
  return 'reason' in row;
}

function privacy(patient: string, shift: DemoShift): readonly Part[] {
  const turn = privacyAtNight.indexOf(patient);
  if (turn < 0 || shift.kind === 'day' || (shift.day + turn) % 2 === 0) return [];
  return [{ notAssessed: [{ joints: ['hip'], reason: 'privacy', note: 'to be offered in the morning' }] }];
}

/** The seventh patient's grip is read at one clock time, so that her exam opens the round. */
const ROUND_ORDER = ['P07', 'P01', 'P02', 'P03', 'P06', 'P04', 'P05', 'P08'];
const PATIENTS_A_NURSE = 8;
const MINUTES_AN_EXAM = 10;

function bedIndex(patient: string): number {
  return Number(patient.slice(1)) - 1;
}

function nurseOf(patient: string, shift: DemoShift): string {
  return shift.nurses[Math.floor(bedIndex(patient) / PATIENTS_A_NURSE)] ?? shift.nurses[0];
}

function roundClock(patient: string, shift: DemoShift): string {
  const third = Math.floor(bedIndex(patient) / PATIENTS_A_NURSE);
  const place = third === 0 ? ROUND_ORDER.indexOf(patient) : bedIndex(patient) % PATIENTS_A_NURSE;
  const minutes = 30 + place * MINUTES_AN_EXAM + third * 3;
  const hour = (shift.kind === 'day' ? 7 : 19) + Math.floor(minutes / 60);
  return `${String(hour).padStart(2, '0')}:${String(minutes % 60).padStart(2, '0')}`;
}

/** 5 to 13 minutes from exam to entry, the same in every run. */
function entryMinutes(patient: string, shift: DemoShift): number {
  return 5 + ((bedIndex(patient) * 3 + shift.number * 5) % 9);
}

function sessionActs(story: Story): readonly DemoAct[] {
  return (story.sessions ?? []).flatMap((session) => {
    const plan = planSession(story.patient, session);
    return [
      ...examActs(plan),
      ...(session.sentTwice === true ? [repeatAct(plan)] : []),
      ...(session.withdrawn ? withdrawalActs(plan, session.withdrawn) : []),
      ...(session.addendum ? [addendumAct(plan, session.addendum)] : []),
    ];
  });
}

function planSession(patient: string, session: Session): Plan {
  const shift = demoShift(session.shift);
  return {
    patient,
    shift,
    name: session.name,
    type: session.type,
    clock: session.clock,
    entryMinutes: session.entryMinutes ?? entryMinutes(patient, shift),
    examiner: session.examiner ?? nurseOf(patient, shift),
    parts: [session.part],
    ...(session.firstTry && { firstTry: session.firstTry }),
  };
}

/** The document as first sent, where the doors refuse or ask, and as it was sent in the end. */
function examActs(plan: Plan): readonly DemoAct[] {
  const { firstTry } = plan;
  if (firstTry === undefined) return [keptAct(plan, writeDocument(plan))];
  const tried = { ...plan, parts: firstTry.parts ?? plan.parts, clock: firstTry.clock ?? plan.clock };
  const first = writeDocument(tried, recordedAt(plan));
  const refused = refusedAct(plan, first, firstTry);
  switch (firstTry.then) {
    case 'confirmed':
      return [refused, keptAct(plan, { ...first, confirmed: firstTry.codes })];
    case 'corrected':
      return [refused, keptAct(plan, writeDocument(plan))];
    case 'given-up':
      return [refused];
  }
}

function clientId(plan: Plan): string {
  const shift = String(plan.shift.number).padStart(2, '0');
  return `demo-6e-${plan.patient.toLowerCase()}-s${shift}-${plan.name}`;
}

function label(plan: Plan): string {
  return `${plan.patient} S${plan.shift.number} ${plan.name}`;
}

function performedAt(plan: Plan): string {
  return instantAt(plan.shift, plan.clock);
}

function recordedAt(plan: Plan): string {
  return minutesLater(performedAt(plan), plan.entryMinutes);
}

function refusedAct(plan: Plan, body: Entry, firstTry: FirstTry): DemoAct {
  return {
    at: recordedAt(plan),
    label: label(plan),
    patient: plan.patient,
    send: { method: 'POST', path: '/exams', body },
    expect: { outcome: 'refused', statuses: [422], codes: firstTry.codes },
  };
}

function keptAct(plan: Plan, body: Entry): DemoAct {
  return {
    at: recordedAt(plan),
    label: label(plan),
    patient: plan.patient,
    send: { method: 'POST', path: '/exams', body },
    expect: { outcome: 'kept', statuses: [201], codes: plan.labels ?? [] },
  };
}

function repeatAct(plan: Plan): DemoAct {
  return {
    ...keptAct(plan, writeDocument(plan)),
    label: `${label(plan)}, sent again`,
    expect: { outcome: 'repeated', statuses: [200], codes: [] },
  };
}

function draftAct(plan: Plan): DemoAct {
  return {
    at: recordedAt(plan),
    label: `${label(plan)}, draft`,
    patient: plan.patient,
    send: { method: 'PUT', path: `/drafts/${clientId(plan)}`, body: writeDocument(plan) },
    expect: { outcome: 'kept', statuses: [200, 201, 204], codes: [] },
  };
}

function withdrawalActs(plan: Plan, withdrawn: NonNullable<Session['withdrawn']>): readonly DemoAct[] {
  const at = instantAt(plan.shift, withdrawn.clock);
  const again = { ...plan, name: `${plan.name}-again`, parts: [withdrawn.part] };
  const entered = minutesLater(at, 2);
  return [
    changeAct(plan, 'withdrawals', at, { why: withdrawn.why, withdraws: 'all' }),
    { ...keptAct(again, writeDocument(again, entered)), at: entered },
  ];
}

function addendumAct(plan: Plan, addendum: NonNullable<Session['addendum']>): DemoAct {
  return changeAct(plan, 'addenda', instantAt(plan.shift, addendum.clock), { note: addendum.note });
}

function changeAct(plan: Plan, door: 'withdrawals' | 'addenda', at: string, change: Entry): DemoAct {
  return {
    at,
    label: `${label(plan)}, ${door}`,
    patient: plan.patient,
    send: {
      method: 'POST',
      path: `/exams/{exam}/${door}`,
      exam: clientId(plan),
      body: { by: staffMember(plan.examiner), at, ...change },
    },
    expect: { outcome: 'kept', statuses: [200, 201], codes: [] },
  };
}

function staffMember(number: string): Entry {
  const [, role = ''] = number.split('-');
  return { identifier: { system: DEMO_SYSTEMS.staff, value: number }, role };
}

/** One exam document, as the doors take it. */
function writeDocument(plan: Plan, recorded: string = recordedAt(plan)): Entry {
  const { family, birthYear } = demoPatient(plan.patient);
  const examiner = staffMember(plan.examiner);
  return {
    clientId: clientId(plan),
    type: plan.type,
    patient: {
      identifier: demoIdentifier(plan.patient),
      readBack: { name: family, birthDate: String(birthYear) },
    },
    ward: DEMO_WARD,
    examiner,
    performedAt: performedAt(plan),
    recordedAt: recorded,
    recorder: examiner,
    ...writeParts(plan),
  };
}

function writeParts({ type, parts }: Plan): Entry {
  const all = <T>(pick: (part: Part) => readonly T[] | undefined): readonly T[] =>
    parts.flatMap((part) => pick(part) ?? []);
  const blank = all((part) => part.blank);
  const positions = all((part) => part.positions);
  const notAssessed = all((part) => part.notAssessed).flatMap((row) => withoutBlank(row, blank));
  const said = [...all((part) => part.opened), ...notAssessed.filter(isOfJoints), ...blank];
  const atOnce = parts.some((part) => part.everyJointAtOnce);
  return given({
    positions: positions.length > 0 ? positions : type === 'full' ? ['sitting', 'supine'] : undefined,
    lateReason: parts.find((part) => part.lateReason !== undefined)?.lateReason,
    precautions: all((part) => part.precautions),
    asExpected: type !== 'full' ? [] : atOnce ? [{ joints: 'all' }] : asExpectedBut(said),
    findings: all((part) => part.findings).filter((entry) => !isBlank(entry, blank)),
    onBody: all((part) => part.onBody),
    absent: all((part) => part.absent),
    notAssessed: notAssessed.map((row) => ({ ...row })),
    note: parts.find((part) => part.note !== undefined)?.note,
  });
}

/** Leaves out members with nothing in them. */
function given(members: Readonly<Record<string, JsonValue | undefined>>): Entry {
  const kept = Object.entries(members).filter(
    (member): member is [string, JsonValue] =>
      member[1] !== undefined && !(Array.isArray(member[1]) && member[1].length === 0),
  );
  return Object.fromEntries(kept);
}

const ASPECTS: readonly Aspect[] = ['look', 'feel', 'range', 'strength'];

/** Sides of a joint; a midline joint has neither. */
function sidesOf(joint: JointId): readonly (Side | undefined)[] {
  return isPaired(joint) ? SIDES : [undefined];
}

function isPaired(joint: JointId): boolean {
  return catalogueJoints.some((row) => row.id === joint && row.structure === 'paired');
}

function covers(scope: Scope, joint: JointId, side: Side | undefined, aspect: Aspect): boolean {
  const { sides = 'both', aspects = ASPECTS } = scope;
  return scope.joints.includes(joint) && (sides === 'both' || sides === side) && aspects.includes(aspect);
}

function isOfJoints(row: Deferral): row is Deferral & Scope {
  return row.joints !== undefined;
}

/** Whether a finding lies in what was left blank: then it is not there. */
function isBlank(entry: Entry, blank: readonly Scope[]): boolean {
  const { joint, side } = entry;
  return blank.some((scope) =>
    ASPECTS.some(
      (aspect) =>
        aspect in aspectsOf(entry) &&
        covers(scope, joint as JointId, side === 'left' || side === 'right' ? side : undefined, aspect),
    ),
  );
}

/** The aspects that a finding of a joint tells. */
function aspectsOf(entry: Entry): Readonly<Partial<Record<Aspect, true>>> {
  if (typeof entry['joint'] !== 'string') return {};
  const isRange = 'range' in entry || 'degrees' in entry || 'lacks' in entry || 'circumferenceCm' in entry;
  return {
    ...('look' in entry && { look: true }),
    ...('feel' in entry && { feel: true }),
    ...(isRange && { range: true }),
    ...('strength' in entry && { strength: true }),
  };
}

/** A deferral without the sides that were left blank altogether. */
function withoutBlank(row: Deferral, blank: readonly Scope[]): readonly Deferral[] {
  const { joints, sides = 'both', aspects = ASPECTS } = row;
  if (joints === undefined) return [row];
  const told = (sides === 'both' ? SIDES : [sides]).filter(
    (side) =>
      !joints.every((joint) =>
        aspects.every((aspect) => blank.some((scope) => covers(scope, joint, side, aspect))),
      ),
  );
  if (told.length === 0) return [];
  return [told.length === 2 || told[0] === undefined ? row : { ...row, sides: told[0] }];
}

/** What is within expected limits: every cell of the exam but those told otherwise, in as few entries as it takes. */
function asExpectedBut(said: readonly Scope[]): readonly Entry[] {
  const groups = new Map<string, { readonly rest: Entry; readonly joints: JointId[] }>();
  for (const joint of EVERY_JOINT) {
    for (const rest of expectedAt(joint, said)) {
      const key = JSON.stringify(rest);
      const group = groups.get(key) ?? { rest, joints: [] };
      group.joints.push(joint);
      groups.set(key, group);
    }
  }
  return [...groups.values()].map(({ rest, joints }) => ({ joints, ...rest }));
}

function expectedAt(joint: JointId, said: readonly Scope[]): readonly Entry[] {
  const rows = sidesOf(joint).map((side) => ({
    side,
    aspects: ASPECTS.filter((aspect) => !said.some((scope) => covers(scope, joint, side, aspect))),
  }));
  const [left, right] = rows;
  if (left === undefined) return [];
  if (right === undefined || left.aspects.join() === right.aspects.join()) return entryOf(left.aspects);
  return rows.flatMap(({ side, aspects }) =>
    entryOf(aspects).map((entry) => ({ ...(side && { sides: side }), ...entry })),
  );
}

function entryOf(aspects: readonly Aspect[]): readonly Entry[] {
  return aspects.length === 0 ? [] : [{ aspects }];
}
