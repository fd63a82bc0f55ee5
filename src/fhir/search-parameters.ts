import { r4Definitions, r4SearchParameters } from './definitions/index.js';
import type { SearchParameterRow } from './definitions/index.js';
import { compilePaths } from './path.js';
import type { SearchPath, Step } from './path.js';
import { RESOURCE_TYPES } from './resource-types.js';
import type { ResourceType } from './resource-types.js';

/** Datatypes that each kind of parameter reads (R4 search, "Search Types and FHIR Types"). */
const DATATYPES = {
  token: ['code', 'id', 'string', 'boolean', 'Coding', 'CodeableConcept', 'Identifier', 'ContactPoint'],
  string: ['string', 'HumanName', 'Address'],
  date: ['date', 'dateTime', 'instant', 'Period', 'Timing'],
  quantity: ['Quantity', 'Age', 'Duration', 'Range', 'SampledData'],
  reference: ['Reference', 'canonical'],
  uri: ['uri', 'canonical'],
} as const;

/** The kinds that read values of their own; a composite joins those of others. */
export type ValueKind = keyof typeof DATATYPES;

export type DatatypeOf<K extends ValueKind> = (typeof DATATYPES)[K][number];

/** A path to values of a kind. */
export type PathOf<K extends ValueKind> = SearchPath & { readonly datatype: DatatypeOf<K> };

interface ParameterBase {
  /** The name in a query. */
  readonly code: string;
  /** The part of the published expression that concerns this type. */
  readonly expression: string;
  /** Canonical URL of the SearchParameter; one of ours is relative to our canonical base. */
  readonly definition: string;
  /** Answered from what the store keeps of each resource: no values are extracted. */
  readonly kept?: true;
  /** `_sort` may name it. */
  readonly sortable?: true;
}

interface ReadParameter<K extends ValueKind> extends ParameterBase {
  readonly kind: K;
  readonly paths: readonly PathOf<K>[];
  /** It finds what these two find together and has no values of its own (`combo-code`: `code`, `component-code`). */
  readonly joins?: readonly [string, string];
}

/** How one search parameter of one type finds its values. */
export type SearchParameter =
  | ReadParameter<'token'>
  /** `phonetic`: it compares how words sound. */
  | (ReadParameter<'string'> & { readonly phonetic?: true })
  | ReadParameter<'date'>
  | ReadParameter<'quantity'>
  | ReadParameter<'uri'>
  | (ReadParameter<'reference'> & {
      /** The types it may point at; absent: any. One alone is the type of a bare id. */
      readonly targets?: readonly string[];
    })
  | (ParameterBase & {
      readonly kind: 'composite';
      /** Where the parts can stand together: any of these. */
      readonly places: readonly CompositePlace[];
    });

/** One place where the parts of a composite stand together; parts are codes of parameters of the type. */
export type CompositePlace =
  /** The resource, which has one value of each part. */
  | { readonly kind: 'resource'; readonly parts: readonly string[] }
  /** A repeated element with two codes; the pairs are kept under this parameter. */
  | {
      readonly kind: 'pair';
      readonly parts: readonly [string, string];
      readonly parameter: string;
      readonly steps: readonly Step[];
    }
  /** A repeated element with a code and a quantity, which keeps the code. */
  | { readonly kind: 'quantity'; readonly parts: readonly [string, string]; readonly steps: readonly Step[] };

/** The search parameter of a type, or undefined where the type has none of that name. */
export function findSearchParameter(type: ResourceType, code: string): SearchParameter | undefined {
  return byCode.get(type)?.get(code);
}

/**
 * Parameters of ours, because R4 has none on the body site of an Observation; the dash marks them as custom (R4 search,
 * custom parameters).
 */
const ownParameters: readonly SearchParameterRow[] = [
  {
    code: '-body-site',
    kind: 'token',
    definition: 'SearchParameter/observation-body-site',
    expression: 'Observation.bodySite',
  },
  {
    code: '-laterality',
    kind: 'token',
    definition: 'SearchParameter/observation-laterality',
    expression:
      "Observation.bodySite.extension.where(url='http://hl7.org/fhir/StructureDefinition/observation-structureLaterality').value.ofType(CodeableConcept)",
  },
  {
    code: '-code-body-site-laterality',
    kind: 'composite',
    definition: 'SearchParameter/observation-code-body-site-laterality',
    expression: 'Observation',
    components: [
      'http://hl7.org/fhir/SearchParameter/clinical-code',
      'SearchParameter/observation-body-site',
      'SearchParameter/observation-laterality',
    ],
  },
];

