import fhirpath from 'fhirpath';
import r4 from 'fhirpath/fhir-context/r4';
import type { ConstraintRow } from '../definitions/index.js';
import type { NativeInvariant } from './invariants.js';
import { restate } from './restated-invariants.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

/** An invariant as a table or a profile states it. */
export type Constraint = Omit<ConstraintRow, 'path'>;

/**
 * Checks one item that an invariant stands on, and reports at the walk's place when it is broken. `twin`: the id and
 * extensions of a primitive, whose value may then be undefined.
 */
export type InvariantCheck = (value: unknown, walk: Walk, twin?: JsonObject) => void;

/** Where an invariant stands. */
export interface InvariantPlace {
  /**
   * What the item is: the path of an element that has elements of its own (`Observation.component`), else its type
   * (`Quantity`, `dateTime`).
   */
  readonly base: string;
  /** The invariants that are written in code. */
  readonly natives: readonly NativeInvariant[];
}

/** R4 fhirpath, "Variables", and FHIRPath, "Environment variables". */
const VARIABLES = {
  sct: 'http://snomed.info/sct',
  loinc: 'http://loinc.org',
  ucum: 'http://unitsofmeasure.org',
};

/**
 * An empty outcome keeps an invariant, since it says nothing; but where the ends of a period cannot be compared, the
 * validation tests of the standard's community have it broken.
 */
const BROKEN_BY_EMPTY: ReadonlySet<string> = new Set(['per-1']);

/**
 * Compiles an invariant: the native that has the same key and expression, or else its FHIRPath, which is read at first
 * use. What FHIRPath cannot evaluate on an item is told as a remark, never as a fault of the item.
 */
export function compileInvariant(constraint: Constraint, { base, natives }: InvariantPlace): InvariantCheck {
  const { key, expression } = constraint;
  const native = natives.find((each) => each.key === key && each.expression === expression);
  return native === undefined ? fhirPathCheck(constraint, base) : nativeCheck(constraint, native);
}

/** Why the text is no FHIRPath; undefined when it is. */
export function findExpressionFault(expression: string): string | undefined {
  try {
    fhirpath.parse(expression);
    return undefined;
  } catch (fault) {
    return wordsOf(fault);
  }
}

function nativeCheck(constraint: Constraint, native: NativeInvariant): InvariantCheck {
  return (value, walk) => {
    if (isJsonObject(value) && !native.holds(value, walk))
      reportBroken(constraint, walk, native.explain?.(value));
  };
}

/** Whether an item keeps an invariant. */
type Holds = (item: unknown, walk: Walk) => boolean;

function fhirPathCheck(constraint: Constraint, base: string): InvariantCheck {
  const expression = restate(constraint.expression);
  const condition = findCondition(expression);
  const holdsOfElement = atFirstUse(() => compileHolds(constraint.key, base, expression));
  const holdsOfPrimitive = atFirstUse(() =>
    compileHolds(constraint.key, 'Extension', `value.select(${expression})`),
  );
  return (value, walk, twin) => {
    if (condition !== undefined && isJsonObject(value) && !hasElement(value, condition)) return;
    try {
      const holds = isJsonObject(value)
        ? holdsOfElement()(value, walk)
        : holdsOfPrimitive()(asExtension(base, value, twin), walk);
      if (!holds) reportBroken(constraint, walk);
    } catch (fault) {
      reportNotEvaluated(constraint, fault, walk);
    }
  };
}

/** `a.empty() or ...` and `a.exists() implies ...`, with nothing behind that binds looser or as loosely the other way. */
const CONDITION = /^(\w+)\.(?:empty\(\) or|exists\(\) implies) (?!.*\b(?:implies|xor)\b)/;

/** The element without which an invariant is kept: most speak of one that is seldom there, and need no evaluation then. */
const findCondition = (expression: string): string | undefined => CONDITION.exec(expression)?.[1];

/** Whether an object has an element, or may have it as one form of a choice. */
function hasElement(object: JsonObject, name: string): boolean {
  for (const key of Object.keys(object)) {
    if (key.startsWith(name, key.startsWith('_') ? 1 : 0)) return true;
  }
  return false;
}

function atFirstUse<T>(make: () => T): () => T {
  let made: { readonly value: T } | undefined;
  return () => (made ??= { value: make() }).value;
}

/** FHIRPath sees type and extensions of a primitive only from the element that holds it; an extension may hold any. */
function asExtension(type: string, value: unknown, twin: JsonObject | undefined): JsonObject {
  const name = `value${type.charAt(0).toUpperCase()}${type.slice(1)}`;
  return {
    ...(value === undefined ? {} : { [name]: value }),
    ...(twin === undefined ? {} : { [`_${name}`]: twin }),
  };
}

/** FHIRPath, "isDistinct", as fhirpath has it: it compares each item with each. */
const isDistinct = fhirpath.compile('%items.isDistinct()', r4, { async: false });

/** The same in one pass for texts, of which a code system has thousands. */
function areDistinct(items: readonly unknown[]): readonly unknown[] {
  const texts = items.map(dataOf);
  if (texts.every((text) => typeof text === 'string')) return [new Set(texts).size === texts.length];
  return isDistinct({}, { items });
}

const OPTIONS = {
  resolveInternalTypes: false,
  traceFn: (): void => undefined,
  userInvocationTable: { isDistinct: { fn: areDistinct, arity: { 0: [] }, internalStructures: true } },
};

function compileHolds(key: string, base: string, expression: string): Holds {
  const evaluate = fhirpath.compile({ base, expression }, r4, OPTIONS);
  return (item, walk) => {
    const outcome: readonly unknown[] = evaluate(walk.plainOf(item), {
      ...VARIABLES,
      resource: walk.plainOf(walk.resource),
      rootResource: walk.plainOf(walk.container),
    });
    return outcome.length === 0 ? !BROKEN_BY_EMPTY.has(key) : !isFalse(outcome);
  };
}

/** FHIRPath, "Singleton Evaluation of Collections": what is no Boolean counts as true. */
function isFalse([first, ...others]: readonly unknown[]): boolean {
  return others.length === 0 && dataOf(first) === false;
}

/** The value of a node of fhirpath; what is none is its own. */
const dataOf = (node: unknown): unknown => (isJsonObject(node) && 'data' in node ? node['data'] : node);

function reportBroken({ key, severity, human }: Constraint, walk: Walk, explained?: string): void {
  walk.report({ severity, code: 'invariant', rule: key, diagnostics: explained ?? asSentence(human) });
}

function reportNotEvaluated({ key, human }: Constraint, fault: unknown, walk: Walk): void {
  const diagnostics = `Whether this keeps "${human}" cannot be told: ${asSentence(wordsOf(fault))}`;
  walk.report({ severity: 'information', code: 'not-supported', rule: key, diagnostics });
}

const wordsOf = (fault: unknown): string => (fault instanceof Error ? fault.message : String(fault));

const asSentence = (words: string): string =>
  /[.!?]$/.test(words.trim()) ? words.trim() : `${words.trim()}.`;
