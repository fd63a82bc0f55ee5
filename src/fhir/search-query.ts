/** A search after its parameters were parsed and checked: clauses are joined by AND, the values of one by OR. */
export interface SearchQuery {
  readonly type: string;
  readonly clauses: readonly SearchClause[];
  /** Keys of `_sort`; empty: newest change first. */
  readonly sort: readonly SortKey[];
  /** Matches on a page, at least 1. */
  readonly count: number;
  /** Opaque place after which the page starts. */
  readonly after?: string;
}

export interface SortKey {
  readonly parameter: string;
  readonly descending: boolean;
}

/** One condition; `parameter` is a search code of the type that is searched. */
export type SearchClause =
  | { readonly kind: 'id'; readonly parameter: '_id'; readonly ids: readonly string[] }
  | {
      readonly kind: 'token';
      readonly parameter: string;
      /** None of the values is there; a resource without any code matches. */
      readonly not?: boolean;
      readonly values: readonly TokenMatch[];
    }
  /** `:text`: a text beside the code begins with one of these, whatever its case and accents. */
  | { readonly kind: 'text'; readonly parameter: string; readonly values: readonly string[] }
  | { readonly kind: 'reference'; readonly parameter: string; readonly values: readonly ReferenceMatch[] }
  | { readonly kind: 'date'; readonly parameter: string; readonly values: readonly DateMatch[] }
  | {
      readonly kind: 'string';
      readonly parameter: string;
      readonly how: 'starts' | 'contains' | 'exact';
      readonly values: readonly string[];
    }
  | {
      readonly kind: 'quantity';
      readonly parameter: string;
      /** Only a value that stands beside one of these codes in the same component. */
      readonly codes?: readonly TokenMatch[];
      readonly values: readonly QuantityMatch[];
    }
  | {
      readonly kind: 'uri';
      readonly parameter: string;
      /** `below`: the value is the asked one or a path under it; `above`: the asked one is the value or under it. */
      readonly how: 'exact' | 'below' | 'above';
      readonly values: readonly string[];
    }
  /** A composite of two codes that one repeated element holds both of. */
  | { readonly kind: 'pair'; readonly parameter: string; readonly values: readonly PairMatch[] }
  | { readonly kind: 'missing'; readonly parameter: string; readonly missing: boolean }
  /** One alternative holds, each being clauses joined by AND. */
  | { readonly kind: 'any'; readonly of: readonly (readonly SearchClause[])[] }
  /** None of the clauses holds. */
  | { readonly kind: 'none'; readonly of: readonly SearchClause[] }
  /** The reference leads to a present resource of the target type on this base that the clause holds of. */
  | {
      readonly kind: 'chain';
      readonly parameter: string;
      readonly target: string;
      readonly clause: SearchClause;
    }
  /** Some present resource of the type refers to this one by its parameter, and the clause holds of it. */
  | {
      readonly kind: 'has';
      readonly type: string;
      readonly parameter: string;
      readonly clause: SearchClause;
    };

/** `system` undefined: any system; null: no system (`|code`). `code` undefined: any code of the system (`system|`). */
export interface TokenMatch {
  readonly system?: string | null;
  readonly code?: string;
}

/** By id, of any type where none is given; or by the URL of a resource elsewhere. */
export interface ReferenceMatch {
  readonly type?: string;
  readonly id?: string;
  readonly url?: string;
}

export interface PairMatch {
  readonly first: TokenMatch;
  readonly second: TokenMatch;
}

/** R4 search, prefixes: of dates, numbers and quantities. */
export type Prefix = 'eq' | 'ne' | 'gt' | 'lt' | 'ge' | 'le' | 'sa' | 'eb' | 'ap';

/** The search range S in milliseconds since 1970 (UTC), `high` exclusive. */
export interface DateMatch {
  readonly prefix: Prefix;
  readonly low: number;
  readonly high: number;
}

/**
 * The search value of a quantity or number. `eq` and `ne` ask for the range `low` (inclusive) to `high` (exclusive) that
 * the digits fix (5.40 is 5.395 to 5.405), `ap` for any overlap with `low` to `high`, the other prefixes for `value`.
 * Without `system`, `code` and `unit` any unit matches, a number as well. With `unit` alone (`5.4||mg`) the code or the
 * printed unit is that; `system` and `code` are the coded unit, which UCUM converts.
 */
export interface QuantityMatch {
  readonly prefix: Prefix;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  readonly system?: string;
  readonly code?: string;
  readonly unit?: string;
}
