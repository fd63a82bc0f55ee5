/** The resource types that are stored and searched. */
export const RESOURCE_TYPES = [
  'Observation',
  'Patient',
  'Encounter',
  'Location',
  'Practitioner',
  'Provenance',
] as const;

export type ResourceType = (typeof RESOURCE_TYPES)[number];

/** Datatypes that a token parameter reads (R4 search, token). */
export type TokenDatatype = 'code' | 'boolean' | 'Coding' | 'CodeableConcept' | 'Identifier' | 'ContactPoint';

/** Datatypes that a string parameter reads (R4 search, string). */
export type StringDatatype = 'string' | 'HumanName' | 'Address';

interface ParameterBase {
  /** The name in a query. */
  readonly code: string;
  /** The part of the published expression that concerns this type. */
  readonly expression: string;
  /** Canonical URL of the SearchParameter; one of ours is relative to our canonical base. */
  readonly definition: string;
  /** Answered from what the store keeps of each resource: no values are extracted. */
  readonly kept?: true;
  readonly sortable?: true;
}

/** How one search parameter of one type finds its values. */
export type SearchParameter = ParameterBase &
  (
    | {
        readonly kind: 'token';
        readonly datatype: TokenDatatype;
        /** The system of a `code` or `boolean`, which FHIR fixes by the element's binding. */
        readonly system?: string;
      }
    | { readonly kind: 'string'; readonly datatype: StringDatatype }
    | {
        readonly kind: 'reference';
        /** The types it may point at; absent: any. One alone is the type of a bare id. */
        readonly targets?: readonly string[];
      }
    | { readonly kind: 'date' }
  );

/** The search parameter of a type, or undefined where the type has none of that name. */
export function findSearchParameter(type: ResourceType, code: string): SearchParameter | undefined {
  return byCode.get(type)?.get(code);
}

const HL7 = 'http://hl7.org/fhir/SearchParameter/';

function token(
  code: string,
  datatype: TokenDatatype,
  expression: string,
  definition: string,
  system?: string,
): SearchParameter {
  const binding = system === undefined ? {} : { system };
  return { kind: 'token', code, datatype, expression, definition: HL7 + definition, ...binding };
}

function reference(
  code: string,
  expression: string,
  definition: string,
  targets?: readonly string[],
): SearchParameter {
  const allowed = targets === undefined ? {} : { targets };
  return { kind: 'reference', code, expression, definition: HL7 + definition, ...allowed };
}

function date(code: string, expression: string, definition: string): SearchParameter {
  return { kind: 'date', code, expression, definition: HL7 + definition };
}

function text(
  code: string,
  datatype: StringDatatype,
  expression: string,
  definition: string,
): SearchParameter {
  return { kind: 'string', code, datatype, expression, definition: HL7 + definition };
}

/**
 * Parameters of every type. `_id` and `_lastUpdated` are columns of the store; by `_security` and `_tag` test data is
 * told from the rest.
 */
const everyType: readonly SearchParameter[] = [
  { ...token('_id', 'code', 'Resource.id', 'Resource-id'), kept: true, sortable: true },
  {
    ...date('_lastUpdated', 'Resource.meta.lastUpdated', 'Resource-lastUpdated'),
    kept: true,
    sortable: true,
  },
  token('_security', 'Coding', 'Resource.meta.security', 'Resource-security'),
  token('_tag', 'Coding', 'Resource.meta.tag', 'Resource-tag'),
];

const BOOLEAN_SYSTEM = 'http://terminology.hl7.org/CodeSystem/special-values';
const GENDER_SYSTEM = 'http://hl7.org/fhir/administrative-gender';

