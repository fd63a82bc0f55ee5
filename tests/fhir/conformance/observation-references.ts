import { ABSENT, holding, HELD, observation, page, type RuleCases } from './observation-case.js';

const LITERAL = page('references.html#literal');
const CONTAINED = page('references.html#contained');

/** What the references of an Observation may point to (R4 observation, "Resource Content"), and one that they may not. */
const TARGETS: readonly {
  readonly element: string;
  readonly takes: readonly string[];
  readonly refuses: string;
}[] = [
  {
    element: 'basedOn',
    takes: [
      'CarePlan',
      'DeviceRequest',
      'ImmunizationRecommendation',
      'MedicationRequest',
      'NutritionOrder',
      'ServiceRequest',
    ],
    refuses: 'Task',
  },
  {
    element: 'partOf',
    takes: [
      'MedicationAdministration',
      'MedicationDispense',
      'MedicationStatement',
      'Procedure',
      'Immunization',
      'ImagingStudy',
    ],
    refuses: 'Observation',
  },
  { element: 'subject', takes: ['Patient', 'Group', 'Device', 'Location'], refuses: 'Practitioner' },
  { element: 'encounter', takes: ['Encounter'], refuses: 'EpisodeOfCare' },
  {
    element: 'performer',
    takes: ['Practitioner', 'PractitionerRole', 'Organization', 'CareTeam', 'Patient', 'RelatedPerson'],
    refuses: 'Device',
  },
  { element: 'specimen', takes: ['Specimen'], refuses: 'BodyStructure' },
  { element: 'device', takes: ['Device', 'DeviceMetric'], refuses: 'DeviceDefinition' },
  {
    element: 'hasMember',
    takes: ['Observation', 'QuestionnaireResponse', 'MolecularSequence'],
    refuses: 'DiagnosticReport',
  },
  {
    element: 'derivedFrom',
    takes: [
      'DocumentReference',
      'ImagingStudy',
      'Media',
      'QuestionnaireResponse',
      'Observation',
      'MolecularSequence',
    ],
    refuses: 'Binary',
  },
];

const SINGLE = new Set(['subject', 'encounter', 'specimen', 'device']);
const referring = (element: string, types: readonly string[]): object => {
  const references = types.map((type) => ({ reference: `${type}/1` }));
  return observation({ [element]: SINGLE.has(element) ? references[0] : references });
};

const targetCases: readonly RuleCases[] = TARGETS.map(({ element, takes, refuses }) => ({
  rule: 'reference-target',
  section: page(`observation-definitions.html#Observation.${element}`),
  on: `Observation.${element}`,
  keeps: SINGLE.has(element)
    ? Object.fromEntries(takes.map((type) => [`a ${element} that is a ${type}`, referring(element, [type])]))
    : { [`a ${element} of each type that it may be of`]: referring(element, takes) },
  breaks: {
    [`a ${element} that is a ${refuses}`]: [
      `Observation.${element}${SINGLE.has(element) ? '' : '[0]'}`,
      referring(element, [refuses]),
    ],
  },
}));

const FOCUS_TYPES = ['Patient', 'Device', 'ImplementationGuide', 'Binary', 'Parameters'];

