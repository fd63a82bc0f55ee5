import type { SearchValues } from '../../src/fhir/index.js';
import type { Extractors, Point } from '../../src/store/index.js';

/** A resource of these tests carries what it is found by in plain sight, so that each test says what it means. */
export interface Marked {
  readonly resourceType: string;
  readonly found?: Partial<SearchValues>;
  readonly points?: readonly Point[];
}

const nothing: SearchValues = {
  tokens: [],
  texts: [],
  pairs: [],
  references: [],
  dates: [],
  strings: [],
  quantities: [],
  uris: [],
};

export const markedExtractors: Extractors = {
  searchValues: (resource) => ({ ...nothing, ...(resource as Marked).found }),
  points: (resource) => (resource as Marked).points ?? [],
};
