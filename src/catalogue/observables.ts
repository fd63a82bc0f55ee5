import { SYSTEMS } from './canonical.js';
import { joints } from './joints.js';
import { lookFeelItems } from './look-feel.js';
import { measures } from './measures.js';
import { movements, type Movement } from './movements.js';
import { neurovascularElements } from './neurovascular.js';
import { rangeModes, type RangeMode } from './range.js';
import { screens } from './screens.js';
import type { Code, CodeReference, Side } from './types.js';

/** What an observable tells. */
export type ObservableKind =
  | 'range'
  | 'strength'
  | 'grip'
  | 'measure'
  | 'pain'
  | 'look-feel'
  | 'look-feel-item'
  | 'joint-exam'
  | 'screen'
  | 'neurovascular'
  | 'neurovascular-element'
  | 'gait'
  | 'on-body'
  | 'absent-part'
  | 'panel';

/** One of the two numbers of the extension of elbow and knee (GR-11). */
export type ExtensionPart = 'lacks' | 'hyperextends';

/** A thing that an Observation (or a component) can be about. */
export interface Observable {
  readonly kind: ObservableKind;
  /** Our own code, unique among observables. */
  readonly code: string;
  readonly display: string;
  /**
   * Codings of `Observation.code`: the standard code first where one says the very same, then our own. Grip has the
   * standard code of its side and nothing else.
   */
  readonly codings: readonly CodeReference[];
  /** Standard codes that say the same more widely: further codings of `category`, never of `code`. */
  readonly category: readonly CodeReference[];
  /** What the thing is by id: movement, measure, item, element, screen, joint or limb. */
  readonly item: string;
  readonly mode?: RangeMode;
  readonly part?: ExtensionPart;
  readonly side?: Side;
}

/** Category of every finding. */
export const observationCategory: Code = {
  system: SYSTEMS.observationCategory,
  code: 'exam',
  display: 'Exam',
};

function loinc(code: string, display?: string): CodeReference {
  return { system: SYSTEMS.loinc, code, ...(display !== undefined && { display }) };
}

function snomed(code: string, display?: string): CodeReference {
  return { system: SYSTEMS.snomed, code, ...(display !== undefined && { display }) };
}

const jointMovement = snomed('364564000', 'Range of joint movement (observable entity)');
const muscleStrength = loinc('80322-1', 'Muscle strength');
const painScore = loinc('72514-3', 'Pain severity - 0-10 verbal numeric rating [Score] - Reported');
const musculoskeletal = loinc('11410-8', 'Physical findings of Musculoskeletal system Narrative');

/** Ranges whose LOINC code says the movement and the mode, by movement and mode. */
const rangeLoinc: Readonly<Record<string, CodeReference>> = {
  'shoulder.flexion active': loinc('41389-8', 'Shoulder Flexion Active Range of Motion Quantitative'),
  'shoulder.flexion passive': loinc('41390-6', 'Shoulder Flexion Passive Range of Motion Quantitative'),
  'shoulder.abduction active': loinc('41381-5', 'Shoulder Abduction Active Range of Motion Quantitative'),
  'shoulder.abduction passive': loinc('41382-3', 'Shoulder Abduction Passive Range of Motion Quantitative'),
  'shoulder.external-rotation active': loinc(
    '41387-2',
    'Shoulder External rotation Active Range of Motion Quantitative',
  ),
  'shoulder.external-rotation passive': loinc(
    '41388-0',
    'Shoulder External rotation Passive Range of Motion Quantitative',
  ),
  'shoulder.internal-rotation active': loinc(
    '41391-4',
    'Shoulder Internal rotation Active Range of Motion Quantitative',
  ),
  'shoulder.internal-rotation passive': loinc(
    '41392-2',
    'Shoulder Internal rotation Passive Range of Motion Quantitative',
  ),
  'shoulder.extension active': loinc('41385-6'),
  'shoulder.extension passive': loinc('41386-4'),
  'shoulder.horizontal-adduction passive': loinc(
    '56046-6',
    'Shoulder Horizontal adduction Passive Range of Motion Quantitative',
  ),
};

