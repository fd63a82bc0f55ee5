import { hasErrors } from '../fhir/index.js';
import type { FhirIssue } from '../fhir/index.js';
import type { Conformance } from './service-options.js';

/** A resource of our own making that breaks a rule: a bug, told by rule and place alone, without what a patient has. */
export class FaultyOwnResource extends Error {
  override readonly name = 'FaultyOwnResource';

  constructor(faults: readonly FhirIssue[]) {
    super(faults.map(({ rule, expression }) => `${rule} at ${expression}`).join('; '));
  }
}

/**
 * Holds what an exam or a change of one makes to base R4 and to the profiles that it claims, before it is stored.
 * @throws FaultyOwnResource
 */
export function holdToRules(
  resources: readonly { readonly resourceType: string }[],
  { validate }: Conformance,
): void {
  for (const resource of resources) {
    const issues = validate(resource, resource.resourceType);
    if (hasErrors(issues)) throw new FaultyOwnResource(issues.filter((issue) => hasErrors([issue])));
  }
}
