import type {
  CodeSystem,
  CodeSystemConcept,
  ValueSet,
  ValueSetComposeInclude,
  ValueSetComposeIncludeFilter,
  ValueSetExpansionContains,
} from 'fhir/r4.js';
import type { ValueSetCodes } from '../definitions/index.js';
import { CanonicalIndex, urlOf } from './canonical-index.js';
import { DefinitionFault, naming } from './definition-fault.js';
import { countOf } from './given-values.js';

/** Codes by system; undefined for a system that all codes of are taken, as nothing here lists them. */
type SystemCodes = ReadonlyMap<string, ReadonlySet<string> | undefined>;

/** A concept with the codes above it, nearest first. */
interface Placed {
  readonly concept: CodeSystemConcept;
  readonly above: readonly string[];
}

/**
 * The value sets that profiles bind, worked out of ValueSets and CodeSystems (R4 valueset, "Composition Rules"). A part
 * that needs a code system nobody gave is taken as all codes of that system, with a remark.
 */
export class ValueSets {
  readonly #valueSets: CanonicalIndex<ValueSet>;
  readonly #codeSystems: CanonicalIndex<CodeSystem>;
  readonly #published: ReadonlyMap<string, ValueSetCodes>;
  readonly #worked = new Map<ValueSet, SystemCodes>();
  readonly #concepts = new Map<CodeSystem, readonly Placed[]>();
  readonly #underWay = new Set<ValueSet>();
  /** What could not be worked out, as sentences. */
  readonly remarks = new Set<string>();

  constructor(
    valueSets: readonly ValueSet[],
    codeSystems: readonly CodeSystem[],
    published: readonly ValueSetCodes[],
  ) {
    this.#valueSets = new CanonicalIndex(valueSets);
    this.#codeSystems = new CanonicalIndex(codeSystems);
    this.#published = new Map(published.map((set) => [set.url, set]));
  }

  /** The codes of a value set by its canonical URL; undefined, with a remark, when nobody gave it. */
  find(canonical: string): ValueSetCodes | undefined {
    if (this.#valueSets.find(canonical) === undefined) {
      const published = this.#published.get(urlOf(canonical));
      if (published !== undefined) return published;
    }
    const codes = this.#codesOf(canonical);
    if (codes === undefined) return undefined;
    const include = [...codes].map(([system, listed]) =>
      listed === undefined ? { system } : { system, codes: [...listed] },
    );
    return { url: canonical, include };
  }

  /** Works out each given value set, so that a fault in one is known at the start. */
  workOutAll(): void {
    for (const valueSet of this.#valueSets.all) naming(nameOf(valueSet), () => this.#workOut(valueSet));
  }

  #codesOf(canonical: string): SystemCodes | undefined {
    const given = this.#valueSets.find(canonical);
    if (given !== undefined) return this.#workOut(given);
    const published = this.#published.get(urlOf(canonical));
    if (published === undefined) {
      this.remarks.add(`The value set ${canonical} is not known; its codes are not checked.`);
      return undefined;
    }
    return new Map(
      published.include.map(({ system, codes }) => [
        system,
        codes === undefined ? undefined : new Set(codes),
      ]),
    );
  }

  #workOut(valueSet: ValueSet): SystemCodes {
    const known = this.#worked.get(valueSet);
    if (known !== undefined) return known;
    if (this.#underWay.has(valueSet)) {
      throw new DefinitionFault(nameOf(valueSet), '', 'The value set includes itself.');
    }
    this.#underWay.add(valueSet);
    const codes = this.#expanded(valueSet) ?? this.#composed(valueSet);
    this.#underWay.delete(valueSet);
    this.#worked.set(valueSet, codes);
    return codes;
  }

  /** An expansion that is whole stands for the composition. */
  #expanded({ expansion }: ValueSet): SystemCodes | undefined {
    if (expansion?.contains === undefined) return undefined;
    const codes = new Map<string, Set<string>>();
    const count = addContained(expansion.contains, codes);
    return countOf(expansion.total ?? count) > count ? undefined : codes;
  }

  #composed(valueSet: ValueSet): SystemCodes {
    const { include = [], exclude = [] } = valueSet.compose ?? {};
    if (include.length === 0) {
      throw new DefinitionFault(
        nameOf(valueSet),
        '',
        'The value set has neither a composition nor a whole expansion.',
      );
    }
    const taken = include.map((part) => this.#part(part, valueSet)).reduce(union, new Map());
    return exclude.map((part) => this.#part(part, valueSet)).reduce(without, taken);
  }

  /** One include or exclude: what the system gives, and of that only what is in each of its value sets. */
  #part(part: ValueSetComposeInclude, owner: ValueSet): SystemCodes {
    const own = part.system === undefined ? [] : [this.#ofSystem(part.system, part, owner)];
    const sets = (part.valueSet ?? []).flatMap((canonical) => this.#codesOf(canonical) ?? []);
    const [first, ...rest] = [...own, ...sets];
    return rest.reduce(intersection, first ?? new Map<string, undefined>());
  }

  #ofSystem(system: string, part: ValueSetComposeInclude, owner: ValueSet): SystemCodes {
    if (part.concept !== undefined) return new Map([[system, new Set(part.concept.map(({ code }) => code))]]);
    const canonical = part.version === undefined ? system : `${system}|${part.version}`;
    const codeSystem = this.#codeSystems.find(canonical) ?? this.#codeSystems.find(system);
    if (codeSystem?.content !== 'complete') {
      this.remarks.add(
        `${nameOf(owner)} takes codes of ${system}, which are not listed here and not checked.`,
      );
      return new Map([[system, undefined]]);
    }
    const kept = (part.filter ?? []).map((filter) => compileFilter(filter, codeSystem, owner));
    const placed = this.#placed(codeSystem).filter((each) => kept.every((keeps) => keeps(each)));
    return new Map([[system, new Set(placed.map(({ concept }) => concept.code))]]);
  }

  #placed(codeSystem: CodeSystem): readonly Placed[] {
    const known = this.#concepts.get(codeSystem);
    if (known !== undefined) return known;
    const placed = place(codeSystem.concept ?? [], []);
    this.#concepts.set(codeSystem, placed);
    return placed;
  }
}

