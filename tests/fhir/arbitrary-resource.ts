import fc from 'fast-check';
import type { Definitions, ElementRow, TypeDefinition } from '../../src/fhir/definitions/index.js';

export type JsonObject = Readonly<Record<string, unknown>>;

/** The members that one element takes in its JSON object: none, its value, the twin of a primitive, or both. */
type Members = JsonObject;

const UUID = 'c757873d-ec9a-4326-a141-556f43239520';

/** More nested choices than this, and optional elements are left out. */
const MAX_DEPTH = 5;
/** How often an optional element is drawn, in a hundred. */
const SHARE = 25;
/** What may stand everywhere is drawn seldom, what every careful resource has often. */
const SHARE_BY_NAME: ReadonlyMap<string, number> = new Map([
  ['Element.id', 2],
  ['Element.extension', 4],
  ['DomainResource.extension', 10],
  ['DomainResource.modifierExtension', 2],
  ['BackboneElement.modifierExtension', 1],
  ['DomainResource.contained', 12],
  ['DomainResource.text', 60],
  ['Extension.value[x]', 96],
  ['Identifier.assigner', 8],
  ['CodeableConcept.coding', 75],
  ['Coding.system', 90],
  ['Coding.code', 95],
  ['Coding.version', 5],
  ['Coding.display', 10],
  ['Coding.userSelected', 5],
  ['Observation.value[x]', 60],
  ['Observation.component', 50],
]);
/** A required element is left out once in so many times. */
const ONE_LEFT_OUT_IN = 60;

/** Strings of FHIRPath (System.String), which have neither id nor extensions. */
const NO_ELEMENTS: ReadonlySet<string> = new Set(['Element.id', 'Extension.url']);

/** What a row's name says beyond its type: ids that references can find, and words that invariants look at. */
const BY_NAME: ReadonlyMap<string, fc.Arbitrary<unknown>> = new Map<string, fc.Arbitrary<unknown>>([
  ['Element.id', fc.constantFrom('a', 'b-1')],
  ['Resource.id', fc.constantFrom('a', 'b', 'c')],
  ['Extension.url', fc.constantFrom('http://example.org/a', 'http://example.org/b', 'nested')],
  ['Coding.system', fc.constantFrom('http://example.org/a', 'http://loinc.org')],
  ['Coding.code', fc.constantFrom('a', 'b', '83174-3')],
  ['Quantity.system', fc.constantFrom('http://unitsofmeasure.org', 'urn:oid:1.2.3')],
  ['Quantity.code', fc.constantFrom('kg', 'deg', 'a', 'd', 'min', '1')],
  [
    'Bundle.entry.fullUrl',
    fc.constantFrom(`urn:uuid:${UUID}`, 'https://a.org/f/1', 'https://a.org/Patient/1/_history/2'),
  ],
  ['ElementDefinition.path', fc.constantFrom('Patient', 'Patient.name', 'Patient.name.given', 'x y')],
]);

const texts = [
  'a',
  'b',
  'Knee',
  'Größe 30 \u00b0',
  '\u00a0left\u2009',
  '\u{1f9b5}',
  'two\nlines',
  '0.1',
  'A b',
  'a|b',
];
const uris = [
  'http://example.org/a',
  'http://example.org/b',
  'urn:oid:1.2.3',
  `urn:uuid:${UUID}`,
  'http://unitsofmeasure.org',
];
/** Of unequal precision, offset and order, so that comparisons have every outcome. */
const dates = ['2024', '2024-02', '2024-02-29', '2023-12-31', '2024-03'];
const moments = [
  '2024-02-29T10:00:00Z',
  '2024-02-29T10:00:00.000Z',
  '2024-02-29T11:30:00+02:00',
  '2024-02-29T23:59:60Z',
  '2023-06-21T06:20:00-05:00',
];
const narratives = [
  '<div xmlns="http://www.w3.org/1999/xhtml">Both knees bend.</div>',
  '<div xmlns="http://www.w3.org/1999/xhtml"><p id="a">Left <b>knee</b> &lt; 90&#176;</p></div>',
  '<div xmlns="http://www.w3.org/1999/xhtml"><a href="#a">there</a><img src="#a" alt=""/></div>',
  '<div xmlns="http://www.w3.org/1999/xhtml"></div>',
  '<div xmlns="http://www.w3.org/1999/xhtml"><script>x()</script></div>',
  '<div>Both knees bend.</div>',
  'Both knees bend.',
];
const codes = ['a', 'b', 'kg', 'text/plain', 'en', 'Patient'];

