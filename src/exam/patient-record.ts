import type { Side } from '../catalogue/index.js';
import type { Exam, Finding } from './exam.js';

/**
 * What stands on a patient's record before an exam is taken in: all that `checkAgainstRecord` reads. Instants are
 * milliseconds since 1970 (UTC). Nothing need be cut to the exam's moment or put in order: the checks leave out what
 * was made at or after it, save for readings of the same session.
 */
export interface PatientRecord {
  /** Every Encounter of the patient that is not cancelled or entered in error; empty when none is known. */
  readonly stays: readonly Stay[];
  /** The patient's series of points, one index-only read; of each the last five before the exam's moment are enough. */
  readonly series: readonly SeriesTail[];
  /** Parts said to be absent, from every stay: an amputation outlives a discharge. */
  readonly absent: readonly StandingAbsence[];
  /** Casts, splints, frames, prostheses. */
  readonly onBody: readonly StandingDevice[];
  /** Ordered precautions, of any stay: those of an earlier one are left out. */
  readonly precautions: readonly StandingPrecaution[];
  /** Abnormal things seen or felt that no later exam found as expected. */
  readonly openFindings: readonly OpenFinding[];
  /** Sides known from the patient's problems or operations; empty when the record names none. */
  readonly knownSides: readonly KnownSide[];
}

/** One encounter. A date of less precision is the moment it begins (`start`) or has passed (`end`). */
export interface Stay {
  readonly start: Moment;
  readonly end?: Moment;
}

/** An instant, and the words it was written in, for the sentence that names it. */
export interface Moment {
  readonly ms: number;
  readonly text: string;
}

/** The end of one series, in the words of the points that the store keeps; more words may tell it from others. */
export interface SeriesTail {
  /** As `seriesItem` has it: `knee.flexion`, `knee.extension-lacks`, `grip`, `knee.circumference`. */
  readonly item: string;
  /** Kind of the observable: range, strength, grip, measure. */
  readonly measure: string;
  readonly side?: Side;
  readonly direction?: string;
  readonly mode?: string;
  readonly method?: string;
  readonly level?: string;
  /** As `seriesDigit` has it: `ring`, `ring.pip`. */
  readonly digit?: string;
  /** UCUM code; `1` for a grade. */
  readonly unit: string;
  /** Withdrawn points may be among them: their `status` leaves them out. */
  readonly points: readonly SeriesPoint[];
}

export interface SeriesPoint {
  /** When it was measured, in ms. */
  readonly effective: number;
  readonly value: number;
  /** FHIR's observation status. */
  readonly status: string;
  /** True for a value that a joint's "within expected limits" stands for, such as grade 5. */
  readonly asExpected: boolean;
}

/** Where a standing thing was recorded. */
interface Standing {
  /** In force from this instant, in ms. */
  readonly since: number;
  /** Over from this instant, in ms; absent while it lasts. */
  readonly until?: number;
}

export interface StandingDevice extends Standing {
  readonly device: string;
  readonly joints: readonly string[];
  readonly side?: Side;
}

export interface StandingAbsence extends Standing {
  readonly joints: readonly string[];
  readonly side: Side;
  readonly level: string;
}

export interface StandingPrecaution extends Standing {
  /** Id of the catalogue, or free words. */
  readonly precaution: string;
  readonly side?: Side;
}

export interface OpenFinding extends Standing {
  readonly joint: string;
  readonly side?: Side;
  readonly item: string;
  readonly value: string;
}

/** A joint whose affected side the record knows, and in which words: `left knee replacement`. */
export interface KnownSide extends Standing {
  readonly joint: string;
  readonly side: Side;
  readonly problem: string;
}

/** An earlier exam as `standingOf` needs it: its precautions, and at least its findings of the kinds it folds. */
export interface EarlierExam {
  /** In ms. */
  readonly performedAt: number;
  readonly precautions: Exam['precautions'];
  /** On-body, absent-part, look-feel and as-expected findings; others are passed over. Withdrawn ones left out. */
  readonly findings: readonly Finding[];
}
