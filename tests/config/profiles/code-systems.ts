import type { CodeSystem } from 'fhir/r4.js';
import { publishedCodeSystems } from '../../../src/catalogue/index.js';
import { headOf, narrativeOf, withNarrative } from './published.js';

/** The code systems of the catalogue, with head and narrative as all definitions have them. */
export const codeSystems: readonly CodeSystem[] = publishedCodeSystems().map((system) => {
  const { id = '', title = '', description = '', concept = [], content } = system;
  const extent = content === 'complete' ? 'all its codes' : 'the codes it has at least';
  return withNarrative(
    { ...system, ...headOf('CodeSystem', id) },
    narrativeOf(title, [description, `It lists ${extent}: ${String(concept.length)}.`]),
  );
});
