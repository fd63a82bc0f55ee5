/** The resource types that are stored and searched. */
export const RESOURCE_TYPES = [
  'Observation',
  'Patient',
  'Encounter',
  'Location',
  'Practitioner',
  'PractitionerRole',
  'Organization',
  'BodyStructure',
  'Device',
  'Condition',
  'ServiceRequest',
  'Flag',
  'DetectedIssue',
  'Group',
  'Provenance',
  'MeasureReport',
  'AuditEvent',
] as const;

export type ResourceType = (typeof RESOURCE_TYPES)[number];

/** Whether resources of the type are stored. */
export function isStoredType(name: string): name is ResourceType {
  return (RESOURCE_TYPES as readonly string[]).includes(name);
}
