import { breaks, keeps, type OtherCase, page, withAt, without } from './other-case.js';
import { samples } from './other-samples.js';

/** Bundles of every kind (R4 bundle page). */
const INVARIANTS = page('bundle.html#invs');
const BASE = 'http://hospital.example/fhir';
const UUID = 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520';
const patient = { resourceType: 'Patient', id: 'p' };
const bundle = (type: string, entry: readonly object[], changes: object = {}): object => ({
  resourceType: 'Bundle',
  type,
  entry,
  ...changes,
});
const request = (method: string, url: string, changes: object = {}): object => ({
  request: { method, url, ...changes },
});
const response = (status: string, changes: object = {}): object => ({ response: { status, ...changes } });
const composition = {
  resourceType: 'Composition',
  id: 'c',
  status: 'final',
  type: { text: 'joint examination' },
  date: '2026-03-02',
  author: [{ display: 'N.' }],
  title: 'Joint examination',
};
const document = {
  resourceType: 'Bundle',
  identifier: { system: 'http://hospital.example/documents', value: '7' },
  type: 'document',
  timestamp: '2026-03-02T08:10:00Z',
  entry: [{ fullUrl: `${BASE}/Composition/c`, resource: composition }],
};
const header = {
  resourceType: 'MessageHeader',
  id: 'm',
  eventUri: 'http://hospital.example/event',
  source: { endpoint: 'http://hospital.example/ledger' },
};

const kindCases: readonly OtherCase[] = [
  keeps(
    'required-binding',
    page('http.html#transaction'),
    'a transaction of each interaction',
    bundle('transaction', [
      {
        fullUrl: UUID,
        resource: { resourceType: 'Patient' },
        ...request('POST', 'Patient', { ifNoneExist: 'identifier=a|1' }),
      },
      {
        fullUrl: `${BASE}/Patient/p`,
        resource: patient,
        ...request('PUT', 'Patient/p', { ifMatch: 'W/"2"' }),
      },
      request('DELETE', 'Patient/old'),
      request('GET', 'Patient?name=a', { ifModifiedSince: '2026-03-02T08:00:00Z' }),
      request('HEAD', 'Patient/p', { ifNoneMatch: 'W/"1"' }),
    ]),
  ),
  keeps('bdl-3', page('http.html#transaction'), 'an empty transaction', {
    resourceType: 'Bundle',
    type: 'transaction',
  }),
  keeps(
    'bdl-3',
    page('http.html#batch'),
    'a batch of a patch',
    bundle('batch', [{ resource: { resourceType: 'Parameters' }, ...request('PATCH', 'Patient/p') }]),
  ),
  keeps(
    'bdl-4',
    page('bundle.html#transaction-response'),
    'the response to a transaction',
    bundle('transaction-response', [
      response('201 Created', {
        location: 'Patient/p/_history/1',
        etag: 'W/"1"',
        lastModified: '2026-03-02T08:00:00Z',
      }),
      { resource: patient, ...response('200') },
    ]),
  ),
  keeps(
    'bdl-4',
    page('bundle.html#batch-response'),
    'the response to a batch with a fault',
    bundle('batch-response', [response('422', { outcome: samples.OperationOutcome })]),
  ),
  keeps(
    'bdl-1',
    page('http.html#history'),
    'a history with a total, of one resource in two versions and its deletion',
    bundle(
      'history',
      [
        { fullUrl: `${BASE}/Patient/p`, ...request('DELETE', 'Patient/p'), ...response('204') },
        {
          fullUrl: `${BASE}/Patient/p`,
          resource: { ...patient, meta: { versionId: '2' } },
          ...request('PUT', 'Patient/p'),
          ...response('200'),
        },
        {
          fullUrl: `${BASE}/Patient/p`,
          resource: { ...patient, meta: { versionId: '2' } },
          ...request('PUT', 'Patient/p'),
          ...response('200'),
        },
      ],
      { total: 3 },
    ),
  ),
  keeps(
    'bdl-7',
    page('bundle.html#collection'),
    'a collection without full URLs',
    bundle('collection', [{ resource: patient }, { resource: patient }]),
  ),
  keeps('bdl-9', page('documents.html#bundle'), 'a document', document),
  keeps(
    'bdl-12',
    page('messaging.html#bundle'),
    'a message',
    bundle('message', [
      { fullUrl: `${BASE}/MessageHeader/m`, resource: header },
      { fullUrl: `${BASE}/Patient/p`, resource: patient },
    ]),
  ),
  keeps('bdl-1', page('bundle.html#searchset'), 'a searchset that found nothing', {
    resourceType: 'Bundle',
    type: 'searchset',
    total: 0,
    link: [{ relation: 'self', url: `${BASE}/Patient` }],
  }),
  keeps(
    'bdl-2',
    page('bundle.html#searchset'),
    'a searchset of matches, of what they include and of a remark',
    bundle('searchset', [
      { fullUrl: `${BASE}/Patient/p`, resource: patient, search: { mode: 'match', score: 0.25 } },
      {
        fullUrl: `${BASE}/Organization/o`,
        resource: { ...samples.Organization, id: 'o' },
        search: { mode: 'include' },
      },
      { resource: samples.OperationOutcome, search: { mode: 'outcome' } },
    ]),
  ),
  keeps(
    'unknown-element',
    page('bundle.html#signature'),
    'a signed collection',
    bundle('collection', [{ resource: patient }], { signature: samples.Provenance.signature[0] }),
  ),
  breaks('required-binding', 'Bundle.type', page('bundle.html#tx'), 'a bundle of no kind', {
    resourceType: 'Bundle',
    type: 'search-set',
  }),
  {
    ...keeps('required-binding', page('bundle.html#tx'), 'a bundle of the kind collection', {
      resourceType: 'Bundle',
      type: 'collection',
    }),
    place: 'Bundle.type',
  },
  breaks('cardinality', 'Bundle.type', page('bundle.html#resource'), 'a bundle without a kind', {
    resourceType: 'Bundle',
  }),
  {
    ...keeps(
      'required-binding',
      page('bundle.html#tx'),
      'a request to read',
      bundle('batch', [request('GET', 'metadata')]),
    ),
    place: 'Bundle.entry[0].request.method',
  },
  breaks(
    'required-binding',
    'Bundle.entry[0].request.method',
    page('bundle.html#tx'),
    'a request in small letters',
    bundle('batch', [request('get', 'Patient')]),
  ),
  breaks(
    'cardinality',
    'Bundle.entry[0].request.method',
    page('bundle.html#resource'),
    'a request without its method',
    bundle('batch', [{ request: { url: 'Patient' } }]),
  ),
  breaks(
    'cardinality',
    'Bundle.entry[1].request.url',
    page('bundle.html#resource'),
    'a request without its URL',
    bundle('batch', [request('GET', 'Patient'), { request: { method: 'GET' } }]),
  ),
  breaks(
    'cardinality',
    'Bundle.entry[0].response.status',
    page('bundle.html#resource'),
    'a response without its status',
    bundle('batch-response', [{ response: { etag: 'W/"1"' } }]),
  ),
  breaks(
    'primitive-type',
    'Bundle.entry[0].request.ifModifiedSince',
    page('bundle.html#resource'),
    'a request of what has changed since a day',
    bundle('batch', [request('GET', 'Patient', { ifModifiedSince: '2026-03-02' })]),
  ),
  breaks('json-type', 'Bundle.entry', page('json.html#repeats'), 'entries that are no array', {
    resourceType: 'Bundle',
    type: 'collection',
    entry: { resource: patient },
  }),
  breaks(
    'json-type',
    'Bundle.entry[0].search.score',
    page('json.html#primitive'),
    'a score in words',
    withAt(samples.Bundle, 'Bundle.entry[0].search.score', '1'),
  ),
];