/** `_id` and `_lastUpdated` are columns of the store. */
const KEPT: ReadonlySet<string> = new Set(['_id', '_lastUpdated']);

/** R4 SearchParameter.xpathUsage `phonetic`. */
const PHONETIC = 'phonetic';

/**
 * Which parameters each type is found by: all of HL7 FHIR R4 4.0.1 but `_text`, `_content`, `_query` and `near`, and our
 * own. Datatypes, systems of codes and targets of references are those of the elements that the expressions lead to.
 */
export const searchParameters: Readonly<Record<ResourceType, readonly SearchParameter[]>> =
  Object.fromEntries(RESOURCE_TYPES.map((type) => [type, compileParameters(type)])) as Record<
    ResourceType,
    readonly SearchParameter[]
  >;

function compileParameters(type: ResourceType): readonly SearchParameter[] {
  const rows = [
    ...(r4SearchParameters['Resource'] ?? []),
    ...(r4SearchParameters[type] ?? []),
    ...(type === 'Observation' ? ownParameters : []),
  ];
  const paths = new Map(
    rows.map((row) => [row.definition, compilePaths(row.expression, type, r4Definitions)] as const),
  );
  const table: Table = { rows, pathsOf: (row) => paths.get(row.definition) ?? [] };
  return rows.map((row) => compileParameter(row, table));
}

/** The parameters of one type with what their expressions lead to. */
interface Table {
  readonly rows: readonly SearchParameterRow[];
  readonly pathsOf: (row: SearchParameterRow) => readonly SearchPath[];
}

function compileParameter(row: SearchParameterRow, table: Table): SearchParameter {
  const { code, kind, definition } = row;
  const base = baseOf(row);
  switch (kind) {
    case 'number':
      throw new RangeError(`no datatype of ${definition} is searched as a number`);
    case 'composite':
      return { ...base, kind, places: placesOf(row, table) };
    case 'token':
      return { ...base, ...joinsOf(row, table), kind, paths: readablePaths(row, kind, table) };
    case 'quantity':
      return { ...base, ...joinsOf(row, table), kind, paths: readablePaths(row, kind, table) };
    case 'string': {
      const sound = code === PHONETIC ? { phonetic: true as const } : {};
      return { ...base, ...sound, kind, paths: readablePaths(row, kind, table) };
    }
    case 'date':
      return { ...base, kind, paths: readablePaths(row, kind, table) };
    case 'uri':
      return { ...base, kind, paths: readablePaths(row, kind, table) };
    case 'reference': {
      const paths = readablePaths(row, kind, table);
      const targets = targetsOf(row, paths);
      return { ...base, kind, paths, ...(targets === undefined ? {} : { targets }) };
    }
  }
}

function baseOf({ code, kind, expression, definition }: SearchParameterRow): ParameterBase {
  return {
    ...{ code, expression, definition },
    ...(KEPT.has(code) ? { kept: true } : {}),
    ...(kind === 'date' || code === '_id' ? { sortable: true } : {}),
  };
}

function joinsOf(row: SearchParameterRow, table: Table): { readonly joins?: readonly [string, string] } {
  const parts = partsOf(row, table);
  return parts === undefined ? {} : { joins: [parts[0].code, parts[1].code] };
}

function readablePaths<K extends ValueKind>(
  row: SearchParameterRow,
  kind: K,
  { pathsOf }: Table,
): readonly PathOf<K>[] {
  const paths = pathsOf(row);
  const readable = paths.filter((path): path is PathOf<K> =>
    (DATATYPES[kind] as readonly string[]).includes(path.datatype),
  );
  if (readable.length === 0 || readable.length < paths.length)
    throw new RangeError(`${row.definition} leads to values that are not searched as ${kind}`);
  return readable;
}

