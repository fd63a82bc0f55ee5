import { findMovement, type Side } from '../catalogue/index.js';
import type { Reading } from './readings.js';

/** The everyday name of a movement inside a sentence: `flexion`, `rotation to the left`. */
export function movementWords(movement: string, direction?: Side): string {
  const term = (findMovement(movement)?.term ?? movement).replace(/ \(.*\)$/, '');
  return direction === undefined ? term : `${term} to the ${direction}`;
}

/** What a reading says: `flexion 74 deg`, `strength of flexion grade 3`, `grip 53 kgf`. */
export function readingWords(reading: Reading, value = reading.value): string {
  const { finding } = reading;
  switch (finding.kind) {
    case 'range':
    case 'measure':
      return `${thing(reading)} ${amount(reading, value)}`;
    case 'strength':
    case 'as-expected':
      return `strength of ${thing(reading)} ${amount(reading, value)}`;
    case 'grip':
      return `grip ${amount(reading, value)}`;
  }
}

function thing({ movement, direction, digit, level, finding }: Reading): string {
  const named = movement === undefined ? measureName(finding) : movementWords(movement, direction);
  return [digit?.replace('.', ' '), named, level && `at ${level}`].filter((part) => part).join(' ');
}

function measureName(finding: Reading['finding']): string {
  return finding.kind === 'measure' ? finding.measure : finding.kind;
}

/** A value of a reading's series in the words of its scale. */
export function amount({ finding, unit }: Reading, value: number): string {
  switch (finding.kind) {
    case 'strength':
    case 'as-expected':
      return `grade ${value}`;
    case 'range':
      return 'lacks' in finding.extent ? `lacking ${value} ${unit}` : `${value} ${unit}`;
    case 'grip':
    case 'measure':
      return `${value} ${unit}`;
  }
}

/** An instant (ms) on the clock of an instant text's own offset: `2026-03-05 08:10`. */
export function clockWords(ms: number, onClockOf: string): string {
  const offset = /([+-])(\d\d):(\d\d)$/.exec(onClockOf);
  const minutes = offset === null ? 0 : Number(offset[2]) * 60 + Number(offset[3]);
  const ahead = offset?.[1] === '-' ? -minutes : minutes;
  return new Date(ms + ahead * 60_000).toISOString().slice(0, 16).replace('T', ' ');
}

/** A sentence's first letter made large. */
export function sentence(words: string): string {
  return words.charAt(0).toUpperCase() + words.slice(1);
}
