import type { ElementDefinition, StructureDefinition, ValueSet } from 'fhir/r4.js';
import {
  DETAIL_NOTE_URL,
  DETAIL_SIDE_URL,
  LATERALITY_URL,
  lateralityCode,
  SYSTEMS,
} from '../../../src/catalogue/index.js';
import { RECORDER_URL, ROLE_URL } from '../../../src/exam/to-observations.js';
import { element, required } from './elements.js';
import { copyrightOf, headOf, narrativeOf, withNarrative } from './published.js';

interface ExtensionSpec {
  readonly url: string;
  readonly title: string;
  readonly what: string;
  /** Where it may stand, as a path of elements. */
  readonly on: string;
  readonly type: string;
  readonly targets?: readonly string[];
  readonly binding?: ElementDefinition['binding'];
}

const STRUCTURES = 'http://hl7.org/fhir/StructureDefinition/';

const specs: readonly ExtensionSpec[] = [
  {
    url: DETAIL_NOTE_URL,
    title: 'Note of a component',
    what: 'Free words of the examiner about one component, for which R4 has no note.',
    on: 'Observation.component',
    type: 'string',
  },
  {
    url: DETAIL_SIDE_URL,
    title: 'Side of a component',
    what: 'The side or direction of one component, where the Observation as a whole has another or none.',
    on: 'Observation.component',
    type: 'CodeableConcept',
    binding: required('msk-side'),
  },
  {
    url: RECORDER_URL,
    title: 'Who typed the examination',
    what: 'Who typed the examination, when it was not the examiner.',
    on: 'Observation',
    type: 'Reference',
    targets: ['Practitioner', 'PractitionerRole', 'Organization', 'Patient', 'RelatedPerson'],
  },
  {
    url: ROLE_URL,
    title: 'Role of a member of staff',
    what: 'The role of the person referred to, as the site writes it: RN, PT, MD.',
    on: 'Reference',
    type: 'string',
  },
];

function differentialOf({ url, title, what, type, targets, binding }: ExtensionSpec): ElementDefinition[] {
  const targetProfile = targets?.map((name) => `${STRUCTURES}${name}`);
  return [
    element('Extension', { short: title, definition: what }),
    element('Extension.extension', { max: '0' }),
    element('Extension.url', { fixedUri: url }),
    element('Extension.value[x]', {
      min: 1,
      type: [{ code: type, ...(targetProfile && { targetProfile }) }],
      ...(binding && { binding }),
    }),
  ];
}

function toExtension(spec: ExtensionSpec): StructureDefinition {
  const { url, title, what, on, type } = spec;
  const head = headOf('StructureDefinition', url.slice(url.lastIndexOf('/') + 1));
  return withNarrative(
    {
      ...head,
      title,
      description: what,
      fhirVersion: '4.0.1' as const,
      kind: 'complex-type' as const,
      abstract: false,
      context: [{ type: 'element' as const, expression: on }],
      type: 'Extension',
      baseDefinition: `${STRUCTURES}Extension`,
      derivation: 'constraint' as const,
      differential: { element: differentialOf(spec) },
    },
    narrativeOf(title, [what, `It stands on ${on} and holds a ${type}.`]),
  );
}

const LATERALITY_VALUES = 'http://hl7.org/fhir/ValueSet/structure-laterality-vs';
const PACK = 'HL7’s FHIR Extensions Pack 5.3.0 (trial use, maturity 1), which published it after R4';

/** The head of a definition of HL7 that R4 has not: under HL7's URL, with the version of the pack it was read in. */
const fromPack = {
  version: '5.3.0',
  status: 'active',
  experimental: false,
  publisher: 'HL7 International / Orders and Observations',
} as const;

const laterality: StructureDefinition = withNarrative(
  {
    resourceType: 'StructureDefinition',
    id: 'observation-structureLaterality',
    url: LATERALITY_URL,
    name: 'StructureLaterality',
    title: 'Structure Laterality',
    ...fromPack,
    description: `The side of the body site of an Observation. Written for R4 from ${PACK}.`,
    fhirVersion: '4.0.1',
    kind: 'complex-type',
    abstract: false,
    context: [{ type: 'element', expression: 'Observation.bodySite' }],
    type: 'Extension',
    baseDefinition: `${STRUCTURES}Extension`,
    derivation: 'constraint',
    differential: {
      element: [
        element('Extension', {
          short: 'Side of the body site',
          definition: 'The side of the body site: left, right, both or midline.',
          min: 0,
          max: '1',
        }),
        element('Extension.extension', { max: '0' }),
        element('Extension.url', { fixedUri: LATERALITY_URL }),
        element('Extension.value[x]', {
          short: 'left | right | both | midline',
          min: 1,
          type: [{ code: 'CodeableConcept' }],
          binding: { strength: 'required', valueSet: LATERALITY_VALUES },
        }),
      ],
    },
  },
  narrativeOf('Structure Laterality', [
    'The side of the body site of an Observation: left, right, both or midline.',
    `Written for R4 from ${PACK}.`,
  ]),
);

const qualifiers = (['left', 'right', 'both', 'midline'] as const).map(lateralityCode);

/** The value set of HL7's extension, so that R4 systems that meet the extension here can look up its codes. */
export const lateralityValues: ValueSet = withNarrative(
  {
    resourceType: 'ValueSet',
    id: 'structure-laterality-vs',
    url: LATERALITY_VALUES,
    name: 'StructureLaterality',
    title: 'Structure Laterality',
    ...fromPack,
    description: `The side of a body structure. Written from ${PACK}, so that R4 systems that meet the extension here can look up its codes.`,
    ...copyrightOf([SYSTEMS.snomed]),
    compose: {
      include: [
        { system: SYSTEMS.snomed, concept: qualifiers.map(({ code, display }) => ({ code, display })) },
      ],
    },
  },
  narrativeOf('Structure Laterality', ['The side of a body structure.'], {
    head: ['Code', 'Meaning'],
    rows: qualifiers.map(({ code, display }) => [code, display]),
  }),
);

/** Our own extensions, and the one of HL7 that R4 has not. */
export const extensionDefinitions: readonly StructureDefinition[] = [...specs.map(toExtension), laterality];
