/**
 * How the words of a name sound, each once, for the search parameter `phonetic`: by the Soundex code as the National
 * Archives of the United States use it ("The Soundex Indexing System": Robert R163, Tymczak T522, Pfister P236). A word
 * without Latin letters stands for itself.
 */
export function soundsOf(name: string): readonly string[] {
  const plain = name.normalize('NFD').replaceAll(/\p{M}/gu, '').toUpperCase();
  const words = plain.split(/[^\p{L}\p{N}]+/u).filter((word) => word !== '');
  return [...new Set(words.map(soundOf))];
}

/** Digits of the consonants; H and W between two of one digit leave them one, a vowel parts them. */
const DIGITS: ReadonlyMap<string, string> = new Map(
  ['BFPV', 'CGJKQSXZ', 'DT', 'L', 'MN', 'R'].flatMap((letters, place) =>
    Array.from(letters, (letter) => [letter, String(place + 1)] as const),
  ),
);

function soundOf(word: string): string {
  const letters = word.replaceAll(/[^A-Z]/g, '');
  const first = letters.charAt(0);
  if (first === '') return word;
  let code = first;
  let last = DIGITS.get(first);
  for (const letter of letters.slice(1)) {
    if (letter === 'H' || letter === 'W') continue;
    const digit = DIGITS.get(letter);
    if (digit !== undefined && digit !== last) code += digit;
    last = digit;
  }
  return code.slice(0, SOUNDEX_LENGTH).padEnd(SOUNDEX_LENGTH, '0');
}

const SOUNDEX_LENGTH = 4;
