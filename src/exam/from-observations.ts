import type { Reference } from 'fhir/r4.js';
import { SYSTEMS, type Aspect, type Observable, type RangeMode, type Side } from '../catalogue/index.js';
import { given, type Lossless } from '../fhir/index.js';
import { namedSiteOf, sideOfSite } from './body-site.js';
import {
  codeIn,
  componentsOf,
  detailOf,
  detailsOf,
  digitsOf,
  directionIn,
  markedSideOf,
  noteOf,
  observableOf,
  textIn,
  textsIn,
  wordIn,
  wordOf,
  wordsIn,
  type Component,
  type ExamObservation,
} from './component.js';
import type {
  AbsentPartFinding,
  AsExpectedFinding,
  Exam,
  ExamType,
  Finding,
  GaitFinding,
  GripFinding,
  Identifier,
  InstantText,
  LookFeelFinding,
  LookFeelItem,
  MeasureFinding,
  NeurovascularElement,
  NeurovascularFinding,
  NotAssessedFinding,
  OnBodyFinding,
  PainFinding,
  Precaution,
  RangeFinding,
  ReadBack,
  ScreenFinding,
  Staff,
  StrengthFinding,
} from './exam.js';
import { gripUnitOf } from './grip.js';
import { CLIENT_ID_SYSTEM, RECORDER_URL, ROLE_URL } from './to-observations.js';

/** An exam as it is stored: its panel and the findings that the panel names, in the panel's order. */
export interface StoredExam {
  readonly panel: ExamObservation;
  readonly members: readonly ExamObservation[];
}

/** Thrown when a resource is no part of an exam as `toObservations` writes it. */
export class NotAnExam extends Error {
  override readonly name = 'NotAnExam';
}

/** The exam that `toObservations` made these of, with every member in its order, withdrawn ones too. */
export function fromObservations(panel: ExamObservation, members: readonly ExamObservation[]): Exam {
  return {
    ...headOf(panel),
    readBack: readBackOf(panel),
    positions: wordsIn(panel, 'position'),
    precautions: detailsOf(panel, 'precaution').map(precautionOf),
    confirmed: textsIn(panel, 'confirmed'),
    findings: members.map(findingOf),
  };
}

/** An exam as it stands now: what is in force, and what was taken back as entered in error. */
export interface PresentExam {
  readonly status: 'final' | 'amended' | 'entered-in-error';
  /** Only the findings in force. */
  readonly exam: Exam;
  /** Ids of the Observations of the exam's findings, in their order. */
  readonly ids: readonly string[];
  readonly withdrawn: readonly { readonly id: string; readonly finding: Finding }[];
  /** Notes that were added to the finished exam. */
  readonly addedNotes: readonly { readonly by?: Staff; readonly at: InstantText; readonly note: string }[];
}

/** The exam as it stands, whatever the order of its members. */
export function presentExam({ panel, members }: StoredExam): PresentExam {
  const ordered = inPanelOrder(panel, members);
  const inForce = ordered.filter(isInForce);
  return {
    status: panel.status === 'entered-in-error' || panel.status === 'amended' ? panel.status : 'final',
    exam: fromObservations(panel, inForce),
    ids: inForce.map(idOf),
    withdrawn: ordered
      .filter((member) => !isInForce(member))
      .map((member) => ({ id: idOf(member), finding: findingOf(member) })),
    addedNotes: addedNotesOf(panel),
  };
}

/** Whether an Observation says something: it was neither withdrawn nor cancelled. */
export function isInForce({ status }: ExamObservation): boolean {
  return status !== 'entered-in-error' && status !== 'cancelled';
}

function idOf({ id = '' }: ExamObservation): string {
  return id;
}

function inPanelOrder(
  panel: ExamObservation,
  members: readonly ExamObservation[],
): readonly ExamObservation[] {
  const byReference = new Map(members.map((member) => [`Observation/${idOf(member)}`, member]));
  return (panel.hasMember ?? []).flatMap(({ reference = '' }) => byReference.get(reference) ?? []);
}

