import type { CodeableConcept, Extension, Observation, ObservationComponent, Quantity } from 'fhir/r4.js';
import {
  DETAIL_NOTE_URL,
  DETAIL_SIDE_URL,
  detailDisplay,
  findObservable,
  lateralityCode,
  sideOfConcept,
  SYSTEMS,
  type CodeReference,
  type DetailCode,
  type Observable,
  type Side,
} from '../catalogue/index.js';
import { decimal, type Lossless } from '../fhir/index.js';
import type { DecimalText } from './exam.js';

/** An Observation whose numbers keep their digits. */
export type ExamObservation = Lossless<Observation>;
export type Component = Lossless<ObservationComponent>;
export type Concept = Lossless<CodeableConcept>;

/** FHIR R4 `code`: no white space at either end, single spaces inside (datatypes, code). */
const CODE = /^[^\s]+( [^\s]+)*$/;

/** A word of the catalogue, or a free one, as a concept: a coding where it can be one, and always the text. */
export function wordConcept(word: string, label = word): Concept {
  return CODE.test(word)
    ? conceptOf([{ system: SYSTEMS.word, code: word, display: label }], label)
    : { text: word };
}

/** The word that `wordConcept` was made of. */
export function wordOf(concept: Concept | undefined): string | undefined {
  return codeIn(concept, SYSTEMS.word) ?? concept?.text;
}

/** The code that a concept holds of one code system. */
export function codeIn(concept: Concept | undefined, system: string): string | undefined {
  return concept?.coding?.find((coding) => coding.system === system)?.code;
}

/** The concept of a coded row, with what is to be read. */
export function conceptOf(codes: readonly CodeReference[], text: string): Concept {
  return { coding: codes, text };
}

export function detailConcept(detail: DetailCode): Concept {
  const display = detailDisplay(detail);
  return { coding: [{ system: SYSTEMS.detail, code: detail, display }], text: display };
}

/** A component that holds a word; none when there is no word. */
export function wordDetail(
  detail: DetailCode,
  word: string | undefined,
  label?: string,
): readonly Component[] {
  return word === undefined
    ? []
    : [{ code: detailConcept(detail), valueCodeableConcept: wordConcept(word, label) }];
}

/** A component that holds free text; none when there is none. */
export function textDetail(detail: DetailCode, text: string | undefined): readonly Component[] {
  return text === undefined ? [] : [{ code: detailConcept(detail), valueString: text }];
}

/** A component that says yes or no; none when it was not asked. */
export function yesNoDetail(detail: DetailCode, said: boolean | undefined): readonly Component[] {
  return said === undefined ? [] : [{ code: detailConcept(detail), valueBoolean: said }];
}

export function wholeDetail(detail: DetailCode, whole: number | undefined): readonly Component[] {
  return whole === undefined ? [] : [{ code: detailConcept(detail), valueInteger: whole }];
}

export function dateDetail(detail: DetailCode, date: string | undefined): readonly Component[] {
  return date === undefined ? [] : [{ code: detailConcept(detail), valueDateTime: date }];
}

/** The direction of a midline movement, in the codes of left and right; never a laterality of the body site. */
export function directionDetail(direction: Side | undefined): readonly Component[] {
  return direction === undefined
    ? []
    : [{ code: detailConcept('direction'), valueCodeableConcept: sideConcept(direction) }];
}

export function sideConcept(side: Side): Concept {
  return conceptOf([lateralityCode(side)], side);
}

/** A quantity in a UCUM unit with its digits as typed; `shown` is the unit as people write it. */
export function quantity(digits: DecimalText, ucum: string, shown = ucum): Lossless<Quantity> {
  return { value: decimal(digits), unit: shown, system: SYSTEMS.ucum, code: ucum };
}

/** The digits of a quantity's value; undefined when it has none. */
export function digitsOf(held: Lossless<Quantity> | undefined): DecimalText | undefined {
  return held?.value === undefined ? undefined : String(held.value);
}

/** A component with a note or a side of its own. */
export function marked(
  component: Component,
  marks: { note?: string | undefined; side?: Side | undefined },
): Component {
  const extension: Lossless<Extension>[] = [];
  if (marks.side !== undefined)
    extension.push({ url: DETAIL_SIDE_URL, valueCodeableConcept: sideConcept(marks.side) });
  if (marks.note !== undefined) extension.push({ url: DETAIL_NOTE_URL, valueString: marks.note });
  return extension.length === 0 ? component : { extension, ...component };
}

export function noteOf(component: Component): string | undefined {
  return component.extension?.find((extension) => extension.url === DETAIL_NOTE_URL)?.valueString;
}

export function markedSideOf(component: Component): Side | undefined {
  return sideOfConcept(
    component.extension?.find((extension) => extension.url === DETAIL_SIDE_URL)?.valueCodeableConcept,
  );
}

/** The components that say one kind of detail, in their order. */
export function detailsOf(observation: ExamObservation, detail: DetailCode): readonly Component[] {
  return (observation.component ?? []).filter(
    (component) => codeIn(component.code, SYSTEMS.detail) === detail,
  );
}

export function detailOf(observation: ExamObservation, detail: DetailCode): Component | undefined {
  return detailsOf(observation, detail)[0];
}

export function wordIn(observation: ExamObservation, detail: DetailCode): string | undefined {
  return wordOf(detailOf(observation, detail)?.valueCodeableConcept);
}

export function textIn(observation: ExamObservation, detail: DetailCode): string | undefined {
  return detailOf(observation, detail)?.valueString;
}

export function textsIn(observation: ExamObservation, detail: DetailCode): readonly string[] {
  return detailsOf(observation, detail).flatMap(({ valueString }) => valueString ?? []);
}

export function wordsIn(observation: ExamObservation, detail: DetailCode): readonly string[] {
  return detailsOf(observation, detail).flatMap((component) => wordOf(component.valueCodeableConcept) ?? []);
}

/** The direction of a midline movement. */
export function directionIn(observation: ExamObservation): Side | undefined {
  return sideOfConcept(detailOf(observation, 'direction')?.valueCodeableConcept);
}

/** The observable that a concept names by any of its codes. */
export function observableOf(concept: Concept): Observable | undefined {
  for (const { system = '', code = '' } of concept.coding ?? []) {
    const found = findObservable(system, code);
    if (found !== undefined) return found;
  }
  return undefined;
}

/** Each component with what it is about, when that is an observable of the catalogue. */
export function componentsOf({
  component = [],
}: ExamObservation): readonly (readonly [Observable | undefined, Component])[] {
  return component.map((said) => [observableOf(said.code), said]);
}
