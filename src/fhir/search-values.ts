/**
 * What a resource is found by, extracted once when it is written. Parameter names are the search codes of the
 * resource's type (`code`, `date`, `-body-site`).
 */
export interface SearchValues {
  readonly tokens: readonly TokenValue[];
  readonly references: readonly ReferenceValue[];
  readonly dates: readonly DateValue[];
  readonly strings: readonly StringValue[];
  readonly quantities: readonly QuantityValue[];
  readonly uris: readonly UriValue[];
}

/** A coded value; `system` is absent for a code without one. `text` is the display or text beside it (for `:text`). */
export interface TokenValue {
  readonly parameter: string;
  readonly system?: string;
  readonly code: string;
  readonly text?: string;
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

/** A number with its unit as written; canonical conversion is the store's reader's business. */
export interface QuantityValue {
  readonly parameter: string;
  readonly value: number;
  readonly comparator?: string;
  readonly system?: string;
  readonly code?: string;
  readonly unit?: string;
}

export interface UriValue {
  readonly parameter: string;
  readonly uri: string;
}
