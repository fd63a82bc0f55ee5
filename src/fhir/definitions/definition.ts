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
}

export interface ValueSetCodes {
  readonly url: string;
  readonly include: readonly { readonly system: string; readonly codes: readonly string[] }[];
}
