/** What the published definitions say of the types in use; made by `tests/config/make-definitions.ts`. */
export interface Definitions {
  readonly types: readonly TypeDefinition[];
  /** The enumerable value sets of required bindings. A bound set that is not here has no list (mime types, currencies). */
  readonly valueSets: readonly ValueSetCodes[];
  /** Names of the version's resource types that are not abstract, whether defined here or not. */
  readonly resourceTypes: readonly string[];
}

/** A resource type or datatype: its own elements; those of `base` are added to them. */
export interface TypeDefinition {
  readonly name: string;
  readonly kind: 'primitive-type' | 'complex-type' | 'resource';
  /** Name of the type it is derived from. */
  readonly base?: string;
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
  /** Path of the element whose definition it shares (contentReference). */
  readonly content?: string;
  /** Most characters of a string. */
  readonly maxLength?: number;
  /** Its value can change the meaning of what holds it (isModifier). */
  readonly modifier?: true;
}

export interface ValueSetCodes {
  readonly url: string;
  readonly include: readonly { readonly system: string; readonly codes: readonly string[] }[];
}