/** Ranges whose LOINC code does not say the mode: a wider meaning, so a category. */
const widerRangeLoinc: Readonly<Record<string, CodeReference>> = {
  'hip.flexion': loinc('100293-0', 'Hip Flexion range of motion'),
  'hip.abduction': loinc('100294-8', 'Hip Abduction range of motion'),
  'hip.adduction': loinc('100295-5', 'Hip Adduction range of motion'),
  'hip.external-rotation': loinc('100296-3', 'Hip External rotation range of motion'),
  'hip.internal-rotation': loinc('100297-1', 'Hip Internal rotation range of motion'),
};

/** Ranges whose LOINC code says the side too: read when they are sent, never written, so that one item has one code. */
const sidedRangeLoinc: readonly {
  readonly code: CodeReference;
  readonly movement: string;
  readonly mode: RangeMode;
  readonly side: Side;
}[] = [
  {
    code: loinc('41299-9', 'Shoulder - left Abduction Active Range of Motion Quantitative'),
    movement: 'shoulder.abduction',
    mode: 'active',
    side: 'left',
  },
  {
    code: loinc('41316-1', 'Shoulder - right Internal rotation Passive Range of Motion Quantitative'),
    movement: 'shoulder.internal-rotation',
    mode: 'passive',
    side: 'right',
  },
  {
    code: loinc('56044-1', 'Shoulder - right Horizontal adduction Active Range of Motion Quantitative'),
    movement: 'shoulder.horizontal-adduction',
    mode: 'active',
    side: 'right',
  },
];

/** Single measures with a LOINC code of the same meaning. A code of a third party's instrument is left out. */
const measureLoinc: Readonly<Record<string, CodeReference>> = {
  'timed-up-and-go': loinc(
    '89423-8',
    'Time to rise from chair, walk 10 feet and back, and return to sitting [TUG]',
  ),
  'chair-stand-30s': loinc('66247-8', 'Sit to stand frequency in 30 seconds'),
};

/** Items of look and feel with a SNOMED CT finding, said as present, absent or how much. */
const itemSnomed: Readonly<Record<string, CodeReference>> = {
  swelling: snomed('271771009', 'Joint swelling (finding)'),
  effusion: snomed('387637008', 'Effusion of joint (disorder)'),
  tenderness: snomed('247348008', 'Tenderness (finding)'),
  redness: snomed('247441003', 'Erythema (finding)'),
  deformity: snomed('417893002', 'Deformity (finding)'),
  wasting: snomed('88092000', 'Muscle atrophy (disorder)'),
  kyphosis: snomed('414564002', 'Kyphosis deformity of spine (disorder)'),
  lordosis: snomed('61960001', 'Lordosis deformity of spine (disorder)'),
  scoliosis: snomed('298382003', 'Scoliosis deformity of spine (disorder)'),
  nodules: snomed('95325000', 'Subcutaneous nodule (finding)'),
};

/** Words of findings that have a standard qualifier. */
const qualifiers: Readonly<Record<string, Code>> = {
  none: { system: SYSTEMS.snomed, code: '2667000', display: 'Absent (qualifier value)' },
  absent: { system: SYSTEMS.snomed, code: '2667000', display: 'Absent (qualifier value)' },
  present: { system: SYSTEMS.snomed, code: '52101004', display: 'Present (qualifier value)' },
  mild: { system: SYSTEMS.snomed, code: '255604002', display: 'Mild (qualifier value)' },
  moderate: {
    system: SYSTEMS.snomed,
    code: '6736007',
    display: 'Moderate (severity modifier) (qualifier value)',
  },
  severe: {
    system: SYSTEMS.snomed,
    code: '24484000',
    display: 'Severe (severity modifier) (qualifier value)',
  },
};

/** The standard qualifier of a word of a finding, where there is one. */
export function qualifierOf(word: string): Code | undefined {
  return Object.hasOwn(qualifiers, word) ? qualifiers[word] : undefined;
}

function observable(
  kind: ObservableKind,
  code: string,
  display: string,
  item: string,
  more: {
    standard?: CodeReference | undefined;
    category?: readonly CodeReference[];
    mode?: RangeMode;
    part?: ExtensionPart | undefined;
  } = {},
): Observable {
  const own: Code = { system: SYSTEMS.observable, code, display };
  return {
    kind,
    code,
    display,
    codings: more.standard ? [more.standard, own] : [own],
    category: more.category ?? [],
    item,
    ...(more.mode && { mode: more.mode }),
    ...(more.part && { part: more.part }),
  };
}

