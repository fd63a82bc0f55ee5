import type { SearchParameter } from 'fhir/r4.js';
import { CANONICAL, LATERALITY_URL } from '../../../src/catalogue/index.js';
import { findSearchParameter } from '../../../src/fhir/index.js';
import { headOf, narrativeOf, withNarrative } from './published.js';

interface Spec {
  readonly code: string;
  readonly what: string;
  /** What it takes beside the value; of a composite, which parameters its values are of. */
  readonly form: Pick<SearchParameter, 'type' | 'modifier' | 'component'>;
}

const TOKEN: Spec['form'] = { type: 'token', modifier: ['missing', 'not'] };

const SIDE = `extension.where(url='${LATERALITY_URL}').value.ofType(CodeableConcept)`;

const specs: readonly Spec[] = [
  {
    code: '-body-site',
    what: 'The body site that was observed. R4 has such a parameter on Condition and ServiceRequest and none on Observation; the dash marks it as a custom one.',
    form: TOKEN,
  },
  {
    code: '-laterality',
    what: `The side of the body site that was observed, from HL7's extension ${LATERALITY_URL}: 7771000 left, 24028007 right, 51440002 both, 399488007 midline (SNOMED CT).`,
    form: TOKEN,
  },
  {
    code: '-code-body-site-laterality',
    what: 'What was observed, at which body site and on which side, as code$site$side: the three that tell one finding of an examination from all others.',
    form: {
      type: 'composite',
      component: [
        { definition: 'http://hl7.org/fhir/SearchParameter/clinical-code', expression: 'code' },
        { definition: `${CANONICAL}/SearchParameter/observation-body-site`, expression: 'bodySite' },
        {
          definition: `${CANONICAL}/SearchParameter/observation-laterality`,
          expression: `bodySite.${SIDE}`,
        },
      ],
    },
  },
];

/** Our search parameters, with the expressions by which they are drawn. */
export const ownSearchParameters: readonly SearchParameter[] = specs.map(
  ({ code, what, form: { type, ...form } }) => {
    const id = `observation${code}`;
    const row = findSearchParameter('Observation', code);
    if (row?.kind !== type) throw new RangeError(`no such search parameter: ${code}`);
    return withNarrative(
      {
        ...headOf('SearchParameter', id),
        description: what,
        code,
        base: ['Observation'],
        type,
        expression: row.expression,
        multipleOr: true,
        multipleAnd: true,
        ...form,
      },
      narrativeOf(`Search Observations by ${code}`, [what, `Drawn by ${row.expression}.`]),
    );
  },
);
