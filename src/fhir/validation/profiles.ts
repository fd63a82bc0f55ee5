import type { Definitions } from '../definitions/index.js';
import type { NativeInvariant } from './invariants.js';
import { wholeResource } from './occurrences.js';
import { type ConformanceResource, type Profile, ProfileLibrary } from './profile-library.js';
import { STRUCTURES } from './profile-tree.js';
import { urlOf } from './canonical-index.js';
import { scanResource } from './resource-scan.js';
import { isJsonObject, type JsonObject, objectsIn, type Walk } from './walk.js';

export { DefinitionFault } from './definition-fault.js';
export type { ConformanceResource } from './profile-library.js';

export interface ProfileContext {
  readonly definitions: Definitions;
  readonly natives: readonly NativeInvariant[];
}

/** The profiles of a validator. */
export interface Profiles {
  /**
   * Checks a resource and all in it: against the profiles that each claims in `meta.profile` and those that the standard
   * demands of it, and each extension against its definition. `further`: canonical URLs to hold the resource itself
   * against as well. The walk is at the resource.
   */
  readonly check: (resource: JsonObject, further: readonly string[], walk: Walk) => void;
  /** Canonical URLs of the profiles that are known. */
  readonly urls: readonly string[];
  /** What of the given definitions is not checked, and why, as sentences. */
  readonly remarks: readonly string[];
}

/** Compiles each profile; throws a DefinitionFault with the name and the element of one that cannot be compiled. */
export function compileProfiles(
  conformance: readonly ConformanceResource[],
  { definitions, natives }: ProfileContext,
): Profiles {
  const library = new ProfileLibrary(conformance, definitions, natives);
  const demanded = demandedProfiles(definitions);
  const rules = {
    elements: library.elements,
    findExtension: library.findExtension,
    checkResource: (resource: JsonObject, walk: Walk): void => {
      const claimed = claimedProfiles(resource, library, walk);
      checkProfiles(
        resource,
        [...claimed, ...demanded(resource).flatMap((url) => library.find(url) ?? [])],
        walk,
      );
    },
  };
  return {
    urls: library.urls,
    remarks: library.remarks,
    check: (resource, further, walk) => {
      if (!library.elements.isResourceType(String(resource['resourceType']))) return;
      checkProfiles(resource, furtherProfiles(resource, further, library, walk), walk);
      scanResource(resource, rules, walk);
    },
  };
}

/** Holds a resource against profiles, each once, and none that another one of them is derived from. */
function checkProfiles(resource: JsonObject, profiles: readonly Profile[], walk: Walk): void {
  if (profiles.length === 0) return;
  const different = [...new Set(profiles)].filter(
    (profile) => !profiles.some(({ ancestors }) => ancestors.has(profile.url)),
  );
  const type = String(resource['resourceType']);
  const occurrence = wholeResource(resource, { type, jsonName: '', isPrimitive: false, content: type });
  for (const { check } of different) check(occurrence, walk);
}

function claimedProfiles(resource: JsonObject, library: ProfileLibrary, walk: Walk): readonly Profile[] {
  const { meta } = resource;
  const claims: unknown = isJsonObject(meta) ? meta['profile'] : undefined;
  if (!Array.isArray(claims)) return [];
  return (claims as readonly unknown[]).flatMap((claim, index) => {
    if (typeof claim !== 'string') return [];
    const profile = library.find(claim);
    if (profile !== undefined && isFor(resource, profile.type, library)) return [profile];
    atClaim(index, walk, () => {
      if (profile !== undefined) reportType(claim, profile.type, resource, walk);
      else tellUnknown(claim, resource, library, 'warning', walk);
    });
    return [];
  });
}

function atClaim(index: number, walk: Walk, tell: () => void): void {
  const steps = ['meta', 'profile', index];
  const entered = steps.filter((step) => walk.enter(step));
  if (entered.length === steps.length) tell();
  entered.forEach(() => {
    walk.leave();
  });
}

function furtherProfiles(
  resource: JsonObject,
  further: readonly string[],
  library: ProfileLibrary,
  walk: Walk,
): readonly Profile[] {
  return further.flatMap((url) => {
    const profile = library.find(url);
    if (profile === undefined) tellUnknown(url, resource, library, 'error', walk);
    else if (isFor(resource, profile.type, library)) return [profile];
    else reportType(url, profile.type, resource, walk);
    return [];
  });
}

const isFor = ({ resourceType }: JsonObject, type: string, { elements }: ProfileLibrary): boolean =>
  typeof resourceType === 'string' && elements.isOfType(resourceType, type);

/** A type of the standard is a profile that the base checks hold. */
function tellUnknown(
  url: string,
  resource: JsonObject,
  library: ProfileLibrary,
  severity: 'warning' | 'error',
  walk: Walk,
): void {
  const type = urlOf(url).startsWith(STRUCTURES) ? urlOf(url).slice(STRUCTURES.length) : '';
  if (library.elements.isDefined(type) || library.elements.isResourceType(type)) {
    if (!isFor(resource, type, library)) reportType(url, type, resource, walk);
    return;
  }
  const diagnostics = `The profile ${url} is not known here; the resource was not checked against it.`;
  walk.report({ severity, code: 'not-found', rule: 'profile-unknown', diagnostics, found: url });
}

function reportType(url: string, type: string, { resourceType }: JsonObject, walk: Walk): void {
  const diagnostics = `The profile ${url} is for ${type}; this is a ${String(resourceType)}.`;
  walk.report({ code: 'invalid', rule: 'profile-type', diagnostics, found: url, allowed: type });
}

/**
 * Canonical URLs of the profiles that the standard demands of a resource with a code. What was entered in error states
 * nothing any more, so nothing is demanded of it (the published example Observation-f202 is such a one).
 */
function demandedProfiles({
  demandedProfiles: rows,
}: Definitions): (resource: JsonObject) => readonly string[] {
  const types = new Set<unknown>(rows.map(({ type }) => type));
  const urls = new Map(rows.map(({ type, system, code, profile }) => [`${type} ${system}|${code}`, profile]));
  return (resource) => {
    const { resourceType, code, status } = resource;
    if (!types.has(resourceType) || !isJsonObject(code) || status === 'entered-in-error') return [];
    return objectsIn(code['coding']).flatMap((coding) => {
      const { system, code: own } = coding;
      if (typeof resourceType !== 'string' || typeof system !== 'string' || typeof own !== 'string')
        return [];
      return urls.get(`${resourceType} ${system}|${own}`) ?? [];
    });
  };
}
