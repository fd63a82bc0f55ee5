import { breaks, keeps, type OtherCase, page, warns, withAt, without } from './other-case.js';
import { samples } from './other-samples.js';

/** The invariants of the clinical and administrative types (R4 resource pages, "Constraints"). */
const {
  Patient,
  Organization,
  Encounter,
  Measure,
  MeasureReport,
  AuditEvent,
  Condition,
  Group,
  ServiceRequest,
} = samples;

const HL7 = 'http://terminology.hl7.org/CodeSystem';
const PATIENT = page('patient.html#invs');
const ORGANIZATION = page('organization.html#invs');
const AUDIT = page('auditevent.html#invs');
const CONDITION = page('condition.html#invs');
const MEASURE = page('measure.html#invs');
const REPORT = page('measurereport.html#invs');
const text = (words: string): object => ({ text: words });

const contact = (value: object): object => withAt(Patient, 'Patient.contact[0]', value);
const condition = (changes: object): object => ({
  resourceType: 'Condition',
  subject: { reference: 'Patient/p' },
  ...changes,
});
const clinical = (code: string): object => ({ coding: [{ system: `${HL7}/condition-clinical`, code }] });
const verified = (code: string): object => ({ coding: [{ system: `${HL7}/condition-ver-status`, code }] });
const report = (changes: object): object => ({
  ...without(MeasureReport, 'MeasureReport.group'),
  ...changes,
});

