import { breaks, keeps, type OtherCase, page, warns, withAt } from './other-case.js';
import { samples } from './other-samples.js';

/** Resources within resources: contained, in the entries of a Bundle and in Parameters; and references between them. */
const CONTAINED = page('references.html#contained');
const REFERENCES = page('references.html#literal');
const DOMAIN = page('domainresource.html#invs');
const PARAMETERS = page('parameters.html#invs');
const patient = { resourceType: 'Patient', id: 'p' };
const organization = { resourceType: 'Organization', id: 'o', name: 'Ward 7B' };
/** A patient with resources of its own. */
const holding = (contained: readonly object[], changes: object = {}): object => ({
  resourceType: 'Patient',
  contained,
  managingOrganization: { reference: '#o' },
  ...changes,
});
const entry = (...resources: readonly object[]): object => ({
  resourceType: 'Bundle',
  type: 'collection',
  entry: resources.map((resource) => ({ resource })),
});
const parameter = (...parameters: readonly object[]): object => ({
  resourceType: 'Parameters',
  parameter: parameters,
});
const PROVENANCE = {
  resourceType: 'Provenance',
  target: [{ reference: '#' }],
  recorded: '2026-03-02T08:10:00Z',
  agent: [{ who: { display: 'N.' } }],
};
const INNER = 'Bundle.entry[0].resource';
const RESOLVED = page('bundle.html#references');
const URN = 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520';
/** A bundle of a target by its full URL, and a flag that refers to it. */
const referring = (fullUrl: string, target: object): object => ({
  resourceType: 'Bundle',
  type: 'collection',
  entry: [{ fullUrl, resource: target }, { resource: { ...samples.Flag, subject: { reference: fullUrl } } }],
});