/** What the parameter names, cut to what its elements and its expression allow: `patient` is of a Patient alone. */
function targetsOf(
  { targets }: SearchParameterRow,
  paths: readonly SearchPath[],
): readonly string[] | undefined {
  const allowed = paths.map(({ steps, element }) => {
    const resolved = steps.find((step) => step.kind === 'resolves-to');
    return resolved === undefined ? element?.targets : [resolved.type];
  });
  if (targets === undefined || allowed.includes(undefined))
    return allowed.length === 1 ? (allowed[0] ?? targets) : targets;
  return targets.filter((target) => allowed.some((list) => list?.includes(target)));
}

/** The two parameters of the same kind whose paths are together those of this one. */
function partsOf(
  row: SearchParameterRow,
  { rows, pathsOf }: Table,
): readonly [SearchParameterRow, SearchParameterRow] | undefined {
  const whole = new Set(pathsOf(row).map(textOfPath));
  const parts = rows.filter((other) => {
    const own = pathsOf(other);
    return (
      other.kind === row.kind && own.length < whole.size && own.every((path) => whole.has(textOfPath(path)))
    );
  });
  const [first, second] = parts;
  const isAll =
    first !== undefined &&
    second !== undefined &&
    pathsOf(first).length + pathsOf(second).length === whole.size;
  return isAll && parts.length === 2 ? [first, second] : undefined;
}

function textOfPath({ steps }: SearchPath): string {
  return JSON.stringify(steps);
}

/** Where the parts of a composite stand together: at each element that its expression names. */
function placesOf(row: SearchParameterRow, table: Table): readonly CompositePlace[] {
  const contexts = table.pathsOf(row).map(({ steps }) => steps);
  return contexts.map((steps) => placeOf(steps, contexts, row, table));
}

function placeOf(
  steps: readonly Step[],
  contexts: readonly (readonly Step[])[],
  row: SearchParameterRow,
  table: Table,
): CompositePlace {
  const inner = contexts.filter((context) => context.length > 0);
  const isAt = (path: SearchPath): boolean =>
    steps.length === 0 ? !inner.some((context) => startsWith(path, context)) : startsWith(path, steps);
  const parts = (row.components ?? []).map((definition) => partAt(definition, isAt, table));
  if (steps.length === 0) return { kind: 'resource', parts: parts.map(({ code }) => code) };
  const [first, second, ...more] = parts;
  if (first?.kind !== 'token' || second === undefined || more.length > 0) throw notComposed(row.definition);
  const pair = [first.code, second.code] as const;
  if (second.kind === 'quantity') return { kind: 'quantity', parts: pair, steps };
  if (second.kind === 'token')
    return { kind: 'pair', parts: pair, steps, parameter: pairedUnder(pair, row, table) };
  throw notComposed(row.definition);
}

/** Whether a path leads through the element that the steps lead to. */
export function startsWith(path: SearchPath, steps: readonly Step[]): boolean {
  const start = path.steps.slice(0, steps.length);
  return JSON.stringify(start) === JSON.stringify(steps);
}

/** The parameter of a composite's part, cut to those of its own parts that are at the place. */
function partAt(definition: string, isAt: (path: SearchPath) => boolean, table: Table): SearchParameterRow {
  const row = table.rows.find((other) => other.definition === definition);
  if (row === undefined) throw notComposed(definition);
  const found = (partsOf(row, table) ?? [row]).find((part) => table.pathsOf(part).every(isAt));
  if (found === undefined) throw notComposed(definition);
  return found;
}

/** Which composite keeps these pairs: the one that has no other place. */
function pairedUnder(pair: readonly string[], row: SearchParameterRow, { rows, pathsOf }: Table): string {
  const codesOf = ({ components = [] }: SearchParameterRow): readonly (string | undefined)[] =>
    components.map((definition) => rows.find((other) => other.definition === definition)?.code);
  const keeper = rows.find(
    (other) =>
      other.kind === 'composite' &&
      pathsOf(other).length === 1 &&
      codesOf(other).join(' ') === pair.join(' '),
  );
  return keeper?.code ?? row.code;
}

function notComposed(definition: string): RangeError {
  return new RangeError(`the parts of a composite do not stand together: ${definition}`);
}

const byCode: ReadonlyMap<ResourceType, ReadonlyMap<string, SearchParameter>> = new Map(
  RESOURCE_TYPES.map((type) => [type, new Map(searchParameters[type].map((row) => [row.code, row]))]),
);
