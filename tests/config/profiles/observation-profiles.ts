import type { ElementDefinition, StructureDefinition } from 'fhir/r4.js';
import {
  DETAIL_NOTE_URL,
  DETAIL_SIDE_URL,
  FINDING_PROFILE_URL,
  findingRules,
  gripLimits,
  LATERALITY_URL,
  observables,
  observationCategory,
  painScale,
  profileUrl,
  SYSTEMS,
  type ObservableKind,
  type ProfileId,
} from '../../../src/catalogue/index.js';
import { CLIENT_ID_SYSTEM, RECORDER_URL, ROLE_URL } from '../../../src/exam/to-observations.js';
import {
  atLeast,
  atMost,
  detail,
  element,
  exactly,
  extensible,
  mustSupport,
  none,
  patternOf,
  quantityAt,
  required,
} from './elements.js';
import { definitionOf } from './structure-definition.js';

const OBSERVATION = 'http://hl7.org/fhir/StructureDefinition/Observation';
const PATIENT = 'http://hl7.org/fhir/StructureDefinition/Patient';

/** What one profile says beyond the base of all findings. */
interface ProfileSpec {
  readonly id: ProfileId;
  readonly title: string;
  readonly what: string;
  /** The observables that it is of; it takes the wider codes that they all share into its category. */
  readonly kinds: readonly ObservableKind[];
  readonly elements: readonly ElementDefinition[];
}

const code = (id: ProfileId): ElementDefinition =>
  element('Observation.code', { binding: required(`msk-${id}-code`) });

const site = element('Observation.bodySite', { min: 1, binding: extensible('msk-body-site') });
const noSite = element('Observation.bodySite', none);
const noValue = element('Observation.value[x]', none);
const noReason = element('Observation.dataAbsentReason', none);
const someComponent = element('Observation.component', atLeast(1));

const value = (type: string, facets: Omit<ElementDefinition, 'id' | 'path'> = {}): ElementDefinition =>
  element('Observation.value[x]', { min: 1, type: [{ code: type }], ...facets });

const direction = detail('direction', atMost(1), { binding: required('msk-side') });
const joint = detail('joint', {});

