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

/** Runs the work on one definition; whatever it trips over is told with the name of the definition, like any fault in it. */
export function naming<T>(definition: string, work: () => T): T {
  try {
    return work();
  } catch (cause) {
    if (cause instanceof DefinitionFault) throw cause;
    const words = cause instanceof Error ? cause.message : 'unknown';
    throw new DefinitionFault(definition, '', `It cannot be read (${words}).`, { cause });
  }
}
