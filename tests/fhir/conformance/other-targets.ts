import { breaks, keeps, type OtherCase, page, withAt } from './other-case.js';
import { sampleOf } from './other-samples.js';

/**
 * Each reference of the types with the targets the standard gives it (R4 resource pages, column "Type"): a place in the
 * sample of its type, all that it may refer to, and one that it may not.
 */
type TargetPlace = readonly [place: string, allowed: string, forbidden: string];

const AGENT = 'Practitioner PractitionerRole RelatedPerson Patient Device Organization';

const PLACES: readonly TargetPlace[] = [
  ['Patient.contact[0].organization', 'Organization', 'Patient'],
  ['Patient.generalPractitioner[0]', 'Organization Practitioner PractitionerRole', 'CareTeam'],
  ['Patient.managingOrganization', 'Organization', 'Location'],
  ['Patient.link[0].other', 'Patient RelatedPerson', 'Person'],
  ['Patient.identifier[0].assigner', 'Organization', 'Practitioner'],
  ['Encounter.subject', 'Patient Group', 'RelatedPerson'],
  ['Encounter.episodeOfCare[0]', 'EpisodeOfCare', 'Encounter'],
  ['Encounter.basedOn[0]', 'ServiceRequest', 'CarePlan'],
  ['Encounter.participant[0].individual', 'Practitioner PractitionerRole RelatedPerson', 'Patient'],
  ['Encounter.appointment[0]', 'Appointment', 'Slot'],
  [
    'Encounter.reasonReference[0]',
    'Condition Procedure Observation ImmunizationRecommendation',
    'DiagnosticReport',
  ],
  ['Encounter.diagnosis[0].condition', 'Condition Procedure', 'Observation'],
  ['Encounter.account[0]', 'Account', 'Coverage'],
  ['Encounter.hospitalization.origin', 'Location Organization', 'Encounter'],
  ['Encounter.hospitalization.destination', 'Location Organization', 'Practitioner'],
  ['Encounter.location[0].location', 'Location', 'Organization'],
  ['Encounter.serviceProvider', 'Organization', 'HealthcareService'],
  ['Encounter.partOf', 'Encounter', 'EpisodeOfCare'],
  ['Location.managingOrganization', 'Organization', 'Location'],
  ['Location.partOf', 'Location', 'Organization'],
  ['Location.endpoint[0]', 'Endpoint', 'Device'],
  ['Practitioner.qualification[0].issuer', 'Organization', 'Practitioner'],
  ['PractitionerRole.practitioner', 'Practitioner', 'Patient'],
  ['PractitionerRole.organization', 'Organization', 'Location'],
  ['PractitionerRole.location[0]', 'Location', 'Organization'],
  ['PractitionerRole.healthcareService[0]', 'HealthcareService', 'Organization'],
  ['PractitionerRole.endpoint[0]', 'Endpoint', 'Device'],
  ['Organization.partOf', 'Organization', 'Location'],
  ['Organization.endpoint[0]', 'Endpoint', 'Organization'],
  ['BodyStructure.patient', 'Patient', 'Group'],
  ['Device.definition', 'DeviceDefinition', 'Device'],
  ['Device.patient', 'Patient', 'Person'],
  ['Device.owner', 'Organization', 'Practitioner'],
  ['Device.location', 'Location', 'Organization'],
  ['Device.parent', 'Device', 'DeviceDefinition'],
  ['Measure.subjectReference', 'Group', 'Patient'],
  [
    'MeasureReport.subject',
    'Patient Practitioner PractitionerRole Location Device RelatedPerson Group',
    'Organization',
  ],
  ['MeasureReport.reporter', 'Practitioner PractitionerRole Location Organization', 'Device'],
  ['MeasureReport.group[0].population[0].subjectResults', 'List', 'Group'],
  ['MeasureReport.group[0].stratifier[0].stratum[0].population[0].subjectResults', 'List', 'MeasureReport'],
  ['Provenance.location', 'Location', 'Organization'],
  ['Provenance.agent[0].who', AGENT, 'CareTeam'],
  ['Provenance.agent[0].onBehalfOf', AGENT, 'Group'],
  ['Provenance.entity[0].agent[0].who', AGENT, 'Location'],
  ['Provenance.signature[0].who', AGENT, 'CareTeam'],
  ['Provenance.signature[0].onBehalfOf', AGENT, 'Group'],
  ['AuditEvent.agent[0].who', AGENT, 'CareTeam'],
  ['AuditEvent.agent[0].location', 'Location', 'Device'],
  ['AuditEvent.source.observer', AGENT, 'Endpoint'],
  ['DetectedIssue.patient', 'Patient', 'Group'],
  ['DetectedIssue.author', 'Practitioner PractitionerRole Device', 'Patient'],
  ['DetectedIssue.mitigation[0].author', 'Practitioner PractitionerRole', 'Device'],
  [
    'Flag.subject',
    'Patient Location Group Organization Practitioner PlanDefinition Medication Procedure',
    'Device',
  ],
  ['Flag.encounter', 'Encounter', 'EpisodeOfCare'],
  ['Flag.author', 'Device Organization Patient Practitioner PractitionerRole', 'RelatedPerson'],
  ['Condition.subject', 'Patient Group', 'Device'],
  ['Condition.encounter', 'Encounter', 'EpisodeOfCare'],
  ['Condition.recorder', 'Practitioner PractitionerRole Patient RelatedPerson', 'Organization'],
  ['Condition.asserter', 'Practitioner PractitionerRole Patient RelatedPerson', 'Device'],
  ['Condition.stage[0].assessment[0]', 'ClinicalImpression DiagnosticReport Observation', 'Condition'],
  ['ServiceRequest.basedOn[0]', 'CarePlan ServiceRequest MedicationRequest', 'Encounter'],
  ['ServiceRequest.replaces[0]', 'ServiceRequest', 'Task'],
  ['ServiceRequest.subject', 'Patient Group Location Device', 'Practitioner'],
  ['ServiceRequest.encounter', 'Encounter', 'Appointment'],
  ['ServiceRequest.requester', AGENT, 'CareTeam'],
  [
    'ServiceRequest.performer[0]',
    'Practitioner PractitionerRole Organization CareTeam HealthcareService Patient Device RelatedPerson',
    'Location',
  ],
  ['ServiceRequest.locationReference[0]', 'Location', 'Organization'],
  [
    'ServiceRequest.reasonReference[0]',
    'Condition Observation DiagnosticReport DocumentReference',
    'Procedure',
  ],
  ['ServiceRequest.insurance[0]', 'Coverage ClaimResponse', 'Account'],
  ['ServiceRequest.specimen[0]', 'Specimen', 'Substance'],
  ['ServiceRequest.relevantHistory[0]', 'Provenance', 'AuditEvent'],
  ['Group.managingEntity', 'Organization RelatedPerson Practitioner PractitionerRole', 'Patient'],
  [
    'Group.member[0].entity',
    'Patient Practitioner PractitionerRole Device Medication Substance Group',
    'Location',
  ],
  [
    'DiagnosticReport.basedOn[0]',
    'CarePlan ImmunizationRecommendation MedicationRequest NutritionOrder ServiceRequest',
    'Task',
  ],
  ['DiagnosticReport.subject', 'Patient Group Device Location', 'Practitioner'],
  ['DiagnosticReport.encounter', 'Encounter', 'EpisodeOfCare'],
  ['DiagnosticReport.performer[0]', 'Practitioner PractitionerRole Organization CareTeam', 'Patient'],
  ['DiagnosticReport.resultsInterpreter[0]', 'Practitioner PractitionerRole Organization CareTeam', 'Device'],
  ['DiagnosticReport.specimen[0]', 'Specimen', 'BodyStructure'],
  ['DiagnosticReport.result[0]', 'Observation', 'DiagnosticReport'],
  ['DiagnosticReport.imagingStudy[0]', 'ImagingStudy', 'Media'],
  ['DiagnosticReport.media[0].link', 'Media', 'Binary'],
  ['CapabilityStatement.implementation.custodian', 'Organization', 'Practitioner'],
];

const rowsOf = ([place, allowed, forbidden]: TargetPlace): readonly OtherCase[] => {
  const section = page(`${(place.split('.')[0] ?? '').toLowerCase()}.html#resource`);
  const sample = sampleOf(place);
  const refer = (reference: object): object => withAt(sample, place, reference);
  const told = place.replace('subjectReference', 'subject');
  return [
    ...allowed.split(' ').map((type) => ({
      ...keeps(
        'reference-target',
        section,
        `${place} refers to ${type}`,
        refer({ reference: `${type}/a-1` }),
      ),
      place: told,
    })),
    breaks(
      'reference-target',
      told,
      section,
      `${place} refers to ${forbidden}`,
      refer({ reference: `https://other.example/fhir/${forbidden}/a-1/_history/2` }),
    ),
    breaks(
      'reference-target',
      told,
      section,
      `${place} says by its type that it is of ${forbidden}`,
      refer({ type: forbidden, identifier: { value: 'a-1' } }),
    ),
  ];
};

export const targetCases: readonly OtherCase[] = PLACES.flatMap(rowsOf);
