import { readReference } from './references.js';

/** The nodes of a resource that an expression names, in document order; arrays are taken item by item. */
export type Path = (resource: unknown) => readonly unknown[];

/**
 * Compiles the part of FHIRPath in which the R4 search parameters of our types are written: `a.b.c`, unions by `|`,
 * `(x as T)`, `.as(T)` and `.ofType(T)` on choice elements, `.where(resolve() is T)` on references and
 * `.where(name='text')`. Throws a SyntaxError that names the expression on anything else, so that a mistake in a table
 * stops the start and not a search.
 */
export function compilePath(expression: string): Path {
  const walks = new ExpressionReader(expression).readUnion().map((steps) => chain(steps));
  return (resource) => {
    const found: unknown[] = [];
    for (const walk of walks) walk(resource, found);
    return found;
  };
}

type Step =
  | { readonly kind: 'root'; readonly type: string }
  | { readonly kind: 'member'; readonly name: string }
  | { readonly kind: 'resolves-to'; readonly type: string }
  | { readonly kind: 'equals'; readonly name: string; readonly text: string };

type Walk = (node: unknown, found: unknown[]) => void;

/**
 * Elements that expressions name without a type although they are a choice (R4 formats, choice of datatypes): in JSON
 * their names end in the type.
 */
const CHOICE_ELEMENTS: ReadonlyMap<string, readonly string[]> = new Map([
  ['effective', ['effectiveDateTime', 'effectivePeriod', 'effectiveTiming', 'effectiveInstant']],
]);

const keep: Walk = (node, found) => {
  found.push(node);
};

function chain(steps: readonly Step[]): Walk {
  return steps.reduceRight<Walk>((next, step) => walkOf(step, next), keep);
}

function walkOf(step: Step, next: Walk): Walk {
  switch (step.kind) {
    case 'root':
      return (node, found) => {
        if (step.type === 'Resource' || memberOf(node, 'resourceType') === step.type) next(node, found);
      };
    case 'member':
      return walkMembers(CHOICE_ELEMENTS.get(step.name) ?? [step.name], next);
    case 'resolves-to':
      return (node, found) => {
        if (typeOfReference(node) === step.type) next(node, found);
      };
    case 'equals':
      return (node, found) => {
        if (memberOf(node, step.name) === step.text) next(node, found);
      };
  }
}

function walkMembers(names: readonly string[], next: Walk): Walk {
  return (node, found) => {
    for (const name of names) {
      const value = memberOf(node, name);
      if (!Array.isArray(value)) {
        if (value !== undefined && value !== null) next(value, found);
        continue;
      }
      for (const item of value as readonly unknown[]) if (item !== null) next(item, found);
    }
  };
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

const TOKENS = /\s*(?:([A-Za-z][A-Za-z0-9]*)|('[^']*')|([.|()=]))/y;

/** Recursive descent over the tokens of one expression. */
class ExpressionReader {
  readonly #expression: string;
  readonly #tokens: readonly string[];
  #at = 0;

  constructor(expression: string) {
    this.#expression = expression;
    this.#tokens = this.#split();
  }

  readUnion(): readonly (readonly Step[])[] {
    const chains = [this.#readChain()];
    while (this.#take('|')) chains.push(this.#readChain());
    if (this.#at < this.#tokens.length) throw this.#unknown();
    return chains;
  }

  #readChain(): readonly Step[] {
    let steps = this.#take('(') ? this.#readTyped() : [this.#readRoot()];
    while (this.#take('.')) steps = this.#readStep(steps);
    return steps;
  }

  #readRoot(): Step {
    return { kind: 'root', type: this.#readName() };
  }

  /** The rest of `(x as T)`. */
  #readTyped(): readonly Step[] {
    const steps = this.#readChain();
    this.#expect('as');
    const type = this.#readName();
    this.#expect(')');
    return this.#asType(steps, type);
  }

  #readStep(before: readonly Step[]): readonly Step[] {
    const name = this.#readName();
    if (!this.#take('(')) return [...before, { kind: 'member', name }];
    const after = this.#readCall(name, before);
    this.#expect(')');
    return after;
  }

  #readCall(name: string, before: readonly Step[]): readonly Step[] {
    if (name === 'as' || name === 'ofType') return this.#asType(before, this.#readName());
    if (name !== 'where') throw this.#unknown();
    const subject = this.#readName();
    if (subject === 'resolve' && this.#take('(')) {
      this.#expect(')');
      this.#expect('is');
      return [...before, { kind: 'resolves-to', type: this.#readName() }];
    }
    this.#expect('=');
    return [...before, { kind: 'equals', name: subject, text: this.#readText() }];
  }

  #asType(steps: readonly Step[], type: string): readonly Step[] {
    const last = steps.at(-1);
    if (last?.kind !== 'member') throw this.#unknown();
    const name = last.name + type.charAt(0).toUpperCase() + type.slice(1);
    return [...steps.slice(0, -1), { kind: 'member', name }];
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
