import fc from 'fast-check';

/** A change to a JSON value: where, counted over all its places, and what. */
export interface Mutation {
  readonly at: number;
  readonly kind: keyof typeof CHANGES;
  /** Which of the values, or which other place. */
  readonly pick: number;
}

/** A copy of a JSON value with the mutations made in their order. */
export function mutate(value: unknown, mutations: readonly Mutation[]): unknown {
  const holder = { root: structuredClone(value) };
  for (const mutation of mutations) apply(mutation, holder);
  return holder.root;
}

/** A copy of a resource with the element taken out at each of these places, and what is empty then; types stay. */
export function takeOut(resource: object, ats: readonly number[]): object {
  const copy = structuredClone(resource);
  for (const at of ats) {
    const places = placesIn(copy).filter(({ key }) => key !== 'resourceType');
    const place = places[at % places.length];
    if (place !== undefined) remove(place);
  }
  prune(copy);
  return copy;
}

/** Values of every JSON type, and texts that are almost right or have gone wrong elsewhere. */
const VALUES: readonly unknown[] = [
  null,
  true,
  false,
  0,
  -1,
  1.5,
  1e308,
  -0,
  9_007_199_254_740_993,
  '',
  ' ',
  '\u00a0',
  'x',
  '#',
  '#a',
  '0',
  'true',
  'NaN',
  'null',
  '__proto__',
  'constructor',
  'toString',
  '2024-02-30',
  '2024-13',
  '2024-02-29T24:00:00Z',
  '2024-02-29T10:00:00',
  '9999-12-31T23:59:60.999999999-14:00',
  'Patient/',
  'Patient/1/_history/',
  'https://example.org/fhir/Patient/1|2#3',
  'urn:uuid:C757873D-EC9A-4326-A141-556F43239520',
  'urn:oid:',
  '\ud83e\uddb5',
  '\ud83e',
  '\u0000',
  '\u202e\ufeff',
  'a\u0301'.repeat(50),
  '`',
  "')].x | (",
  '<div xmlns="http://www.w3.org/1999/xhtml">',
  '<div xmlns="http://www.w3.org/1999/xhtml">&nbsp;<p onclick="a()">b</p></div>',
  '<!DOCTYPE a [<!ENTITY b "c">]><div>&b;</div>',
  '(a+)+$',
  '{',
  'mm[Hg',
  '10*3/{}.{{',
  [],
  {},
  [null],
  [[]],
  [{}],
  { a: 1 },
  { value: '1' },
  { coding: 'a' },
  { reference: 5 },
  { reference: '#x', type: [], identifier: { assigner: { reference: '#' } } },
  { resourceType: 'Patient' },
  { resourceType: 'Observation', contained: [{ resourceType: 'Bundle', entry: [{ resource: null }] }] },
  { resourceType: ['Patient'] },
  { extension: [{ url: 'a', valueString: null }] },
  { 0: 'a', length: 1 },
  ['a', 1, null, { b: [] }],
];

const NAMES = [
  '__proto__',
  'constructor',
  'prototype',
  'hasOwnProperty',
  'toString',
  'length',
  '',
  ' ',
  '_',
  '__',
  '0',
  'a.b',
  'a`b',
  'value',
  'value[x]',
  'valueQuantity',
  'valueString',
  '_valueString',
  'valuequantity',
  'extension',
  'modifierExtension',
  'id',
  '_id',
  'resourceType',
  'contained',
  'meta',
  'status',
  '_status',
  '_code',
  'fhir_comments',
  '\u0000',
  'b\u00e4r',
];

const HUGE = 'x'.repeat(1_100_000);
/** Of so many replaced values, one is longer than a text may be. */
const HUGE_IN = 1000;

type Key = string | number;

interface Place {
  readonly parent: object;
  readonly key: Key;
}

/** What a change is given beside its place: the value there, that of another place, and what to draw by. */
interface Matter {
  readonly value: unknown;
  readonly other: unknown;
  readonly pick: number;
}

