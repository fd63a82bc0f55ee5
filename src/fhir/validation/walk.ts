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
/** Most faults, and most remarks, that are told: a resource with more is garbage, and they only lengthen the answer. */
const MAX_ISSUES = 1000;
/** Longer than any sentence of the rules with a list of what is allowed. */
const MAX_SENTENCE = 2000;

/** What is found in the resources of one validation; each is read once, however often it is asked. */
class ResourceIndex {
  readonly #contained = new Map<JsonObject, ReadonlySet<JsonObject>>();
  readonly #entries = new Map<JsonObject, ReadonlyMap<string, JsonObject>>();

  /** Whether a resource stands in `contained` of the other. */
  isContained(resource: JsonObject, container: JsonObject): boolean {
    let contained = this.#contained.get(container);
    if (contained === undefined) {
      contained = new Set(objectsIn(container['contained']));
      this.#contained.set(container, contained);
    }
    return contained.has(resource);
  }

  /** R4 bundle, "Resolving references in Bundles": by full URL, or a relative one against the type and id of an entry. */
  findBundled(text: string, bundle: JsonObject): JsonObject | undefined {
    let entries = this.#entries.get(bundle);
    if (entries === undefined) {
      entries = entriesByUrl(bundle);
      this.#entries.set(bundle, entries);
    }
    return entries.get(text.split('/_history/', 1)[0] ?? text);
  }
}

function entriesByUrl(bundle: JsonObject): ReadonlyMap<string, JsonObject> {
  const entries = new Map<string, JsonObject>();
  for (const { fullUrl, resource } of objectsIn(bundle['entry'])) {
    if (!isJsonObject(resource)) continue;
    const { resourceType, id } = resource;
    if (typeof resourceType === 'string' && typeof id === 'string')
      entries.set(`${resourceType}/${id}`, resource);
    if (typeof fullUrl === 'string') entries.set(fullUrl, resource);
  }
  return entries;
}

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
  #index: ResourceIndex | undefined;
  #plain: Map<object, unknown> | undefined;
  #hasEnded = false;
  #faults = 0;
  #remarks = 0;

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

  /** Made at first use, since most resources neither contain others nor stand in a Bundle. */
  get index(): ResourceIndex {
    return (this.#index ??= new ResourceIndex());
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
    const [outer, bundle] = [this.#resource, this.#bundle];
    const [container, contained] = [this.#container, this.#contained];
    if (outer['resourceType'] === 'Bundle') this.#bundle = outer;
    this.#resource = resource;
    if (!isContained) {
      this.#container = resource;
      this.#contained = undefined;
    }
    check();
    [this.#resource, this.#bundle] = [outer, bundle];
    if (!isContained) [this.#container, this.#contained] = [container, contained];
  }

  /** Whether a check, run at the same place on a walk of its own, finds no fault; what it finds is not told. */
  keeps(check: (aside: Walk) => void): boolean {
    const aside = new Walk(this.#resource);
    aside.#container = this.#container;
    aside.#bundle = this.#bundle;
    aside.#index = this.#index;
    check(aside);
    return aside.#faults === 0;
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

  /** Tells a fault; of too many the rest goes untold, but a remark never stands in the way of a fault. */
  report(fault: Fault): void {
    const { severity = 'error' } = fault;
    const isFault = severity === 'error' || severity === 'fatal';
    const told = isFault ? (this.#faults += 1) : (this.#remarks += 1);
    if (told > MAX_ISSUES) return;
    const diagnostics = shorten(fault.diagnostics);
    this.issues.push({ severity, ...fault, diagnostics, expression: this.expression });
    if (told < MAX_ISSUES) return;
    if (isFault) this.#hasEnded = true;
    this.issues.push({
      severity: 'information',
      code: 'too-costly',
      rule: 'too-many-faults',
      expression: this.expression,
      diagnostics: `More than ${String(MAX_ISSUES)} ${isFault ? 'faults' : 'remarks'}; the rest is not told.`,
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

  /** What a reference by URL or URN points to in the nearest Bundle of which what is looked at stands in an entry. */
  findBundled(text: string): JsonObject | undefined {
    if (this.#bundle === undefined) return undefined;
    return this.index.findBundled(text, this.#bundle);
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