const formCases: readonly RuleCases[] = [
  ...targetCases,
  {
    rule: 'reference-target',
    section: page('observation-definitions.html#Observation.focus'),
    keeps: Object.fromEntries(
      FOCUS_TYPES.map((type) => [`a focus that is a ${type}, as any may be`, referring('focus', [type])]),
    ),
    breaks: {
      'a subject that is a practitioner on another server': [
        'Observation.subject',
        observation({ subject: { reference: 'https://example.org/fhir/r4/Practitioner/7' } }),
      ],
      'a subject that is a version of a practitioner': [
        'Observation.subject',
        observation({ subject: { reference: 'Practitioner/7/_history/3' } }),
      ],
      'a subject that is a contained practitioner': [
        'Observation.subject',
        observation({
          contained: [{ resourceType: 'Practitioner', id: 'p' }],
          subject: { reference: '#p' },
        }),
      ],
      'a subject that is a practitioner by its type and identifier': [
        'Observation.subject',
        observation({ subject: { type: 'Practitioner', identifier: { value: '7' } } }),
      ],
      'a third performer that is a device': [
        'Observation.performer[2]',
        observation({
          performer: [{ reference: 'Practitioner/1' }, { display: 'B. Nurse' }, { reference: 'Device/1' }],
        }),
      ],
      'a member that is a patient, in a contained observation': [
        'Observation.contained[0].hasMember[0]',
        observation({
          contained: [
            {
              resourceType: 'Observation',
              id: 'inner',
              status: 'final',
              code: { text: 'Grip' },
              hasMember: [{ reference: 'Patient/1' }],
            },
          ],
          hasMember: [{ reference: '#inner' }],
        }),
      ],
      'the observation itself as its own subject': [
        'Observation.subject',
        observation({ subject: { reference: '#' } }),
      ],
    },
  },
  {
    rule: 'reference-target',
    section: page('datatypes.html#Annotation'),
    on: 'Annotation.author[x]',
    keeps: Object.fromEntries(
      ['Practitioner', 'Patient', 'RelatedPerson', 'Organization'].map((type) => [
        `a note by a ${type}`,
        observation({ note: [{ authorReference: { reference: `${type}/1` }, text: 'seated' }] }),
      ]),
    ),
    breaks: {
      'a note by a device': [
        'Observation.note[0].author',
        observation({ note: [{ authorReference: { reference: 'Device/1' }, text: 'seated' }] }),
      ],
    },
  },
  {
    rule: 'reference-target',
    section: page('datatypes.html#Identifier'),
    on: 'Identifier.assigner',
    keeps: {
      'an identifier assigned by an organization': observation({
        identifier: [{ value: '7', assigner: { reference: 'Organization/1' } }],
      }),
      'an identifier assigned by someone with a name alone': observation({
        identifier: [{ value: '7', assigner: { display: 'Ward 4' } }],
      }),
    },
    breaks: {
      'an identifier assigned by a practitioner': [
        'Observation.identifier[0].assigner',
        observation({ identifier: [{ value: '7', assigner: { reference: 'Practitioner/1' } }] }),
      ],
    },
  },
  {
    rule: 'reference-form',
    section: LITERAL,
    on: 'Reference.reference',
    keeps: {
      'a relative reference': observation({ subject: { reference: 'Patient/1' } }),
      'a reference to a version': observation({ subject: { reference: 'Patient/1/_history/2' } }),
      'an absolute reference': observation({
        subject: { reference: 'https://example.org/fhir/Patient/a.b-C' },
      }),
      'an absolute reference to a version, on a port': observation({
        subject: { reference: 'http://localhost:8080/r4/Patient/1/_history/a' },
      }),
      'a reference to a UUID': observation({
        subject: { reference: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7' },
      }),
      'a reference to an OID': observation({ subject: { reference: 'urn:oid:1.2.3' } }),
      'a reference to a URL that tells no type': observation({
        subject: { reference: 'http://example.org/p?id=7' },
      }),
      'an id of 64 characters in a reference': observation({
        subject: { reference: `Patient/${'a'.repeat(64)}` },
      }),
      'a conditional reference, as a transaction has it': observation({
        subject: { reference: 'Patient?identifier=http://example.org/mrn|7' },
      }),
    },
    breaks: {
      'a type that R4 does not have': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Person1/7' } }),
      ],
      'a type in small letters': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'patient/7' } }),
      ],
      'an id without a type': ['Observation.subject.reference', observation({ subject: { reference: '7' } })],
      'a type without an id': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Patient/' } }),
      ],
      'an id of 65 characters in a reference': [
        'Observation.subject.reference',
        observation({ subject: { reference: `Patient/${'a'.repeat(65)}` } }),
      ],
      'an id with an underscore in a reference': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Patient/left_hand' } }),
      ],
      'a UUID that is none': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'urn:uuid:7' } }),
      ],
      'a part of a resource elsewhere': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Patient/7#name' } }),
      ],
      'a space before the type': [
        'Observation.subject.reference',
        observation({ subject: { reference: ' Patient/7' } }),
      ],
      'a reference without a scheme to another server': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'example.org/fhir/Patient/7' } }),
      ],
      'a slash before the type': [
        'Observation.subject.reference',
        observation({ subject: { reference: '/Patient/7' } }),
      ],
      'a reference with a space in it': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Patient/7 8' } }),
      ],
      'a version without its number': [
        'Observation.subject.reference',
        observation({ subject: { reference: 'Patient/7/_history' } }),
      ],
    },
  },
  {
    rule: 'reference-type',
    section: page('references-definitions.html#Reference.type'),
    on: 'Reference.type',
    keeps: {
      'a reference that says its type': observation({ subject: { reference: 'Patient/1', type: 'Patient' } }),
      'a reference that says its type by URL': observation({
        subject: { reference: 'Patient/1', type: 'http://hl7.org/fhir/StructureDefinition/Patient' },
      }),
      'a UUID that says its type': observation({
        subject: { reference: 'urn:uuid:53fefa32-fcbb-4ff8-8a92-55ee120877b7', type: 'Patient' },
      }),
      'a type of a logical model': observation({
        focus: [{ type: 'http://example.org/StructureDefinition/limb', display: 'the left arm' }],
      }),
    },
    breaks: {
      'a type that is not that of the reference': [
        'Observation.subject.type',
        observation({ subject: { reference: 'Patient/1', type: 'Group' } }),
      ],
      'a type by URL that is not that of the reference': [
        'Observation.subject.type',
        observation({
          subject: { reference: 'Patient/1', type: 'http://hl7.org/fhir/StructureDefinition/Device' },
        }),
      ],
      'a type that is not that of the contained resource': [
        'Observation.subject.type',
        observation({
          contained: [{ resourceType: 'Patient', id: 'p' }],
          subject: { reference: '#p', type: 'Group' },
        }),
      ],
    },
  },
  {
    rule: 'reference-form',
    section: page('references.html#logical'),
    keeps: {
      'a subject by identifier alone': observation({
        subject: { identifier: { system: 'http://example.org/mrn', value: '7' } },
      }),
      'a subject by type and identifier': observation({
        subject: { type: 'Patient', identifier: { value: '7' } },
      }),
      'a subject by name alone': observation({ subject: { display: 'the donor' } }),
      'a subject by reference, type, identifier and name': observation({
        subject: {
          reference: 'Patient/1',
          type: 'Patient',
          identifier: { value: '7' },
          display: 'A. Patient',
        },
      }),
      'a subject that is said to be absent': observation({ subject: ABSENT }),
      'a reference whose text is said to be absent': observation({
        subject: { _reference: ABSENT, display: 'the donor' },
      }),
      'an extension that refers to any resource': holding({
        valueReference: { reference: 'Questionnaire/1' },
      }),
    },
    breaks: {
      'an extension that refers to no type': [
        `${HELD}.reference`,
        holding({ valueReference: { reference: 'Questionaire/1' } }),
      ],
    },
  },
];

