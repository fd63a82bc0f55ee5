/** A definition that cannot be compiled, and so must stop the start: which one, at which element, and why. */
export class DefinitionFault extends Error {
  override readonly name = 'DefinitionFault';
  /** Canonical URL of the definition, or the name it goes by. */
  readonly definition: string;
  /** Element id (`Observation.component:left.code`); empty: the definition as a whole. */
  readonly element: string;

  /** `sentence`: what is wrong, as one plain sentence. */
  constructor(definition: string, element: string, sentence: string, options?: ErrorOptions) {
    super(`${definition}${element === '' ? '' : ` at ${element}`}: ${sentence}`, options);
    this.definition = definition;
    this.element = element;
  }
}
