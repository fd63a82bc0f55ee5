import { breaks, keeps, type OtherCase, page, withAt, without } from './other-case.js';
import { sampleOf, samples } from './other-samples.js';

/** A place in the sample of its type, a code that the bound value set has and that is seldom seen, and one it has not. */
type BoundPlace = readonly [place: string, good: unknown, bad: unknown];

const HL7 = 'http://terminology.hl7.org/CodeSystem';
const coded = (system: string, code: string): object => ({ coding: [{ system: `${HL7}/${system}`, code }] });
const LANGUAGE = { coding: [{ system: 'urn:ietf:bcp:47', code: 'de-CH' }], text: 'Swiss German' };
const NO_LANGUAGE = { coding: [{ system: 'urn:ietf:bcp:47', code: 'de_CH' }] };

/** The required bindings (R4 resource pages, "Terminology Bindings") and those with a maximum value set. */
const PLACES: readonly BoundPlace[] = [
  ['Patient.gender', 'unknown', 'F'],
  ['Patient.contact[0].gender', 'other', 'Female'],
  ['Patient.link[0].type', 'seealso', 'see-also'],
  ['Patient.communication[0].language', LANGUAGE, NO_LANGUAGE],
  ['Encounter.status', 'onleave', 'on-leave'],
  ['Encounter.statusHistory[0].status', 'triaged', 'triage'],
  ['Encounter.location[0].status', 'reserved', 'inactive'],
  ['Location.status', 'suspended', 'closed'],
  ['Location.mode', 'kind', 'class'],
  ['Location.hoursOfOperation[0].daysOfWeek[1]', 'wed', 'wednesday'],
  ['Practitioner.gender', 'unknown', 'Unknown'],
  ['Practitioner.communication[0]', LANGUAGE, NO_LANGUAGE],
  ['PractitionerRole.availableTime[0].daysOfWeek[0]', 'sat', 'Sat'],
  ['Device.udiCarrier[0].entryType', 'self-reported', 'scanner'],
  ['Device.status', 'entered-in-error', 'suspended'],
  ['Device.deviceName[0].type', 'udi-label-name', 'label'],
  ['Bundle.entry[0].search.mode', 'outcome', 'matched'],
  ['OperationOutcome.issue[0].severity', 'information', 'info'],
  ['OperationOutcome.issue[0].code', 'multiple-matches', 'not-valid'],
  ['Measure.status', 'retired', 'inactive'],
  [
    'Measure.improvementNotation',
    coded('measure-improvement-notation', 'decrease'),
    coded('measure-improvement-notation', 'equal'),
  ],
  ['Measure.relatedArtifact[0].type', 'composed-of', 'part-of'],
  ['MeasureReport.status', 'pending', 'final'],
  ['MeasureReport.type', 'subject-list', 'patient-list'],
  [
    'MeasureReport.improvementNotation',
    coded('measure-improvement-notation', 'increase'),
    { coding: [{ system: 'http://hospital.example', code: 'increase' }] },
  ],
  ['Provenance.entity[0].role', 'quotation', 'origin'],
  ['Provenance.signature[0].targetFormat', 'text/plain;charset=utf-8', 'plain text'],
  ['Provenance.signature[0].sigFormat', 'image/svg+xml', 'image/'],
  ['AuditEvent.action', 'E', 'X'],
  ['AuditEvent.outcome', '12', '1'],
  ['AuditEvent.agent[0].network.type', '5', '6'],
  ['Subscription.status', 'off', 'on'],
  ['Subscription.channel.type', 'websocket', 'webhook'],
  ['Subscription.channel.payload', 'application/fhir+xml; fhirVersion=4.0', 'application fhir json'],
  ['DetectedIssue.status', 'preliminary', 'active'],
  ['DetectedIssue.severity', 'moderate', 'medium'],
  ['Flag.status', 'entered-in-error', 'completed'],
  [
    'Condition.clinicalStatus',
    coded('condition-clinical', 'remission'),
    coded('condition-clinical', 'cured'),
  ],
  ['Condition.verificationStatus', coded('condition-ver-status', 'differential'), { text: 'confirmed' }],
  ['ServiceRequest.status', 'on-hold', 'in-progress'],
  ['ServiceRequest.intent', 'filler-order', 'prescription'],
  ['ServiceRequest.priority', 'stat', 'high'],
  ['Group.type', 'device', 'patient'],
  ['ConceptMap.status', 'unknown', 'final'],
  ['ConceptMap.group[0].element[0].target[0].equivalence', 'subsumes', 'same'],
  ['ConceptMap.group[0].unmapped.mode', 'provided', 'none'],
  ['DiagnosticReport.status', 'appended', 'completed'],
  ['DiagnosticReport.presentedForm[0].contentType', 'application/pdf', 'pdf file'],
  ['DiagnosticReport.presentedForm[0].language', 'sr-Latn-RS', 'english language'],
  ['CapabilityStatement.status', 'draft', 'current'],
  ['CapabilityStatement.fhirVersion', '4.0.0', '4'],
  ['CapabilityStatement.format[0]', 'xml', 'application//json'],
  ['CapabilityStatement.patchFormat[0]', 'application/fhir+xml', 'json patch'],
  ['CapabilityStatement.rest[0].mode', 'client', 'proxy'],
  ['CapabilityStatement.rest[0].resource[0].type', 'VisionPrescription', 'Vision'],
  ['CapabilityStatement.rest[0].resource[0].interaction[0].code', 'history-instance', 'history-system'],
  ['CapabilityStatement.rest[0].resource[0].versioning', 'versioned-update', 'yes'],
  ['CapabilityStatement.rest[0].resource[0].conditionalRead', 'modified-since', 'since'],
  ['CapabilityStatement.rest[0].resource[0].conditionalDelete', 'multiple', 'many'],
  ['CapabilityStatement.rest[0].resource[0].referencePolicy[0]', 'enforced', 'strict'],
  ['CapabilityStatement.rest[0].resource[0].searchParam[0].type', 'special', 'text'],
  ['CapabilityStatement.rest[0].searchParam[0].type', 'composite', 'id'],
  ['CapabilityStatement.rest[0].interaction[0].code', 'search-system', 'read'],
  ['CapabilityStatement.messaging[0].supportedMessage[0].mode', 'sender', 'both'],
  ['CapabilityStatement.document[0].mode', 'consumer', 'reader'],
  ['StructureDefinition.status', 'active', 'normative'],
  ['StructureDefinition.fhirVersion', '3.0.1', 'R4'],
  ['StructureDefinition.kind', 'resource', 'profile'],
  ['StructureDefinition.context[0].type', 'fhirpath', 'resource'],
  ['StructureDefinition.derivation', 'constraint', 'restriction'],
  ['StructureDefinition.differential.element[1].representation[0]', 'cdaText', 'json'],
  ['StructureDefinition.differential.element[1].slicing.rules', 'openAtEnd', 'opened'],
  ['StructureDefinition.differential.element[1].slicing.discriminator[0].type', 'exists', 'fixed'],
  ['StructureDefinition.differential.element[1].type[0].aggregation[0]', 'bundled', 'inline'],
  ['StructureDefinition.differential.element[1].type[0].versioning', 'specific', 'any'],
  ['StructureDefinition.differential.element[1].constraint[0].severity', 'warning', 'information'],
  ['StructureDefinition.differential.element[1].mapping[0].language', 'text/x-diff', 'fhir path'],
  ['StructureDefinition.snapshot.element[1].binding.strength', 'extensible', 'mandatory'],
  ['SearchParameter.status', 'unknown', 'proposed'],
  ['SearchParameter.base[0]', 'VerificationResult', 'Anything'],
  ['SearchParameter.type', 'reference', 'Reference'],
  ['SearchParameter.xpathUsage', 'nearby', 'near'],
  ['SearchParameter.target[0]', 'MolecularSequence', 'Sequence'],
  ['SearchParameter.comparator[0]', 'sa', 'lte'],
  ['SearchParameter.modifier[0]', 'ofType', 'of-type'],
  ['CodeSystem.status', 'retired', 'deprecated'],
  ['CodeSystem.hierarchyMeaning', 'classified-with', 'kind-of'],
  ['CodeSystem.content', 'supplement', 'full'],
  ['CodeSystem.filter[0].operator[0]', 'descendent-of', 'descendant-of'],
  ['CodeSystem.property[0].type', 'Coding', 'coding'],
  ['CodeSystem.concept[0].designation[0].language', 'zh-Hant-TW', 'de_AT'],
  ['ValueSet.status', 'draft', 'drafted'],
  ['ValueSet.compose.include[1].filter[0].op', 'is-not-a', 'isa'],
  ['ValueSet.compose.include[0].concept[0].designation[0].language', 'x-klingon', '-hr'],
  ['OperationDefinition.status', 'retired', 'obsolete'],
  ['OperationDefinition.kind', 'query', 'search'],
  ['OperationDefinition.resource[0]', 'Bundle', 'Everything'],
  ['OperationDefinition.parameter[0].use', 'out', 'inout'],
  ['OperationDefinition.parameter[1].part[0].use', 'in', 'IN'],
  ['OperationDefinition.parameter[1].part[0].type', 'Reference', 'reference'],
  ['OperationDefinition.parameter[0].searchType', 'token', 'code'],
  ['OperationDefinition.parameter[0].binding.strength', 'example', 'strong'],
];

