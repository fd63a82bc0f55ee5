import { hasErrors } from '../issue.js';
import type { BaseElement, BaseElements, ElementForm } from './base-elements.js';
import { isJsonObject, type JsonObject, objectsIn, Walk } from './walk.js';

/** One value of an element in a resource. */
export interface Occurrence {
  readonly form: ElementForm;
  /** Undefined for a primitive that has only an id or extensions. */
  readonly value: unknown;
  /** The id and extensions of a primitive. */
  readonly twin: unknown;
  /** Place in the array; undefined for a single value. */
  readonly index: number | undefined;
}

/** The resource that is looked at, and those that its references look into. */
export interface Scope {
  readonly resource: JsonObject;
  /** The resource that contains it, or itself. */
  readonly container: JsonObject;
  /** The Bundle that it is an entry of. */
  readonly bundle: JsonObject | undefined;
}

/** Checks one value at the walk's place. */
export type OccurrenceCheck = (occurrence: Occurrence, scope: Scope, walk: Walk) => void;

/** Checks all values of an element together, at the place of what holds them. */
export type GroupCheck = (occurrences: readonly Occurrence[], scope: Scope, walk: Walk) => void;

/** The values that an object has of an element, in order; null and what is missing is none. */
export function occurrencesOf({ forms }: BaseElement, parent: JsonObject): readonly Occurrence[] {
  const occurrences: Occurrence[] = [];
  for (const form of forms) {
    const value = parent[form.jsonName];
    const twin = form.isPrimitive ? parent[`_${form.jsonName}`] : undefined;
    if (value !== undefined || twin !== undefined) addOccurrences(form, value, twin, occurrences);
  }
  return occurrences;
}

function addOccurrences(form: ElementForm, value: unknown, twin: unknown, occurrences: Occurrence[]): void {
  if (!Array.isArray(value) && !Array.isArray(twin)) {
    if (isPresent(value) || isPresent(twin)) occurrences.push({ form, value, twin, index: undefined });
    return;
  }
  const values: readonly unknown[] = Array.isArray(value) ? value : [];
  const twins: readonly unknown[] = Array.isArray(twin) ? twin : [];
  const length = Math.max(values.length, twins.length);
  for (let index = 0; index < length; index += 1) {
    if (isPresent(values[index]) || isPresent(twins[index])) {
      occurrences.push({ form, value: values[index] ?? undefined, twin: twins[index], index });
    }
  }
}

const isPresent = (value: unknown): boolean => value !== undefined && value !== null;

const NOTHING: JsonObject = {};

/** What holds the elements of a value: the value itself, or the twin of a primitive. */
export function membersOf({ form, value, twin }: Occurrence): JsonObject {
  const members = form.isPrimitive ? twin : value;
  return isJsonObject(members) ? members : NOTHING;
}

/** The type of a value; of a resource the one it says. */
export function typeOf({ form, value }: Occurrence): string {
  if (form.type !== 'Resource' || !isJsonObject(value)) return form.type;
  const type = value['resourceType'];
  return typeof type === 'string' ? type : form.type;
}

/** Whether a value is of a form that a profile allows: JSON tells a choice by its name, a resource by its type. */
export function isOfForm(occurrence: Occurrence, form: ElementForm, elements: BaseElements): boolean {
  if (occurrence.form.type !== 'Resource') return occurrence.form.jsonName === form.jsonName;
  return elements.isOfType(typeOf(occurrence), form.type);
}

/** Whether the value is a resource within another one. */
export const isResource = ({ form, value }: Occurrence): boolean =>
  form.type === 'Resource' && isJsonObject(value);

/** Runs a check inside a resource that another one holds. */
export function checkWithin(
  resource: JsonObject,
  scope: Scope,
  walk: Walk,
  check: (scope: Scope, walk: Walk) => void,
): void {
  const isContained = objectsIn(scope.resource['contained']).includes(resource);
  walk.within(resource, isContained, () => {
    check(innerScope(resource, isContained, scope), walk);
  });
}

function innerScope(resource: JsonObject, isContained: boolean, scope: Scope): Scope {
  if (isContained) return { ...scope, resource };
  const isEntry = scope.resource['resourceType'] === 'Bundle';
  return { resource, container: resource, bundle: isEntry ? scope.resource : scope.bundle };
}

/** Runs a check at the place of a value; the walk is at what holds it. */
export function checkAt(
  name: string,
  occurrence: Occurrence,
  check: OccurrenceCheck,
  scope: Scope,
  walk: Walk,
): void {
  if (!walk.enter(name)) return;
  if (occurrence.index === undefined) check(occurrence, scope, walk);
  else if (walk.enter(occurrence.index)) {
    check(occurrence, scope, walk);
    walk.leave();
  }
  walk.leave();
}

/** Whether a value passes a check, without telling of it. */
export function keeps(check: OccurrenceCheck, occurrence: Occurrence, scope: Scope): boolean {
  const walk = new Walk(scope.container);
  if (scope.resource === scope.container) check(occurrence, scope, walk);
  else {
    walk.within(scope.resource, true, () => {
      check(occurrence, scope, walk);
    });
  }
  return !hasErrors(walk.issues);
}

/** A whole resource as a value. */
export function wholeResource(resource: JsonObject, form: ElementForm): Occurrence {
  return { form, value: resource, twin: undefined, index: undefined };
}
