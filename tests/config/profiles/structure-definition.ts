import type { ElementDefinition, StructureDefinition } from 'fhir/r4.js';
import { SYSTEMS } from '../../../src/catalogue/index.js';
import { r4Definitions } from '../../../src/fhir/index.js';
import { CAUTION, copyrightOf, headOf, narrativeOf, withNarrative, type Row } from './published.js';

/** What a profile of Observation is made of. */
interface Content {
  readonly id: string;
  readonly title: string;
  readonly what: string;
  readonly abstract: boolean;
  readonly base: string;
  readonly elements: readonly ElementDefinition[];
}

/** The StructureDefinition of a profile of Observation, with its elements in their order. */
export function definitionOf({ id, title, what, abstract, base, elements }: Content): StructureDefinition {
  const ordered = [...elements].sort((one, other) => placeOf(one) - placeOf(other));
  return withNarrative(
    {
      ...headOf('StructureDefinition', id),
      title,
      description: `${what} ${CAUTION}`,
      purpose: 'A receiver can rely on the form of such an Observation, whoever wrote it.',
      ...copyrightOf([SYSTEMS.loinc, SYSTEMS.snomed, SYSTEMS.ucum]),
      fhirVersion: '4.0.1' as const,
      kind: 'resource' as const,
      abstract,
      type: 'Observation',
      baseDefinition: base,
      derivation: 'constraint' as const,
      differential: { element: ordered },
    },
    narrativeOf(title, [what, CAUTION], {
      head: ['Element', 'Occurs', 'Holds'],
      rows: ordered.flatMap(rowOf),
    }),
  );
}

/** The elements of an Observation in the order of the standard, which a differential keeps (R4 profiling). */
const ELEMENTS: readonly string[] = (
  r4Definitions.types.find(({ name }) => name === 'Observation')?.elements ?? []
).map(({ path }) => path);

/** Those of every resource come first, and the root before them. */
function placeOf({ path }: ElementDefinition): number {
  const [, name = ''] = path.split('.');
  return name === '' ? -2 : ELEMENTS.indexOf(name);
}

/** One row for each element that is said to be there, or of something. */
function rowOf({ id, min, max, short, ...facets }: ElementDefinition): readonly Row[] {
  const occurs = [min, max].some((one) => one !== undefined) ? `${String(min ?? 0)}..${max ?? '*'}` : '';
  const holds = [
    short,
    facets.type?.map(({ code }) => code).join(' or '),
    facets.binding && `${facets.binding.strength}: ${facets.binding.valueSet ?? ''}`,
    facets.fixedCode ?? facets.fixedUri,
    facets.patternCodeableConcept?.coding
      ?.map(({ system, code }) => `${system ?? ''}#${code ?? ''}`)
      .join(', '),
    facets.constraint?.map(({ key, human }) => `${key}: ${human}`).join(' '),
  ].filter((part) => part !== undefined);
  return occurs === '' && holds.length === 0 ? [] : [[id ?? '', occurs, holds.join('; ')]];
}