/** Codes of systems that have no published list. */
const UNLISTED: ReadonlyMap<string, readonly string[]> = new Map([
  ['urn:ietf:bcp:13', ['text/plain', 'application/fhir+json']],
  ['urn:ietf:bcp:47', ['en', 'de-CH']],
  ['urn:iso:std:iso:4217', ['CHF', 'EUR']],
  ['http://unitsofmeasure.org', ['kg', 'deg', 'a', 'd', 'min', 'm']],
]);

const PRIMITIVES: Readonly<Record<string, fc.Arbitrary<unknown>>> = {
  boolean: fc.boolean(),
  integer: fc.constantFrom(0, 1, 2, -1, 2_147_483_647, -2_147_483_648),
  unsignedInt: fc.constantFrom(0, 1, 2, 2_147_483_647),
  positiveInt: fc.constantFrom(1, 2, 2_147_483_647),
  decimal: fc.constantFrom(0, 1, 1.5, 30.5, -3, 0.1, 1e-7, 12_345_678.9),
  string: fc.constantFrom(...texts),
  markdown: fc.constantFrom(...texts, '*bold*'),
  xhtml: fc.constantFrom(...narratives),
  code: fc.constantFrom(...codes),
  id: fc.constantFrom('a', 'b', 'c', 'A-1.2'),
  uri: fc.constantFrom(...uris),
  url: fc.constantFrom(...uris),
  canonical: fc.constantFrom(...uris, 'http://example.org/a|1.0', '#a'),
  oid: fc.constantFrom('urn:oid:1.2.3', 'urn:oid:2.16.840.1.113883'),
  uuid: fc.constantFrom(`urn:uuid:${UUID}`),
  base64Binary: fc.constantFrom('YQ==', 'YWJj', 'YWJj\nYQ=='),
  date: fc.constantFrom(...dates),
  dateTime: fc.constantFrom(...dates, ...moments),
  instant: fc.constantFrom(...moments),
  time: fc.constantFrom('08:00:00', '23:59:60', '00:00:00.5'),
};

/**
 * Resources as the definitions describe them: every defined type can be drawn, every element, type of a choice and code
 * of a required binding can occur. They are mostly valid: a required element is left out now and then, and invariants
 * are kept or broken as it falls. The values are few, so that equal ones meet. All are plain JSON of the right shape.
 */
export function arbitraryResources(definitions: Definitions): (type: string) => fc.Arbitrary<JsonObject> {
  const drawn = new ResourceArbitraries(definitions).all();
  return (type) => {
    const arbitrary = drawn[type];
    if (arbitrary === undefined) throw new Error(`no definition of ${type}`);
    return arbitrary;
  };
}

/** The resource types that the definitions describe, in their order. */
export function definedResources({ types, resourceTypes }: Definitions): readonly string[] {
  return types.map(({ name }) => name).filter((name) => resourceTypes.includes(name));
}

class ResourceArbitraries {
  readonly #definitions: Definitions;
  readonly #types: ReadonlyMap<string, TypeDefinition>;
  readonly #valueSets: ReadonlyMap<string, Definitions['valueSets'][number]>;
  readonly #depth = fc.createDepthIdentifier();

  constructor(definitions: Definitions) {
    this.#definitions = definitions;
    this.#types = new Map(definitions.types.map((type) => [type.name, type]));
    this.#valueSets = new Map(definitions.valueSets.map((set) => [set.url, set]));
  }

  /** By the name of the type, and by the path of an element that has elements (`Observation.component`). */
  all(): Readonly<Record<string, fc.Arbitrary<JsonObject>>> {
    return fc.letrec<Record<string, JsonObject>>((tie) => {
      const objects: Record<string, fc.Arbitrary<JsonObject>> = {};
      for (const type of this.#types.values()) {
        if (type.kind === 'primitive-type') continue;
        objects[type.name] = this.#object(type, '', tie);
        for (const path of parentPaths(type)) objects[`${type.name}.${path}`] = this.#object(type, path, tie);
      }
      objects['Resource'] = fc.oneof(...this.#innerTypes().map((name) => tie(name)));
      return objects;
    });
  }

  /** What is contained or an entry: small types, and those that contain or refer themselves. */
  #innerTypes(): readonly string[] {
    const names = ['Patient', 'Observation', 'Organization', 'Provenance'];
    return definedResources(this.#definitions).filter((name) => names.includes(name));
  }

  #object(type: TypeDefinition, path: string, tie: Tie): fc.Arbitrary<JsonObject> {
    const isResource = type.kind === 'resource' && path === '';
    const rows = this.#rowsOf(type, path);
    const members = rows.map(({ owner, row }) => this.#element(owner, row, tie));
    const head = isResource ? { resourceType: type.name } : {};
    return fc.tuple(this.#fallback(rows, tie), ...members).map(([fallback, ...drawn]) => {
      const held = Object.assign({}, head, ...drawn) as JsonObject;
      return isFilled(held) ? held : fallback;
    });
  }

