import type { CodeSystem, ElementDefinition, StructureDefinition, ValueSet } from 'fhir/r4.js';
import {
  type ConformanceResource,
  compileValidator,
  type FhirIssue,
  type NativeInvariant,
  r4Definitions,
} from '../../src/fhir/index.js';

const BASE = 'http://hl7.org/fhir/StructureDefinition/';
/** Where the definitions of these tests have their canonical URLs. */
export const HERE = 'https://profiles.example/';

/** A profile by the elements of its differential. */
export function profileOf(
  type: string,
  elements: readonly ElementDefinition[],
  more: Partial<StructureDefinition> = {},
): StructureDefinition {
  return {
    resourceType: 'StructureDefinition',
    url: `${HERE}tested`,
    name: 'Tested',
    status: 'active',
    kind: 'resource',
    abstract: false,
    type,
    baseDefinition: BASE + type,
    derivation: 'constraint',
    differential: { element: [...elements] },
    ...more,
  };
}

/** An extension by the elements of its differential. */
export function extensionOf(
  name: string,
  elements: readonly ElementDefinition[],
  more: Partial<StructureDefinition> = {},
): StructureDefinition {
  return profileOf('Extension', elements, {
    url: HERE + name,
    name,
    kind: 'complex-type',
    context: [{ type: 'element', expression: 'Element' }],
    ...more,
  });
}

/** A value set of listed codes of one system. */
export function valueSetOf(
  name: string,
  compose: ValueSet['compose'],
  more: Partial<ValueSet> = {},
): ValueSet {
  return {
    resourceType: 'ValueSet',
    url: HERE + name,
    status: 'active',
    ...(compose === undefined ? {} : { compose }),
    ...more,
  };
}

/** A code system with all of its concepts. */
export function codeSystemOf(name: string, concept: CodeSystem['concept'] = []): CodeSystem {
  return { resourceType: 'CodeSystem', url: HERE + name, status: 'active', content: 'complete', concept };
}

/** The errors and warnings that the given definitions add: `rule place`; `profile` is the one to hold against. */
export function faultsBy(
  conformance: readonly ConformanceResource[],
  natives: readonly NativeInvariant[] = [],
): (resource: object, ...profiles: string[]) => readonly string[] {
  const validate = compileValidator(r4Definitions, { conformance, natives });
  return (resource, ...profiles) =>
    validate(resource, undefined, profiles)
      .filter(isTold)
      .map(({ rule, expression }) => `${rule} ${expression}`);
}

/** The narrative is left out of these tests, and with it the advice to have one. */
const isTold = ({ severity, rule }: FhirIssue): boolean => severity !== 'information' && rule !== 'dom-6';

/** The faults that one profile finds. */
export function faultsOf(
  profile: StructureDefinition,
  ...further: readonly ConformanceResource[]
): (resource: object) => readonly string[] {
  const faults = faultsBy([profile, ...further]);
  return (resource) => faults(resource, profile.url);
}

/** An Observation that base R4 has nothing against. */
export function observation(more: object = {}): object {
  return { resourceType: 'Observation', status: 'final', code: { text: 'Grip strength' }, ...more };
}
