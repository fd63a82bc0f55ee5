import { isLosslessNumber } from 'lossless-json';
import { type FhirIssue, pathStep } from '../issue.js';

export type JsonObject = Readonly<Record<string, unknown>>;

/** What a check says of a fault; the walk adds the place. */
export interface Fault {
  readonly severity?: FhirIssue['severity'];
  readonly code: FhirIssue['code'];
  readonly rule: string;
  readonly diagnostics: string;
  readonly found?: unknown;
  readonly allowed?: unknown;
}

/** Whether the value is a JSON object: no array, null or number object. */
export function isJsonObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && !isLosslessNumber(value);
}

/** The JSON objects in an array; none when the value is no array. */
export function objectsIn(value: unknown): readonly JsonObject[] {
  return Array.isArray(value) ? (value as readonly unknown[]).filter(isJsonObject) : [];
}

/** Deeper than any parsed text goes, so that an object that holds itself ends too. */
const MAX_STEPS = 400;
/** A resource with this many faults is garbage; more would only lengthen the answer. */
const MAX_ISSUES = 1000;
/** Longer than any sentence of the rules with a list of what is allowed. */
const MAX_SENTENCE = 2000;

/**
 * One way through a resource: where the checks are, what they found, and the resource that contains what is looked at.
 * Steps are kept apart and joined only when a fault is found.
 */
export class Walk {
  readonly issues: FhirIssue[] = [];
  readonly #steps: (string | number)[] = [];
  #resource: JsonObject;
  #container: JsonObject;
  #contained: ReadonlyMap<unknown, JsonObject> | undefined;
  #bundle: JsonObject | undefined;
  #plain: Map<object, unknown> | undefined;
  #hasEnded = false;

  /** `resource`: the one that is walked through. */
  constructor(resource: JsonObject) {
    this.#resource = resource;
    this.#container = resource;
  }

  /** The resource that holds what is looked at: FHIRPath's `%resource`. */
  get resource(): JsonObject {
    return this.#resource;
  }

  /** The same, but for a contained one what contains it: FHIRPath's `%rootResource`, into which `#id` looks. */
  get container(): JsonObject {
    return this.#container;
  }

  /** The nearest Bundle of which what is looked at stands in an entry; references look into its entries. */
  get bundle(): JsonObject | undefined {
    return this.#bundle;
  }

  /** Whether what is looked at stands in a contained resource. */
  get isContained(): boolean {
    return this.#resource !== this.#container;
  }

  /**
   * Runs a check inside a resource within the one at hand. One in `contained` keeps the container; one in an entry or a
   * parameter stands for itself (R4 references, "Contained Resources").
   */
  within(resource: JsonObject, isContained: boolean, check: () => void): void {
    const [outer, container, contained, bundle] = [
      this.#resource,
      this.#container,
      this.#contained,
      this.#bundle,
    ];
    if (outer['resourceType'] === 'Bundle') this.#bundle = outer;
    this.#resource = resource;
    if (!isContained) {
      this.#container = resource;
      this.#contained = undefined;
    }
    check();
    this.#resource = outer;
    this.#container = container;
    this.#contained = contained;
    this.#bundle = bundle;
  }

  /** Goes down to a member, or to an item of it; false when the walk ends here: too deep, or too many faults. */
  enter(step: string | number): boolean {
    if (this.#hasEnded) return false;
    if (this.#steps.length >= MAX_STEPS) {
      this.report({ code: 'too-long', rule: 'depth', diagnostics: 'Elements are nested too deeply.' });
      return false;
    }
    this.#steps.push(step);
    return true;
  }

  leave(): void {
    this.#steps.pop();
  }

  report(fault: Fault): void {
    if (this.#hasEnded) return;
    const diagnostics = shorten(fault.diagnostics);
    this.issues.push({ severity: 'error', ...fault, diagnostics, expression: this.expression });
    if (this.issues.length < MAX_ISSUES) return;
    this.#hasEnded = true;
    this.issues.push({
      severity: 'information',
      code: 'too-costly',
      rule: 'too-many-faults',
      expression: this.expression,
      diagnostics: `More than ${String(MAX_ISSUES)} faults; the rest is not told.`,
    });
  }

  /** Reports a fault of a member of the element at hand. */
  reportAt(name: string, fault: Fault): void {
    this.#steps.push(name);
    this.report(fault);
    this.#steps.pop();
  }

  /** What `#id` points to, the first one where two have the id; an empty id is the container itself. */
  findContained(id: string): JsonObject | undefined {
    if (id === '') return this.#container;
    this.#contained ??= new Map(
      objectsIn(this.#container['contained'])
        .toReversed()
        .map((each) => [each['id'], each]),
    );
    return this.#contained.get(id);
  }

  /** A value with its numbers as JavaScript has them; itself when they are. Each object is copied at most once. */
  plainOf(value: unknown): unknown {
    return toPlain(value, (this.#plain ??= new Map<object, unknown>()));
  }

  /** The place in FHIRPath. */
  get expression(): string {
    return this.#steps.reduce<string>((path, step) => {
      if (typeof step === 'number') return `${path}[${String(step)}]`;
      return path === '' ? pathStep(step) : `${path}.${pathStep(step)}`;
    }, '');
  }
}

/** A sentence that quotes a text of any length loses its middle: what is found and what is allowed stay readable. */
const shorten = (sentence: string): string =>
  sentence.length <= MAX_SENTENCE
    ? sentence
    : `${sentence.slice(0, MAX_SENTENCE / 2)} … ${sentence.slice(-MAX_SENTENCE / 2)}`;

function toPlain(value: unknown, known: Map<object, unknown>): unknown {
  if (typeof value !== 'object' || value === null) return value;
  if (isLosslessNumber(value)) return Number(value.toString());
  if (known.has(value)) return known.get(value);
  known.set(value, value);
  const plain = plainCopy(value, known);
  known.set(value, plain);
  return plain;
}

/** A copy where something in it differs as plain, else the value itself. */
function plainCopy(value: object, known: Map<object, unknown>): object {
  if (Array.isArray(value)) {
    const items: readonly unknown[] = value;
    const plain = items.map((item) => toPlain(item, known));
    return plain.every((item, index) => item === items[index]) ? items : plain;
  }
  let copy: Record<string, unknown> | undefined;
  for (const [name, item] of Object.entries(value)) {
    const plain = toPlain(item, known);
    if (plain !== item) (copy ??= { ...value })[name] = plain;
  }
  return copy ?? value;
}
