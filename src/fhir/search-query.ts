/** A search after its parameters were parsed and checked: clauses are joined by AND, the values of one by OR. */
export interface SearchQuery {
  readonly type: string;
  readonly clauses: readonly SearchClause[];
  /** Keys of `_sort`; empty: newest change first. */
  readonly sort: readonly { readonly parameter: string; readonly descending: boolean }[];
  /** Matches on a page, at least 1. */
  readonly count: number;
  /** Opaque place after which the page starts. */
  readonly after?: string;
}

export type SearchClause =
  | { readonly kind: 'id'; readonly parameter: '_id'; readonly ids: readonly string[] }
  | {
      readonly kind: 'token';
      readonly parameter: string;
      readonly not?: boolean;
      readonly values: readonly TokenMatch[];
    }
  | { readonly kind: 'reference'; readonly parameter: string; readonly values: readonly ReferenceMatch[] }
  | { readonly kind: 'date'; readonly parameter: string; readonly values: readonly DateMatch[] }
  | {
      readonly kind: 'string';
      readonly parameter: string;
      readonly how: 'starts' | 'contains' | 'exact';
      readonly values: readonly string[];
    }
  | { readonly kind: 'missing'; readonly parameter: string; readonly missing: boolean };

/** `system` undefined: any system; null: no system (`|code`). `code` undefined: any code of the system (`system|`). */
export interface TokenMatch {
  readonly system?: string | null;
  readonly code?: string;
}

export interface ReferenceMatch {
  readonly type?: string;
  readonly id?: string;
  readonly url?: string;
}

export type DatePrefix = 'eq' | 'ne' | 'gt' | 'lt' | 'ge' | 'le' | 'sa' | 'eb' | 'ap';

/** The search range S in milliseconds since 1970 (UTC), `high` exclusive. */
export interface DateMatch {
  readonly prefix: DatePrefix;
  readonly low: number;
  readonly high: number;
}