const containedCases: readonly OtherCase[] = [
  keeps('ref-1', CONTAINED, 'a contained organization that is referred to', holding([organization])),
  keeps(
    'dom-3',
    CONTAINED,
    'a contained resource that is referred to from another contained one',
    holding(
      [
        organization,
        { ...organization, id: 'o2', name: 'Hospital' },
        { ...organization, id: 'o3', name: 'City', partOf: { reference: '#o2' } },
      ],
      {
        contact: [{ organization: { reference: '#o3' } }],
      },
    ),
  ),
  keeps('dom-3', CONTAINED, 'a contained provenance that refers to what contains it', {
    ...samples.Flag,
    contained: [{ ...PROVENANCE, id: 'v' }],
  }),
  keeps('dom-3', CONTAINED, 'a contained value set that a canonical URL refers to', {
    ...samples.ConceptMap,
    contained: [{ resourceType: 'ValueSet', id: 'v', status: 'draft' }],
    targetCanonical: '#v',
  }),
  keeps('ref-1', CONTAINED, 'a reference from a contained resource to its neighbour', {
    ...samples.Flag,
    contained: [
      { resourceType: 'Practitioner', id: 'n' },
      { resourceType: 'PractitionerRole', id: 'r', practitioner: { reference: '#n' } },
    ],
    author: { reference: '#r' },
  }),
  keeps('reference-target', CONTAINED, 'a contained device as the author', {
    ...samples.Flag,
    contained: [{ resourceType: 'Device', id: 'd' }],
    author: { reference: '#d' },
  }),
  breaks('reference-target', 'Flag.author', CONTAINED, 'a contained location as the author', {
    ...samples.Flag,
    contained: [{ resourceType: 'Location', id: 'l' }],
    author: { reference: '#l' },
  }),
  breaks('ref-1', 'Patient.managingOrganization', CONTAINED, 'a reference to what is not contained', {
    resourceType: 'Patient',
    managingOrganization: { reference: '#o' },
  }),
  breaks(
    'ref-1',
    'Patient.contained[0].partOf',
    CONTAINED,
    'a reference from a contained resource to what is not contained',
    holding([{ ...organization, partOf: { reference: '#x' } }]),
  ),
  breaks(
    'dom-2',
    'Patient',
    DOMAIN,
    'a contained resource that contains another',
    holding([
      {
        ...organization,
        contained: [{ resourceType: 'Organization', id: 'x', name: 'X' }],
        partOf: { reference: '#x' },
      },
      { ...organization, id: 'x' },
    ]),
  ),
  breaks(
    'dom-3',
    'Patient',
    DOMAIN,
    'a contained resource that nothing refers to',
    holding([organization, { ...organization, id: 'lost' }]),
  ),
  breaks(
    'dom-3',
    'Patient',
    DOMAIN,
    'a contained resource without an id',
    holding([organization, { resourceType: 'Organization', name: 'lost' }]),
  ),
  breaks(
    'contained-id',
    'Patient.contained',
    CONTAINED,
    'two contained resources of one id',
    holding([organization, { ...organization, name: 'Ward 7C' }]),
  ),
  breaks(
    'dom-4',
    'Patient',
    DOMAIN,
    'a contained resource of a version',
    holding([{ ...organization, meta: { versionId: '1' } }]),
  ),
  breaks(
    'dom-4',
    'Patient',
    DOMAIN,
    'a contained resource with a time of change',
    holding([{ ...organization, meta: { lastUpdated: '2026-03-02T08:00:00Z' } }]),
  ),
  keeps(
    'dom-4',
    DOMAIN,
    'a contained resource with a tag',
    holding([{ ...organization, meta: { tag: [{ code: 'a' }] } }]),
  ),
  breaks(
    'dom-5',
    'Patient',
    DOMAIN,
    'a contained resource with a security label',
    holding([{ ...organization, meta: { security: [{ code: 'R' }] } }]),
  ),
  breaks(
    'primitive-type',
    'Patient.contained[0].id',
    page('resource.html#id'),
    'a contained resource of an id with a "#"',
    holding([{ ...organization, id: '#o' }], { managingOrganization: { reference: '##o' } }),
  ),
  breaks(
    'org-1',
    'Patient.contained[0]',
    CONTAINED,
    'a contained organization without a name',
    holding([{ resourceType: 'Organization', id: 'o' }]),
  ),
  breaks(
    'unknown-element',
    'Patient.contained[0].gender',
    CONTAINED,
    'a contained organization with a gender',
    holding([{ ...organization, gender: 'other' }]),
  ),
  breaks(
    'resource-type',
    'Patient.contained[0]',
    CONTAINED,
    'a contained resource of no type',
    holding([{ id: 'o' }]),
  ),
  breaks(
    'resource-type',
    'Patient.contained[0]',
    CONTAINED,
    'a contained resource of a type that the standard has not',
    holding([{ ...organization, resourceType: 'Ward' }]),
  ),
  breaks('json-type', 'Patient.contained[0]', CONTAINED, 'a contained resource that is a text', {
    resourceType: 'Patient',
    contained: ['Organization/o'],
  }),
  breaks(
    'unknown-element',
    'Bundle.contained',
    page('bundle.html#resource'),
    'a bundle, which is no domain resource, that contains',
    { ...samples.Bundle, contained: [patient] },
  ),
  breaks(
    'unknown-element',
    'Parameters.text',
    page('parameters.html#resource'),
    'parameters, which are no domain resource, with a narrative',
    {
      ...samples.Parameters,
      text: { status: 'empty', div: '<div xmlns="http://www.w3.org/1999/xhtml">a</div>' },
    },
  ),
  breaks(
    'unknown-element',
    'Bundle.extension',
    page('bundle.html#resource'),
    'a bundle with an extension at its root',
    { ...samples.Bundle, extension: [{ url: 'http://hospital.example/a', valueBoolean: true }] },
  ),
];

