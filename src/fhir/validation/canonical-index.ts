import { DefinitionFault } from './definition-fault.js';

/** What has a canonical URL, with a version or without. */
export interface Canonical {
  readonly url?: string | undefined;
  readonly version?: string | undefined;
  readonly name?: string | undefined;
}

/** Definitions by canonical URL, with `|version` or without; without one, the highest version is meant. */
export class CanonicalIndex<T extends Canonical> {
  readonly #byUrl = new Map<string, T>();
  readonly #byVersion = new Map<string, T>();

  /** Throws a DefinitionFault when one has no URL, or two have the same URL and version. */
  constructor(definitions: readonly T[]) {
    for (const definition of definitions) this.#add(definition);
  }

  get all(): readonly T[] {
    return [...this.#byVersion.values()];
  }

  find(canonical: string): T | undefined {
    return canonical.includes('|') ? this.#byVersion.get(canonical) : this.#byUrl.get(canonical);
  }

  #add(definition: T): void {
    const { url, version = '', name = '' } = definition;
    if (typeof url !== 'string' || url === '')
      throw new DefinitionFault(name, '', 'The definition has no url.');
    const canonical = `${url}|${version}`;
    if (this.#byVersion.has(canonical)) {
      throw new DefinitionFault(url, '', `There are two definitions of version "${version}".`);
    }
    this.#byVersion.set(canonical, definition);
    const known = this.#byUrl.get(url);
    if (known === undefined || isLater(version, known.version ?? '')) this.#byUrl.set(url, definition);
  }
}

/** `1.10.0` is later than `1.9.0`; numbers in versions count as numbers. */
const isLater = (version: string, other: string): boolean =>
  version.localeCompare(other, 'en', { numeric: true }) > 0;

/** A canonical URL without its version. */
export const urlOf = (canonical: string): string => canonical.split('|', 1)[0] ?? canonical;