const nameOf = ({ url, name, id }: ValueSet): string => url ?? name ?? id ?? 'A value set';

function addContained(
  contains: readonly ValueSetExpansionContains[],
  codes: Map<string, Set<string>>,
): number {
  let count = 0;
  for (const { system, code, abstract, contains: inner = [] } of contains) {
    count += 1 + addContained(inner, codes);
    if (system === undefined || code === undefined || abstract === true) continue;
    codes.set(system, (codes.get(system) ?? new Set()).add(code));
  }
  return count;
}

function union(left: SystemCodes, right: SystemCodes): SystemCodes {
  const both = new Map(left);
  for (const [system, codes] of right) {
    const known = both.get(system);
    const isAll = codes === undefined || (both.has(system) && known === undefined);
    both.set(system, isAll ? undefined : new Set([...(known ?? []), ...codes]));
  }
  return both;
}

function intersection(left: SystemCodes, right: SystemCodes): SystemCodes {
  const shared = [...left].filter(([system]) => right.has(system));
  return new Map(
    shared.map(([system, codes]) => {
      const others = right.get(system);
      if (codes === undefined || others === undefined) return [system, codes ?? others];
      return [system, new Set([...codes].filter((code) => others.has(code)))];
    }),
  );
}

/** Of a system that nothing lists, nothing can be taken away. */
function without(left: SystemCodes, right: SystemCodes): SystemCodes {
  return new Map(
    [...left].map(([system, codes]) => {
      const excluded = right.get(system);
      if (codes === undefined || excluded === undefined) return [system, codes];
      return [system, new Set([...codes].filter((code) => !excluded.has(code)))];
    }),
  );
}

function place(concepts: readonly CodeSystemConcept[], above: readonly string[]): readonly Placed[] {
  return concepts.flatMap((concept) => [
    { concept, above: [...parentsOf(concept), ...above] },
    ...place(concept.concept ?? [], [concept.code, ...parentsOf(concept), ...above]),
  ]);
}

/** Parents that are told by the property `parent` rather than by nesting (R4 codesystem, "Defined Concept Properties"). */
const parentsOf = ({ property = [] }: CodeSystemConcept): readonly string[] =>
  property.flatMap(({ code, valueCode }) =>
    code === 'parent' && valueCode !== undefined ? [valueCode] : [],
  );

/** R4 valueset, `ValueSet.compose.include.filter.op`. */
function compileFilter(
  { op, property, value }: ValueSetComposeIncludeFilter,
  codeSystem: CodeSystem,
  owner: ValueSet,
): (placed: Placed) => boolean {
  const valuesOf = ({ concept }: Placed): readonly string[] => propertyValues(concept, property);
  switch (op) {
    case 'is-a':
      return (placed) => placed.concept.code === value || placed.above.includes(value);
    case 'descendent-of':
      return ({ above }) => above.includes(value);
    case 'is-not-a':
      return (placed) => placed.concept.code !== value && !placed.above.includes(value);
    case 'generalizes': {
      const above = place(codeSystem.concept ?? [], []).find(({ concept }) => concept.code === value)?.above;
      return ({ concept }) => concept.code === value || (above?.includes(concept.code) ?? false);
    }
    case '=':
      return (placed) => valuesOf(placed).includes(value);
    case 'in':
      return (placed) => valuesOf(placed).some((each) => value.split(',').includes(each));
    case 'not-in':
      return (placed) => !valuesOf(placed).some((each) => value.split(',').includes(each));
    case 'exists':
      return (placed) => String(valuesOf(placed).length > 0) === value;
    case 'regex': {
      const pattern = compilePattern(value, owner);
      return (placed) => valuesOf(placed).some((each) => pattern.test(each));
    }
  }
}

function compilePattern(value: string, owner: ValueSet): RegExp {
  try {
    return new RegExp(`^(?:${value})$`, 'u');
  } catch (cause) {
    throw new DefinitionFault(nameOf(owner), '', `The filter ${value} is no regular expression.`, { cause });
  }
}

function propertyValues(concept: CodeSystemConcept, property: string): readonly string[] {
  if (property === 'code' || property === 'concept') return [concept.code];
  if (property === 'display') return concept.display === undefined ? [] : [concept.display];
  return (concept.property ?? [])
    .filter(({ code }) => code === property)
    .map(({ valueCode, valueString, valueBoolean, valueInteger, valueDecimal, valueDateTime, valueCoding }) =>
      String(
        valueCode ??
          valueString ??
          valueBoolean ??
          valueInteger ??
          valueDecimal ??
          valueDateTime ??
          valueCoding?.code,
      ),
    );
}
