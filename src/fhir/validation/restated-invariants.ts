/**
 * Expressions of FHIR R4 4.0.1 that do not say what the words of their invariant say, with FHIRPath that does:
 * - a pattern of a whole name, where FHIRPath's matches() is content with a part (FHIRPath, "matches"), or one with escapes
 *   that a pattern of Unicode text does not have;
 * - an expression that yields nothing when an element is missing without which the words are plainly broken;
 * - a comparison of quantities, which FHIRPath makes of UCUM units only, where the unit is the same and the numbers tell;
 * - one that reads the whole resource again for each of its items;
 * - one that asks whether a list of yes and no holds anything, where it means a yes.
 */
const RESTATED: ReadonlyMap<string, string> = new Map([
  // cpb-0, csd-0, cmd-0, mea-0, opd-0, sdf-0, spd-0, vsd-0
  ["name.matches('[A-Z]([A-Za-z0-9_]){0,254}')", "name.matches('^[A-Z][A-Za-z0-9_]{0,254}$')"],
  // eld-16
  [
    "sliceName.empty() or sliceName.matches('^[a-zA-Z0-9\\\\/\\\\-_\\\\[\\\\]\\\\@]+$')",
    "sliceName.empty() or sliceName.matches('^[a-zA-Z0-9/\\\\-_\\\\[\\\\]@]+$')",
  ],
  // eld-19
  [
    String.raw`path.matches('[^\\s\\.,:;\\\'"\\/|?!@#$%&*()\\[\\]{}]{1,64}(\\.[^\\s\\.,:;\\\'"\\/|?!@#$%&*()\\[\\]{}]{1,64}(\\[x\\])?(\\:[^\\s\\.]+)?)*')`,
    String.raw`path.matches('^[^\\s.,:;\'"/|?!@#$%&*()\\[\\]{}]{1,64}(\\.[^\\s.,:;\'"/|?!@#$%&*()\\[\\]{}]{1,64}(\\[x\\])?(:[^\\s.]+)?)*$')`,
  ],
  // eld-20
  [
    String.raw`path.matches('[A-Za-z][A-Za-z0-9]*(\\.[a-z][A-Za-z0-9]*(\\[x])?)*')`,
    String.raw`path.matches('^[A-Za-z][A-Za-z0-9]*(\\.[a-z][A-Za-z0-9]*(\\[x\\])?)*$')`,
  ],
  // eld-3
  [
    "empty() or ($this = '*') or (toInteger() >= 0)",
    "empty() or $this = '*' or (toInteger().exists() and toInteger() >= 0)",
  ],
  // eld-11
  [
    "binding.empty() or type.code.empty() or type.select((code = 'code') or (code = 'Coding') or (code='CodeableConcept') or (code = 'Quantity') or (code = 'string') or (code = 'uri')).exists()",
    "binding.empty() or type.code.empty() or type.code.intersect('code' | 'Coding' | 'CodeableConcept' | 'Quantity' | 'string' | 'uri').exists()",
  ],
  // sdf-1
  [
    "derivation = 'constraint' or snapshot.element.select(path).isDistinct()",
    "derivation.where($this = 'constraint').exists() or snapshot.element.select(path).isDistinct()",
  ],
  // sdf-5
  [
    "type != 'Extension' or derivation = 'specialization' or (context.exists())",
    "type != 'Extension' or derivation.where($this = 'specialization').exists() or context.exists()",
  ],
  // sdf-8
  [
    "(%resource.kind = 'logical' or element.first().path = %resource.type) and element.tail().all(path.startsWith(%resource.snapshot.element.first().path&'.'))",
    "defineVariable('stem', element.first().path&'.').select((%resource.kind = 'logical' or element.first().path = %resource.type) and element.tail().all(path.startsWith(%stem)))",
  ],
  // sdf-8a
  [
    "(%resource.kind = 'logical' or element.first().path.startsWith(%resource.type)) and (element.tail().empty() or element.tail().all(path.startsWith(%resource.differential.element.first().path.replaceMatches('\\\\..*','')&'.')))",
    "defineVariable('stem', element.first().path.replaceMatches('\\\\..*','')&'.').select((%resource.kind = 'logical' or element.first().path.startsWith(%resource.type)) and (element.tail().empty() or element.tail().all(path.startsWith(%stem))))",
  ],
  // sdf-21
  [
    "differential.element.defaultValue.exists() implies (derivation = 'specialization')",
    "differential.element.defaultValue.empty() or derivation.where($this = 'specialization').exists()",
  ],
  // vsd-9
  ['code.exists() or abstract = true', 'code.exists() or abstract.where($this = true).exists()'],
  // opd-2
  [
    "searchType.exists() implies type = 'string'",
    "searchType.empty() or type.where($this = 'string').exists()",
  ],
  // opd-3
  [
    "targetProfile.exists() implies (type = 'Reference' or type = 'canonical')",
    "targetProfile.empty() or type.where($this = 'Reference' or $this = 'canonical').exists()",
  ],
  // bdl-3, bdl-4 and bdl-7: a Bundle without a type breaks another rule, not these
  [
    "entry.all(request.exists() = (%resource.type = 'batch' or %resource.type = 'transaction' or %resource.type = 'history'))",
    "type.hasValue().not() or entry.all(request.exists() = (%resource.type = 'batch' or %resource.type = 'transaction' or %resource.type = 'history'))",
  ],
  [
    "entry.all(response.exists() = (%resource.type = 'batch-response' or %resource.type = 'transaction-response' or %resource.type = 'history'))",
    "type.hasValue().not() or entry.all(response.exists() = (%resource.type = 'batch-response' or %resource.type = 'transaction-response' or %resource.type = 'history'))",
  ],
  [
    "(type = 'history') or entry.where(fullUrl.exists()).select(fullUrl&resource.meta.versionId).isDistinct()",
    "type.hasValue().not() or type = 'history' or entry.where(fullUrl.exists()).select(fullUrl&resource.meta.versionId).isDistinct()",
  ],
  // bdl-11
  [
    "type = 'document' implies entry.first().resource.is(Composition)",
    "type = 'document' implies entry.first().resource.ofType(Composition).exists()",
  ],
  // bdl-12
  [
    "type = 'message' implies entry.first().resource.is(MessageHeader)",
    "type = 'message' implies entry.first().resource.ofType(MessageHeader).exists()",
  ],
  // con-3
  [
    "clinicalStatus.exists() or verificationStatus.coding.where(system='http://terminology.hl7.org/CodeSystem/condition-ver-status' and code = 'entered-in-error').exists() or category.select($this='problem-list-item').empty()",
    "clinicalStatus.exists() or verificationStatus.coding.where(system='http://terminology.hl7.org/CodeSystem/condition-ver-status' and code = 'entered-in-error').exists() or category.coding.where(code = 'problem-list-item').empty()",
  ],
  // rng-2
  [
    'low.empty() or high.empty() or (low <= high)',
    "low.empty() or high.empty() or iif((low.system & ' ' & low.code & ' ' & iif(low.code.exists(), '', low.unit)) = (high.system & ' ' & high.code & ' ' & iif(high.code.exists(), '', high.unit)), low.value <= high.value, low <= high)",
  ],
  // tim-9
  [
    "offset.empty() or (when.exists() and ((when in ('C' | 'CM' | 'CD' | 'CV')).not()))",
    "offset.empty() or (when.exists() and when.intersect('C' | 'CM' | 'CD' | 'CV').empty())",
  ],
]);

/** The expressions that are restated, as published. */
export const RESTATED_EXPRESSIONS: readonly string[] = [...RESTATED.keys()];

/** What to evaluate for an invariant's expression: itself, or what its words mean where it does not say that. */
export function restate(expression: string): string {
  return RESTATED.get(expression) ?? expression;
}