const specs: readonly ProfileSpec[] = [
  {
    id: 'exam',
    title: 'Musculoskeletal examination',
    what: 'One examination as a whole: who examined when, of what kind it was, and its findings as members.',
    kinds: ['panel'],
    elements: [
      element('Observation.extension', {
        slicing: { discriminator: [{ type: 'value', path: 'url' }], rules: 'open' },
      }),
      element('Observation.extension:recorder', {
        short: 'Who typed it, when it was not the examiner',
        ...atMost(1),
        type: [{ code: 'Extension', profile: [RECORDER_URL] }],
        ...mustSupport,
      }),
      element('Observation.identifier', {
        min: 1,
        slicing: { discriminator: [{ type: 'value', path: 'system' }], rules: 'open' },
        ...mustSupport,
      }),
      element('Observation.identifier:document', {
        short: 'The sender’s id of the document',
        ...exactly(1),
      }),
      element('Observation.identifier:document.system', { min: 1, fixedUri: CLIENT_ID_SYSTEM }),
      element('Observation.identifier:document.value', atLeast(1)),
      code('exam'),
      noValue,
      noReason,
      noSite,
      element('Observation.hasMember', {
        short: 'The findings, in the order of the document',
        type: [{ code: 'Reference', targetProfile: [FINDING_PROFILE_URL] }],
      }),
      someComponent,
      ...detail('exam-type', exactly(1), { binding: required('msk-exam-type') }),
      ...detail('ward', atMost(1)),
      ...detail('position', {}, { binding: extensible('msk-position') }),
      ...detail('precaution', {}, { binding: extensible('msk-precaution') }),
      ...detail('confirmed', {}),
      ...detail('read-back-name', atMost(1)),
      ...detail('read-back-birth-date', atMost(1)),
      ...detail('late-reason', atMost(1)),
    ],
  },
  {
    id: 'range',
    title: 'Range of a movement',
    what: 'How far a joint moves, actively, with help or passively, from the neutral zero position: in degrees, for the jaw in millimetres, or in a word. A number is never negative: what extension of elbow or knee lacks, and how far it goes beyond straight, have codes of their own.',
    kinds: ['range'],
    elements: [
      code('range'),
      value('Quantity', {
        type: [{ code: 'Quantity' }, { code: 'CodeableConcept' }],
        slicing: { discriminator: [{ type: 'type', path: '$this' }], rules: 'open' },
      }),
      element('Observation.value[x]:valueQuantity', { ...atMost(1), type: [{ code: 'Quantity' }] }),
      ...quantityAt('Observation.value[x]:valueQuantity', { units: 'msk-range-unit', min: 0 }),
      element('Observation.value[x]:valueCodeableConcept', {
        ...atMost(1),
        type: [{ code: 'CodeableConcept' }],
        binding: required('msk-range-word'),
      }),
      site,
      element('Observation.method', { binding: extensible('msk-range-method') }),
      ...direction,
      ...detail('limited-by', atMost(1)),
    ],
  },
  {
    id: 'strength',
    title: 'Strength of a movement',
    what: 'Muscle strength of one movement by the scale of the Medical Research Council, 0 to 5. Grades are ordered and are never averaged.',
    kinds: ['strength'],
    elements: [
      code('strength'),
      value('CodeableConcept', { binding: required('msk-strength-grade') }),
      site,
      ...direction,
      ...detail('limited-by', atMost(1)),
      ...detail('gravity-eliminated', atMost(1)),
    ],
  },
  {
    id: 'grip',
    title: 'Grip strength',
    what: 'Force of the grip of one hand by a dynamometer, in kilograms of force, with every trial as read off and the rule by which the value follows from them.',
    kinds: ['grip'],
    elements: [
      element('Observation.code', { binding: required('msk-grip-code') }),
      element('Observation.code.coding', {
        comment:
          'The code of the side stands alone: a code that both hands share would make them one series for a reader that groups by code.',
        ...exactly(1),
      }),
      value('Quantity'),
      ...quantityAt('Observation.value[x]', { unit: 'kgf', min: 0, max: gripLimits.max }),
      element('Observation.bodySite', {
        min: 1,
        binding: extensible('msk-body-site'),
        patternCodeableConcept: patternOf({ system: SYSTEMS.joint, code: 'hand' }),
      }),
      someComponent,
      ...detail('trial', atLeast(1)),
      ...quantityAt('Observation.component:trial.value[x]', { units: 'msk-grip-unit' }),
      ...detail('trial-rule', exactly(1), { binding: required('msk-grip-rule') }),
      ...detail('device', atMost(1), { binding: extensible('msk-grip-device') }),
      ...detail('handle-position', atMost(1), {
        minValueInteger: Math.min(...gripLimits.handlePositions),
        maxValueInteger: Math.max(...gripLimits.handlePositions),
      }),
      ...detail('dominant-hand', atMost(1)),
    ],
  },
  {
    id: 'circumference',
    title: 'Circumference of a limb',
    what: 'Girth of a limb at a named level; compared only at the same level.',
    kinds: [],
    elements: [
      code('circumference'),
      value('Quantity'),
      ...quantityAt('Observation.value[x]', { units: 'msk-circumference-unit', min: 0 }),
      site,
      element('Observation.method', { binding: extensible('msk-range-method') }),
      ...detail('level', atMost(1)),
    ],
  },
  {
    id: 'measure',
    title: 'Single measure',
    what: 'A length, distance, angle of the trunk, timed test or speed, each in the units of its own measure.',
    kinds: [],
    elements: [
      code('measure'),
      value('Quantity'),
      ...quantityAt('Observation.value[x]', { units: 'msk-measure-unit', min: 0 }),
      element('Observation.method', { binding: extensible('msk-range-method') }),
    ],
  },
  {
    id: 'pain',
    title: 'Pain',
    what: 'Pain from 0 to 10 as the patient tells it, at rest or on a movement.',
    kinds: ['pain'],
    elements: [
      code('pain'),
      value('Quantity'),
      ...quantityAt('Observation.value[x]', painScale),
      ...detail('movement', atMost(1)),
      ...direction,
      ...detail('mode', atMost(1), { binding: required('msk-range-mode') }),
    ],
  },
  {
    id: 'look-feel',
    title: 'Look and feel of a joint',
    what: 'What was seen and felt at one joint on one side, a component for each thing.',
    kinds: ['look-feel'],
    elements: [
      code('look-feel'),
      noValue,
      noReason,
      site,
      element('Observation.component', {
        min: 1,
        comment: 'The value of a thing seen or felt is a word of msk-look-feel-word where one fits.',
      }),
      element('Observation.component.code', { binding: required('msk-look-feel-component') }),
    ],
  },
  {
    id: 'as-expected',
    title: 'Joint within expected limits',
    what: 'A joint on one side that was examined and found within expected limits, by a versioned definition. Its components say exactly what was examined; of anything else it says nothing.',
    kinds: ['joint-exam'],
    elements: [
      code('as-expected'),
      value('CodeableConcept', { binding: required('msk-expected-word') }),
      site,
      element('Observation.component', atLeast(2)),
      ...detail('aspect', atLeast(1), { binding: required('msk-aspect') }),
      ...detail('expected-definition', exactly(1)),
    ],
  },
  {
    id: 'screen',
    title: 'Two-sided screen',
    what: 'A quick comparison of both sides: hand squeeze, foot push, foot pull. It is no grade and no force.',
    kinds: ['screen'],
    elements: [code('screen'), value('CodeableConcept', { binding: required('msk-screen-result') }), noSite],
  },
  {
    id: 'neurovascular',
    title: 'Neurovascular check of a limb',
    what: 'Pain, sensation, movement, colour, warmth, capillary refill, pulse and swelling of one limb, a component for each that was checked.',
    kinds: ['neurovascular'],
    elements: [
      code('neurovascular'),
      noValue,
      noReason,
      site,
      someComponent,
      element('Observation.component.code', { binding: required('msk-neurovascular-component') }),
    ],
  },
  {
    id: 'gait',
    title: 'Gait',
    what: 'How the patient walks: pattern, help and device.',
    kinds: ['gait'],
    elements: [
      code('gait'),
      noValue,
      noReason,
      someComponent,
      ...detail('gait-pattern', atMost(1), { binding: extensible('msk-gait-pattern') }),
      ...detail('gait-assistance', atMost(1), { binding: extensible('msk-gait-assistance') }),
      ...detail('device', atMost(1), { binding: extensible('msk-gait-device') }),
    ],
  },
  {
    id: 'on-body',
    title: 'Device on the body',
    what: 'A cast, splint, sling, brace, frame, traction or prosthesis, in force from its beginning to its end.',
    kinds: ['on-body'],
    elements: [
      code('on-body'),
      value('CodeableConcept', { binding: extensible('msk-body-device') }),
      ...joint,
      ...detail('since', atMost(1)),
      ...detail('until', atMost(1)),
    ],
  },
  {
    id: 'absent-part',
    title: 'Absent part of the body',
    what: 'A part of a limb that is not there, with its level; nothing below it is examined.',
    kinds: ['absent-part'],
    elements: [
      code('absent-part'),
      value('CodeableConcept'),
      element('Observation.bodySite', { min: 1, binding: extensible('msk-body-site') }),
      someComponent,
      ...detail('joint', atLeast(1)),
    ],
  },
  {
    id: 'not-assessed',
    title: 'Not assessed',
    what: 'Something that belongs to the examination and was left out, with the reason: our own beside the wider one of HL7.',
    kinds: [],
    elements: [
      element('Observation.code', { binding: extensible('msk-not-assessed-code') }),
      noValue,
      element('Observation.dataAbsentReason', { min: 1 }),
      element('Observation.dataAbsentReason.coding', {
        min: 2,
        slicing: { discriminator: [{ type: 'value', path: 'system' }], rules: 'open' },
      }),
      ...reasonCoding('hl7', SYSTEMS.dataAbsentReason, 'msk-data-absent-reason'),
      ...reasonCoding('own', SYSTEMS.notDoneReason, 'msk-not-done-reason'),
      ...detail('subject', atMost(1)),
      ...detail('aspect', {}, { binding: required('msk-aspect') }),
      ...detail('movement', {}),
      ...detail('mode', atMost(1), { binding: required('msk-range-mode') }),
      ...detail('reason-detail', atMost(1)),
    ],
  },
];