function addedNotesOf({ note = [] }: ExamObservation): PresentExam['addedNotes'] {
  return note.flatMap(({ time, text, authorReference }) =>
    time === undefined ? [] : [given({ by: staffOf(authorReference), at: time, note: text })],
  );
}

type Head = Omit<Exam, 'readBack' | 'positions' | 'precautions' | 'confirmed' | 'findings'>;

function headOf(panel: ExamObservation): Head {
  const recorder = panel.extension?.find(({ url }) => url === RECORDER_URL)?.valueReference;
  return given({
    clientId: needed(clientIdOf(panel), 'client id'),
    type: needed(wordIn(panel, 'exam-type'), 'type') as ExamType,
    patient: needed(identifierOf(panel.subject), 'patient'),
    ward: textIn(panel, 'ward'),
    examiner: needed(staffOf(panel.performer?.[0]), 'examiner'),
    recorder: staffOf(recorder),
    performedAt: needed(panel.effectiveDateTime, 'time'),
    recordedAt: needed(panel.issued, 'time of entry'),
    lateReason: textIn(panel, 'late-reason'),
    note: ownNote(panel),
  });
}

/** The sender's id of the exam's document. */
export function clientIdOf(panel: ExamObservation): string | undefined {
  return panel.identifier?.find(({ system }) => system === CLIENT_ID_SYSTEM)?.value;
}

function needed<T>(held: T | undefined, what: string): T {
  if (held === undefined) throw new NotAnExam(`an exam's Observation without its ${what}`);
  return held;
}

function identifierOf(reference: Lossless<Reference> | undefined): Identifier | undefined {
  const { system, value } = reference?.identifier ?? {};
  return system === undefined || value === undefined ? undefined : { system, value };
}

/** The member of staff that a reference of an exam names. */
export function staffOf(reference: Lossless<Reference> | undefined): Staff | undefined {
  const identifier = identifierOf(reference);
  const role = reference?.extension?.find(({ url }) => url === ROLE_URL)?.valueString;
  return identifier && given({ identifier, role });
}

/** The document's own note; those of addenda have a time. */
function ownNote({ note }: ExamObservation): string | undefined {
  return note?.find(({ time }) => time === undefined)?.text;
}

function readBackOf(panel: ExamObservation): ReadBack {
  return given({
    name: textIn(panel, 'read-back-name'),
    birthDate: detailOf(panel, 'read-back-birth-date')?.valueDateTime,
  });
}

function precautionOf(component: Component): Precaution {
  return given({
    precaution: needed(wordOf(component.valueCodeableConcept), 'precaution'),
    side: markedSideOf(component),
    note: noteOf(component),
  });
}

/** The finding that an Observation of an exam was made of, whatever its status. */
export function findingOf(observation: ExamObservation): Finding {
  const common = { describe: ownNote(observation), typed: textIn(observation, 'typed-word') };
  return given({ ...bareFinding(observation), ...common });
}

function bareFinding(observation: ExamObservation): Finding {
  if (observation.dataAbsentReason !== undefined) return notAssessedOf(observation);
  const observable = needed(observableOf(observation.code), 'code');
  return READERS[observable.kind](observation, observable);
}

type Reader = (observation: ExamObservation, observable: Observable) => Finding;

const noFinding: Reader = (_observation, { code }) => {
  throw new NotAnExam(`${code} is no finding by itself`);
};

const READERS: Readonly<Record<Observable['kind'], Reader>> = {
  range: rangeOf,
  strength: strengthOf,
  grip: gripOf,
  measure: measureOf,
  pain: painOf,
  'look-feel': lookFeelOf,
  'joint-exam': asExpectedOf,
  screen: screenOf,
  neurovascular: neurovascularOf,
  gait: gaitOf,
  'on-body': onBodyOf,
  'absent-part': absentPartOf,
  panel: noFinding,
  'look-feel-item': noFinding,
  'neurovascular-element': noFinding,
};

