import type { ResourceContext } from '../../src/exam/index.js';

/** A context whose ids count up. */
export function countingContext(more: Partial<ResourceContext> = {}): ResourceContext {
  let last = 0;
  return {
    patientId: 'p1',
    practitionerId: () => undefined,
    newId: () => `o${(last += 1)}`,
    ...more,
  };
}