function reasonCoding(slice: string, system: string, valueSet: string): readonly ElementDefinition[] {
  const id = `Observation.dataAbsentReason.coding:${slice}`;
  return [
    element(id, { ...exactly(1), binding: required(valueSet) }),
    element(`${id}.system`, { min: 1, fixedUri: system }),
    element(`${id}.code`, atLeast(1)),
  ];
}

/** Slices of the extensions of an element, told by their URL. */
function extensions(id: string, slices: Readonly<Record<string, string>>): readonly ElementDefinition[] {
  return [
    element(`${id}.extension`, {
      slicing: { discriminator: [{ type: 'value', path: 'url' }], rules: 'open' },
    }),
    ...Object.entries(slices).map(([name, url]) =>
      element(`${id}.extension:${name}`, {
        ...atMost(1),
        type: [{ code: 'Extension', profile: [url] }],
        ...mustSupport,
      }),
    ),
  ];
}

/**
 * The base of all findings. It keeps to what US Core Observation Clinical Result and IPA Observation ask for, and adds
 * site, method, interpretation, reference range, members and notes.
 */
const findingElements: readonly ElementDefinition[] = [
  element('Observation', {
    constraint: findingRules.map(({ key, human, expression }) => ({
      key,
      severity: 'error' as const,
      human,
      expression,
      source: FINDING_PROFILE_URL,
    })),
  }),
  element('Observation.status', mustSupport),
  element('Observation.category', {
    min: 1,
    slicing: { discriminator: [{ type: 'pattern', path: '$this' }], rules: 'open' },
    ...mustSupport,
  }),
  element('Observation.category:exam', {
    short: 'An examination',
    ...exactly(1),
    patternCodeableConcept: patternOf(observationCategory),
    ...mustSupport,
  }),
  element('Observation.code', mustSupport),
  element('Observation.subject', {
    min: 1,
    type: [{ code: 'Reference', targetProfile: [PATIENT] }],
    ...mustSupport,
  }),
  element('Observation.encounter', mustSupport),
  element('Observation.effective[x]', {
    short: 'When it was examined, to the day or finer',
    min: 1,
    type: [{ code: 'dateTime' }],
    ...mustSupport,
  }),
  element('Observation.issued', { short: 'When it was typed', ...mustSupport }),
  element('Observation.performer', { short: 'Who examined', min: 1, ...mustSupport }),
  ...extensions('Observation.performer', { role: ROLE_URL }),
  element('Observation.value[x]', mustSupport),
  element('Observation.dataAbsentReason', mustSupport),
  element('Observation.interpretation', mustSupport),
  element('Observation.note', mustSupport),
  element('Observation.bodySite', {
    comment:
      'The side of a pair is told three times, since readers drop extensions they do not know: by the code of the site where a code has a side, by the extension, and in words.',
    binding: extensible('msk-body-site'),
    ...mustSupport,
  }),
  ...extensions('Observation.bodySite', { laterality: LATERALITY_URL }),
  element('Observation.bodySite.text', { short: 'Side and site in words', min: 1, ...mustSupport }),
  element('Observation.method', mustSupport),
  element('Observation.referenceRange', mustSupport),
  element('Observation.hasMember', mustSupport),
  element('Observation.component', {
    slicing: { discriminator: [{ type: 'pattern', path: 'code' }], rules: 'open' },
    ...mustSupport,
  }),
  ...extensions('Observation.component', { note: DETAIL_NOTE_URL, side: DETAIL_SIDE_URL }),
  ...detail('typed-word', atMost(1)),
];

