import { describe, expect, test } from 'vitest';
import { compileValidator, type FhirIssue, hasErrors, r4Definitions } from '../../src/fhir/index.js';

const validate = compileValidator(r4Definitions);

/** What is told, the advice to write a narrative (dom-6) aside. */
const told = (issues: readonly FhirIssue[]): readonly string[] =>
  issues.filter(({ rule }) => rule !== 'dom-6').map(({ rule, expression }) => `${rule} ${expression}`);

const PATIENT = 'https://a.example/fhir/Patient/p1';
const URN = 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520';
const patient = { resourceType: 'Patient', id: 'p1' };
const observation = { resourceType: 'Observation', status: 'final', code: { text: 'Grip' } };

const collectionOf = (...entry: readonly object[]): object => ({
  resourceType: 'Bundle',
  type: 'collection',
  entry,
});
const post = (fullUrl: string, resource: object): object => ({
  fullUrl,
  resource,
  request: { method: 'POST', url: 'Observation' },
});
const transactionOf = (...entry: readonly object[]): object => ({
  resourceType: 'Bundle',
  type: 'transaction',
  entry,
});

// R4 bundle, Bundle.entry.fullUrl: "SHALL NOT disagree with the id in the resource".
describe('the full URL of an entry', () => {
  test.each<[string, object]>([
    ['names type and id of its resource', collectionOf({ fullUrl: PATIENT, resource: patient })],
    ['is a URN, whatever the id', collectionOf({ fullUrl: URN, resource: patient })],
    [
      'is a URL that does not end in type and id',
      collectionOf({ fullUrl: 'https://a.example/x/p9', resource: patient }),
    ],
    ['stands without an id', collectionOf({ fullUrl: PATIENT, resource: { resourceType: 'Patient' } })],
    [
      'stands twice for two versions',
      collectionOf(
        { fullUrl: PATIENT, resource: { ...patient, meta: { versionId: '1' } } },
        { fullUrl: PATIENT, resource: { ...patient, meta: { versionId: '2' } } },
      ),
    ],
    [
      'is left out on a POST',
      transactionOf({ resource: patient, request: { method: 'POST', url: 'Patient' } }),
    ],
  ])('%s', (_what, bundle) => {
    expect(told(validate(bundle))).toEqual([]);
  });

  test.each<[string, string, object]>([
    [
      'names another id',
      'full-url',
      collectionOf({ fullUrl: 'https://a.example/Patient/p2', resource: patient }),
    ],
    [
      'names another type',
      'full-url',
      collectionOf({ fullUrl: 'https://a.example/Group/p1', resource: patient }),
    ],
    ['is relative', 'full-url', collectionOf({ fullUrl: 'Patient/p1', resource: patient })],
  ])('is told when it %s', (_what, rule, bundle) => {
    const issues = validate(bundle);
    expect(told(issues)).toEqual([`${rule} Bundle.entry[0].fullUrl`]);
    expect(hasErrors(issues)).toBe(true);
  });

  test('is told at the entry when it names a version (bdl-8)', () => {
    const bundle = collectionOf({
      fullUrl: `${PATIENT}/_history/1`,
      resource: { ...patient, meta: { versionId: '1' } },
    });
    expect(told(validate(bundle))).toEqual(['bdl-8 Bundle.entry[0]']);
  });

  test('is told at the Bundle when two have it (bdl-7)', () => {
    const entry = { fullUrl: PATIENT, resource: patient };
    const issues = validate(collectionOf(entry, { ...entry, resource: { ...patient, active: true } }));
    expect(told(issues)).toEqual(['bdl-7 Bundle']);
    expect(issues.find(({ rule }) => rule === 'bdl-7')?.diagnostics).toContain(PATIENT);
  });

  test('is missed, as a warning, where a resource has an id', () => {
    const issues = validate(collectionOf({ resource: patient }));
    expect(told(issues)).toEqual(['full-url Bundle.entry[0].fullUrl']);
    expect(hasErrors(issues)).toBe(false);
  });
});