function dashed(id: string): string {
  return id.replaceAll('.', '-');
}

/** The movement with its joint, in words: "Knee flexion". */
function movementWords({ id, joint, term }: Movement): string {
  const place = joints.find((row) => row.id === joint)?.name.replace(/ \(.*\)$/, '') ?? joint;
  return id === 'hand.grip' ? 'Grip' : `${place} ${term.replace(/^(.*) \((.*)\)$/, '$1, $2')}`;
}

function ranges(movement: Movement): readonly Observable[] {
  const parts: readonly (ExtensionPart | undefined)[] =
    movement.limits && 'lacks' in movement.limits ? [undefined, 'lacks', 'hyperextends'] : [undefined];
  return rangeModes.flatMap(({ id: mode }) => parts.map((part) => range(movement, mode, part)));
}

function range(movement: Movement, mode: RangeMode, part: ExtensionPart | undefined): Observable {
  const wider = widerRangeLoinc[movement.id];
  return observable(
    'range',
    [dashed(movement.id), part, mode].filter((one) => one !== undefined).join('-'),
    [movementWords(movement), part && partWords[part], `${mode} range`].filter(Boolean).join(', '),
    movement.id,
    {
      standard: part ? undefined : rangeLoinc[`${movement.id} ${mode}`],
      category: wider ? [jointMovement, wider] : [jointMovement],
      mode,
      part,
    },
  );
}

const partWords: Readonly<Record<ExtensionPart, string>> = {
  lacks: 'degrees lacking',
  hyperextends: 'degrees beyond straight',
};

function grip(side: Side, code: CodeReference): Observable {
  return {
    kind: 'grip',
    code: `grip-${side}`,
    display: `Grip of the ${side} hand`,
    codings: [code],
    category: [snomed('251433001')],
    item: 'grip',
    side,
  };
}

/** Every thing that can be told, one row each. */
export const observables: readonly Observable[] = [
  observable('panel', 'musculoskeletal-exam', 'Musculoskeletal examination', 'exam', {
    category: [musculoskeletal],
  }),
  ...movements.filter(({ measure }) => measure !== 'force').flatMap(ranges),
  ...movements
    .filter(({ strengthTestable }) => strengthTestable)
    .map((movement) =>
      observable(
        'strength',
        `${dashed(movement.id)}-strength`,
        `${movementWords(movement)}, strength`,
        movement.id,
        {
          category: [muscleStrength],
        },
      ),
    ),
  grip('right', loinc('83174-3', 'Grip strength Hand - right Dynamometer')),
  grip('left', loinc('83173-5', 'Grip strength Hand - left Dynamometer')),
  ...measures.map(({ id, label }) =>
    observable('measure', id, sentence(label), id, { standard: measureLoinc[id] }),
  ),
  observable('pain', 'pain-rest', 'Pain at rest', 'rest', { category: [painScore] }),
  observable('pain', 'pain-movement', 'Pain on movement', 'movement', { category: [painScore] }),
  ...joints.map(({ id, name }) =>
    observable('look-feel', `${id}-look-feel`, `${name.replace(/ \(.*\)$/, '')}, look and feel`, id),
  ),
  ...joints.map(({ id, name }) =>
    observable('joint-exam', `${id}-exam`, `${name.replace(/ \(.*\)$/, '')}, examination`, id),
  ),
  ...lookFeelItems.map(({ id, label }) =>
    observable('look-feel-item', `item-${id}`, sentence(label), id, { standard: itemSnomed[id] }),
  ),
  ...screens.map(({ id, label }) => observable('screen', id, sentence(label), id)),
  observable('neurovascular', 'neurovascular-upper', 'Neurovascular check of the upper limb', 'upper'),
  observable('neurovascular', 'neurovascular-lower', 'Neurovascular check of the lower limb', 'lower'),
  ...neurovascularElements.map(({ id, label, code }) =>
    observable('neurovascular-element', `neurovascular-${id}`, sentence(label), id, { standard: code }),
  ),
  observable('gait', 'gait', 'Gait', 'gait', { standard: loinc('32433-5', 'Physical findings of Gait') }),
  observable('on-body', 'on-body-device', 'Device on the body', 'on-body'),
  observable('absent-part', 'absent-part', 'Absent part of the body', 'absent-part'),
];

function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}