const finding: StructureDefinition = definitionOf({
  id: 'msk-finding',
  title: 'Finding of a musculoskeletal examination',
  what: 'What every Observation of an examination has: the category of an examination, the patient, when and by whom it was examined, and, where it is of one place, the body site with its side.',
  abstract: true,
  base: OBSERVATION,
  elements: findingElements,
});

/** The base and the profile of each kind. */
export const observationProfiles: readonly StructureDefinition[] = [
  finding,
  ...specs.map(({ id, title, what, kinds, elements }) =>
    definitionOf({
      id: profileUrl(id).slice(profileUrl(id).lastIndexOf('/') + 1),
      title,
      what,
      abstract: false,
      base: FINDING_PROFILE_URL,
      elements: [...generic(kinds), ...elements],
    }),
  ),
];

/** The wider standard codes that all observables of these kinds have, as a further category. */
function generic(kinds: readonly ObservableKind[]): readonly ElementDefinition[] {
  const [first, ...others] = observables.filter(({ kind }) => kinds.includes(kind));
  const shared = (first?.category ?? []).filter(({ system, code }) =>
    others.every(({ category }) => category.some((one) => one.system === system && one.code === code)),
  );
  return shared.map((one) =>
    element('Observation.category:generic', {
      short: 'The wider standard code, by which a reader finds all of them',
      ...exactly(1),
      patternCodeableConcept: patternOf(one),
      ...mustSupport,
    }),
  );
}