function siteFields({ bodySite }: ExamObservation): Pick<RangeFinding, 'digit' | 'digitJoint'> {
  const site = namedSiteOf(bodySite);
  return given({ digit: site?.digit, digitJoint: site?.digitJoint as RangeFinding['digitJoint'] });
}

function sideOf({ bodySite }: ExamObservation): Side | undefined {
  return sideOfSite(bodySite);
}

function jointOf({ bodySite }: ExamObservation): string | undefined {
  return namedSiteOf(bodySite)?.joint;
}

function rangeOf(observation: ExamObservation, observable: Observable): RangeFinding {
  return given({
    kind: 'range' as const,
    movement: observable.item,
    side: sideOf(observation),
    direction: directionIn(observation),
    ...siteFields(observation),
    mode: needed(observable.mode, 'mode'),
    extent: extentOf(observation, observable),
    method: codeIn(observation.method, SYSTEMS.method),
    limitedBy: textIn(observation, 'limited-by'),
  });
}

function extentOf(
  { valueCodeableConcept, valueQuantity }: ExamObservation,
  { part }: Observable,
): RangeFinding['extent'] {
  const digits = digitsOf(valueQuantity);
  if (digits === undefined) return { word: needed(wordOf(valueCodeableConcept), 'extent') as 'full' };
  if (part === 'lacks') return { lacks: digits };
  if (part === 'hyperextends') return { hyperextends: digits };
  return valueQuantity?.code === 'mm' ? { millimetres: digits } : { degrees: digits };
}

function strengthOf(observation: ExamObservation, { item }: Observable): StrengthFinding {
  return given({
    kind: 'strength' as const,
    movement: item,
    side: sideOf(observation),
    direction: directionIn(observation),
    ...siteFields(observation),
    grade: needed(codeIn(observation.valueCodeableConcept, SYSTEMS.strengthGrade), 'grade'),
    limitedBy: textIn(observation, 'limited-by'),
    gravityEliminated: detailOf(observation, 'gravity-eliminated')?.valueBoolean,
  });
}

function gripOf(observation: ExamObservation): GripFinding {
  const trials = detailsOf(observation, 'trial');
  const handlePosition = detailOf(observation, 'handle-position')?.valueInteger;
  return given({
    kind: 'grip' as const,
    side: needed(sideOf(observation), 'side'),
    trials: trials.flatMap(({ valueQuantity }) => digitsOf(valueQuantity) ?? []),
    unit: needed(gripUnitOf(trials[0]?.valueQuantity?.code), 'unit of the trials'),
    rule: needed(wordIn(observation, 'trial-rule'), 'rule') as GripFinding['rule'],
    device: wordIn(observation, 'device'),
    handlePosition: handlePosition === undefined ? undefined : Number(handlePosition),
    dominant: detailOf(observation, 'dominant-hand')?.valueBoolean,
  });
}

function measureOf(observation: ExamObservation, { item }: Observable): MeasureFinding {
  return given({
    kind: 'measure' as const,
    measure: item,
    joint: jointOf(observation),
    side: sideOf(observation),
    level: textIn(observation, 'level'),
    value: needed(digitsOf(observation.valueQuantity), 'value'),
    unit: needed(observation.valueQuantity?.code, 'unit'),
    method: codeIn(observation.method, SYSTEMS.method),
  });
}

function painOf(observation: ExamObservation, { item }: Observable): PainFinding {
  const movement = wordIn(observation, 'movement');
  return given({
    kind: 'pain' as const,
    score: needed(digitsOf(observation.valueQuantity), 'score'),
    when: item as PainFinding['when'],
    joint: movement === undefined ? jointOf(observation) : undefined,
    side: sideOf(observation),
    movement,
    direction: directionIn(observation),
    mode: wordIn(observation, 'mode') as RangeMode | undefined,
  });
}

function lookFeelOf(observation: ExamObservation, { item }: Observable): LookFeelFinding {
  const items = componentsOf(observation).flatMap(([said, component]) =>
    said?.kind === 'look-feel-item' ? [itemOf(said, component)] : [],
  );
  return given({ kind: 'look-feel' as const, joint: item, side: sideOf(observation), items });
}

