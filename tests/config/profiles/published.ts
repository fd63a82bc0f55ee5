import type {
  CodeSystem,
  ConceptMap,
  Narrative,
  SearchParameter,
  StructureDefinition,
  ValueSet,
} from 'fhir/r4.js';
import { CANONICAL, DEFINITIONS_VERSION, licenceNotices, SYSTEMS } from '../../../src/catalogue/index.js';

/** A definition that is published in `fhir-profiles/`. */
export type Definition = StructureDefinition | ValueSet | CodeSystem | ConceptMap | SearchParameter;

/** When the definitions of this version were written. */
export const DATE = '2026-11-25';

/** What each definition of a finding says of its use. */
export const CAUTION =
  'What is written with it was seen, felt, asked for or measured at the bedside: a finding, never a diagnosis. What calls for action is a matter of local policy.';

/** What all definitions of one kind have at their head, but for a title and a description of their own. */
interface Head<Kind extends Definition['resourceType']> {
  readonly resourceType: Kind;
  readonly id: string;
  readonly url: string;
  readonly version: string;
  readonly name: string;
  readonly status: 'active';
  readonly experimental: false;
  readonly date: string;
  readonly publisher: string;
}

/** The head of a definition of ours: its URL, its name in the standard's form (sdf-0, vsd-0 ...), version and date. */
export function headOf<Kind extends Definition['resourceType']>(resourceType: Kind, id: string): Head<Kind> {
  return {
    resourceType,
    id,
    url: `${CANONICAL}/${resourceType}/${id}`,
    version: DEFINITIONS_VERSION,
    name: id.replaceAll(/(?:^|-)([a-z0-9])/g, (_, letter: string) => letter.toUpperCase()),
    status: 'active',
    experimental: false,
    date: DATE,
    publisher: 'Limbledger',
  };
}

/** The notices of the standard code systems that a definition has codes of. */
export function copyrightOf(systems: Iterable<string>): { copyright?: string } {
  const named = new Map<string, string>([
    [SYSTEMS.loinc, 'LOINC'],
    [SYSTEMS.snomed, 'SNOMED CT'],
    [SYSTEMS.ucum, 'UCUM'],
  ]);
  const held = new Set([...systems].map((system) => named.get(system)));
  const texts = licenceNotices.filter(({ of }) => held.has(of)).map(({ text }) => text);
  return texts.length === 0 ? {} : { copyright: texts.join(' ') };
}

/** One row of a narrative's table. */
export type Row = readonly string[];

/** A definition as people read it (R4 narrative): its title, what it is, and a table. */
export function narrativeOf(
  title: string,
  paragraphs: readonly string[],
  { head, rows }: { readonly head: Row; readonly rows: readonly Row[] } = { head: [], rows: [] },
): Narrative {
  const cells = (row: Row, tag: 'th' | 'td'): string =>
    `<tr>${row.map((cell) => `<${tag}>${escape(cell)}</${tag}>`).join('')}</tr>`;
  const table =
    rows.length === 0
      ? ''
      : `<table><thead>${cells(head, 'th')}</thead><tbody>${rows.map((row) => cells(row, 'td')).join('')}</tbody></table>`;
  const said = paragraphs.map((paragraph) => `<p>${escape(paragraph)}</p>`).join('');
  return {
    status: 'generated',
    div: `<div xmlns="http://www.w3.org/1999/xhtml"><h2>${escape(title)}</h2>${said}${table}</div>`,
  };
}

function escape(text: string): string {
  return text.replaceAll('&', '&amp;').replaceAll('<', '&lt;').replaceAll('>', '&gt;');
}

/** The resource with its narrative after the elements of every resource, where readers look for it. */
export function withNarrative<T extends Definition>(resource: T, text: Narrative): T {
  const { resourceType, id, ...content } = resource;
  return { resourceType, id, text, ...content } as unknown as T;
}
