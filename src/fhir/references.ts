/** What the text of a reference says of its target. */
export type ReferenceForm =
  | { readonly kind: 'local'; readonly type: string; readonly id: string; readonly version?: string }
  | {
      readonly kind: 'absolute';
      readonly base: string;
      readonly type: string;
      readonly id: string;
      readonly version?: string;
    }
  /** `#id` of a contained resource; empty id for the container itself. */
  | { readonly kind: 'contained'; readonly id: string }
  /** `Patient?identifier=...`, to be resolved within a transaction. */
  | { readonly kind: 'conditional'; readonly type: string; readonly query: string }
  /** A URL or URN that tells no type: `urn:uuid:...`, `http://elsewhere.example/x`. */
  | { readonly kind: 'opaque'; readonly url: string };

/** R4 references, "Literal References": the pattern of a RESTful reference, with its parts. */
const RESTFUL =
  /^(?:(https?:\/\/(?:[^\s/?#]+\/)+))?([A-Z][A-Za-z]*)\/([A-Za-z0-9\-.]{1,64})(?:\/_history\/([A-Za-z0-9\-.]{1,64}))?$/;
const CONDITIONAL = /^([A-Z][A-Za-z]*)\?(\S+)$/;
const WITH_SCHEME = /^[A-Za-z][A-Za-z0-9+.-]*:\S+$/;

/**
 * Reads `Reference.reference`. Undefined when it is neither relative (`Type/id`), absolute, nor `#id`; whether the type
 * exists is the caller's to ask.
 */
export function readReference(text: string): ReferenceForm | undefined {
  if (text.startsWith('#')) return /\s/.test(text) ? undefined : { kind: 'contained', id: text.slice(1) };
  const [, base, type, id, version] = RESTFUL.exec(text) ?? [];
  if (type !== undefined && id !== undefined) {
    const parts = { type, id, ...(version === undefined ? {} : { version }) };
    return base === undefined ? { kind: 'local', ...parts } : { kind: 'absolute', base, ...parts };
  }
  const [, conditionalType, query] = CONDITIONAL.exec(text) ?? [];
  if (conditionalType !== undefined && query !== undefined) {
    return { kind: 'conditional', type: conditionalType, query };
  }
  return WITH_SCHEME.test(text) ? { kind: 'opaque', url: text } : undefined;
}