  /** What an object holds of which nothing else was drawn: its first primitive, since it must not be empty. */
  #fallback(rows: readonly OwnedRow[], tie: Tie): fc.Arbitrary<Members> {
    const first = rows.find(
      ({ owner, row }) =>
        owner !== 'Element' && this.#types.get(row.types[0] ?? '')?.kind === 'primitive-type',
    );
    return first === undefined ? fc.constant({}) : this.#present(first.owner, first.row, tie);
  }

  /** The elements below a path of the type, those of its base before. */
  #rowsOf(type: TypeDefinition, path: string): readonly OwnedRow[] {
    const own = type.elements.filter((row) => parentOf(row.path) === path);
    const base = path === '' ? type.base : type.elements.find((row) => row.path === path)?.types[0];
    const baseType = base === undefined ? undefined : this.#types.get(base);
    const inherited = baseType === undefined ? [] : this.#rowsOf(baseType, '');
    return [...inherited, ...own.map((row) => ({ owner: type.name, row }))];
  }

  #element(owner: string, row: ElementRow, tie: Tie): fc.Arbitrary<Members> {
    const present = this.#present(owner, row, tie);
    const share = SHARE_BY_NAME.get(`${owner}.${row.path}`) ?? SHARE;
    // What the element cannot do without does not end at the greatest depth.
    if (row.min > 0 || share > 90)
      return fc
        .tuple(fc.noBias(fc.nat(ONE_LEFT_OUT_IN - 1)), present)
        .map(([chance, held]) => (chance === 0 ? {} : held));
    return fc.oneof(
      { maxDepth: MAX_DEPTH, depthIdentifier: this.#depth, withCrossShrink: true },
      { arbitrary: fc.constant({}), weight: 100 - share },
      { arbitrary: present, weight: share },
    );
  }

  #present(owner: string, row: ElementRow, tie: Tie): fc.Arbitrary<Members> {
    const last = row.path.slice(row.path.lastIndexOf('.') + 1);
    if (row.content !== undefined) return repeated(last, row, tie(`${owner}.${row.content}`));
    const name = last.replace('[x]', '');
    const forms = row.types.map((type) => {
      const jsonName = last === name ? name : name + type.charAt(0).toUpperCase() + type.slice(1);
      return this.#form(owner, row, type, jsonName, tie);
    });
    return forms.length === 1 && forms[0] !== undefined ? forms[0] : fc.oneof(...forms);
  }

  #form(owner: string, row: ElementRow, type: string, jsonName: string, tie: Tie): fc.Arbitrary<Members> {
    const path = `${owner}.${row.path}`;
    if (NO_ELEMENTS.has(path))
      return this.#primitive(owner, row, type).map((value) => ({ [jsonName]: value }));
    if (this.#types.get(type)?.kind === 'primitive-type')
      return primitive(jsonName, row, this.#primitive(owner, row, type), tie);
    if (parentPaths(this.#typeOf(owner)).includes(row.path)) return repeated(jsonName, row, tie(path));
    return repeated(jsonName, row, this.#complex(row, type, tie));
  }

  #primitive(owner: string, row: ElementRow, type: string): fc.Arbitrary<unknown> {
    const named = BY_NAME.get(`${owner}.${row.path}`);
    if (named !== undefined) return named;
    const bound = this.#codesOf(row).map(({ code }) => code);
    if (bound.length > 0) return fc.constantFrom(...bound);
    const usual = PRIMITIVES[type];
    if (usual === undefined) throw new Error(`no values for the primitive type ${type}`);
    return usual;
  }

  #complex(row: ElementRow, type: string, tie: Tie): fc.Arbitrary<JsonObject> {
    const plain = tie(type);
    if (type === 'Reference')
      return fc
        .tuple(plain, referenceTexts(row.targets))
        .map(([held, text]) => (held['reference'] === undefined ? held : { ...held, reference: text }));
    const bound = this.#codesOf(row);
    if (bound.length === 0) return plain;
    const coding = fc.constantFrom(...bound);
    if (type === 'Coding') return fc.tuple(plain, coding).map(([held, drawn]) => ({ ...held, ...drawn }));
    return fc.tuple(plain, coding).map(([held, drawn]) => ({ ...held, coding: [drawn] }));
  }

  #codesOf({
    binding,
    maxValueSet = binding,
  }: ElementRow): readonly { readonly system: string; readonly code: string }[] {
    const set = this.#valueSets.get(binding ?? maxValueSet ?? '');
    return (set?.include ?? []).flatMap(({ system, codes: listed = UNLISTED.get(system) ?? [] }) =>
      listed.map((code) => ({ system, code })),
    );
  }

  #typeOf(name: string): TypeDefinition {
    const type = this.#types.get(name);
    if (type === undefined) throw new Error(`no definition of ${name}`);
    return type;
  }
}

