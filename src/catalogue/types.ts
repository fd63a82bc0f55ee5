/** The side of a paired structure. Left and right are always the patient's. */
export type Side = 'left' | 'right';

/** What a nurse does at a joint: looks, feels, asks for the movement, grades strength. */
export type Aspect = 'look' | 'feel' | 'range' | 'strength';

/** How far a figure may be trusted: a figure `from memory` is never shown to a clinician (see `sources.ts`). */
export type HowKnown = 'read' | 'from memory';

/** A place where a fact or figure was found. */
export interface Source {
  /** Stable key; rows of the catalogue cite it. */
  readonly key: string;
  readonly citation: string;
  readonly year?: number;
  readonly where?: string;
  readonly how: HowKnown | 'common practice' | 'design';
  /** The page that quotes the original, when the original was not read. */
  readonly via?: string;
  readonly licence?: string;
  readonly note?: string;
}

/** A code of a code system, as FHIR's Coding; without `display` where the system's own wording was not seen. */
export interface CodeReference {
  readonly system: string;
  readonly code: string;
  readonly display?: string;
}

/** A code with the wording of its code system. */
export interface Code extends CodeReference {
  readonly display: string;
}
