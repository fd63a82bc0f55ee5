import { expect, test } from 'vitest';
import { soundsOf } from '../../src/fhir/phonetic.js';

/** National Archives of the United States, "The Soundex Indexing System": its own examples. */
const PUBLISHED: readonly (readonly [string, string])[] = [
  ['Washington', 'W252'],
  ['Lee', 'L000'],
  ['Gutierrez', 'G362'],
  ['Pfister', 'P236'],
  ['Jackson', 'J250'],
  ['Tymczak', 'T522'],
  ['Ashcraft', 'A261'],
];

test.each(PUBLISHED)('%s sounds as %s', (name, code) => {
  expect(soundsOf(name)).toEqual([code]);
});

test('each word of a name has its sound, whatever its case and accents, and each sound is told once', () => {
  expect(soundsOf('lée LEE-Jackson')).toEqual(['L000', 'J250']);
});

test('a word without Latin letters stands for itself', () => {
  expect(soundsOf('Ли 李')).toEqual(['ЛИ', '李']);
  expect(soundsOf(' - ')).toEqual([]);
});