const entryCases: readonly OtherCase[] = [
  keeps(
    'ref-1',
    CONTAINED,
    'one local id in two entries, each with its own',
    entry(holding([organization]), holding([organization])),
  ),
  breaks(
    'ref-1',
    'Bundle.entry[1].resource.managingOrganization',
    CONTAINED,
    'a reference to what another entry contains',
    entry(holding([organization]), { resourceType: 'Patient', managingOrganization: { reference: '#o' } }),
  ),
  breaks(
    'ref-1',
    `${INNER}.managingOrganization`,
    CONTAINED,
    'a reference by "#id" to another entry',
    entry({ resourceType: 'Patient', managingOrganization: { reference: '#o' } }, organization),
  ),
  breaks(
    'dom-3',
    INNER,
    DOMAIN,
    'an entry that contains what nothing refers to',
    entry({ resourceType: 'Patient', contained: [organization] }),
  ),
  breaks(
    'dom-3',
    INNER,
    DOMAIN,
    'an entry that contains what only another entry refers to by its id',
    entry(
      { resourceType: 'Patient', contained: [organization] },
      { resourceType: 'Patient', managingOrganization: { display: '#o' } },
    ),
  ),
  breaks(
    'required-binding',
    'Bundle.entry[1200].resource.gender',
    page('bundle.html#resource'),
    'a fault after more than a thousand entries without a narrative, of each of which a warning tells',
    entry(...Array.from({ length: 1200 }, () => patient), { ...patient, gender: 'f' }),
  ),
  keeps(
    'resource-type',
    page('bundle.html#resource'),
    'a bundle in an entry of a bundle',
    entry(samples.Bundle, entry(samples.Parameters)),
  ),
  breaks(
    'bdl-1',
    INNER,
    page('bundle.html#invs'),
    'a bundle in a bundle with a total of its own that may not be',
    entry({ ...(entry(patient) as Record<string, unknown>), total: 1 }),
  ),
  breaks(
    'required-binding',
    `${INNER}.entry[1].resource.gender`,
    page('bundle.html#resource'),
    'a fault two bundles deep',
    entry(entry(patient, { ...patient, gender: 'f' })),
  ),
  breaks(
    'ref-1',
    `${INNER}.entry[0].resource.managingOrganization`,
    CONTAINED,
    'a reference to what is not contained two bundles deep',
    entry(entry({ resourceType: 'Patient', managingOrganization: { reference: '#o' } })),
  ),
  keeps(
    'obs-7',
    page('observation.html#invs'),
    'two observations in a bundle, of which one has the code of a component of the other',
    entry(observation('a', {}), observation('b', { component: [{ code: coded('a'), valueInteger: 1 }] })),
  ),
  breaks(
    'obs-7',
    INNER,
    page('observation.html#invs'),
    'an observation in a bundle with a value that its component repeats',
    entry(observation('a', { component: [{ code: coded('a'), valueInteger: 1 }] })),
  ),
  breaks(
    'obs-6',
    'Bundle.entry[0].response.outcome',
    page('bundle.html#resource'),
    'a fault in the outcome of a response',
    {
      resourceType: 'Bundle',
      type: 'batch-response',
      entry: [
        { response: { status: '200', outcome: observation('a', { dataAbsentReason: { text: 'refused' } }) } },
      ],
    },
  ),
  breaks('resource-type', INNER, page('json.html#resources'), 'an entry without a type', entry({ id: 'p' })),
  keeps(
    'unknown-element',
    page('bundle.html#resource'),
    'an entry of a type that is not kept here',
    entry({ resourceType: 'Binary', contentType: 'text/plain', data: 'AAAA' }),
  ),
  keeps('reference-target', REFERENCES, 'a reference to an entry by its URN', {
    resourceType: 'Bundle',
    type: 'transaction',
    entry: [
      {
        fullUrl: 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520',
        resource: { resourceType: 'Patient' },
        request: { method: 'POST', url: 'Patient' },
      },
      {
        resource: {
          ...samples.Flag,
          subject: { reference: 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520' },
        },
        request: { method: 'POST', url: 'Flag' },
      },
    ],
  }),
  breaks(
    'reference-target',
    'Bundle.entry[1].resource.subject',
    RESOLVED,
    'a reference to an entry of another type by its URN',
    referring(URN, { resourceType: 'Endpoint' }),
  ),
  keeps(
    'reference-target',
    RESOLVED,
    'a reference to an entry by a full URL that tells no type',
    referring('http://other.example/a', patient),
  ),
  breaks(
    'reference-target',
    'Bundle.entry[1].resource.subject',
    RESOLVED,
    'a reference to an entry of another type by a full URL that tells none',
    referring('http://other.example/a', { resourceType: 'Device' }),
  ),
  breaks(
    'reference-target',
    `${INNER}.entry[1].resource.subject`,
    RESOLVED,
    'a reference to an entry of another type in a bundle of a bundle',
    entry(referring(URN, { resourceType: 'Device' })),
  ),
  keeps(
    'reference-target',
    RESOLVED,
    'a reference by the URN of an entry in a bundle of this one, which it cannot mean',
    entry(referring(URN, patient), {
      ...samples.Encounter,
      subject: { reference: URN },
      partOf: { reference: URN },
    }),
  ),
  breaks(
    'reference-target',
    'Bundle.entry[1].resource.contained[0].practitioner',
    RESOLVED,
    'a reference from a contained resource to an entry of another type',
    {
      resourceType: 'Bundle',
      type: 'collection',
      entry: [
        { fullUrl: URN, resource: { resourceType: 'Device' } },
        {
          resource: {
            ...samples.Flag,
            contained: [{ resourceType: 'PractitionerRole', id: 'r', practitioner: { reference: URN } }],
            author: { reference: '#r' },
          },
        },
      ],
    },
  ),
  keeps('reference-target', page('http.html#trules'), 'a conditional reference in a transaction', {
    resourceType: 'Bundle',
    type: 'transaction',
    entry: [
      {
        resource: {
          ...samples.Flag,
          subject: { reference: 'Patient?identifier=http://hospital.example/mrn|0042' },
        },
        request: { method: 'POST', url: 'Flag' },
      },
    ],
  }),
  breaks(
    'reference-target',
    `${INNER}.subject`,
    page('http.html#trules'),
    'a conditional reference to another type',
    {
      resourceType: 'Bundle',
      type: 'transaction',
      entry: [
        {
          resource: { ...samples.Flag, subject: { reference: 'Device?identifier=a' } },
          request: { method: 'POST', url: 'Flag' },
        },
      ],
    },
  ),
];

const parameterCases: readonly OtherCase[] = [
  keeps('inv-1', PARAMETERS, 'no parameters', { resourceType: 'Parameters' }),
  keeps('inv-1', PARAMETERS, 'a value, a resource and parts, each in a parameter', samples.Parameters),
  keeps(
    'inv-1',
    PARAMETERS,
    'parts of parts',
    parameter({ name: 'a', part: [{ name: 'b', part: [{ name: 'c', resource: patient }] }] }),
  ),
  keeps(
    'inv-1',
    PARAMETERS,
    'a value that is absent by its extension',
    parameter({
      name: 'a',
      _valueString: {
        extension: [
          { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'unknown' },
        ],
      },
    }),
  ),
  keeps(
    'inv-1',
    PARAMETERS,
    'one name twice',
    parameter({ name: 'a', valueInteger: 1 }, { name: 'a', valueInteger: 2 }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[0]',
    PARAMETERS,
    'a parameter of a name only',
    parameter({ name: 'a' }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[1]',
    PARAMETERS,
    'a value and a resource',
    parameter({ name: 'a', valueInteger: 1 }, { name: 'b', valueInteger: 1, resource: patient }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[0]',
    PARAMETERS,
    'a value and parts',
    parameter({ name: 'a', valueInteger: 1, part: [{ name: 'b', valueInteger: 1 }] }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[0]',
    PARAMETERS,
    'a resource and parts',
    parameter({ name: 'a', resource: patient, part: [{ name: 'b', valueInteger: 1 }] }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[0].part[0]',
    PARAMETERS,
    'a part of a name only',
    parameter({ name: 'a', part: [{ name: 'b' }] }),
  ),
  breaks(
    'inv-1',
    'Parameters.parameter[0].part[0].part[1]',
    PARAMETERS,
    'a part of a part of a name only',
    parameter({ name: 'a', part: [{ name: 'b', part: [{ name: 'c', valueInteger: 1 }, { name: 'd' }] }] }),
  ),
  breaks(
    'choice-type',
    'Parameters.parameter[0].value',
    page('formats.html#choice'),
    'two values',
    parameter({ name: 'a', valueInteger: 1, valueString: 'a' }),
  ),
  breaks(
    'choice-type',
    'Parameters.parameter[0].part[0].value',
    page('datatypes.html#open'),
    'a value of a type that is not open',
    parameter({ name: 'a', part: [{ name: 'b', valueNarrative: { status: 'empty' }, valueInteger: 1 }] }),
  ),
  breaks(
    'unknown-element',
    'Parameters.parameter[0].part[0].parameter',
    page('parameters.html#resource'),
    'a part with a parameter of its own',
    parameter({
      name: 'a',
      part: [{ name: 'b', valueInteger: 1, parameter: [{ name: 'c', valueInteger: 1 }] }],
    }),
  ),
  breaks(
    'ref-1',
    'Parameters.parameter[0].resource.managingOrganization',
    CONTAINED,
    'a reference from the resource of a parameter to what it does not contain',
    parameter({
      name: 'a',
      resource: { resourceType: 'Patient', managingOrganization: { reference: '#o' } },
    }),
  ),
  keeps(
    'ref-1',
    CONTAINED,
    'a resource of a part that refers to what it contains',
    parameter({ name: 'a', part: [{ name: 'b', resource: holding([organization]) }] }),
  ),
  breaks(
    'pat-1',
    'Parameters.parameter[0].part[0].resource.contact[0]',
    page('patient.html#invs'),
    'a fault in the resource of a part',
    parameter({
      name: 'a',
      part: [{ name: 'b', resource: { resourceType: 'Patient', contact: [{ gender: 'male' }] } }],
    }),
  ),
  breaks(
    'resource-type',
    'Parameters.parameter[0].resource',
    page('json.html#resources'),
    'a resource without a type in a parameter',
    parameter({ name: 'a', resource: { id: 'p' } }),
  ),
  keeps(
    'resource-type',
    page('parameters.html#resource'),
    'a bundle and parameters within parameters',
    parameter({ name: 'a', resource: samples.Bundle }, { name: 'b', resource: samples.Parameters }),
  ),
];

const referenceCases: readonly OtherCase[] = [
  keeps(
    'reference-form',
    REFERENCES,
    'a reference to another server',
    withAt(samples.Flag, 'Flag.subject', { reference: 'https://other.example/a/fhir/Patient/1' }),
  ),
  keeps(
    'reference-form',
    REFERENCES,
    'a reference to a version',
    withAt(samples.Flag, 'Flag.subject', { reference: 'Patient/1/_history/3' }),
  ),
  keeps(
    'reference-form',
    REFERENCES,
    'a reference by OID',
    withAt(samples.Flag, 'Flag.subject', { reference: 'urn:oid:2.16.840.1.1' }),
  ),
  keeps(
    'reference-type',
    REFERENCES,
    'a reference of which only the type and an identifier are told',
    withAt(samples.Flag, 'Flag.subject', { type: 'Patient', identifier: { value: '1' } }),
  ),
  keeps(
    'reference-type',
    REFERENCES,
    'a type that agrees with the reference',
    withAt(samples.Flag, 'Flag.subject', { type: 'Patient', reference: 'Patient/1' }),
  ),
  breaks(
    'reference-type',
    'Flag.subject.type',
    REFERENCES,
    'a type that disagrees with the reference',
    withAt(samples.Flag, 'Flag.subject', { type: 'Location', reference: 'Patient/1' }),
  ),
  breaks(
    'reference-form',
    'Flag.subject.reference',
    REFERENCES,
    'a reference to a type that the standard has not',
    withAt(samples.Flag, 'Flag.subject', { reference: 'Person1/1' }),
  ),
  breaks(
    'reference-form',
    'Flag.subject.reference',
    REFERENCES,
    'a reference to a type without an id',
    withAt(samples.Flag, 'Flag.subject', { reference: 'Patient/' }),
  ),
  keeps(
    'reference-type',
    REFERENCES,
    'a type that is a logical model',
    withAt(samples.Flag, 'Flag.subject', {
      type: 'http://hospital.example/Guest',
      identifier: { value: '1' },
    }),
  ),
  breaks(
    'reference-type',
    'Flag.subject.type',
    REFERENCES,
    'the type of a reference that the standard has not',
    withAt(samples.Flag, 'Flag.subject', { type: 'Guest', reference: 'Patient/1' }),
  ),
  breaks(
    'reference-form',
    'Flag.subject.reference',
    REFERENCES,
    'a reference by a URN that is no UUID',
    withAt(samples.Flag, 'Flag.subject', { reference: 'urn:uuid:1' }),
  ),
  breaks(
    'ele-1',
    'Flag.subject',
    page('element.html#invs'),
    'a reference of an id only',
    withAt(samples.Flag, 'Flag.subject', { id: 's' }),
  ),
  breaks(
    'json-empty',
    'Flag.subject',
    page('json.html#null'),
    'an empty reference',
    withAt(samples.Flag, 'Flag.subject', {}),
  ),
  breaks(
    'json-type',
    'Flag.subject',
    page('json.html#complex'),
    'a reference that is a text',
    withAt(samples.Flag, 'Flag.subject', 'Patient/1'),
  ),
];

/** The profile of R4 for vital signs, which every validator of R4 knows (R4 observation-vitalsigns). */
const VITAL_SIGNS = 'http://hl7.org/fhir/StructureDefinition/vitalsigns';
const CLAIM = page('resource.html#Meta');

const claimCases: readonly OtherCase[] = [
  warns(
    'profile-unknown',
    `${INNER}.meta.profile[0]`,
    CLAIM,
    'entries that claim a profile nobody here knows',
    entry({ ...patient, meta: { profile: ['http://hospital.example/StructureDefinition/guest'] } }),
  ),
  keeps(
    'cardinality',
    page('observation-vitalsigns.html'),
    'an entry that keeps the profile it claims',
    entry(vital({})),
  ),
  breaks(
    'cardinality',
    `${INNER}.subject`,
    page('observation-vitalsigns.html'),
    'an entry that breaks the profile it claims',
    entry(vital({ subject: undefined })),
  ),
  breaks(
    'cardinality',
    'Bundle.entry[1].resource.category',
    page('observation-vitalsigns.html'),
    'a second entry that breaks the profile it claims',
    entry(vital({}), vital({ category: undefined })),
  ),
  breaks(
    'cardinality',
    'Parameters.parameter[0].resource.subject',
    page('observation-vitalsigns.html'),
    'the resource of a parameter that breaks the profile it claims',
    parameter({ name: 'resource', resource: vital({ subject: undefined }) }),
  ),
  breaks(
    'cardinality',
    `${INNER}.subject`,
    page('observation-vitalsigns.html'),
    'an entry that has the code of a vital sign and breaks its profile without a claim',
    entry(heartRate({ subject: undefined })),
  ),
  keeps(
    'cardinality',
    page('observation-vitalsigns.html'),
    'an entry that keeps the profile of a vital sign without a claim',
    entry(heartRate({})),
  ),
  keeps('profile-unknown', CLAIM, 'a patient that claims the type it is', {
    ...patient,
    meta: { profile: ['http://hl7.org/fhir/StructureDefinition/Patient|4.0.1'] },
  }),
  breaks(
    'profile-type',
    `${INNER}.meta.profile[0]`,
    CLAIM,
    'a patient that claims a profile of observations',
    entry({ ...patient, meta: { profile: [VITAL_SIGNS] } }),
  ),
];

function vital(changes: object): object {
  const observation = {
    resourceType: 'Observation',
    meta: { profile: [VITAL_SIGNS] },
    status: 'final',
    category: [
      {
        coding: [
          { system: 'http://terminology.hl7.org/CodeSystem/observation-category', code: 'vital-signs' },
        ],
      },
    ],
    code: { text: 'pain' },
    subject: { reference: 'Patient/p' },
    effectiveDateTime: '2026-03-02',
    valueInteger: 3,
    ...changes,
  };
  return Object.fromEntries(Object.entries<unknown>(observation).filter(([, value]) => value !== undefined));
}

function heartRate(changes: object): object {
  return vital({
    meta: undefined,
    code: { coding: [{ system: 'http://loinc.org', code: '8867-4' }] },
    valueInteger: undefined,
    valueQuantity: { value: 70, unit: 'beats/minute', system: 'http://unitsofmeasure.org', code: '/min' },
    ...changes,
  });
}

function coded(code: string): object {
  return { coding: [{ system: 'http://hospital.example', code }] };
}

function observation(code: string, changes: object): object {
  return { resourceType: 'Observation', status: 'final', code: coded(code), valueInteger: 1, ...changes };
}

export const containerCases: readonly OtherCase[] = [
  ...containedCases,
  ...entryCases,
  ...parameterCases,
  ...referenceCases,
  ...claimCases,
];
