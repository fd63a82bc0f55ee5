import type { Definitions } from './definition.js';
import { r4ResourceTypes, r4ValueSets } from './r4-codes.js';
import { r4DemandedProfiles, r4Profiles } from './r4-profiles.js';
import { r4Types } from './r4-types.js';

export { r4SearchParameters } from './r4-search-parameters.js';
export type { SearchParameterRow } from './search-parameter.js';
export type {
  ConstraintRow,
  Definitions,
  DemandedProfile,
  ElementRow,
  IncludedCodes,
  TypeDefinition,
  ValueSetCodes,
} from './definition.js';

/** The published definitions of the types in use: HL7 FHIR R4 4.0.1, licence CC0-1.0. */
export const r4Definitions: Definitions = {
  types: r4Types,
  valueSets: r4ValueSets,
  resourceTypes: r4ResourceTypes,
  profiles: r4Profiles,
  demandedProfiles: r4DemandedProfiles,
};