const persons = (type: 'Patient' | 'Practitioner'): readonly SearchParameter[] => [
  token('identifier', 'Identifier', `${type}.identifier`, `${type}-identifier`),
  token('active', 'boolean', `${type}.active`, `${type}-active`, BOOLEAN_SYSTEM),
  text('name', 'HumanName', `${type}.name`, `${type}-name`),
  text('family', 'string', `${type}.name.family`, 'individual-family'),
  text('given', 'string', `${type}.name.given`, 'individual-given'),
  token('gender', 'code', `${type}.gender`, 'individual-gender', GENDER_SYSTEM),
  token('telecom', 'ContactPoint', `${type}.telecom`, 'individual-telecom'),
  token('phone', 'ContactPoint', `${type}.telecom.where(system='phone')`, 'individual-phone'),
  token('email', 'ContactPoint', `${type}.telecom.where(system='email')`, 'individual-email'),
  text('address', 'Address', `${type}.address`, 'individual-address'),
  text('address-city', 'string', `${type}.address.city`, 'individual-address-city'),
  text('address-postalcode', 'string', `${type}.address.postalCode`, 'individual-address-postalcode'),
];

/** Targets as published, cut to those that a reader of a bare id needs: `patient=1` means `Patient/1`. */
const PATIENT = ['Patient'];

/**
 * Which parameters each type is found by. Expressions and definitions are those of HL7 FHIR R4 4.0.1; the two that
 * begin with a dash are our own (R4 search: custom parameters), because R4 has none on the body site.
 */