/** The bindings of datatypes (R4 datatypes page, "Terminology Bindings"). */
const IN_DATATYPES: readonly BoundPlace[] = [
  ['Patient.language', 'en-US-x-private', 'en US'],
  ['Patient.name[0].use', 'maiden', 'birth'],
  ['Patient.address[0].use', 'billing', 'business'],
  ['Patient.address[0].type', 'physical', 'visit'],
  ['Patient.telecom[0].system', 'sms', 'mobile'],
  ['Patient.telecom[0].use', 'mobile', 'private'],
  ['Patient.identifier[0].use', 'old', 'former'],
];

const rowsAt = (section: (type: string) => string, rows: readonly BoundPlace[]): readonly OtherCase[] =>
  rows.flatMap(([place, good, bad]) => {
    const of = section((place.split('.')[0] ?? '').toLowerCase());
    const sample = sampleOf(place);
    return [
      {
        ...keeps('required-binding', of, `${place} takes ${said(good)}`, withAt(sample, place, good)),
        place,
      },
      breaks(
        'required-binding',
        place,
        of,
        `${place} does not take ${said(bad)}`,
        withAt(sample, place, bad),
      ),
    ];
  });

const said = (value: unknown): string => (typeof value === 'string' ? value : JSON.stringify(value));

const requirements = without(
  without(samples.CapabilityStatement, 'CapabilityStatement.messaging'),
  'CapabilityStatement.implementation',
);
const product = withAt(requirements, 'CapabilityStatement.kind', 'capability');

export const bindingCases: readonly OtherCase[] = [
  ...rowsAt((type) => page(`${type}.html#tx`), PLACES),
  ...rowsAt(() => page('datatypes.html#tx'), IN_DATATYPES),
  {
    ...keeps(
      'required-binding',
      page('capabilitystatement.html#tx'),
      'a statement of what a product can do',
      product,
    ),
    place: 'CapabilityStatement.kind',
  },
  breaks(
    'required-binding',
    'CapabilityStatement.kind',
    page('capabilitystatement.html#tx'),
    'a statement of the kind "server"',
    withAt(requirements, 'CapabilityStatement.kind', 'server'),
  ),
  keeps(
    'required-binding',
    page('terminologies.html#code'),
    'a language in words only, where the binding is preferred with a maximum',
    samples.Practitioner,
  ),
];
