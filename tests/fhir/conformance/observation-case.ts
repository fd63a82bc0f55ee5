import type { Given } from './judgement.js';

export { page } from './judgement.js';

/**
 * The cases of one rule of R4 4.0.1, written from its published text and definitions. The names are sentences of the field;
 * each invalid resource breaks this rule, at this place, and no other.
 */
export interface RuleCases {
  /** Key of the invariant (`obs-6`), or our name of the rule (`cardinality`). */
  readonly rule: string;
  /** Page and anchor of the standard. */
  readonly section: string;
  /** What the rule stands on, as the definitions name it: an element (`Quantity.comparator`) or a type (`decimal`). */
  readonly on?: string;
  readonly keeps?: Readonly<Record<string, Given>>;
  /** With the place of the fault, in FHIRPath. */
  readonly breaks?: Readonly<Record<string, readonly [place: string, given: Given]>>;
}

/** One case of the table. */
export interface ObservationCase {
  readonly name: string;
  readonly rule: string;
  readonly section: string;
  readonly on: string | undefined;
  readonly given: Given;
  /** FHIRPath of the fault; undefined when the resource is valid. */
  readonly place: string | undefined;
}

/** The cases one by one. */
export function casesOf({
  rule,
  section,
  on,
  keeps = {},
  breaks = {},
}: RuleCases): readonly ObservationCase[] {
  return [
    ...Object.entries(keeps).map(([name, given]) => ({ name, rule, section, on, given, place: undefined })),
    ...Object.entries(breaks).map(([name, [place, given]]) => ({ name, rule, section, on, given, place })),
  ];
}

/** The least that an Observation holds, with more or other members. */
export const observation = (members: object = {}): object => ({
  resourceType: 'Observation',
  status: 'final',
  code: { text: 'Grip strength' },
  ...members,
});

/** The same as JSON text, with the text of further members. */
export const observationText = (members: string): string =>
  `{"resourceType":"Observation","status":"final","code":{"text":"Grip strength"},${members}}`;

/** An Observation whose only extension has this value: `holding({ valueAge: ... })`. */
export const holding = (value: object): object =>
  observation({ extension: [{ url: 'https://example.org/fhir/StructureDefinition/bedside', ...value }] });

/** Place of the value of {@link holding}. */
export const HELD = 'Observation.extension[0].value';

/** R4 extension data-absent-reason, in the place of a value that is required. */
export const ABSENT = {
  extension: [
    { url: 'http://hl7.org/fhir/StructureDefinition/data-absent-reason', valueCode: 'asked-unknown' },
  ],
};