const ruleCases: readonly OtherCase[] = [
  breaks(
    'cardinality',
    'Bundle.type',
    page('bundle.html#resource'),
    'a bundle of requests without a kind',
    without(bundle('batch', [request('GET', 'Patient')]), 'Bundle.type'),
  ),
  breaks(
    'bdl-1',
    'Bundle',
    INVARIANTS,
    'a collection with a total',
    bundle('collection', [{ resource: patient }], { total: 1 }),
  ),
  breaks('bdl-1', 'Bundle', INVARIANTS, 'a transaction with a total of nought', {
    resourceType: 'Bundle',
    type: 'transaction',
    total: 0,
  }),
  breaks(
    'bdl-2',
    'Bundle',
    INVARIANTS,
    'a score in a collection',
    bundle('collection', [{ resource: patient, search: { score: 1 } }]),
  ),
  breaks(
    'bdl-2',
    'Bundle',
    INVARIANTS,
    'a mode of search in a history',
    bundle('history', [
      { resource: patient, search: { mode: 'match' }, ...request('PUT', 'Patient/p'), ...response('200') },
    ]),
  ),
  breaks(
    'bdl-3',
    'Bundle',
    INVARIANTS,
    'a transaction of which one entry has no request',
    bundle('transaction', [request('DELETE', 'Patient/p'), { resource: patient }]),
  ),
  breaks(
    'bdl-3',
    'Bundle',
    INVARIANTS,
    'a request in a searchset',
    withAt(samples.Bundle, 'Bundle.entry[0].request', { method: 'GET', url: 'Patient/p' }),
  ),
  breaks(
    'bdl-3',
    'Bundle',
    INVARIANTS,
    'a history without the requests',
    bundle('history', [{ resource: patient, ...response('200') }]),
  ),
  breaks(
    'bdl-4',
    'Bundle',
    INVARIANTS,
    'a history without the responses',
    bundle('history', [{ resource: patient, ...request('PUT', 'Patient/p') }]),
  ),
  breaks(
    'bdl-4',
    'Bundle',
    INVARIANTS,
    'a response in a transaction',
    bundle('transaction', [{ ...request('DELETE', 'Patient/p'), ...response('204') }]),
  ),
  breaks(
    'bdl-4',
    'Bundle',
    INVARIANTS,
    'a response to a transaction with an entry that has none',
    bundle('transaction-response', [{ resource: patient }]),
  ),
  keeps(
    'bdl-5',
    INVARIANTS,
    'an entry of a request only',
    bundle('transaction', [request('DELETE', 'Patient/p')]),
  ),
  breaks(
    'bdl-5',
    'Bundle.entry[1]',
    INVARIANTS,
    'an entry of a full URL only',
    bundle('collection', [{ resource: patient }, { fullUrl: UUID }]),
  ),
  keeps(
    'bdl-7',
    INVARIANTS,
    'two versions of one resource in a collection',
    bundle('collection', [
      { fullUrl: `${BASE}/Patient/p`, resource: { ...patient, meta: { versionId: '1' } } },
      { fullUrl: `${BASE}/Patient/p`, resource: { ...patient, meta: { versionId: '2' } } },
    ]),
  ),
  breaks(
    'bdl-7',
    'Bundle',
    INVARIANTS,
    'one full URL twice',
    bundle('collection', [
      { fullUrl: UUID, resource: { resourceType: 'Patient' } },
      { fullUrl: UUID, resource: { resourceType: 'Group', type: 'person', actual: true } },
    ]),
  ),
  breaks(
    'bdl-7',
    'Bundle',
    INVARIANTS,
    'one version of one resource twice',
    bundle('collection', [
      { fullUrl: `${BASE}/Patient/p`, resource: { ...patient, meta: { versionId: '1' } } },
      { fullUrl: `${BASE}/Patient/p`, resource: { ...patient, meta: { versionId: '1' } } },
    ]),
  ),
  keeps('bdl-8', INVARIANTS, 'an entry without a full URL', bundle('collection', [{ resource: patient }])),
  keeps(
    'bdl-8',
    INVARIANTS,
    'a full URL that is a UUID',
    bundle('collection', [{ fullUrl: UUID, resource: patient }]),
  ),
  breaks(
    'bdl-8',
    'Bundle.entry[0]',
    INVARIANTS,
    'the full URL of a version',
    bundle('collection', [{ fullUrl: `${BASE}/Patient/p/_history/1`, resource: patient }]),
  ),
  breaks(
    'bdl-9',
    'Bundle',
    INVARIANTS,
    'a document without an identifier',
    without(document, 'Bundle.identifier'),
  ),
  breaks(
    'bdl-9',
    'Bundle',
    INVARIANTS,
    'a document of an identifier without a system',
    without(document, 'Bundle.identifier.system'),
  ),
  keeps('bdl-10', INVARIANTS, 'a collection without a date', bundle('collection', [{ resource: patient }])),
  breaks('bdl-10', 'Bundle', INVARIANTS, 'a document without a date', without(document, 'Bundle.timestamp')),
  keeps(
    'bdl-11',
    INVARIANTS,
    'a document of more than its composition',
    withAt(document, 'Bundle.entry[1]', { fullUrl: `${BASE}/Patient/p`, resource: patient }),
  ),
  breaks(
    'bdl-11',
    'Bundle',
    INVARIANTS,
    'a document that starts with a patient',
    withAt(document, 'Bundle.entry', [
      { fullUrl: `${BASE}/Patient/p`, resource: patient },
      { fullUrl: `${BASE}/Composition/c`, resource: composition },
    ]),
  ),
  breaks('bdl-11', 'Bundle', INVARIANTS, 'a document of nothing', without(document, 'Bundle.entry')),
  breaks(
    'bdl-12',
    'Bundle',
    INVARIANTS,
    'a message that starts with a patient',
    bundle('message', [{ fullUrl: `${BASE}/Patient/p`, resource: patient }]),
  ),
  breaks('bdl-12', 'Bundle', INVARIANTS, 'a message of nothing', { resourceType: 'Bundle', type: 'message' }),
  keeps(
    'full-url',
    page('bundle.html#references'),
    'a full URL on another path than the base of a server',
    bundle('collection', [{ fullUrl: 'http://other.example/a/b/Patient/p', resource: patient }]),
  ),
  keeps(
    'full-url',
    page('bundle.html#references'),
    'a full URL that is no RESTful one',
    bundle('collection', [{ fullUrl: 'http://other.example/a', resource: patient }]),
  ),
  breaks(
    'full-url',
    'Bundle.entry[0].fullUrl',
    page('bundle.html#references'),
    'a full URL that is not absolute',
    bundle('collection', [{ fullUrl: 'Patient/p', resource: patient }]),
  ),
  breaks(
    'full-url',
    'Bundle.entry[0].fullUrl',
    page('bundle-definitions.html#Bundle.entry.fullUrl'),
    'a full URL that disagrees with the id of the resource',
    bundle('collection', [{ fullUrl: `${BASE}/Patient/q`, resource: patient }]),
  ),
];

export const bundleCases: readonly OtherCase[] = [...kindCases, ...ruleCases];