const patient = (members: object = {}): object => ({ resourceType: 'Patient', id: 'p', ...members });
const containing = (members: object): object =>
  observation({ contained: [patient(members)], subject: { reference: '#p' } });

const containedCases: readonly RuleCases[] = [
  {
    rule: 'ref-1',
    section: CONTAINED,
    keeps: {
      'a subject that is contained': containing({ gender: 'female' }),
      'a member that is the observation itself': observation({ hasMember: [{ reference: '#' }] }),
      'a contained resource with a narrative of its own': containing({
        text: { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">A. Patient</div>' },
      }),
      'a contained practitioner who refers to the contained patient': observation({
        contained: [
          patient({ generalPractitioner: [{ reference: '#dr' }] }),
          { resourceType: 'Practitioner', id: 'dr' },
        ],
        subject: { reference: '#p' },
      }),
      'a contained observation that refers to what contains it': observation({
        contained: [
          {
            resourceType: 'Observation',
            id: 'part',
            status: 'final',
            code: { text: 'Grip' },
            derivedFrom: [{ reference: '#' }],
          },
        ],
      }),
    },
    breaks: {
      'a reference into a resource that contains nothing': [
        'Observation.subject',
        observation({ subject: { reference: '#p' } }),
      ],
      'a reference to an id that only an element has': [
        'Observation.subject',
        observation({ bodySite: { id: 'site', text: 'left hand' }, subject: { reference: '#site' } }),
      ],
      'a reference to an id in other letters': [
        'Observation.performer[0]',
        observation({
          contained: [patient()],
          subject: { reference: '#p' },
          performer: [{ reference: '#P' }],
        }),
      ],
      'a contained resource that refers to one which is not contained': [
        'Observation.contained[0].managingOrganization',
        containing({ managingOrganization: { reference: '#ward' } }),
      ],
      'a reference within an extension to what is not contained': [
        HELD,
        holding({ valueReference: { reference: '#x' } }),
      ],
      'the resource by its own id': [
        'Observation.focus[0]',
        observation({ id: 'me', focus: [{ reference: '#me' }] }),
      ],
    },
  },
  {
    rule: 'dom-2',
    section: page('domainresource.html#invs'),
    keeps: {
      'two contained resources side by side': observation({
        contained: [patient(), { resourceType: 'Practitioner', id: 'n' }],
        subject: { reference: '#p' },
        performer: [{ reference: '#n' }],
      }),
    },
    breaks: {
      'a contained resource that contains another': [
        'Observation',
        containing({
          contained: [
            {
              resourceType: 'Provenance',
              id: 'who',
              target: [{ reference: '#' }],
              recorded: '2024-03-05T07:30:00Z',
              agent: [{ who: { display: 'A. Nurse' } }],
            },
          ],
        }),
      ],
    },
  },
  {
    rule: 'dom-3',
    section: page('domainresource.html#invs'),
    keeps: {
      'a contained resource that an extension refers to': {
        ...holding({ valueReference: { reference: '#p' } }),
        contained: [patient()],
      },
      'a contained resource that a URI names': {
        ...holding({ valueUri: '#p' }),
        contained: [patient()],
      },
      'a contained resource that another contained one refers to': observation({
        contained: [
          patient({ managingOrganization: { reference: '#ward' } }),
          { resourceType: 'Organization', id: 'ward', name: 'Ward 4' },
        ],
        subject: { reference: '#p' },
      }),
      'a contained resource that refers to what contains it': observation({
        contained: [
          {
            resourceType: 'Provenance',
            id: 'who',
            target: [{ reference: '#' }],
            recorded: '2024-03-05T07:30:00Z',
            agent: [{ who: { display: 'A. Nurse' } }],
          },
        ],
      }),
    },
    breaks: {
      'a contained resource that nothing refers to': ['Observation', observation({ contained: [patient()] })],
      'a second contained resource that nothing refers to': [
        'Observation',
        observation({
          contained: [patient(), { resourceType: 'Practitioner', id: 'ward' }],
          subject: { reference: '#p' },
        }),
      ],
      'a contained resource without an id, to which nothing can refer': [
        'Observation',
        observation({ contained: [{ resourceType: 'Patient' }] }),
      ],
      'a contained resource that is only named in a text': [
        'Observation',
        observation({ contained: [patient()], note: [{ text: 'see #p' }] }),
      ],
      'a contained resource that is referred to as if it stood alone': [
        'Observation',
        observation({ contained: [patient()], subject: { reference: 'Patient/p' } }),
      ],
    },
  },
  {
    rule: 'contained-id',
    section: CONTAINED,
    on: 'DomainResource.contained',
    keeps: {
      'a contained resource with the id of what contains it': observation({
        id: 'p',
        contained: [patient()],
        subject: { reference: '#p' },
      }),
    },
    breaks: {
      'two contained resources of one id': [
        'Observation.contained',
        observation({
          contained: [patient(), patient({ gender: 'female' })],
          subject: { reference: '#p' },
        }),
      ],
    },
  },
  {
    rule: 'dom-4',
    section: page('domainresource.html#invs'),
    keeps: {
      'a contained resource that claims a profile and has a tag': containing({
        meta: { profile: ['http://hl7.org/fhir/StructureDefinition/Patient'], tag: [{ code: 'x' }] },
      }),
    },
    breaks: {
      'a contained resource with a version': ['Observation', containing({ meta: { versionId: '1' } })],
      'a contained resource with a time of change': [
        'Observation',
        containing({ meta: { lastUpdated: '2024-03-05T07:30:00Z' } }),
      ],
    },
  },
  {
    rule: 'dom-5',
    section: page('domainresource.html#invs'),
    keeps: {
      'a security label on what contains another resource': {
        ...containing({}),
        meta: {
          security: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-Confidentiality', code: 'R' }],
        },
      },
    },
    breaks: {
      'a contained resource with a security label': [
        'Observation',
        containing({
          meta: {
            security: [{ system: 'http://terminology.hl7.org/CodeSystem/v3-Confidentiality', code: 'R' }],
          },
        }),
      ],
    },
  },
  {
    rule: 'resource-type',
    section: CONTAINED,
    on: 'DomainResource.contained',
    keeps: {
      'a contained resource of a type that is rarely seen': observation({
        contained: [{ resourceType: 'Specimen', id: 's' }],
        specimen: { reference: '#s' },
      }),
    },
    breaks: {
      'a contained resource without a type': [
        'Observation.contained[0]',
        observation({ contained: [{ id: 'p' }], focus: [{ reference: '#p' }] }),
      ],
      'a contained resource of an abstract type': [
        'Observation.contained[0]',
        observation({
          contained: [{ resourceType: 'DomainResource', id: 'p' }],
          focus: [{ reference: '#p' }],
        }),
      ],
      'a contained resource of no type of R4': [
        'Observation.contained[0]',
        observation({ contained: [{ resourceType: 'Limb', id: 'p' }], focus: [{ reference: '#p' }] }),
      ],
      'a contained datatype': [
        'Observation.contained[0]',
        observation({
          contained: [{ resourceType: 'Quantity', id: 'p', value: 3 }],
          focus: [{ reference: '#p' }],
        }),
      ],
    },
  },
  {
    rule: 'json-type',
    section: CONTAINED,
    on: 'DomainResource.contained',
    keeps: { 'a contained resource in an array of one': containing({}) },
    breaks: {
      'a contained resource without its array': [
        'Observation.contained',
        observation({ contained: { resourceType: 'Patient', id: 'p' } }),
      ],
      'a contained resource that is a text': [
        'Observation.contained[0]',
        observation({ contained: ['Patient/1'] }),
      ],
    },
  },
  {
    rule: 'cardinality',
    section: CONTAINED,
    keeps: {
      'a contained observation of the least that one has': observation({
        contained: [{ resourceType: 'Observation', id: 'part', status: 'final', code: { text: 'Grip' } }],
        hasMember: [{ reference: '#part' }],
      }),
    },
    breaks: {
      'a contained observation without a status': [
        'Observation.contained[0].status',
        observation({
          contained: [{ resourceType: 'Observation', id: 'part', code: { text: 'Grip' } }],
          hasMember: [{ reference: '#part' }],
        }),
      ],
    },
  },
  {
    rule: 'unknown-element',
    section: CONTAINED,
    breaks: {
      'a contained patient with an element of an observation': [
        'Observation.contained[0].valueString',
        containing({ valueString: 'weak' }),
      ],
    },
  },
  {
    rule: 'required-binding',
    section: CONTAINED,
    on: 'Patient.gender',
    keeps: { 'a contained patient of unknown gender': containing({ gender: 'unknown' }) },
    breaks: {
      'a contained patient of a gender by one letter': [
        'Observation.contained[0].gender',
        containing({ gender: 'F' }),
      ],
    },
  },
];

export const referenceCases: readonly RuleCases[] = [...formCases, ...containedCases];
