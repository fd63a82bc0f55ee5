import type { SearchParameter } from 'fhir/r4.js';
import { LATERALITY_URL } from '../../../src/catalogue/index.js';
import { findSearchParameter } from '../../../src/fhir/index.js';
import { headOf, narrativeOf, withNarrative } from './published.js';

const specs = [
  {
    code: '-body-site',
    what: 'The body site that was observed. R4 has such a parameter on Condition and ServiceRequest and none on Observation; the dash marks it as a custom one.',
  },
  {
    code: '-laterality',
    what: `The side of the body site that was observed, from HL7's extension ${LATERALITY_URL}: 7771000 left, 24028007 right, 51440002 both, 399488007 midline (SNOMED CT).`,
  },
] as const;

/** Our search parameters, with the expressions by which they are drawn. */
export const ownSearchParameters: readonly SearchParameter[] = specs.map(({ code, what }) => {
  const id = `observation${code}`;
  const row = findSearchParameter('Observation', code);
  if (row === undefined) throw new RangeError(`no such search parameter: ${code}`);
  return withNarrative(
    {
      ...headOf('SearchParameter', id),
      description: what,
      code,
      base: ['Observation'],
      type: 'token' as const,
      expression: row.expression,
      multipleOr: true,
      multipleAnd: true,
      modifier: ['missing' as const, 'not' as const],
    },
    narrativeOf(`Search Observations by ${code}`, [what, `Drawn by ${row.expression}.`]),
  );
});
