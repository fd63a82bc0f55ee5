/** A word as it is compared: lower case, hyphens and underscores as spaces, spaces run together. */
export function foldWord(word: string): string {
  return word
    .toLowerCase()
    .replace(/[\s_-]+/g, ' ')
    .trim();
}

/** Whether two words are the same but for case, hyphens and spaces. */
export function sameWord(a: string, b: string): boolean {
  return foldWord(a) === foldWord(b);
}