export const invariantCases: readonly OtherCase[] = [
  keeps(
    'pat-1',
    PATIENT,
    'a contact who is only an organization',
    contact({ organization: { display: 'Red Cross' } }),
  ),
  keeps(
    'pat-1',
    PATIENT,
    'a contact of a telecom only',
    contact({ telecom: [{ system: 'phone', value: '1' }] }),
  ),
  keeps('pat-1', PATIENT, 'a contact of an address only', contact({ address: { text: 'next door' } })),
  breaks(
    'pat-1',
    'Patient.contact[0]',
    PATIENT,
    'a contact of whom only the relationship and the gender are told',
    contact({ relationship: [text('son')], gender: 'male' }),
  ),
  breaks(
    'pat-1',
    'Patient.contact[1]',
    PATIENT,
    'a second contact of whom only the period is told',
    withAt(Patient, 'Patient.contact[1]', { period: { start: '2026' } }),
  ),

  keeps(
    'org-1',
    ORGANIZATION,
    'an organization of an identifier only',
    without(Organization, 'Organization.name'),
  ),
  keeps('org-1', ORGANIZATION, 'an organization of a name only', {
    resourceType: 'Organization',
    name: 'Ward',
  }),
  keeps('org-1', ORGANIZATION, 'an organization whose name is told to be unknown', {
    resourceType: 'Organization',
    _name: {
      extension: [
        { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'unknown' },
      ],
    },
  }),
  breaks('org-1', 'Organization', ORGANIZATION, 'an organization without a name and an identifier', {
    resourceType: 'Organization',
    active: true,
    alias: ['Ward'],
  }),
  keeps(
    'org-2',
    ORGANIZATION,
    'an old address of an organization',
    withAt(Organization, 'Organization.address[0].use', 'old'),
  ),
  breaks(
    'org-2',
    'Organization.address[1]',
    ORGANIZATION,
    'an organization with a home address',
    withAt(Organization, 'Organization.address[1]', { use: 'home', text: 'Ulica 3' }),
  ),
  keeps(
    'org-3',
    ORGANIZATION,
    'a mobile telephone of an organization',
    withAt(Organization, 'Organization.telecom[0].use', 'mobile'),
  ),
  keeps(
    'org-3',
    ORGANIZATION,
    'a home telephone of the person to ask for in an organization',
    withAt(Organization, 'Organization.contact[0].telecom[0].use', 'home'),
  ),
  breaks(
    'org-3',
    'Organization.telecom[0]',
    ORGANIZATION,
    'an organization with a home telephone',
    withAt(Organization, 'Organization.telecom[0].use', 'home'),
  ),

  keeps('sev-1', AUDIT, 'an audited entity with a query only', AuditEvent),
  keeps(
    'sev-1',
    AUDIT,
    'an audited entity with neither a name nor a query',
    without(AuditEvent, 'AuditEvent.entity[0].query'),
  ),
  breaks(
    'sev-1',
    'AuditEvent.entity[0]',
    AUDIT,
    'an audited entity with a name and a query',
    withAt(AuditEvent, 'AuditEvent.entity[0].name', 'patient'),
  ),

  keeps(
    'con-1',
    CONDITION,
    'a stage of an assessment only',
    without(Condition, 'Condition.stage[0].summary'),
  ),
  breaks(
    'con-1',
    'Condition.stage[0]',
    CONDITION,
    'a stage of a type only',
    withAt(Condition, 'Condition.stage[0]', { type: text('by picture') }),
  ),
  keeps(
    'con-2',
    CONDITION,
    'evidence of a code only',
    withAt(Condition, 'Condition.evidence[0]', { code: [text('pain')] }),
  ),
  breaks(
    'con-2',
    'Condition.evidence[0]',
    CONDITION,
    'evidence that holds an extension only',
    withAt(Condition, 'Condition.evidence[0]', {
      extension: [{ url: 'http://hospital.example/weight', valueInteger: 1 }],
    }),
  ),
  keeps('con-3', CONDITION, 'a condition without category and clinical status', condition({})),
  keeps(
    'con-3',
    CONDITION,
    'a problem entered in error without a clinical status',
    condition({ category: [problem()], verificationStatus: verified('entered-in-error') }),
  ),
  keeps(
    'con-3',
    CONDITION,
    'a diagnosis of the stay, which is no problem on the list, without a clinical status',
    condition({
      category: [{ coding: [{ system: `${HL7}/condition-category`, code: 'encounter-diagnosis' }] }],
    }),
  ),
  warns(
    'con-3',
    'Condition',
    CONDITION,
    'a problem on the list without a clinical status',
    condition({ category: [problem()], verificationStatus: verified('confirmed') }),
  ),
  keeps(
    'con-4',
    CONDITION,
    'an abated condition that is in remission',
    condition({ clinicalStatus: clinical('remission'), abatementDateTime: '2026' }),
  ),
  keeps(
    'con-4',
    CONDITION,
    'an active condition that is not abated',
    condition({ clinicalStatus: clinical('relapse') }),
  ),
  breaks(
    'con-4',
    'Condition',
    CONDITION,
    'an abated condition that is active',
    condition({ clinicalStatus: clinical('active'), abatementString: 'in spring' }),
  ),
  breaks(
    'con-4',
    'Condition',
    CONDITION,
    'an abated condition without a clinical status',
    condition({ abatementAge: { value: 80, system: 'http://unitsofmeasure.org', code: 'a' } }),
  ),
  keeps(
    'con-5',
    CONDITION,
    'a refuted condition with a clinical status',
    condition({ clinicalStatus: clinical('inactive'), verificationStatus: verified('refuted') }),
  ),
  breaks(
    'con-5',
    'Condition',
    CONDITION,
    'a condition entered in error with a clinical status',
    condition({ clinicalStatus: clinical('resolved'), verificationStatus: verified('entered-in-error') }),
  ),

  keeps('prr-1', page('servicerequest.html#invs'), 'details of an order beside its code', ServiceRequest),
  keeps(
    'prr-1',
    page('servicerequest.html#invs'),
    'neither a code nor details',
    without(without(ServiceRequest, 'ServiceRequest.code'), 'ServiceRequest.orderDetail'),
  ),
  breaks(
    'prr-1',
    'ServiceRequest',
    page('servicerequest.html#invs'),
    'details of an order without its code',
    without(ServiceRequest, 'ServiceRequest.code'),
  ),

  keeps('grp-1', page('group.html#invs'), 'members of an actual group', Group),
  keeps(
    'grp-1',
    page('group.html#invs'),
    'a described group without members',
    withAt(without(Group, 'Group.member'), 'Group.actual', false),
  ),
  breaks(
    'grp-1',
    'Group',
    page('group.html#invs'),
    'members of a group that is only described',
    withAt(Group, 'Group.actual', false),
  ),

  keeps('mea-1', MEASURE, 'one stratifier of a criterion and one of components', Measure),
  breaks(
    'mea-1',
    'Measure',
    MEASURE,
    'a stratifier of a criterion and of components',
    withAt(Measure, 'Measure.group[0].stratifier[1].description', 'both'),
  ),
  breaks(
    'mea-1',
    'Measure',
    MEASURE,
    'a stratifier of nothing but an id',
    withAt(Measure, 'Measure.group[0].stratifier[2]', {
      id: 's3',
      extension: [{ url: 'http://hospital.example/weight', valueInteger: 1 }],
    }),
  ),
  keeps('mea-0', MEASURE, 'a name for machines of one letter', withAt(Measure, 'Measure.name', 'M')),
  warns('mea-0', 'Measure', MEASURE, 'a name with a space', withAt(Measure, 'Measure.name', 'Full Exams')),

  keeps('mrp-1', REPORT, 'a collection of data without groups', report({ type: 'data-collection' })),
  breaks(
    'mrp-1',
    'MeasureReport',
    REPORT,
    'a collection of data with a group',
    report({ type: 'data-collection', group: [{ code: text('all') }] }),
  ),
  keeps('mrp-2', REPORT, 'a stratum of a value and one of components', MeasureReport),
  breaks(
    'mrp-2',
    'MeasureReport',
    REPORT,
    'a stratum of a value and of components',
    withAt(MeasureReport, 'MeasureReport.group[0].stratifier[0].stratum[1].value', text('both')),
  ),
  breaks(
    'mrp-2',
    'MeasureReport',
    REPORT,
    'a stratum of neither a value nor components',
    report({ group: [{ stratifier: [{ stratum: [{ measureScore: { value: 1 } }] }] }] }),
  ),

  keeps('per-1', page('datatypes.html#Period'), 'a stay that starts and ends in one day', Encounter),
  breaks(
    'per-1',
    'Encounter.statusHistory[0].period',
    page('datatypes.html#Period'),
    'a state of a stay that ends before it starts',
    withAt(Encounter, 'Encounter.statusHistory[0].period', {
      start: '2026-03-02T10:00:00Z',
      end: '2026-03-02T10:00:00+01:00',
    }),
  ),
];

function problem(): object {
  return { coding: [{ system: `${HL7}/condition-category`, code: 'problem-list-item' }] };
}
