import { readReference } from './references.js';

/** What a reference points at: a resource of this base, or a place elsewhere. */
export type ReferenceTarget =
  | { readonly type: string; readonly id: string }
  /** Elsewhere, or a URN; `type` where the URL tells it. */
  | { readonly type?: string; readonly url: string };

/**
 * The target that a reference's text names, for search: a version is passed over, and an absolute reference on this
 * base is the same as the relative one (R4 search, reference). Undefined for text that is no reference, and for
 * references into the resource itself (`#a`) or to be resolved by a search.
 */
export function readTarget(text: string, baseUrl: string): ReferenceTarget | undefined {
  const form = readReference(text);
  switch (form?.kind) {
    case 'local':
      return { type: form.type, id: form.id };
    case 'absolute':
      return form.base === `${baseUrl}/` ? { type: form.type, id: form.id } : { type: form.type, url: text };
    case 'opaque':
      return { url: text };
    case 'contained':
    case 'conditional':
    case undefined:
      return undefined;
  }
}
