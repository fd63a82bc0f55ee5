import type { HowKnown } from './types.js';

/** What every published figure carries. */
export interface Figure {
  readonly id: string;
  /** UCUM code. */
  readonly unit: string;
  /** Of whom it was found. */
  readonly population: string;
  /** Key of its source. */
  readonly source: string;
  /** Whether the figure was seen in a text. One from memory reaches no clinician and judges no patient. */
  readonly how: HowKnown;
  /** Parts of the row that were read, when not all were: `mean`, `ci95`. Absent: all. */
  readonly readParts?: readonly string[];
}

/** Whom a figure is of, where it is told apart. */
export interface FigureGroup {
  readonly sex?: 'female' | 'male';
  /** Years, included. */
  readonly ageMin?: number;
  /** Years, included. */
  readonly ageMax?: number;
}

/** Only what was read: rows from memory are left out, and so are the parts of a row that were not read. */
export function readFigures<T extends Figure>(rows: readonly T[]): readonly T[] {
  return rows
    .filter(({ how, readParts }) => how === 'read' && readParts?.length !== 0)
    .map(withoutUnreadParts);
}

/** An interval that was not read, or read at one end only, is dropped. */
function withoutUnreadParts<T extends Figure>(row: T): T {
  if (!row.readParts || row.readParts.includes('ci95')) return row;
  return Object.fromEntries(Object.entries(row).filter(([name]) => name !== 'ci95')) as unknown as T;
}
