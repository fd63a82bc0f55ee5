import { openConformance } from '../src/cli/conformance.js';
import type { Conformance } from '../src/http/index.js';

let opened: Conformance | undefined;

/** The rules of the service by its own definitions, compiled once for a file of tests. */
export function ownConformance(): Conformance {
  opened ??= openConformance([]);
  return opened;
}