function itemOf({ item }: Observable, component: Component): LookFeelItem {
  const value = needed(wordOf(component.valueCodeableConcept), 'word');
  return given({ item, value, describe: noteOf(component) });
}

function asExpectedOf(observation: ExamObservation, { item }: Observable): AsExpectedFinding {
  return given({
    kind: 'as-expected' as const,
    joint: item,
    side: sideOf(observation),
    aspects: wordsIn(observation, 'aspect') as readonly Aspect[],
    items: expectedOf(observation, 'look-feel-item'),
    range: expectedOf(observation, 'range'),
    strength: expectedOf(observation, 'strength'),
    definition: needed(textIn(observation, 'expected-definition'), 'definition'),
  });
}

/** What was examined of one kind, a movement with its direction as `neck.rotation>left`. */
function expectedOf(observation: ExamObservation, kind: Observable['kind']): readonly string[] {
  return componentsOf(observation).flatMap(([said, component]) => {
    if (said?.kind !== kind) return [];
    const direction = markedSideOf(component);
    return [direction === undefined ? said.item : `${said.item}>${direction}`];
  });
}

function notAssessedOf(observation: ExamObservation): NotAssessedFinding {
  const movements = wordsIn(observation, 'movement');
  return given({
    kind: 'not-assessed' as const,
    joint: jointOf(observation),
    side: sideOf(observation),
    aspects: wordsIn(observation, 'aspect') as readonly Aspect[],
    movements: movements.length === 0 ? undefined : movements,
    mode: wordIn(observation, 'mode') as RangeMode | undefined,
    subject: wordIn(observation, 'subject'),
    reason: needed(codeIn(observation.dataAbsentReason, SYSTEMS.notDoneReason), 'reason'),
    note: textIn(observation, 'reason-detail'),
  });
}

function screenOf(observation: ExamObservation, { item }: Observable): ScreenFinding {
  const result = needed(wordOf(observation.valueCodeableConcept), 'result');
  return { kind: 'screen', screen: item, result };
}

function neurovascularOf(observation: ExamObservation, { item }: Observable): NeurovascularFinding {
  const elements = componentsOf(observation).flatMap(([said, component]) =>
    said?.kind === 'neurovascular-element' ? [elementOf(said, component)] : [],
  );
  const side = needed(sideOf(observation), 'side');
  return { kind: 'neurovascular', limb: item as NeurovascularFinding['limb'], side, elements };
}

function elementOf({ item }: Observable, component: Component): NeurovascularElement {
  const { valueQuantity, valueCodeableConcept } = component;
  const value = needed(digitsOf(valueQuantity) ?? wordOf(valueCodeableConcept), 'word or number');
  const comparator = valueQuantity?.comparator as NeurovascularElement['comparator'];
  return given({ element: item, value, comparator, describe: noteOf(component) });
}

function gaitOf(observation: ExamObservation): GaitFinding {
  return given({
    kind: 'gait' as const,
    pattern: wordIn(observation, 'gait-pattern'),
    assistance: wordIn(observation, 'gait-assistance'),
    device: wordIn(observation, 'device'),
  });
}

function onBodyOf(observation: ExamObservation): OnBodyFinding {
  return given({
    kind: 'on-body' as const,
    device: needed(wordOf(observation.valueCodeableConcept), 'device'),
    joints: wordsIn(observation, 'joint'),
    side: sideOf(observation),
    since: detailOf(observation, 'since')?.valueDateTime,
    until: detailOf(observation, 'until')?.valueDateTime,
  });
}

function absentPartOf(observation: ExamObservation): AbsentPartFinding {
  return {
    kind: 'absent-part',
    joints: wordsIn(observation, 'joint'),
    side: needed(sideOf(observation), 'side'),
    level: needed(wordOf(observation.valueCodeableConcept), 'level'),
  };
}
