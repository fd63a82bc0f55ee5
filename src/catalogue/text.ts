/** A word as it is compared: lower case, hyphens and underscores as spaces, spaces run together. */
export function foldWord(word: string): string {
  return word
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
}

/** A row that goes by its id, its label and its synonyms. */
export interface Named {
  readonly id: string;
  readonly label?: string;
  readonly synonyms: readonly string[];
}

/**
 * Makes the search for the row that a word names; case, hyphens and spaces do not count. Every word is folded once,
 * here; of two rows with one word the first has it.
 */
export function finderOf<Row>(
  rows: readonly Row[],
  wordsOf: (row: Row) => readonly string[],
): (word: string) => Row | undefined {
  const index = new Map<string, Row>();
  for (const row of rows) {
    for (const word of wordsOf(row).map(foldWord)) if (!index.has(word)) index.set(word, row);
  }
  return (word) => index.get(foldWord(word));
}

/** The words of a named row. */
export function wordsOf({ id, label = id, synonyms }: Named): readonly string[] {
  return [id, label, ...synonyms];
}
