/** A well filled, valid resource of each type: the ground that the cases stand on. Patients and places are invented. */
const KNEE = {
  coding: [{ system: 'http://snomed.info/sct', code: '72696002', display: 'Knee region structure' }],
};
const text = (words: string): object => ({ text: words });
const EXPRESSION = { language: 'text/fhirpath', expression: 'true' };
const HL7 = 'http://terminology.hl7.org/CodeSystem';

export const samples = {
  Patient: {
    resourceType: 'Patient',
    id: 'p',
    identifier: [{ use: 'usual', system: 'http://hospital.example/mrn', value: '0042' }],
    active: true,
    name: [{ use: 'official', family: 'Kovač', given: ['Ana', 'Marija'] }],
    telecom: [{ system: 'phone', value: '+385 1 555 0100', use: 'home', rank: 1 }],
    gender: 'female',
    birthDate: '1948-03',
    deceasedBoolean: false,
    address: [{ use: 'home', type: 'both', line: ['Ulica 1'], city: 'Zagreb', country: 'HR' }],
    multipleBirthInteger: 2,
    contact: [{ relationship: [text('daughter')], name: { text: 'Iva Kovač' }, gender: 'female' }],
    communication: [{ language: { coding: [{ system: 'urn:ietf:bcp:47', code: 'hr' }] }, preferred: true }],
    generalPractitioner: [{ reference: 'Practitioner/n' }],
    managingOrganization: { reference: 'Organization/o' },
    link: [{ other: { reference: 'Patient/older' }, type: 'replaces' }],
  },
  Encounter: {
    resourceType: 'Encounter',
    status: 'in-progress',
    statusHistory: [{ status: 'arrived', period: { start: '2026-03-02', end: '2026-03-02' } }],
    class: { system: `${HL7}/v3-ActCode`, code: 'IMP' },
    classHistory: [{ class: { system: `${HL7}/v3-ActCode`, code: 'EMER' }, period: { start: '2026-03-01' } }],
    subject: { reference: 'Patient/p' },
    participant: [{ individual: { reference: 'Practitioner/n' } }],
    length: { value: 3, unit: 'days', system: 'http://unitsofmeasure.org', code: 'd' },
    diagnosis: [{ condition: { reference: 'Condition/c' }, rank: 1 }],
    hospitalization: { origin: { reference: 'Location/l' } },
    location: [{ location: { reference: 'Location/l' }, status: 'active' }],
  },
  Location: {
    resourceType: 'Location',
    status: 'active',
    name: 'Bay 4',
    mode: 'instance',
    position: { longitude: 15.9819, latitude: 45.815, altitude: -0.5 },
    managingOrganization: { reference: 'Organization/o' },
    hoursOfOperation: [{ daysOfWeek: ['mon', 'sun'], openingTime: '07:00:00', closingTime: '19:00:00' }],
  },
  Practitioner: {
    resourceType: 'Practitioner',
    name: [{ text: 'N. Horvat', prefix: ['Sr.'], suffix: ['RN'] }],
    gender: 'other',
    birthDate: '1980',
    qualification: [{ code: text('registered nurse'), issuer: { reference: 'Organization/o' } }],
    communication: [text('Croatian')],
  },
  PractitionerRole: {
    resourceType: 'PractitionerRole',
    practitioner: { reference: 'Practitioner/n' },
    organization: { reference: 'Organization/o' },
    availableTime: [{ daysOfWeek: ['tue'], availableStartTime: '07:00:00', availableEndTime: '19:00:00' }],
    notAvailable: [{ description: 'leave', during: { start: '2026-08' } }],
  },
  Organization: {
    resourceType: 'Organization',
    identifier: [{ system: 'http://hospital.example/units', value: '7B' }],
    name: 'Ward 7B',
    telecom: [{ system: 'email', value: 'ward7b@hospital.example', use: 'work' }],
    address: [{ use: 'work', text: 'Ulica 2' }],
    partOf: { display: 'Hospital' },
    contact: [{ name: { text: 'front desk' }, telecom: [{ system: 'phone', value: '1' }] }],
  },
  BodyStructure: {
    resourceType: 'BodyStructure',
    location: KNEE,
    locationQualifier: [text('left')],
    image: [{ contentType: 'image/png', url: 'http://hospital.example/knee.png' }],
    patient: { reference: 'Patient/p' },
  },
  Device: {
    resourceType: 'Device',
    udiCarrier: [{ deviceIdentifier: '00844588003288', entryType: 'barcode' }],
    status: 'active',
    deviceName: [{ name: 'hand dynamometer', type: 'user-friendly-name' }],
    specialization: [{ systemType: text('grip') }],
    version: [{ value: '2.1' }],
    property: [
      {
        type: text('range'),
        valueQuantity: [{ value: 90, unit: 'kg', system: 'http://unitsofmeasure.org', code: 'kg' }],
        valueCode: [text('mechanical')],
      },
    ],
  },
  Bundle: {
    resourceType: 'Bundle',
    type: 'searchset',
    total: 1,
    link: [{ relation: 'self', url: 'http://hospital.example/fhir/Patient?_id=p' }],
    entry: [
      {
        link: [{ relation: 'alternate', url: 'http://hospital.example/p' }],
        fullUrl: 'http://hospital.example/fhir/Patient/p',
        resource: { resourceType: 'Patient', id: 'p' },
        search: { mode: 'match', score: 1 },
      },
    ],
  },
  OperationOutcome: {
    resourceType: 'OperationOutcome',
    issue: [{ severity: 'error', code: 'code-invalid', expression: ['Patient.gender'] }],
  },
  Parameters: {
    resourceType: 'Parameters',
    parameter: [
      { name: 'mode', valueCode: 'create' },
      { name: 'resource', resource: { resourceType: 'Patient', id: 'p' } },
      { name: 'pair', part: [{ name: 'first', valueBoolean: true }] },
    ],
  },
  Measure: {
    resourceType: 'Measure',
    name: 'FullExams',
    status: 'draft',
    improvementNotation: { coding: [{ system: `${HL7}/measure-improvement-notation`, code: 'increase' }] },
    group: [
      {
        population: [{ criteria: EXPRESSION }],
        stratifier: [{ criteria: EXPRESSION }, { component: [{ criteria: EXPRESSION }] }],
      },
    ],
    supplementalData: [{ criteria: EXPRESSION }],
    relatedArtifact: [{ type: 'citation', citation: 'A citation.' }],
    effectivePeriod: { start: '2026' },
  },
  MeasureReport: {
    resourceType: 'MeasureReport',
    status: 'complete',
    type: 'summary',
    measure: 'http://hospital.example/Measure/full-exams',
    period: { start: '2026-01-01', end: '2026-01-31' },
    group: [
      {
        population: [{ count: 12 }],
        stratifier: [
          {
            stratum: [
              { value: text('nights'), population: [{ count: 4 }] },
              { component: [{ code: text('shift'), value: text('days') }] },
            ],
          },
        ],
      },
    ],
  },
  Provenance: {
    resourceType: 'Provenance',
    target: [{ reference: 'Observation/k' }],
    occurredPeriod: { start: '2026-03-02T08:00:00Z' },
    recorded: '2026-03-02T08:10:00.123+01:00',
    agent: [{ who: { reference: 'Practitioner/n' } }],
    entity: [
      {
        role: 'source',
        what: { identifier: { value: 'sheet 7' } },
        agent: [{ who: { reference: 'Practitioner/n' } }],
      },
    ],
    signature: [
      {
        type: [{ system: 'urn:iso-astm:E1762-95:2013', code: '1.2.840.10065.1.12.1.5' }],
        when: '2026-03-02T08:10:00Z',
        who: { reference: 'Practitioner/n' },
        targetFormat: 'application/fhir+json',
        sigFormat: 'application/jose',
        data: 'AAAA',
      },
    ],
  },
  AuditEvent: {
    resourceType: 'AuditEvent',
    type: { system: `${HL7}/audit-event-type`, code: 'rest' },
    action: 'R',
    recorded: '2026-03-02T08:10:00Z',
    outcome: '0',
    agent: [
      { who: { reference: 'Practitioner/n' }, requestor: true, network: { address: '10.0.0.1', type: '2' } },
    ],
    source: { observer: { reference: 'Device/server' } },
    entity: [
      {
        what: { reference: 'Patient/p' },
        query: 'X2lkPXA=',
        detail: [{ type: 'page', valueString: 'first' }],
      },
    ],
  },
  Subscription: {
    resourceType: 'Subscription',
    status: 'requested',
    reason: 'board of the ward',
    criteria: 'Observation?status=final',
    channel: { type: 'rest-hook', endpoint: 'https://board.example/hook', payload: 'application/fhir+json' },
  },
  DetectedIssue: {
    resourceType: 'DetectedIssue',
    status: 'final',
    severity: 'low',
    patient: { reference: 'Patient/p' },
    identifiedDateTime: '2026-03-02',
    author: { reference: 'Practitioner/n' },
    mitigation: [{ action: text('asked again'), author: { reference: 'Practitioner/n' } }],
  },
  Flag: {
    resourceType: 'Flag',
    status: 'active',
    code: text('weight bearing as tolerated'),
    subject: { reference: 'Patient/p' },
    period: { start: '2026-03-02' },
  },
  Condition: {
    resourceType: 'Condition',
    clinicalStatus: { coding: [{ system: `${HL7}/condition-clinical`, code: 'resolved' }] },
    verificationStatus: { coding: [{ system: `${HL7}/condition-ver-status`, code: 'confirmed' }] },
    code: text('fracture of the left hip'),
    bodySite: [text('left hip')],
    subject: { reference: 'Patient/p' },
    onsetAge: { value: 77, unit: 'a', system: 'http://unitsofmeasure.org', code: 'a' },
    stage: [{ summary: text('healed'), assessment: [{ reference: 'Observation/o' }] }],
    evidence: [{ detail: [{ reference: 'DiagnosticReport/d' }] }],
  },
  ServiceRequest: {
    resourceType: 'ServiceRequest',
    status: 'active',
    intent: 'order',
    priority: 'routine',
    code: text('examination of the hands'),
    orderDetail: [text('with grip')],
    quantityRatio: { numerator: { value: 1 }, denominator: { value: 1 } },
    subject: { reference: 'Patient/p' },
    occurrenceTiming: { repeat: { frequency: 1, period: 1, periodUnit: 'd' } },
    asNeededBoolean: false,
  },
  Group: {
    resourceType: 'Group',
    type: 'person',
    actual: true,
    quantity: 0,
    characteristic: [{ code: text('ward'), valueReference: { reference: 'Location/l' }, exclude: false }],
    member: [{ entity: { reference: 'Patient/p' }, inactive: false }],
  },
  ConceptMap: {
    resourceType: 'ConceptMap',
    name: 'Movements',
    status: 'active',
    sourceUri: 'http://hospital.example/movements',
    targetCanonical: 'http://loinc.org/vs|2.77',
    group: [
      {
        source: 'http://hospital.example/movements',
        target: 'http://loinc.org',
        element: [
          {
            code: 'flexion',
            target: [
              {
                code: '41337-5',
                equivalence: 'equal',
                dependsOn: [{ property: 'http://hospital.example/joint', value: 'knee' }],
                product: [{ property: 'http://hospital.example/side', value: 'left' }],
              },
            ],
          },
        ],
        unmapped: { mode: 'provided' },
      },
    ],
  },
  DiagnosticReport: {
    resourceType: 'DiagnosticReport',
    status: 'final',
    code: text('joint examination'),
    subject: { reference: 'Patient/p' },
    effectivePeriod: { start: '2026-03-02' },
    issued: '2026-03-02T08:10:00Z',
    result: [{ reference: 'Observation/o' }],
    media: [{ link: { reference: 'Media/m' } }],
    presentedForm: [{ contentType: 'text/html; charset=utf-8', data: 'PHA+' }],
  },
  CapabilityStatement: {
    resourceType: 'CapabilityStatement',
    name: 'Ledger',
    status: 'active',
    date: '2026-03',
    kind: 'instance',
    software: { name: 'a server' },
    implementation: { description: 'the server of the ward', url: 'https://hospital.example/fhir' },
    fhirVersion: '4.0.1',
    format: ['json', 'application/fhir+json'],
    patchFormat: ['application/json-patch+json'],
    rest: [
      {
        mode: 'server',
        security: { cors: true },
        resource: [
          {
            type: 'Observation',
            interaction: [{ code: 'read' }],
            versioning: 'versioned',
            conditionalRead: 'full-support',
            conditionalDelete: 'not-supported',
            referencePolicy: ['literal', 'logical'],
            searchParam: [{ name: 'code', type: 'token' }],
            operation: [
              { name: 'lastn', definition: 'http://hl7.org/fhir/OperationDefinition/Observation-lastn' },
            ],
          },
        ],
        interaction: [{ code: 'transaction' }],
        searchParam: [{ name: '_id', type: 'token' }],
        operation: [{ name: 'meta', definition: 'http://hl7.org/fhir/OperationDefinition/Resource-meta' }],
      },
    ],
    messaging: [
      {
        endpoint: [{ protocol: { code: 'mllp' }, address: 'mllp://hospital.example:2575' }],
        supportedMessage: [{ mode: 'receiver', definition: 'http://hospital.example/MessageDefinition/m' }],
      },
    ],
    document: [{ mode: 'producer', profile: 'http://hospital.example/StructureDefinition/exam' }],
  },
  StructureDefinition: {
    resourceType: 'StructureDefinition',
    url: 'http://hospital.example/StructureDefinition/knee',
    name: 'Knee',
    status: 'draft',
    fhirVersion: '4.0.1',
    mapping: [{ identity: 'loinc', name: 'LOINC' }],
    kind: 'resource',
    abstract: false,
    context: [{ type: 'element', expression: 'Patient' }],
    type: 'Observation',
    baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Observation',
    derivation: 'constraint',
    snapshot: {
      element: [
        {
          id: 'Observation',
          path: 'Observation',
          definition: 'An observation.',
          min: 0,
          max: '*',
          base: { path: 'Observation', min: 0, max: '*' },
        },
        {
          id: 'Observation.status',
          path: 'Observation.status',
          definition: 'Its status.',
          min: 1,
          max: '1',
          base: { path: 'Observation.status', min: 1, max: '1' },
          type: [{ code: 'code' }],
          binding: { strength: 'required', valueSet: 'http://hl7.org/fhir/ValueSet/observation-status' },
        },
      ],
    },
    differential: {
      element: [
        { id: 'Observation', path: 'Observation', short: 'Knee' },
        {
          id: 'Observation.subject',
          path: 'Observation.subject',
          representation: ['xmlAttr'],
          slicing: { discriminator: [{ type: 'value', path: '$this' }], rules: 'open' },
          min: 1,
          base: { path: 'Observation.subject', min: 0, max: '1' },
          type: [
            {
              code: 'Reference',
              targetProfile: ['http://hl7.org/fhir/StructureDefinition/Patient'],
              aggregation: ['referenced'],
              versioning: 'either',
            },
          ],
          example: [{ label: 'one', valueReference: { reference: 'Patient/p' } }],
          constraint: [
            { key: 'knee-1', severity: 'error', human: 'There is a patient.', expression: 'true' },
          ],
          mapping: [{ identity: 'loinc', language: 'application/fhir', map: 'subject' }],
        },
      ],
    },
  },
  SearchParameter: {
    resourceType: 'SearchParameter',
    url: 'http://hospital.example/SearchParameter/side',
    name: 'side',
    status: 'active',
    description: 'Side of the body.',
    code: 'side',
    base: ['Observation'],
    type: 'reference',
    expression: 'Observation.subject',
    xpath: 'f:Observation/f:subject',
    xpathUsage: 'normal',
    target: ['Patient'],
    comparator: ['eq'],
    modifier: ['exact'],
    component: [{ definition: 'http://hospital.example/SearchParameter/part', expression: 'code' }],
  },
  CodeSystem: {
    resourceType: 'CodeSystem',
    name: 'Movements',
    status: 'active',
    hierarchyMeaning: 'is-a',
    content: 'complete',
    filter: [{ code: 'concept', operator: ['is-a', '='], value: 'a code' }],
    property: [{ code: 'joint', type: 'string' }],
    concept: [
      {
        code: 'flexion',
        designation: [{ language: 'de-AT', value: 'Beugung' }],
        property: [{ code: 'joint', valueString: 'knee' }],
        concept: [{ code: 'deep-flexion' }],
      },
      { code: 'extension' },
    ],
  },
  ValueSet: {
    resourceType: 'ValueSet',
    name: 'Movements',
    status: 'active',
    compose: {
      lockedDate: '2026-03-02',
      include: [
        {
          system: 'http://hospital.example/movements',
          concept: [{ code: 'flexion', designation: [{ language: 'hr', value: 'fleksija' }] }],
        },
        {
          system: 'http://snomed.info/sct',
          filter: [{ property: 'concept', op: 'is-a', value: '72696002' }],
        },
        { valueSet: ['http://hospital.example/ValueSet/others'] },
      ],
      exclude: [{ system: 'http://hospital.example/movements', concept: [{ code: 'extension' }] }],
    },
    expansion: {
      timestamp: '2026-03-02',
      parameter: [{ name: 'activeOnly', valueBoolean: true }],
      contains: [
        {
          abstract: true,
          display: 'Movements',
          contains: [{ system: 'http://hospital.example/movements', code: 'flexion' }],
        },
      ],
    },
  },
  OperationDefinition: {
    resourceType: 'OperationDefinition',
    name: 'Latest',
    status: 'active',
    kind: 'operation',
    code: 'latest',
    resource: ['Observation'],
    system: false,
    type: true,
    instance: false,
    parameter: [
      {
        name: 'name',
        use: 'in',
        min: 0,
        max: '1',
        type: 'string',
        searchType: 'string',
        binding: { strength: 'required', valueSet: 'http://hospital.example/ValueSet/names' },
        referencedFrom: [{ source: 'other' }],
      },
      {
        name: 'pair',
        use: 'out',
        min: 0,
        max: '*',
        part: [
          {
            name: 'who',
            use: 'out',
            min: 1,
            max: '1',
            type: 'Reference',
          },
        ],
      },
    ],
  },
} as const;

export type SampledType = keyof typeof samples;

/** The sample of the type that a place begins with. */
export function sampleOf(place: string): object {
  const type = place.split('.')[0] ?? '';
  const sample = Object.entries(samples).find(([name]) => name === type)?.[1];
  if (sample === undefined) throw new Error(`no sample of ${type}`);
  return sample;
}
