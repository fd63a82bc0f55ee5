/** One search parameter of one resource type, as R4's SearchParameter. */
export interface SearchParameterRow {
  /** The name in a query. */
  readonly code: string;
  readonly kind: 'number' | 'date' | 'string' | 'token' | 'reference' | 'composite' | 'quantity' | 'uri';
  /** Canonical URL; one of ours is relative to our canonical base. */
  readonly definition: string;
  /** FHIRPath: the part of the published expression that starts at this type. */
  readonly expression: string;
  /** Of a reference: the types it may point at; absent for any. */
  readonly targets?: readonly string[];
  /** Of a composite: the parameters that its parts are, by canonical URL. */
  readonly components?: readonly string[];
}