/** An element with the type that defines it. */
interface OwnedRow {
  readonly owner: string;
  readonly row: ElementRow;
}

type Tie = (name: string) => fc.Arbitrary<JsonObject>;

const parentOf = (path: string): string => path.slice(0, Math.max(path.lastIndexOf('.'), 0));

/** Paths of the elements that have elements. */
const parentPaths = (type: TypeDefinition): readonly string[] => [
  ...new Set(type.elements.map(({ path }) => parentOf(path)).filter((path) => path !== '')),
];

/** Text of a reference to an allowed type, to what is contained or may be, or to what tells no type. */
function referenceTexts(targets: readonly string[] | undefined): fc.Arbitrary<string> {
  const [first = 'Patient', last = first] = [targets?.[0], targets?.at(-1)];
  const usual = [`${first}/1`, `https://example.org/fhir/${last}/1/_history/2`, `urn:uuid:${UUID}`];
  return fc.oneof(
    { arbitrary: fc.constantFrom(...usual), weight: 4 },
    { arbitrary: fc.constantFrom('#a', '#b', '#'), weight: 1 },
  );
}

/** An object without members is no JSON of FHIR: it is left out. */
const isFilled = (held: JsonObject): boolean => Object.keys(held).length > 0;

function repeated(jsonName: string, row: ElementRow, each: fc.Arbitrary<JsonObject>): fc.Arbitrary<Members> {
  if (row.max === 1) return each.map((held) => (isFilled(held) ? { [jsonName]: held } : {}));
  return fc.array(each, { minLength: 1, maxLength: 2 }).map((drawn) => {
    const held = drawn.filter(isFilled);
    return held.length === 0 ? {} : { [jsonName]: held };
  });
}

/** A value, a value with its twin, or the twin alone (R4 json, "Representation of primitive elements"). */
function primitive(
  jsonName: string,
  row: ElementRow,
  value: fc.Arbitrary<unknown>,
  tie: Tie,
): fc.Arbitrary<Members> {
  const twin = tie('Element');
  const pair: fc.Arbitrary<Pair> = fc.oneof(
    { arbitrary: value.map((drawn) => ({ drawn })), weight: 30 },
    { arbitrary: fc.record({ drawn: value, beside: twin }), weight: 1 },
    { arbitrary: twin.map((beside) => ({ beside })), weight: 1 },
  );
  const pairs = fc.array(pair, { minLength: 1, maxLength: row.max === 1 ? 1 : 2 });
  return pairs.map((drawn) => twoMembers(jsonName, row.max === 1, drawn));
}

interface Pair {
  readonly drawn?: unknown;
  readonly beside?: JsonObject;
}

function twoMembers(jsonName: string, isSingle: boolean, pairs: readonly Pair[]): Members {
  const held = pairs
    .map(({ drawn, beside }) => ({
      drawn,
      beside: beside !== undefined && isFilled(beside) ? beside : undefined,
    }))
    .filter(({ drawn, beside }) => drawn !== undefined || beside !== undefined);
  const columns = [
    [jsonName, held.map(({ drawn }) => drawn ?? null)],
    [`_${jsonName}`, held.map(({ beside }) => beside ?? null)],
  ] as const;
  return Object.fromEntries(
    columns
      .filter(([, values]) => values.some((each) => each !== null))
      .map(([name, values]) => [name, isSingle ? values[0] : values]),
  );
}
