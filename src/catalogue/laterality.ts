import { findBodySite, sideOfConcept } from './body-sites.js';
import { findObservable } from './observables.js';
import type { Side } from './types.js';

/**
 * HL7's extension for the side of a body site (FHIR Extensions Pack 5.3.0, observation-structureLaterality). It
 * stands on every finding of a paired structure beside the side's own code and the words, since readers drop
 * extensions they do not know.
 */
export const LATERALITY_URL = 'http://hl7.org/fhir/StructureDefinition/observation-structureLaterality';

interface SentConcept {
  readonly coding?:
    readonly { readonly system?: string | undefined; readonly code?: string | undefined }[] | undefined;
}

interface SentSite extends SentConcept {
  readonly extension?:
    readonly { readonly url: string; readonly valueCodeableConcept?: SentConcept | undefined }[] | undefined;
}

/** Where an Observation may say a side: in its code, in the codes of its body site and in the site's extension. */
export interface SidedObservation {
  readonly code: SentConcept;
  readonly bodySite?: SentSite | undefined;
}

/** The sides that an Observation says, each once; two mean that its parts contradict each other. */
export function sidesOf({ code, bodySite }: SidedObservation): readonly Side[] {
  const sites = bodySite?.coding ?? [];
  const sides = [
    ...(code.coding ?? []).map(({ system = '', code: own = '' }) => findObservable(system, own)?.side),
    ...sites.map(({ system = '', code: own = '' }) => findBodySite(system, own)?.side),
    // Some systems put the side beside the site, as a second coding of it.
    ...sites.map((coding) => sideOfConcept({ coding: [coding] })),
    sideOfExtension(bodySite),
  ];
  return [...new Set(sides.filter((side) => side !== undefined))];
}

/** The side that the laterality extension of a body site says. */
export function sideOfExtension(site: SentSite | undefined): Side | undefined {
  return sideOfConcept(site?.extension?.find(({ url }) => url === LATERALITY_URL)?.valueCodeableConcept);
}
