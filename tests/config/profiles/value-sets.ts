import type { ValueSet, ValueSetComposeInclude } from 'fhir/r4.js';
import {
  bodyDevices,
  CANONICAL,
  codesOfSites,
  details,
  examTypes,
  findObservable,
  gaitWords,
  gripDevices,
  gripRules,
  gripUnits,
  lateralityCode,
  lookFeelItems,
  measures,
  neurovascularElements,
  notAssessedReasons,
  observables,
  positions,
  precautions,
  rangeMethods,
  rangeModes,
  rangeWords,
  screenResults,
  siteCodes,
  standardCodes,
  SYSTEMS,
  type CodeReference,
  type Observable,
  type ObservableKind,
} from '../../../src/catalogue/index.js';
import { CAUTION, copyrightOf, headOf, narrativeOf, withNarrative } from './published.js';

/** Codes that one element may have. Whole: every code of these systems. */
interface CodeSet {
  readonly id: string;
  readonly title: string;
  readonly what: string;
  readonly codes?: readonly CodeReference[];
  readonly whole?: readonly string[];
}

/** Canonical URL of a value set of ours. */
export function valueSetUrl(id: string): string {
  return `${CANONICAL}/ValueSet/${id}`;
}

interface Worded {
  readonly id: string;
  readonly label?: string;
}

/** Words of findings as codes. */
function wordsOf(...rows: readonly Worded[]): readonly CodeReference[] {
  return rows.map(({ id, label = id }) => ({ system: SYSTEMS.word, code: id, display: label }));
}

function ucum(codes: readonly string[]): readonly CodeReference[] {
  return [...new Set(codes)].map((code) => ({ system: SYSTEMS.ucum, code }));
}

/** Our own code of an observable, and the standard ones of the same meaning, written or only understood. */
function codesOfObservables(is: (row: Observable) => boolean): readonly CodeReference[] {
  const own = observables.filter(is).map(({ code, display }) => ({
    system: SYSTEMS.observable,
    code,
    display,
  }));
  const standard = standardCodes.filter(({ system, code }) => {
    const row = findObservable(system, code);
    return row !== undefined && is(row);
  });
  return [...own, ...standard];
}

const levelled = new Set(measures.filter(({ needsLevel }) => needsLevel).map(({ id }) => id));

function ofKind(id: string, title: string, ...kinds: readonly ObservableKind[]): CodeSet {
  return {
    id,
    title,
    what: 'Our own codes, and the standard codes of the very same meaning.',
    codes: codesOfObservables(({ kind }) => kinds.includes(kind)),
  };
}

const detailCodes: readonly CodeReference[] = details.map(({ code, display }) => ({
  system: SYSTEMS.detail,
  code,
  display,
}));

