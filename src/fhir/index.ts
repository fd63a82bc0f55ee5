export { r4Definitions, type Definitions } from './definitions/index.js';
export { DECIMAL, decimal, type Lossless } from './decimal.js';
export { given, type Given } from './given.js';
export {
  dateRange,
  isDate,
  isDateTime,
  isInstant,
  isTime,
  zoneOffset,
  type MomentRange,
} from './instants.js';
export {
  errorsFirst,
  hasErrors,
  issueOfJsonFault,
  pathStep,
  RULE_SYSTEM,
  toOperationOutcome,
  type FhirIssue,
} from './issue.js';
export { parseJson, stringifyJson, type JsonFault, type JsonValue, type ParsedJson } from './json.js';
export { readReference, type ReferenceForm } from './references.js';
export { compileValidator, type Validator } from './validate.js';
export { searchUrl, writeHistory, writeSearchset } from './bundle.js';
export type { BundledVersion, HistoryPage, SearchPage } from './bundle.js';
export { capabilityStatement } from './capability-statement.js';
export type {
  Interaction,
  Offer,
  OfferedOperation,
  OfferedParameter,
  OfferedType,
} from './capability-statement.js';
export { compileExtractor, WORDS_ALONE } from './extract-search-values.js';
export type { ExtractionSettings } from './extract-search-values.js';
export { AFTER, PAGE_SIZE, parseSearch } from './parse-search.js';
export type { Parameter, ParsedSearch, SearchContext, SearchFeature, SearchParsing } from './parse-search.js';
export type { SearchInclude } from './search-includes.js';
export { isStoredType, RESOURCE_TYPES } from './resource-types.js';
export type { ResourceType } from './resource-types.js';
export { findSearchParameter, searchParameters } from './search-parameters.js';
export type { SearchParameter } from './search-parameters.js';
export type {
  DateMatch,
  PairMatch,
  Prefix,
  QuantityMatch,
  ReferenceMatch,
  SearchClause,
  SearchQuery,
  SortKey,
  TokenMatch,
} from './search-query.js';
export type {
  CodeValue,
  DateValue,
  PairValue,
  QuantityValue,
  ReferenceValue,
  SearchValues,
  StringValue,
  TextValue,
  TokenValue,
  UriValue,
} from './search-values.js';
export {
  DEFINITION_TYPES,
  isKnownProfile,
  profilesOn,
  readDefinition,
  VALIDATED_TYPES,
} from './published-definitions.js';
export type { DefinitionType, PublishedDefinition } from './published-definitions.js';
export type { ConformanceResource } from './validation/profiles.js';
export type { NativeInvariant } from './validation/invariants.js';
export { DefinitionFault } from './validation/profiles.js';