export const searchParameters: Readonly<Record<ResourceType, readonly SearchParameter[]>> = {
  Observation: [
    ...everyType,
    reference('patient', 'Observation.subject.where(resolve() is Patient)', 'clinical-patient', PATIENT),
    reference('subject', 'Observation.subject', 'Observation-subject', [
      'Group',
      'Device',
      'Patient',
      'Location',
    ]),
    token('code', 'CodeableConcept', 'Observation.code', 'clinical-code'),
    token(
      'combo-code',
      'CodeableConcept',
      'Observation.code | Observation.component.code',
      'Observation-combo-code',
    ),
    token('component-code', 'CodeableConcept', 'Observation.component.code', 'Observation-component-code'),
    token('category', 'CodeableConcept', 'Observation.category', 'Observation-category'),
    { ...date('date', 'Observation.effective', 'clinical-date'), sortable: true },
    token(
      'status',
      'code',
      'Observation.status',
      'Observation-status',
      'http://hl7.org/fhir/observation-status',
    ),
    reference('encounter', 'Observation.encounter', 'clinical-encounter', ['Encounter', 'EpisodeOfCare']),
    token('identifier', 'Identifier', 'Observation.identifier', 'clinical-identifier'),
    reference('performer', 'Observation.performer', 'Observation-performer', [
      'Practitioner',
      'Organization',
      'CareTeam',
      'Patient',
      'PractitionerRole',
      'RelatedPerson',
    ]),
    reference('has-member', 'Observation.hasMember', 'Observation-has-member', [
      'Observation',
      'MolecularSequence',
      'QuestionnaireResponse',
    ]),
    reference('derived-from', 'Observation.derivedFrom', 'Observation-derived-from', [
      'Media',
      'Observation',
      'ImagingStudy',
      'MolecularSequence',
      'QuestionnaireResponse',
      'DocumentReference',
    ]),
    reference('based-on', 'Observation.basedOn', 'Observation-based-on', [
      'CarePlan',
      'MedicationRequest',
      'NutritionOrder',
      'DeviceRequest',
      'ServiceRequest',
      'ImmunizationRecommendation',
    ]),
    reference('device', 'Observation.device', 'Observation-device', ['Device', 'DeviceMetric']),
    token('method', 'CodeableConcept', 'Observation.method', 'Observation-method'),
    token(
      'value-concept',
      'CodeableConcept',
      '(Observation.value as CodeableConcept)',
      'Observation-value-concept',
    ),
    token(
      'data-absent-reason',
      'CodeableConcept',
      'Observation.dataAbsentReason',
      'Observation-data-absent-reason',
    ),
    {
      kind: 'token',
      code: '-body-site',
      datatype: 'CodeableConcept',
      expression: 'Observation.bodySite',
      definition: 'SearchParameter/observation-body-site',
    },
    {
      kind: 'token',
      code: '-laterality',
      datatype: 'CodeableConcept',
      expression:
        "Observation.bodySite.extension.where(url='http://hl7.org/fhir/StructureDefinition/observation-structureLaterality').value.ofType(CodeableConcept)",
      definition: 'SearchParameter/observation-laterality',
    },
  ],
  Patient: [
    ...everyType,
    ...persons('Patient'),
    date('birthdate', 'Patient.birthDate', 'individual-birthdate'),
    reference('general-practitioner', 'Patient.generalPractitioner', 'Patient-general-practitioner', [
      'Practitioner',
      'Organization',
      'PractitionerRole',
    ]),
    reference('link', 'Patient.link.other', 'Patient-link', ['Patient', 'RelatedPerson']),
  ],
  Encounter: [
    ...everyType,
    reference('patient', 'Encounter.subject.where(resolve() is Patient)', 'clinical-patient', PATIENT),
    reference('subject', 'Encounter.subject', 'Encounter-subject', ['Group', 'Patient']),
    token('status', 'code', 'Encounter.status', 'Encounter-status', 'http://hl7.org/fhir/encounter-status'),
    token('class', 'Coding', 'Encounter.class', 'Encounter-class'),
    token('type', 'CodeableConcept', 'Encounter.type', 'clinical-type'),
    { ...date('date', 'Encounter.period', 'clinical-date'), sortable: true },
    reference('location', 'Encounter.location.location', 'Encounter-location', ['Location']),
    token('identifier', 'Identifier', 'Encounter.identifier', 'clinical-identifier'),
    reference('participant', 'Encounter.participant.individual', 'Encounter-participant', [
      'Practitioner',
      'PractitionerRole',
      'RelatedPerson',
    ]),
    reference('part-of', 'Encounter.partOf', 'Encounter-part-of', ['Encounter']),
  ],
  Location: [
    ...everyType,
    token('identifier', 'Identifier', 'Location.identifier', 'Location-identifier'),
    text('name', 'string', 'Location.name | Location.alias', 'Location-name'),
    token('status', 'code', 'Location.status', 'Location-status', 'http://hl7.org/fhir/location-status'),
    token('type', 'CodeableConcept', 'Location.type', 'Location-type'),
    token('operational-status', 'Coding', 'Location.operationalStatus', 'Location-operational-status'),
    reference('partof', 'Location.partOf', 'Location-partof', ['Location']),
  ],
  Practitioner: [...everyType, ...persons('Practitioner')],
  Provenance: [
    ...everyType,
    reference('target', 'Provenance.target', 'Provenance-target'),
    reference('patient', 'Provenance.target.where(resolve() is Patient)', 'Provenance-patient', PATIENT),
    reference('agent', 'Provenance.agent.who', 'Provenance-agent', [
      'Practitioner',
      'Organization',
      'Device',
      'Patient',
      'PractitionerRole',
      'RelatedPerson',
    ]),
    token('agent-type', 'CodeableConcept', 'Provenance.agent.type', 'Provenance-agent-type'),
    token('agent-role', 'CodeableConcept', 'Provenance.agent.role', 'Provenance-agent-role'),
    reference('entity', 'Provenance.entity.what', 'Provenance-entity'),
    { ...date('recorded', 'Provenance.recorded', 'Provenance-recorded'), sortable: true },
    date('when', '(Provenance.occurred as dateTime)', 'Provenance-when'),
  ],
};

const byCode: ReadonlyMap<ResourceType, ReadonlyMap<string, SearchParameter>> = new Map(
  RESOURCE_TYPES.map((type) => [type, new Map(searchParameters[type].map((row) => [row.code, row]))]),
);
