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
export { parseJson, stringifyJson, type JsonFault, type JsonValue, type ParsedJson } from './json.js';
