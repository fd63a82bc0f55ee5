import type { Definitions, ElementRow, TypeDefinition } from './definitions/index.js';
import { readReference } from './references.js';

/** One way from a node to others; the nodes it ends at are all of one datatype. */
export interface SearchPath {
  readonly steps: readonly Step[];
  /** Name of the datatype at its end; of a resource's or element's own structure, that of the type it is in. */
  readonly datatype: string;
  /** The element at its end; absent for a resource itself. */
  readonly element?: ElementRow;
}

export type Step =
  /** The member of a JSON object, arrays item by item. */
  | { readonly kind: 'member'; readonly name: string }
  /** Only an object whose member is the text. */
  | { readonly kind: 'equals'; readonly name: string; readonly text: string }
  /** Only a reference that names the type. */
  | { readonly kind: 'resolves-to'; readonly type: string }
  /** Whether one of the members is there and not `false`: always one boolean. */
  | { readonly kind: 'is-said'; readonly names: readonly string[] };

/** Goes along a path from a node and hands each node at its end on, with what they are gathered into. */
export type Walk<T> = (node: unknown, into: T) => void;

/**
 * Reads the part of FHIRPath in which the R4 search parameters are written, on resources of one type: `a.b.c`, unions by
 * `|`, `(x as T)`, `.as(T)` and `.ofType(T)` on choice elements, `.where(resolve() is T)` on references,
 * `.where(name='text')`, and `x.exists() and x != false`. Elements and datatypes are those of the definitions. Throws a
 * SyntaxError that names the expression on anything else, so that a mistake in a table stops the start and not a search.
 */
export function compilePaths(
  expression: string,
  type: string,
  definitions: Pick<Definitions, 'types'>,
): readonly SearchPath[] {
  return new ExpressionReader(expression, type, new Structures(definitions)).read();
}

/** The walk along the steps of a path, to the visit that it ends with; in document order, arrays item by item. */
export function compileWalk<T>(steps: readonly Step[], visit: Walk<T>): Walk<T> {
  return steps.reduceRight<Walk<T>>((next, step) => walkOf(step, next), visit);
}

function walkOf<T>(step: Step, next: Walk<T>): Walk<T> {
  switch (step.kind) {
    case 'member':
      return (node, into) => {
        visitItems(memberOf(node, step.name), next, into);
      };
    case 'equals':
      return (node, into) => {
        if (memberOf(node, step.name) === step.text) next(node, into);
      };
    case 'resolves-to':
      return (node, into) => {
        if (typeOfReference(node) === step.type) next(node, into);
      };
    case 'is-said':
      return (node, into) => {
        next(
          step.names.some((name) => (memberOf(node, name) ?? false) !== false),
          into,
        );
      };
  }
}

/** Visits a member's value, an array item by item; `null` pads arrays and is none (R4 JSON). */
export function visitItems<T>(value: unknown, visit: Walk<T>, into: T): void {
  if (value === undefined || value === null) return;
  if (!Array.isArray(value)) visit(value, into);
  else for (const item of value as readonly unknown[]) if (item !== null) visit(item, into);
}

/** The member of a JSON object; undefined on anything else. */
export function memberOf(node: unknown, name: string): unknown {
  return typeof node === 'object' && node !== null ? (node as Record<string, unknown>)[name] : undefined;
}

/** The type a reference names: in `Reference.type`, or else in its text; resolving it is not needed. */
function typeOfReference(node: unknown): string | undefined {
  const stated = memberOf(node, 'type');
  if (typeof stated === 'string') return stated;
  const text = memberOf(node, 'reference');
  const form = typeof text === 'string' ? readReference(text) : undefined;
  return form !== undefined && 'type' in form ? form.type : undefined;
}

/** A structure in the definitions: a type, or an element of one that has elements of its own. */
interface Structure {
  readonly type: string;
  /** Below the type; empty: the type itself. */
  readonly path: string;
}

/** Elements that are structures of the type they stand in, and of no datatype of their own. */
const INLINE: ReadonlySet<string> = new Set(['BackboneElement', 'Element']);

class Structures {
  readonly #types: ReadonlyMap<string, TypeDefinition>;

  constructor({ types }: Pick<Definitions, 'types'>) {
    this.#types = new Map(types.map((type) => [type.name, type]));
  }

  isDefined(type: string): boolean {
    return this.#types.has(type);
  }

  /** The element of this name, a choice element by its name without `[x]`. */
  findElement({ type, path }: Structure, name: string): ElementRow | undefined {
    const wanted = path === '' ? name : `${path}.${name}`;
    for (let at = this.#types.get(type); at !== undefined; at = this.#types.get(at.base ?? '')) {
      const found = at.elements.find((row) => row.path === wanted || row.path === `${wanted}[x]`);
      if (found !== undefined) return found;
    }
    return undefined;
  }

  /** The structure that an element of this datatype is of. */
  below(parent: Structure, row: ElementRow, datatype: string): Structure {
    return INLINE.has(datatype) ? { type: parent.type, path: row.path } : { type: datatype, path: '' };
  }
}

/** How far an expression was read: the steps up to `at`, or up to an element that is still to be entered. */
interface Reading {
  readonly steps: readonly Step[];
  readonly at: Structure;
  readonly pending?: ElementRow;
  /** Steps after the pending element. */
  readonly filters: readonly Step[];
}

