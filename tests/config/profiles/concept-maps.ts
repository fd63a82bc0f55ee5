import type { ConceptMap, ConceptMapGroup, ConceptMapGroupElement } from 'fhir/r4.js';
import {
  bodySiteOf,
  findBodySite,
  notAssessedReasonCode,
  notAssessedReasons,
  observables,
  qualifierOf,
  siteCodes,
  SYSTEMS,
  type CodeReference,
} from '../../../src/catalogue/index.js';
import { CAUTION, copyrightOf, headOf, narrativeOf, withNarrative } from './published.js';
import { valueSets, valueSetUrl } from './value-sets.js';

/** One pair: a code of ours, and a standard code that means the same or more (R4 concept-map-equivalence). */
interface Pair {
  readonly from: CodeReference;
  readonly to: CodeReference;
  readonly equivalence: 'equivalent' | 'wider';
}

interface MapSpec {
  readonly id: string;
  readonly title: string;
  readonly what: string;
  readonly source: string;
  readonly from: string;
  readonly to: string;
  readonly pairs: readonly Pair[];
}

/** The standard codes beside an observable's own say the same; those of its category say it more widely. */
function pairsOfObservables(to: string): readonly Pair[] {
  return observables.flatMap(({ code, display, codings, category }) => {
    const from = { system: SYSTEMS.observable, code, display };
    const pairsWith = (targets: readonly CodeReference[], equivalence: Pair['equivalence']): Pair[] =>
      targets.filter(({ system }) => system === to).map((target) => ({ from, to: target, equivalence }));
    return [...pairsWith(codings, 'equivalent'), ...pairsWith(category, 'wider')];
  });
}

/** A site without a code of its own is written with that of its digit, which is wider. */
const pairsOfSites: readonly Pair[] = siteCodes.flatMap((from) => {
  const site = findBodySite(from.system, from.code);
  const { codings } =
    site === undefined ? { codings: [] } : bodySiteOf(site.joint, undefined, site.digit, site.digitJoint);
  const to = codings.find(({ system }) => system === SYSTEMS.snomed);
  if (site === undefined || to === undefined) return [];
  const named = findBodySite(to.system, to.code);
  const isSame =
    named?.joint === site.joint && named.digit === site.digit && named.digitJoint === site.digitJoint;
  return [{ from, to, equivalence: isSame ? ('equivalent' as const) : ('wider' as const) }];
});

const pairsOfWords: readonly Pair[] = (
  valueSets.find(({ id }) => id === 'msk-word')?.compose?.include[0]?.concept ?? []
).flatMap(({ code, display }) => {
  const to = qualifierOf(code);
  const from = { system: SYSTEMS.word, code, ...(display !== undefined && { display }) };
  return to === undefined ? [] : [{ from, to, equivalence: 'equivalent' as const }];
});

const specs: readonly MapSpec[] = [
  {
    id: 'msk-observable-to-loinc',
    title: 'Musculoskeletal observables to LOINC',
    what: 'The LOINC codes that mean the same as our own codes of observables, or more widely the same. A code without a line has none that was verified.',
    source: 'msk-observable',
    from: SYSTEMS.observable,
    to: SYSTEMS.loinc,
    pairs: pairsOfObservables(SYSTEMS.loinc),
  },
  {
    id: 'msk-observable-to-snomed',
    title: 'Musculoskeletal observables to SNOMED CT',
    what: 'The SNOMED CT concepts that mean the same as our own codes of observables, or more widely the same. A code without a line has none that was verified.',
    source: 'msk-observable',
    from: SYSTEMS.observable,
    to: SYSTEMS.snomed,
    pairs: pairsOfObservables(SYSTEMS.snomed),
  },
  {
    id: 'msk-joint-to-snomed',
    title: 'Joints and sites to SNOMED CT',
    what: 'The SNOMED CT body structures of our own sites, all without a side. A joint of a digit that has none goes to its digit.',
    source: 'msk-joint',
    from: SYSTEMS.joint,
    to: SYSTEMS.snomed,
    pairs: pairsOfSites,
  },
  {
    id: 'msk-word-to-snomed',
    title: 'Words of findings to SNOMED CT',
    what: 'The SNOMED CT qualifiers of words that mean the same wherever they are said.',
    source: 'msk-word',
    from: SYSTEMS.word,
    to: SYSTEMS.snomed,
    pairs: pairsOfWords,
  },
  {
    id: 'msk-not-done-reason-to-data-absent-reason',
    title: 'Reasons why something was not assessed to HL7 data-absent-reason',
    what: 'Each reason with the code of HL7 that stands beside it and says less exactly why.',
    source: 'msk-not-done-reason',
    from: SYSTEMS.notDoneReason,
    to: SYSTEMS.dataAbsentReason,
    pairs: notAssessedReasons.map((row) => ({
      from: notAssessedReasonCode(row),
      to: row.dataAbsentReason,
      equivalence: 'wider' as const,
    })),
  },
];

function toElement(from: CodeReference, pairs: readonly Pair[]): ConceptMapGroupElement {
  return {
    code: from.code,
    ...(from.display !== undefined && { display: from.display }),
    target: pairs.map(({ to: { code, display }, equivalence }) => ({
      code,
      ...(display !== undefined && { display }),
      equivalence,
    })),
  };
}

function toGroup({ from, to, pairs }: MapSpec): ConceptMapGroup {
  const codes = new Map(pairs.map((pair) => [pair.from.code, pair.from]));
  return {
    source: from,
    target: to,
    element: [...codes.values()].map((code) =>
      toElement(
        code,
        pairs.filter((pair) => pair.from.code === code.code),
      ),
    ),
  };
}

/** Our codes in the words of the standard code systems, and the other way round where the meaning is the same. */
export const conceptMaps: readonly ConceptMap[] = specs.map((spec) =>
  withNarrative(
    {
      ...headOf('ConceptMap', spec.id),
      title: spec.title,
      description: spec.what,
      purpose: CAUTION,
      ...copyrightOf([spec.to]),
      sourceCanonical: valueSetUrl(spec.source),
      group: [toGroup(spec)],
    },
    narrativeOf(spec.title, [spec.what], {
      head: ['Our code', 'Their code', 'Their meaning is'],
      rows: spec.pairs.map(({ from, to, equivalence }) => [from.code, to.code, equivalence]),
    }),
  ),
);
