import type { Definitions } from './definitions/index.js';
import type { FhirIssue } from './issue.js';
import type { NativeInvariant } from './validation/invariants.js';
import { compileProfiles, type ConformanceResource } from './validation/profiles.js';
import { Structures } from './validation/structure.js';
import { isJsonObject, type JsonObject, Walk } from './validation/walk.js';

/**
 * Says everything that is wrong with a resource; no issue of severity error or fatal: it is valid. `type`: what the door
 * expects. `profiles`: canonical URLs to hold the resource against beyond those it claims in `meta.profile`. Takes
 * numbers as `number` or `LosslessNumber`, never changes its input and never throws.
 */
export interface Validator {
  (resource: unknown, type?: string, profiles?: readonly string[]): readonly FhirIssue[];
  /** Canonical URLs of the profiles that it knows. */
  readonly profiles: readonly string[];
  /** What of the given definitions it does not check, and why, as sentences. */
  readonly remarks: readonly string[];
}

/** What a validator knows beyond base R4. */
export interface ValidatorSettings {
  /** StructureDefinitions of profiles and extensions, with the ValueSets and CodeSystems they bind. */
  readonly conformance?: readonly ConformanceResource[];
  /** Invariants of those definitions that are also written in code. */
  readonly natives?: readonly NativeInvariant[];
}

/**
 * Compiles the definitions once into a validator of base R4 (elements, cardinality, JSON form, primitive and choice types,
 * bindings, reference targets, invariants, narrative, units and what the standard asks in prose) and of the profiles given.
 * The checks of a type are made when it is first met. Throws a DefinitionFault on a profile that cannot be compiled.
 */
export function compileValidator(
  definitions: Definitions,
  { conformance = [], natives = [] }: ValidatorSettings = {},
): Validator {
  const structures = new Structures(definitions, extensionUrls(conformance));
  const { check, urls, remarks } = compileProfiles(conformance, { definitions, natives });
  const validate = (
    resource: unknown,
    type?: string,
    profiles: readonly string[] = [],
  ): readonly FhirIssue[] => {
    const walk = new Walk(isJsonObject(resource) ? resource : {});
    if (checkRoot(structures, resource, type, walk)) check(resource, profiles, walk);
    return walk.issues;
  };
  return Object.assign(validate, { profiles: urls, remarks });
}

const extensionUrls = (conformance: readonly ConformanceResource[]): readonly string[] =>
  conformance.flatMap((each) =>
    each.resourceType === 'StructureDefinition' && each.type === 'Extension' ? [each.url] : [],
  );

/** False when the resource is of no type that could be checked. */
function checkRoot(
  structures: Structures,
  resource: unknown,
  expected: string | undefined,
  walk: Walk,
): resource is JsonObject {
  if (!isJsonObject(resource)) {
    const diagnostics = 'A resource must be a JSON object.';
    walk.report({ severity: 'fatal', code: 'structure', rule: 'json-type', diagnostics });
    return false;
  }
  const type = resource['resourceType'];
  if (typeof type !== 'string' || !structures.isResourceType(type)) {
    const diagnostics = 'The resourceType is missing or is no resource type of R4.';
    const allowed = expected ?? structures.defined;
    walk.report({ code: 'structure', rule: 'resource-type', diagnostics, found: type, allowed });
    return false;
  }
  walk.enter(type);
  if (expected !== undefined && type !== expected) {
    const diagnostics = `A resource of type ${type} stands where a ${expected} is expected.`;
    walk.report({ code: 'invalid', rule: 'resource-type', diagnostics, found: type, allowed: expected });
  }
  if (structures.defined.includes(type)) {
    structures.checkResource(type, resource, walk);
    return true;
  }
  const diagnostics = `Resources of type ${type} are not supported.`;
  walk.report({
    code: 'not-supported',
    rule: 'resource-type',
    diagnostics,
    found: type,
    allowed: structures.defined,
  });
  return false;
}