const TOKENS = /\s*(?:([A-Za-z][A-Za-z0-9]*)|('[^']*')|(!=|[.|()=]))/y;

/** Recursive descent over the tokens of one expression. */
class ExpressionReader {
  readonly #expression: string;
  readonly #type: string;
  readonly #structures: Structures;
  readonly #tokens: readonly string[];
  #at = 0;

  constructor(expression: string, type: string, structures: Structures) {
    this.#expression = expression;
    this.#type = type;
    this.#structures = structures;
    this.#tokens = this.#split();
  }

  read(): readonly SearchPath[] {
    const paths = [...this.#readAlternative()];
    while (this.#take('|')) paths.push(...this.#readAlternative());
    if (this.#at < this.#tokens.length) throw this.#unknown();
    return paths;
  }

  #readAlternative(): readonly SearchPath[] {
    const reading = this.#readChain();
    return this.#tokens[this.#at] === 'and' ? [this.#readIsSaid(reading)] : this.#pathsOf(reading);
  }

  #readChain(): Reading {
    let reading = this.#take('(') ? this.#readTyped() : this.#readRoot();
    while (this.#take('.')) {
      const name = this.#readName();
      if (!this.#take('(')) reading = this.#enter(reading, name);
      else if (name === 'exists') {
        this.#expect(')');
        return reading;
      } else {
        reading = this.#readCall(name, reading);
        this.#expect(')');
      }
    }
    return reading;
  }

  #readRoot(): Reading {
    const name = this.#readName();
    if (name !== this.#type && name !== 'Resource') throw this.#unknown();
    return { steps: [], at: { type: this.#type, path: '' }, filters: [] };
  }

  /** The rest of `(x as T)`. */
  #readTyped(): Reading {
    const reading = this.#readChain();
    this.#expect('as');
    const typed = this.#asType(reading, this.#readName());
    this.#expect(')');
    return typed;
  }

  /** The rest of `x.exists() and x != false`, which is of one element. */
  #readIsSaid({ pending, steps, filters }: Reading): SearchPath {
    this.#expect('and');
    const again = this.#readChain();
    this.#expect('!=');
    this.#expect('false');
    if (pending === undefined || again.pending !== pending || steps.length + filters.length > 0)
      throw this.#unknown();
    const names = pending.types.map((type) => jsonName(pending, type));
    return { steps: [{ kind: 'is-said', names }], datatype: 'boolean', element: pending };
  }

  /** The member of this name, after the pending element is entered. */
  #enter(reading: Reading, name: string): Reading {
    const { steps, at } = this.#entered(reading);
    const pending = this.#structures.findElement(at, name);
    if (pending === undefined) throw this.#unknown();
    return { steps, at, pending, filters: [] };
  }

  #entered(reading: Reading): Pick<Reading, 'steps' | 'at'> {
    const { pending, at } = reading;
    const [datatype, ...others] = pending?.types ?? [];
    if (pending === undefined || datatype === undefined) return reading;
    if (others.length > 0) throw this.#unknown();
    return { steps: stepsInto(reading, datatype), at: this.#structures.below(at, pending, datatype) };
  }

  #readCall(name: string, reading: Reading): Reading {
    if (name === 'as' || name === 'ofType') return this.#asType(reading, this.#readName());
    if (name !== 'where' || reading.pending === undefined) throw this.#unknown();
    return { ...reading, filters: [...reading.filters, this.#readFilter()] };
  }

  #readFilter(): Step {
    const name = this.#readName();
    if (name === 'resolve' && this.#take('(')) {
      this.#expect(')');
      this.#expect('is');
      return { kind: 'resolves-to', type: this.#readName() };
    }
    this.#expect('=');
    return { kind: 'equals', name, text: this.#readText() };
  }

  #asType(reading: Reading, datatype: string): Reading {
    const { pending } = reading;
    if (pending?.types.includes(datatype) !== true) throw this.#unknown();
    return { ...reading, pending: { ...pending, types: [datatype] } };
  }

  #pathsOf(reading: Reading): readonly SearchPath[] {
    const { pending, steps, at } = reading;
    if (pending === undefined) return [{ steps, datatype: at.type }];
    return pending.types.map((datatype) => ({
      steps: stepsInto(reading, datatype),
      datatype: this.#structures.isDefined(datatype) ? datatype : 'string',
      element: pending,
    }));
  }

  #readName(): string {
    const token = this.#tokens[this.#at];
    if (token === undefined || !/^[A-Za-z]/.test(token)) throw this.#unknown();
    this.#at += 1;
    return token;
  }

  #readText(): string {
    const token = this.#tokens[this.#at];
    if (token?.startsWith("'") !== true) throw this.#unknown();
    this.#at += 1;
    return token.slice(1, -1);
  }

  #take(token: string): boolean {
    if (this.#tokens[this.#at] !== token) return false;
    this.#at += 1;
    return true;
  }

  #expect(token: string): void {
    if (!this.#take(token)) throw this.#unknown();
  }

  #split(): readonly string[] {
    const tokens: string[] = [];
    const end = this.#expression.trimEnd().length;
    TOKENS.lastIndex = 0;
    while (TOKENS.lastIndex < end) {
      const match = TOKENS.exec(this.#expression);
      if (match === null) throw this.#unknown();
      tokens.push(match[0].trim());
    }
    return tokens;
  }

  #unknown(): SyntaxError {
    return new SyntaxError(`search expression not understood: ${this.#expression}`);
  }
}

function stepsInto({ steps, pending, filters }: Reading, datatype: string): readonly Step[] {
  if (pending === undefined) return steps;
  return [...steps, { kind: 'member', name: jsonName(pending, datatype) }, ...filters];
}

/** R4 formats, choice of datatypes: in JSON the name of a choice element ends in the type. */
function jsonName({ path }: ElementRow, datatype: string): string {
  const name = path.slice(path.lastIndexOf('.') + 1);
  if (!name.endsWith('[x]')) return name;
  return name.slice(0, -'[x]'.length) + datatype.charAt(0).toUpperCase() + datatype.slice(1);
}
