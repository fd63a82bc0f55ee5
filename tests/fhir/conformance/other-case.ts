import { stepsOf } from '../place.js';

export { page } from './judgement.js';

/**
 * One case of the table: a resource (or the text of one), whether R4 4.0.1 takes it, and the rule that it keeps or breaks.
 * Written from the published text and definitions.
 */
export interface OtherCase {
  /** A sentence of the field. */
  readonly name: string;
  /** Page and anchor of the standard. */
  readonly section: string;
  readonly resource?: object;
  /** JSON text, where an object cannot hold the case. */
  readonly text?: string;
  readonly valid: boolean;
  /** Key of the invariant, or name of the rule, that the case is about. */
  readonly rule?: string;
  /** FHIRPath of the fault. */
  readonly place?: string;
  /** Faults that come with it and cannot be kept apart: rules of which one says what the other does. */
  readonly also?: readonly string[];
  /** Valid, and yet the standard warns: key of the invariant of severity warning, at `place`. */
  readonly warns?: string;
}

/** A valid case that keeps a rule. */
export const keeps = (rule: string, section: string, name: string, resource: object): OtherCase => ({
  name,
  section,
  resource,
  valid: true,
  rule,
});

/** An invalid case that breaks a rule at a place, and no other. */
export const breaks = (
  rule: string,
  place: string,
  section: string,
  name: string,
  resource: object,
): OtherCase => ({ name, section, resource, valid: false, rule, place });

/** A valid case of which the standard warns by an invariant of severity warning. */
export const warns = (
  rule: string,
  place: string,
  section: string,
  name: string,
  resource: object,
): OtherCase => ({ name, section, resource, valid: true, rule, warns: rule, place });

/** A copy of the resource with another value at a place of its JSON: `Patient.contact[0].gender`. */
export function withAt<T extends object>(resource: T, place: string, value: unknown): T {
  const copy = structuredClone(resource);
  const steps = stepsBelow(place);
  let at: Record<string | number, unknown> = copy as Record<string, unknown>;
  for (const [index, step] of steps.entries()) {
    const next = steps[index + 1];
    if (next === undefined) at[step] = value;
    else at = (at[step] ??= typeof next === 'number' ? [] : {}) as Record<string | number, unknown>;
  }
  return copy;
}

/** A copy of the resource without what stands at a place; throws when nothing does. */
export function without<T extends object>(resource: T, place: string): T {
  const copy = structuredClone(resource);
  const steps = stepsBelow(place);
  const last = steps.pop() ?? '';
  let at: Record<string | number, unknown> | undefined = copy as Record<string, unknown>;
  for (const step of steps) at = at?.[step] as Record<string | number, unknown> | undefined;
  if (at?.[last] === undefined) throw new Error(`nothing stands at ${place}`);
  Reflect.deleteProperty(at, last);
  return copy;
}

/** What stands at a place of the resource's JSON. */
export function valueAt(resource: object, place: string): unknown {
  return stepsBelow(place).reduce<unknown>(
    (value, step) => (value as Record<string | number, unknown> | undefined)?.[step],
    resource,
  );
}

/** The steps after the type's name; that of `[0]` is a number. */
function stepsBelow(place: string): (string | number)[] {
  const steps = stepsOf(place);
  if (steps === undefined) throw new Error(`${place} is no place`);
  return steps.slice(1);
}