// R4 bundle, bdl-1 to bdl-12.
test.each<[string, string, object]>([
  ['bdl-1', 'Bundle', { resourceType: 'Bundle', type: 'collection', total: 3 }],
  ['bdl-2', 'Bundle', collectionOf({ fullUrl: PATIENT, resource: patient, search: { mode: 'match' } })],
  ['bdl-3', 'Bundle', transactionOf({ fullUrl: PATIENT, resource: patient })],
  ['bdl-3', 'Bundle', collectionOf(post(PATIENT, patient))],
  ['bdl-4', 'Bundle', collectionOf({ fullUrl: PATIENT, resource: patient, response: { status: '200 OK' } })],
  ['bdl-5', 'Bundle.entry[0]', collectionOf({ fullUrl: PATIENT })],
  ['bdl-9', 'Bundle', documentOf({ timestamp: '2026-11-25T09:30:00Z' })],
  ['bdl-10', 'Bundle', documentOf({ identifier: { system: 'urn:ietf:rfc:3986', value: URN } })],
])('%s is told at %s', (rule, place, bundle) => {
  expect(told(validate(bundle).filter((issue) => hasErrors([issue])))).toEqual([`${rule} ${place}`]);
});

test('the status of a response starts with three digits of HTTP (R4 Bundle.entry.response.status)', () => {
  const answer = (status: string): object => ({
    resourceType: 'Bundle',
    type: 'batch-response',
    entry: [{ response: { status } }],
  });
  expect(told(validate(answer('201 Created')))).toEqual([]);
  expect(told(validate(answer('Created')))).toEqual(['response-status Bundle.entry[0].response.status']);
});

describe('a reference within a Bundle', () => {
  const about = (reference: string): object => ({ ...observation, subject: { reference } });

  test('by URN finds the entry of that full URL', () => {
    expect(
      told(validate(transactionOf(post(URN, patient), post(`${URN.slice(0, -1)}1`, about(URN))))),
    ).toEqual([]);
  });

  test('by a URN that no entry has is a warning', () => {
    const issues = validate(transactionOf(post(URN, about(`${URN.slice(0, -1)}1`))));
    expect(told(issues)).toEqual(['bundle-reference Bundle']);
    expect(hasErrors(issues)).toBe(false);
  });

  test('to #id looks into the resource of its own entry', () => {
    const contained = [{ resourceType: 'Patient', id: 'c' }];
    const holding = { ...about('#c'), contained };
    expect(told(validate(transactionOf(post(URN, holding))))).toEqual([]);
    expect(
      told(validate(transactionOf(post(URN, holding), post(`${URN.slice(0, -1)}1`, about('#c'))))),
    ).toEqual(['ref-1 Bundle.entry[1].resource.subject']);
  });

  test('of a contained resource looks into what contains it', () => {
    const contained = [
      { resourceType: 'Patient', id: 'p', managingOrganization: { reference: '#o' } },
      { resourceType: 'Organization', id: 'o', name: 'Ward' },
    ];
    expect(told(validate({ ...about('#p'), contained }))).toEqual([]);
    expect(told(validate({ ...about('#p'), contained: contained.slice(0, 1) }))).toEqual([
      'ref-1 Observation.contained[0].managingOrganization',
    ]);
  });
});

test('a resource in Parameters stands for itself', () => {
  const contained = [{ resourceType: 'Patient', id: 'c' }];
  const resource = { ...observation, subject: { reference: '#c' }, contained };
  expect(told(validate({ resourceType: 'Parameters', parameter: [{ name: 'resource', resource }] }))).toEqual(
    [],
  );
});

test('two contained resources must not have the same id (R4 references, "Contained Resources")', () => {
  const contained = [
    { resourceType: 'Patient', id: 'c' },
    { resourceType: 'Patient', id: 'c', active: true },
  ];
  expect(told(validate({ ...observation, subject: { reference: '#c' }, contained }))).toEqual([
    'contained-id Observation.contained',
  ]);
});

function documentOf(head: object): object {
  const composition = { resourceType: 'Composition' };
  return {
    resourceType: 'Bundle',
    type: 'document',
    ...head,
    entry: [{ fullUrl: URN, resource: composition }],
  };
}
