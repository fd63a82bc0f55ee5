export { r4Definitions, type Definitions } from './definitions/index.js';
export { DECIMAL, decimal, type Lossless } from './decimal.js';
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
