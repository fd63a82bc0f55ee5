import type { CodeSystem, CodeSystemConcept } from 'fhir/r4.js';
import { siteCodes } from './body-sites.js';
import { DEFINITIONS_VERSION, SYSTEMS } from './canonical.js';
import { bodyDevices, notAssessedReasonCode, notAssessedReasons, positions } from './circumstances.js';
import { details } from './details.js';
import { examTypes } from './exam-types.js';
import { gaitWords } from './gait.js';
import { gripDevices, gripRules } from './grip.js';
import { lookFeelItems } from './look-feel.js';
import { circumferenceLevels, measures } from './measures.js';
import { movements } from './movements.js';
import { neurovascularElements } from './neurovascular.js';
import { observables } from './observables.js';
import { precautions } from './precautions.js';
import { limitedByWords, rangeMethods, rangeModes, rangeWords } from './range.js';
import { screenResults, screens } from './screens.js';
import { strengthGradeCode, strengthGrades } from './strength.js';

interface Wording {
  readonly code: string;
  readonly display: string;
}

interface Concept extends Wording {
  readonly definition?: string;
  /** Place on an ordered scale. */
  readonly ordinal?: number;
  /** Other wordings that the same code is shown with. */
  readonly also?: readonly string[];
}

interface OwnCodeSystem {
  readonly url: string;
  readonly title: string;
  readonly description: string;
  /** `fragment`: a site's own words may be sent beside those listed. */
  readonly content: 'complete' | 'fragment';
  readonly concepts: readonly Concept[];
}

/** HL7's extension for the place of a code on an ordered scale. */
const ORDINAL = 'http://hl7.org/fhir/StructureDefinition/ordinalValue';

function shown({ id, label = id }: { readonly id: string; readonly label?: string }): Wording {
  return { code: id, display: label };
}

/** Every word that a finding is told in; one code is one word wherever it is said. */
function words(): readonly Concept[] {
  const said = new Map<string, Set<string>>();
  const all: readonly Wording[] = [
    { code: 'within-expected', display: 'examined and within expected limits' },
    ...['look', 'feel', 'range', 'strength'].map((aspect) => ({ code: aspect, display: aspect })),
    ...lookFeelItems.flatMap((item) => item.words.map(shown)),
    ...rangeWords.map(shown),
    ...rangeModes.map(shown),
    ...limitedByWords.map(shown),
    ...screenResults.map(shown),
    ...neurovascularElements.flatMap((element) => element.words.map(shown)),
    ...Object.values(gaitWords).flatMap((part) => part.map(shown)),
    ...positions.map(shown),
    ...bodyDevices.map(shown),
    ...gripDevices.map(shown),
    ...gripRules.map(shown),
    ...precautions.map(shown),
    ...examTypes.map(shown),
    ...screens.map(shown),
    ...measures.map(shown),
    ...circumferenceLevels.map(shown),
    ...movements.map(({ id, term }) => ({ code: id, display: term })),
  ];
  for (const { code, display } of all) said.set(code, (said.get(code) ?? new Set()).add(display));
  return [...said].map(([code, [display = code, ...also]]) => ({
    code,
    display,
    ...(also.length > 0 && { also }),
  }));
}

const ownCodeSystems: readonly OwnCodeSystem[] = [
  {
    url: SYSTEMS.observable,
    title: 'Musculoskeletal observables',
    description:
      'What is observed at the bedside: ranges by movement and mode, strength, measures, look and feel.',
    content: 'complete',
    concepts: observables.map(({ code, display }) => ({ code, display })),
  },
  {
    url: SYSTEMS.strengthGrade,
    title: 'Muscle strength grades',
    description:
      'The Medical Research Council scale 0 to 5 with its meanings, and the split grades of sites that use them. Grades are ordered and are not averaged.',
    content: 'complete',
    concepts: strengthGrades.map((grade) => ({
      code: grade.grade,
      display: strengthGradeCode(grade).display,
      definition: grade.meaning,
      ordinal: grade.ordinal,
    })),
  },
  {
    url: SYSTEMS.notDoneReason,
    title: 'Reasons why something was not assessed',
    description: 'Each stands beside a code of HL7 data-absent-reason, which is less exact.',
    content: 'complete',
    concepts: notAssessedReasons.map((reason) => ({
      code: reason.id,
      display: notAssessedReasonCode(reason).display,
      definition: `Stands beside data-absent-reason ${reason.dataAbsentReason.code}.`,
    })),
  },
  {
    url: SYSTEMS.joint,
    title: 'Joints and sites of the examination',
    description: 'Joint, then digit, then joint of the digit; without a side.',
    content: 'complete',
    concepts: siteCodes.map(({ code, display }) => ({ code, display })),
  },
  {
    url: SYSTEMS.method,
    title: 'Methods of measuring a range',
    description: 'Values by different methods are not compared.',
    content: 'fragment',
    concepts: rangeMethods.map(shown),
  },
  {
    url: SYSTEMS.word,
    title: 'Words of findings',
    description:
      'The words in which findings are told. A word may be shown differently where it is said of other things.',
    content: 'fragment',
    concepts: words(),
  },
  {
    url: SYSTEMS.detail,
    title: 'Details of findings',
    description: 'What the components of an Observation say beside its value.',
    content: 'complete',
    concepts: details.map(({ code, display, definition }) => ({ code, display, definition })),
  },
];

/** The project's own code systems as FHIR R4 resources, for fhir-profiles. */
export function publishedCodeSystems(): readonly CodeSystem[] {
  return ownCodeSystems.map(toCodeSystem);
}

function toCodeSystem({ url, title, description, content, concepts }: OwnCodeSystem): CodeSystem {
  const id = url.slice(url.lastIndexOf('/') + 1);
  return {
    resourceType: 'CodeSystem',
    id,
    url,
    version: DEFINITIONS_VERSION,
    name: id.replaceAll(/(?:^|-)([a-z])/g, (_, letter: string) => letter.toUpperCase()),
    title,
    status: 'active',
    experimental: false,
    publisher: 'Limbledger',
    description,
    caseSensitive: true,
    content,
    ...(content === 'complete' && { count: concepts.length }),
    concept: concepts.map(toConcept),
  };
}

function toConcept({ code, display, definition, ordinal, also }: Concept): CodeSystemConcept {
  return {
    ...(ordinal !== undefined && { extension: [{ url: ORDINAL, valueDecimal: ordinal }] }),
    code,
    display,
    ...(definition !== undefined && { definition }),
    ...(also && { designation: also.map((value) => ({ value })) }),
  };
}
