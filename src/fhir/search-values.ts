/**
 * What a resource is found by, extracted once when it is written. Parameter names are the search codes of the
 * resource's type (`code`, `date`, `-body-site`).
 */
export interface SearchValues {
  readonly tokens: readonly TokenValue[];
  readonly texts: readonly TextValue[];
  readonly pairs: readonly PairValue[];
  readonly references: readonly ReferenceValue[];
  readonly dates: readonly DateValue[];
  readonly strings: readonly StringValue[];
  readonly quantities: readonly QuantityValue[];
  readonly uris: readonly UriValue[];
}

/** A coded value; `system` is absent for a code without one. */
export interface TokenValue extends CodeValue {
  readonly parameter: string;
}

export interface CodeValue {
  readonly system?: string;
  readonly code: string;
}

/** Words beside a code, for `:text`: CodeableConcept.text, Coding.display, Identifier.type.text. */
export interface TextValue {
  readonly parameter: string;
  readonly text: string;
}

/** Two codes of one repeated element, for a composite parameter. */
export interface PairValue {
  readonly parameter: string;
  readonly first: CodeValue;
  readonly second: CodeValue;
}

/** A reference: to a resource of this base (`type` and `id`), elsewhere (`url`), or by business identifier only. */
export interface ReferenceValue {
  readonly parameter: string;
  readonly type?: string;
  readonly id?: string;
  readonly url?: string;
  readonly identifier?: { readonly system?: string; readonly value: string };
}

/** The range that a date's precision fixes, in milliseconds since 1970 (UTC), `high` exclusive; null where open. */
export interface DateValue {
  readonly parameter: string;
  readonly low: number | null;
  readonly high: number | null;
}

export interface StringValue {
  readonly parameter: string;
  readonly text: string;
}

/**
 * A number with its unit as written; canonical conversion is the store's reader's business. A comparator opens the range
 * at one end (`>=`: from the value on), which is also how a Range without one bound is told.
 */
export interface QuantityValue {
  readonly parameter: string;
  readonly value: number;
  /** The upper end, where it is a range from `value` to here, both ends included. */
  readonly high?: number;
  readonly comparator?: string;
  readonly system?: string;
  readonly code?: string;
  readonly unit?: string;
  /** The codes of the component it stands in, for composites. */
  readonly codes?: readonly CodeValue[];
}

export interface UriValue {
  readonly parameter: string;
  readonly uri: string;
}