/** Every value set that the profiles bind or the maps start from. */
const codeSets: readonly CodeSet[] = [
  {
    id: 'msk-observable',
    title: 'Musculoskeletal observables',
    what: 'Everything that an Observation or a component of an examination may be about, by our own codes.',
    whole: [SYSTEMS.observable],
  },
  ofKind('msk-exam-code', 'Codes of a musculoskeletal examination', 'panel'),
  ofKind('msk-range-code', 'Codes of a range of movement', 'range'),
  ofKind('msk-strength-code', 'Codes of a strength of a movement', 'strength'),
  ofKind('msk-grip-code', 'Codes of a grip strength', 'grip'),
  {
    id: 'msk-circumference-code',
    title: 'Codes of a measure at a level of a limb',
    what: 'Measures that are compared only at the same level of the limb.',
    codes: codesOfObservables(({ kind, item }) => kind === 'measure' && levelled.has(item)),
  },
  {
    id: 'msk-measure-code',
    title: 'Codes of a single measure',
    what: 'Lengths, distances, angles of the trunk, timed tests and speeds.',
    codes: codesOfObservables(({ kind, item }) => kind === 'measure' && !levelled.has(item)),
  },
  ofKind('msk-pain-code', 'Codes of pain', 'pain'),
  ofKind('msk-look-feel-code', 'Codes of what is seen and felt at a joint', 'look-feel'),
  {
    id: 'msk-look-feel-component',
    title: 'What is said of a joint that was looked at and felt',
    what: 'The things looked for and felt for, and details beside them.',
    codes: [...codesOfObservables(({ kind }) => kind === 'look-feel-item'), ...detailCodes],
  },
  ofKind('msk-as-expected-code', 'Codes of the examination of a joint', 'joint-exam'),
  ofKind('msk-screen-code', 'Codes of a two-sided screen', 'screen'),
  ofKind('msk-neurovascular-code', 'Codes of a neurovascular check', 'neurovascular'),
  {
    id: 'msk-neurovascular-component',
    title: 'What is said in a neurovascular check',
    what: 'The elements of the check, and details beside them.',
    codes: [...codesOfObservables(({ kind }) => kind === 'neurovascular-element'), ...detailCodes],
  },
  ofKind('msk-gait-code', 'Codes of gait', 'gait'),
  ofKind('msk-on-body-code', 'Codes of a device on the body', 'on-body'),
  ofKind('msk-absent-part-code', 'Codes of an absent part of the body', 'absent-part'),
  {
    id: 'msk-not-assessed-code',
    title: 'Codes of what was not assessed',
    what: 'Whatever may be examined by itself, our own codes and the standard codes of the same meaning.',
    codes: codesOfObservables(({ kind }) => kind !== 'look-feel-item' && kind !== 'neurovascular-element'),
  },
  {
    id: 'msk-body-site',
    title: 'Body sites of an examination',
    what: 'Joints, digits and parts of limbs: our own codes without a side, and the standard codes of the same sites.',
    codes: [
      ...siteCodes,
      ...[true, false]
        .flatMap((isPaired) => codesOfSites({ isPaired }))
        .filter(({ system }) => system !== SYSTEMS.joint),
    ],
  },
  {
    id: 'msk-joint',
    title: 'Joints and sites',
    what: 'Our own codes of sites, without a side.',
    whole: [SYSTEMS.joint],
  },
  {
    id: 'msk-side',
    title: 'Left or right',
    what: 'The side of one finding, or the direction of a movement.',
    codes: [lateralityCode('left'), lateralityCode('right')],
  },
  {
    id: 'msk-range-unit',
    title: 'Units of a range of movement',
    what: 'Degrees, and for the jaw millimetres (UCUM).',
    codes: ucum(['deg', 'mm']),
  },
  {
    id: 'msk-range-word',
    title: 'Words for a range of movement',
    what: 'A range without a number.',
    codes: wordsOf(...rangeWords),
  },
  {
    id: 'msk-range-method',
    title: 'Methods of a measurement',
    what: 'Who moved the joint, and by what it was measured; values by different methods are not compared.',
    codes: [
      ...rangeModes.flatMap(({ code }) => code ?? []),
      ...rangeMethods.map(({ id, label }) => ({ system: SYSTEMS.method, code: id, display: label })),
    ],
  },
  {
    id: 'msk-range-mode',
    title: 'Modes of a movement',
    what: 'Active, active-assisted or passive.',
    codes: wordsOf(...rangeModes),
  },
  {
    id: 'msk-strength-grade',
    title: 'Muscle strength grades',
    what: 'Grades 0 to 5 of the Medical Research Council, and the split grades of sites that use them.',
    whole: [SYSTEMS.strengthGrade],
  },
  {
    id: 'msk-grip-unit',
    title: 'Units of a grip as read off a dynamometer',
    what: 'Units of force (UCUM); kilogram and pound as printed on a dynamometer are forces.',
    codes: ucum(gripUnits.map(({ unit }) => unit)),
  },
  {
    id: 'msk-grip-rule',
    title: 'Rules over the trials of a grip',
    what: 'How the value follows from the trials.',
    codes: wordsOf(...gripRules),
  },
  {
    id: 'msk-grip-device',
    title: 'Kinds of dynamometer',
    what: 'Values by different kinds are not interchangeable.',
    codes: wordsOf(...gripDevices),
  },
  {
    id: 'msk-circumference-unit',
    title: 'Units of a measure at a level of a limb',
    what: 'Units of length (UCUM).',
    codes: ucum(measures.filter(({ needsLevel }) => needsLevel).flatMap(unitsOf)),
  },
  {
    id: 'msk-measure-unit',
    title: 'Units of a single measure',
    what: 'The units in which the measures are taken (UCUM).',
    codes: ucum(measures.filter(({ needsLevel }) => !needsLevel).flatMap(unitsOf)),
  },
  {
    id: 'msk-look-feel-word',
    title: 'Words for what is seen and felt',
    what: 'The answers, and the standard qualifiers of the same meaning.',
    codes: uniqueWords(lookFeelItems.flatMap(({ words }) => words)),
  },
  {
    id: 'msk-expected-word',
    title: 'Within expected limits',
    what: 'The one word for a joint that was examined and found within expected limits.',
    codes: wordsOf({ id: 'within-expected', label: 'examined and within expected limits' }),
  },
  {
    id: 'msk-aspect',
    title: 'Aspects of an examination of a joint',
    what: 'Look, feel, range and strength.',
    codes: wordsOf({ id: 'look' }, { id: 'feel' }, { id: 'range' }, { id: 'strength' }),
  },
  {
    id: 'msk-screen-result',
    title: 'Results of a two-sided screen',
    what: 'Words that compare both sides; never a grade.',
    codes: wordsOf(...screenResults),
  },
  {
    id: 'msk-gait-pattern',
    title: 'Walking patterns',
    what: 'How the patient walks.',
    codes: wordsOf(...gaitWords.pattern),
  },
  {
    id: 'msk-gait-assistance',
    title: 'Help to walk',
    what: 'The help needed to walk.',
    codes: wordsOf(...gaitWords.assistance),
  },
  {
    id: 'msk-gait-device',
    title: 'Walking aids',
    what: 'With what the patient walks.',
    codes: wordsOf(...gaitWords.device),
  },
  {
    id: 'msk-body-device',
    title: 'Devices on the body',
    what: 'What is worn on or fixed to the body.',
    codes: wordsOf(...bodyDevices),
  },
  {
    id: 'msk-not-done-reason',
    title: 'Reasons why something was not assessed',
    what: 'Our own reasons; each stands beside a code of HL7 data-absent-reason.',
    whole: [SYSTEMS.notDoneReason],
  },
  {
    id: 'msk-data-absent-reason',
    title: 'Reasons of HL7 that stand beside our own',
    what: 'The codes of HL7 data-absent-reason that our reasons go with.',
    codes: [
      ...new Map(notAssessedReasons.map((row) => [row.dataAbsentReason.code, row.dataAbsentReason])).values(),
    ],
  },
  {
    id: 'msk-exam-type',
    title: 'Types of examination',
    what: 'What kind of examination was done.',
    codes: wordsOf(...examTypes),
  },
  {
    id: 'msk-position',
    title: 'Positions of the patient',
    what: 'How the patient lay, sat or stood.',
    codes: wordsOf(...positions),
  },
  {
    id: 'msk-precaution',
    title: 'Precautions',
    what: 'Orders that forbid or limit tests; others come in words.',
    codes: wordsOf(...precautions),
  },
  {
    id: 'msk-word',
    title: 'Words of findings',
    what: 'The words in which what is seen, felt and checked is told.',
    codes: uniqueWords([...lookFeelItems, ...neurovascularElements].flatMap(({ words }) => words)),
  },
];

