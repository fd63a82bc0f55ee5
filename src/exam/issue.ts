/**
 * A fault or remark about an exam document, as data. The sentence is made last.
 *
 * `error`: refused. `confirm`: refused until the same document comes again with the code in `confirmed`. `advise` and
 * `info`: stored and shown. A `block` of the documentation rules is an `error`, a `suggest` is a `confirm`.
 */
export interface Issue {
  readonly severity: 'error' | 'confirm' | 'advise' | 'info';
  /** Rule id (`VL-07`) or our stable code (`document-not-json`). */
  readonly code: string;
  /** JSON Pointer into the document (RFC 6901). */
  readonly place: string;
  readonly found?: unknown;
  readonly allowed?: unknown;
  /** The terms to choose from, when the typed word must be asked about. */
  readonly choices?: readonly string[];
  /** One plain sentence: the thing, the side, the value with its unit, and the limit. */
  readonly sentence: string;
}
