import type { ElementDefinitionConstraint } from 'fhir/r4.js';
import type { BaseElements } from './base-elements.js';
import type { RequiredBinding } from './bindings.js';
import type { OccurrenceCheck } from './occurrences.js';
import type { ProfileNode } from './profile-tree.js';

/** What the making of an overlay asks of the other definitions. */
export interface OverlayContext {
  readonly elements: BaseElements;
  /** Canonical URL of the profile at hand. */
  readonly definition: string;
  /** The tree of the profile at hand. */
  readonly root: ProfileNode;
  /** The value set to hold codes against; undefined when nothing lists it. */
  readonly findBinding: (valueSet: string) => RequiredBinding | undefined;
  /** The tree of another profile; undefined when nobody gave it. */
  readonly findTree: (profile: string) => ProfileNode | undefined;
  /** Checks a value against another profile; undefined when nobody gave it, or the base checks hold it. */
  readonly findProfile: (profile: string, form: string) => OccurrenceCheck | undefined;
  /** The type that a profile or a type of the standard is of. */
  readonly typeOfProfile: (profile: string) => string | undefined;
  /** An invariant as a check. */
  readonly compileConstraint: (constraint: ElementDefinitionConstraint, node: ProfileNode) => OccurrenceCheck;
}