const byCode = new Map(observables.map((row) => [row.code, row]));

const byCoding = new Map<string, Observable>();
for (const row of observables) {
  byCoding.set(`${SYSTEMS.observable}|${row.code}`, row);
  for (const { system, code } of row.codings) byCoding.set(`${system}|${code}`, row);
}
for (const { code, movement, mode, side } of sidedRangeLoinc) {
  const row = observables.find((one) => one.kind === 'range' && one.item === movement && one.mode === mode);
  if (row) byCoding.set(`${code.system}|${code.code}`, { ...row, side });
}

/** The observable that a code names: one of ours, or a standard code that is written or may be sent. */
export function findObservable(system: string, code: string): Observable | undefined {
  return byCoding.get(`${system}|${code}`);
}

/** The codes of observables that say a side, written or only understood. */
export function observableCodesOfSide(side: Side): readonly CodeReference[] {
  const own = observables.filter((row) => row.side === side);
  return [
    ...own.flatMap(({ code, codings }) => [{ system: SYSTEMS.observable, code }, ...codings]),
    ...sidedRangeLoinc.filter((row) => row.side === side).map(({ code }) => code),
  ];
}

/** The range of a movement in a mode; for the extension of elbow and knee in degrees, also which of its two numbers. */
export function rangeObservable(movement: string, mode: RangeMode, part?: ExtensionPart): Observable {
  return known([dashed(movement), part, mode].filter((one) => one !== undefined).join('-'));
}

export function strengthObservable(movement: string): Observable {
  return known(`${dashed(movement)}-strength`);
}

export function gripObservable(side: Side): Observable {
  return known(`grip-${side}`);
}

/** A single measure by its id, or `grip` of a side. */
export function measureObservable(id: string, side?: Side): Observable {
  if (id !== 'grip') return known(id);
  if (!side) throw new RangeError('grip has a side');
  return gripObservable(side);
}

export function painObservable(when: 'rest' | 'movement'): Observable {
  return known(`pain-${when}`);
}

/** What was seen and felt at a joint. */
export function lookFeelObservable(joint: string): Observable {
  return known(`${joint}-look-feel`);
}

/** The examination of a joint as a whole: within expected limits, or not assessed. */
export function jointExamObservable(joint: string): Observable {
  return known(`${joint}-exam`);
}

export function lookFeelItemObservable(item: string): Observable {
  return known(`item-${item}`);
}

export function screenObservable(screen: string): Observable {
  return known(screen);
}

export function neurovascularObservable(limb: 'upper' | 'lower'): Observable {
  return known(`neurovascular-${limb}`);
}

export function neurovascularElementObservable(element: string): Observable {
  return known(`neurovascular-${element}`);
}

export const gaitObservable: Observable = known('gait');
export const onBodyObservable: Observable = known('on-body-device');
export const absentPartObservable: Observable = known('absent-part');
export const panelObservable: Observable = known('musculoskeletal-exam');

/**
 * The observable of a subject that was not assessed: a screen, a measure, `grip`, `gait`, `pain` or `neurovascular`;
 * undefined for any other word.
 */
export function subjectObservable(
  subject: string,
  side?: Side,
  limb?: 'upper' | 'lower',
): Observable | undefined {
  if (subject === 'grip') return side && gripObservable(side);
  if (subject === 'pain') return painObservable('rest');
  if (subject === 'neurovascular') return limb && neurovascularObservable(limb);
  const row = byCode.get(subject);
  return row && subjectKinds.includes(row.kind) ? row : undefined;
}

const subjectKinds: readonly ObservableKind[] = ['measure', 'screen', 'gait'];

function known(code: string): Observable {
  const row = byCode.get(code);
  if (!row) throw new RangeError(`no such observable: ${code}`);
  return row;
}

/** Every standard code in use here, for the checks on codes. */
export const standardCodes: readonly CodeReference[] = [
  ...observables.flatMap(({ codings, category }) => [...codings, ...category]),
  ...sidedRangeLoinc.map(({ code }) => code),
  ...Object.values(qualifiers),
  ...rangeModes.flatMap(({ code }) => code ?? []),
  ...neurovascularElements.flatMap(({ words }) => words.flatMap(({ code }) => code ?? [])),
].filter(({ system }) => system === SYSTEMS.loinc || system === SYSTEMS.snomed);