function unitsOf({ inputs }: (typeof measures)[number]): readonly string[] {
  return inputs.map(({ unit }) => unit);
}

/** One code for each word, though it is shown in several ways. */
function uniqueWords(rows: readonly Worded[]): readonly CodeReference[] {
  return wordsOf(...new Map(rows.map((row) => [row.id, row] as const)).values());
}

export const valueSets: readonly ValueSet[] = codeSets.map(toValueSet);

function toValueSet({ id, title, what, codes = [], whole = [] }: CodeSet): ValueSet {
  const include: ValueSetComposeInclude[] = [...whole.map((system) => ({ system })), ...includesOf(codes)];
  const head = headOf('ValueSet', id);
  const systems = include.map(({ system }) => system ?? '');
  return withNarrative(
    {
      ...head,
      title,
      description: what,
      purpose: CAUTION,
      ...copyrightOf(systems),
      compose: { include },
    },
    narrativeOf(title, [what], {
      head: ['Code system', 'Codes'],
      rows: include.map(({ system = '', concept }) => [
        system,
        concept === undefined ? 'all' : concept.map(({ code }) => code).join(', '),
      ]),
    }),
  );
}

/** The codes by their system, each once. */
function includesOf(codes: readonly CodeReference[]): ValueSetComposeInclude[] {
  return [...new Set(codes.map(({ system }) => system))].map((system) => {
    const own = new Map(codes.filter((one) => one.system === system).map((one) => [one.code, one]));
    return {
      system,
      concept: [...own.values()].map(({ code, display }) => ({
        code,
        ...(display !== undefined && { display }),
      })),
    };
  });
}
