import type { BaseElement, BaseElements, ElementForm } from './base-elements.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

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

/** Checks one value at the walk's place. */
export type OccurrenceCheck = (occurrence: Occurrence, walk: Walk) => void;

/** Checks all values of an element together, at the place of what holds them. */
export type GroupCheck = (occurrences: readonly Occurrence[], walk: Walk) => void;

/** The values that an object has of an element, in order; null and what is missing is none. */
export function occurrencesOf({ forms, choices }: BaseElement, parent: JsonObject): readonly Occurrence[] {
  const occurrences: Occurrence[] = [];
  if (choices !== undefined) addChosen(choices, parent, occurrences);
  else for (const form of forms) addOccurrences(form, parent, occurrences);
  return occurrences;
}

/** Objects have fewer members than a choice has types. */
function addChosen(
  choices: ReadonlyMap<string, ElementForm>,
  parent: JsonObject,
  occurrences: Occurrence[],
): void {
  for (const key of Object.keys(parent)) {
    const isTwin = key.startsWith('_');
    const form = choices.get(isTwin ? key.slice(1) : key);
    if (form === undefined || (isTwin && parent[form.jsonName] !== undefined)) continue;
    addOccurrences(form, parent, occurrences);
  }
}

function addOccurrences(form: ElementForm, parent: JsonObject, occurrences: Occurrence[]): void {
  const value = parent[form.jsonName];
  const twin = form.isPrimitive ? parent[`_${form.jsonName}`] : undefined;
  if (value === undefined && twin === undefined) return;
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

/** Runs a check at the place of a value; the walk is at what holds it. */
export function checkAt(name: string, occurrence: Occurrence, check: OccurrenceCheck, walk: Walk): void {
  if (!walk.enter(name)) return;
  if (occurrence.index === undefined) check(occurrence, walk);
  else if (walk.enter(occurrence.index)) {
    check(occurrence, walk);
    walk.leave();
  }
  walk.leave();
}

/** A whole resource as a value. */
export function wholeResource(resource: JsonObject, form: ElementForm): Occurrence {
  return { form, value: resource, twin: undefined, index: undefined };
}
