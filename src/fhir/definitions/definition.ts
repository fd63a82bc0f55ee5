import type { StructureDefinition } from 'fhir/r4.js';

/** What the published definitions say of the types in use; made by `tests/config/make-definitions.ts`. */
export interface Definitions {
  readonly types: readonly TypeDefinition[];
  /** The value sets that codes must be of: of required bindings, and the widest ones that looser bindings allow. */
  readonly valueSets: readonly ValueSetCodes[];
  /** Names of the version's resource types that are not abstract, whether defined here or not. */
  readonly resourceTypes: readonly string[];
  /** Profiles that the standard itself demands, each with its differential only. */
  readonly profiles: readonly StructureDefinition[];
  readonly demandedProfiles: readonly DemandedProfile[];
}

/**
 * A profile that a resource must keep whether it claims to or not, once its `code` has this coding (R4
 * observation-vitalsigns.html, the table of vital signs with their required codes).
 */
export interface DemandedProfile {
  /** Resource type. */
  readonly type: string;
  readonly system: string;
  readonly code: string;
  /** Canonical URL of the profile. */
  readonly profile: string;
}

/** A resource type or datatype: its own elements; those of `base` are added to them. */
export interface TypeDefinition {
  readonly name: string;
  readonly kind: 'primitive-type' | 'complex-type' | 'resource';
  /** Name of the type it is derived from. */
  readonly base?: string;
  /** Canonical URL of the widest value set that the unit of the type may be of (Age, Duration, Distance). */
  readonly maxValueSet?: string;
  readonly elements: readonly ElementRow[];
  /** The invariants that the type adds, on itself and on its elements. */
  readonly constraints?: readonly ConstraintRow[];
}

/** One invariant, as R4's ElementDefinition.constraint. */
export interface ConstraintRow {
  /** Path below the type of the element it stands on; empty: the type itself. */
  readonly path: string;
  /** `obs-6`. */
  readonly key: string;
  readonly severity: 'error' | 'warning';
  /** The rule in the standard's words. */
  readonly human: string;
  /** FHIRPath, with the element as its context. */
  readonly expression: string;
  /** Advice on good practice rather than a rule (R4 extension elementdefinition-bestpractice). */
  readonly bestPractice?: true;
}

/** One element, as R4's ElementDefinition; elements of elements follow their parent. */
export interface ElementRow {
  /** Path below the type: `component.value[x]`. */
  readonly path: string;
  readonly min: number;
  readonly max: number | '*';
  /** Codes of the allowed types; empty when `content` stands. */
  readonly types: readonly string[];
  /** Allowed resource types of a Reference; absent for any. */
  readonly targets?: readonly string[];
  /** Profile on the element's type that must be kept: SimpleQuantity. */
  readonly profile?: string;
  /** Canonical URL of the value set of a required binding. */
  readonly binding?: string;
  /**
   * Canonical URL of the widest value set that a looser binding allows (R4 extension elementdefinition-maxValueSet): a code
   * must be of it, a text may stand alone.
   */
  readonly maxValueSet?: string;
  /** Path of the element whose definition it shares (contentReference). */
  readonly content?: string;
  /** Most characters of a string. */
  readonly maxLength?: number;
  /** Its value can change the meaning of what holds it (isModifier). */
  readonly modifier?: true;
}

/** The codes of a value set, by code system. */
export interface ValueSetCodes {
  readonly url: string;
  readonly include: readonly IncludedCodes[];
}

/** The codes that a value set takes of one code system: listed; those of one dimension; or, with neither, all of them. */
export interface IncludedCodes {
  readonly system: string;
  /** Absent for a system that has no published list: media types, currencies, languages, units. */
  readonly codes?: readonly string[];
  /** Only units that can be converted to this UCUM unit. */
  readonly canonical?: string;
}