const CHANGES = {
  delete: (place) => {
    remove(place);
  },
  repeat: ({ parent }, { value }) => {
    if (Array.isArray(parent)) parent.push(structuredClone(value));
  },
  replace: (place, { pick }) => {
    write(place, pick % HUGE_IN === 0 ? HUGE : drawn(VALUES, pick));
  },
  wrap: (place, { value, pick }) => {
    write(place, pick % 2 === 0 ? [value] : member(drawn(NAMES, pick), value));
  },
  unwrap: (place, { value }) => {
    write(place, isHolder(value) ? Object.values(value)[0] : [value]);
  },
  swap: (place, { other }) => {
    write(place, structuredClone(other));
  },
  rename: (place, { value, pick }) => {
    remove(place);
    write({ parent: place.parent, key: drawn(NAMES, pick) }, value);
  },
  add: ({ parent }, { value, other, pick }) => {
    write({ parent: isHolder(value) ? value : parent, key: drawn(NAMES, pick) }, structuredClone(other));
  },
  nest: (place, { value, pick }) => {
    write(place, nested(value, pick));
  },
} as const satisfies Readonly<Record<string, (place: Place, matter: Matter) => void>>;

export const arbitraryMutation: fc.Arbitrary<Mutation> = fc.record({
  at: fc.nat(),
  kind: fc.constantFrom(...(Object.keys(CHANGES) as (keyof typeof CHANGES)[])),
  pick: fc.nat(),
});

function apply({ at, kind, pick }: Mutation, holder: { readonly root: unknown }): void {
  const places = placesIn(holder);
  const place = places[at % places.length];
  const other = places[pick % places.length];
  if (place === undefined || other === undefined) return;
  CHANGES[kind](place, { value: read(place), other: read(other), pick });
}

/** Each member and item, the root first. */
function placesIn(holder: object): readonly Place[] {
  const places: Place[] = [];
  const waiting: object[] = [holder];
  for (let parent = waiting.pop(); parent !== undefined; parent = waiting.pop()) {
    for (const place of placesBelow(parent)) {
      places.push(place);
      const value = read(place);
      if (isHolder(value)) waiting.push(value);
    }
  }
  return places;
}

const placesBelow = (parent: object): readonly Place[] =>
  Object.keys(parent).map((key) => ({ parent, key: Array.isArray(parent) ? Number(key) : key }));

const read = ({ parent, key }: Place): unknown => Object.getOwnPropertyDescriptor(parent, key)?.value;

/** As JSON.parse does, `__proto__` becomes a member like others; an array has items only. */
function write({ parent, key }: Place, value: unknown): void {
  if (Array.isArray(parent) && typeof key === 'string') return;
  Object.defineProperty(parent, key, { value, writable: true, enumerable: true, configurable: true });
}

function member(name: string, value: unknown): object {
  const object = {};
  write({ parent: object, key: name }, value);
  return object;
}

function remove({ parent, key }: Place): void {
  if (Array.isArray(parent) && typeof key === 'number') parent.splice(key, 1);
  else Reflect.deleteProperty(parent, key);
}

/** Up to 150 levels, through the elements that may hold themselves and through none. */
function nested(value: unknown, pick: number): unknown {
  const depth = 1 + (pick % 150);
  let inner = value;
  for (let level = 0; level < depth; level += 1) {
    if (pick % 3 === 0) inner = [inner];
    else if (pick % 3 === 1) inner = { extension: [inner] };
    else inner = { url: 'a', contained: [{ resourceType: 'Patient', contained: [inner] }] };
  }
  return inner;
}

function drawn<T>(values: readonly T[], pick: number): T {
  const value = values[pick % values.length];
  if (value === undefined) throw new Error('there is nothing to draw from');
  return structuredClone(value);
}

/** Takes out arrays and objects that hold nothing. */
function prune(parent: object): void {
  for (const place of placesBelow(parent).toReversed()) {
    const value = read(place);
    if (!isHolder(value)) continue;
    prune(value);
    if (Object.keys(value).length === 0) remove(place);
  }
}

const isHolder = (value: unknown): value is object => typeof value === 'object' && value !== null;
