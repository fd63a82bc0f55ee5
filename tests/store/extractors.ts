import type { SearchValues } from '../../src/fhir/index.js';
import type { Extractors, Point } from '../../src/store/index.js';
import { noSearchValues } from '../test-server.js';

/** A resource of these tests carries what it is found by in plain sight, so that each test says what it means. */
export interface Marked {
  readonly resourceType: string;
  readonly found?: Partial<SearchValues>;
  readonly points?: readonly Point[];
}

export const markedExtractors: Extractors = {
  searchValues: (resource) => ({ ...noSearchValues, ...(resource as Marked).found }),
  points: (resource) => (resource as Marked).points ?? [],
};
