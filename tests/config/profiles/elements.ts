import type { CodeableConcept, ElementDefinition, ElementDefinitionBinding } from 'fhir/r4.js';
import { details, SYSTEMS, type CodeReference, type DetailCode } from '../../../src/catalogue/index.js';
import { valueSetUrl } from './value-sets.js';

type Facets = Omit<ElementDefinition, 'id' | 'path' | 'sliceName'>;

/** An element of a differential by its id: the path, and the name of a slice where the id ends in one, follow from it. */
export function element(id: string, facets: Facets): ElementDefinition {
  const sliceName = /:([^.:]+)$/.exec(id)?.[1];
  return {
    id,
    path: id.replaceAll(/:[^.]+/g, ''),
    ...(sliceName !== undefined && { sliceName }),
    ...facets,
  };
}

/** `exactly(1)`, `atLeast(1)`, `atMost(1)`, `none`: cardinalities as a differential states them. */
export const exactly = (count: number): Facets => ({ min: count, max: String(count) });
export const atLeast = (count: number): Facets => ({ min: count });
export const atMost = (count: number): Facets => ({ max: String(count) });
export const none: Facets = { max: '0' };

/** A receiver shows and keeps it, a sender that has it sends it. */
export const mustSupport: Facets = { mustSupport: true };

/** Only these codes. */
export function required(valueSet: string): ElementDefinitionBinding {
  return { strength: 'required', valueSet: valueSetUrl(valueSet) };
}

/** One of these codes where one fits, else another or words. */
export function extensible(valueSet: string): ElementDefinitionBinding {
  return { strength: 'extensible', valueSet: valueSetUrl(valueSet) };
}

/** What a concept must have at least: this code, whatever else stands beside it. */
export function patternOf({ system, code }: CodeReference): CodeableConcept {
  return { coding: [{ system, code }] };
}

/** What the numbers of a quantity may be; both limits included. */
interface Amount {
  /** UCUM code of the only unit. */
  readonly unit?: string;
  /** Value set of the units. */
  readonly units?: string;
  readonly min?: number;
  readonly max?: number;
}

/** A quantity with an exact number in a UCUM unit, at the id of its element. */
export function quantityAt(id: string, { unit, units, min, max }: Amount): readonly ElementDefinition[] {
  return [
    element(`${id}.value`, {
      min: 1,
      ...(min !== undefined && { minValueDecimal: min }),
      ...(max !== undefined && { maxValueDecimal: max }),
    }),
    element(`${id}.comparator`, none),
    element(`${id}.system`, { min: 1, fixedUri: SYSTEMS.ucum }),
    element(`${id}.code`, {
      min: 1,
      ...(unit !== undefined && { fixedCode: unit }),
      ...(units !== undefined && { binding: required(units) }),
    }),
  ];
}

/** FHIR type of the value of a component by what the detail holds. */
const TYPES = {
  text: 'string',
  coded: 'CodeableConcept',
  quantity: 'Quantity',
  whole: 'integer',
  'yes-no': 'boolean',
  dateTime: 'dateTime',
} as const;

/** A component that says one detail, as a slice told by its code; `ofValue` narrows its value. */
export function detail(
  code: DetailCode,
  cardinality: Facets,
  ofValue: Facets = {},
): readonly ElementDefinition[] {
  const row = details.find((one) => one.code === code);
  if (row === undefined) throw new RangeError(`no such detail: ${code}`);
  const id = `Observation.component:${code}`;
  return [
    element(id, { short: row.display, definition: row.definition, ...cardinality, ...mustSupport }),
    element(`${id}.code`, { patternCodeableConcept: patternOf({ system: SYSTEMS.detail, code }) }),
    element(`${id}.value[x]`, { min: 1, type: [{ code: TYPES[row.holds] }], ...ofValue }),
  ];
}
