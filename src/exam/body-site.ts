import {
  bodySiteOf,
  findBodySite,
  isPairedSite,
  LATERALITY_URL,
  lateralityCode,
  sideOfExtension,
  SYSTEMS,
  type Code,
  type NamedSite,
  type Side,
} from '../catalogue/index.js';
import { conceptOf, type Concept } from './component.js';

/** A site of the catalogue as a concept: a joint, a digit, a joint of a digit, a hand or a limb. */
export function siteConcept(joint: string, side?: Side, digit?: string, digitJoint?: string): Concept {
  const { codings, text, laterality } = bodySiteOf(joint, side, digit, digitJoint);
  return lateral(conceptOf(codings, text), laterality);
}

/** A site of several joints: by words, and the side of those that are pairs; the joints themselves stand in components. */
export function jointsConcept(joints: readonly string[], side: Side | undefined): Concept | undefined {
  const [only, ...others] = joints;
  if (only === undefined) return sideConceptOf(side);
  if (others.length === 0) return siteConcept(only, side);
  const text = joints
    .map((joint) => bodySiteOf(joint, isPairedSite({ joint }) ? side : undefined).text)
    .join(', ');
  return lateral({ text }, side && lateralityCode(side));
}

/** The side alone, where the body part is not told. */
export function sideConceptOf(side: Side | undefined): Concept | undefined {
  return side && lateral({ text: side }, lateralityCode(side));
}

function lateral(site: Concept, laterality: Code | undefined): Concept {
  if (laterality === undefined) return site;
  const valueCodeableConcept = conceptOf([laterality], laterality.display);
  return { extension: [{ url: LATERALITY_URL, valueCodeableConcept }], ...site };
}

/** The body part that a site's own code names. */
export function namedSiteOf(site: Concept | undefined): NamedSite | undefined {
  const code = site?.coding?.find(({ system }) => system === SYSTEMS.joint)?.code;
  return code === undefined ? undefined : findBodySite(SYSTEMS.joint, code);
}

/** The side that a site says by its laterality extension, as each site of ours does. */
export function sideOfSite(site: Concept | undefined): Side | undefined {
  return sideOfExtension(site);
}
