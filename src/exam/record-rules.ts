/**
 * A site's settings of the checks against the record, beside `SiteRules`. Each figure says where it comes from; a site
 * that repeats its own measurements replaces them by its own (common practice).
 */
export interface RecordRules {
  /**
   * The difference between two readings of one range that error alone may make, in degrees, by the method's id; the
   * larger of two methods counts.
   */
  readonly rangeErrorDegrees: Readonly<Record<string, number>>;
  /** For a method without a row above, in degrees. */
  readonly otherRangeErrorDegrees: number;
  /** The same for grip, in kgf: one trial, and the mean or best of several. */
  readonly singleGripErrorKg: number;
  readonly gripErrorKg: number;
  /** A grade this far from the last one is outside the misgrading of one examiner, in whole grades. */
  readonly gradeError: number;
  /** Readings closer together than this are one session, in minutes. */
  readonly sessionMinutes: number;
  /** How old a reading may be to be held against a new one of the other side, in hours. */
  readonly recentHours: number;
  /** LT-04: how many readings make the other side a running series where this side has none. */
  readonly runningReadings: number;
  /** Encounters no further apart than this, such as emergency department and ward, are one stay, in hours. */
  readonly sameStayHours: number;
  /** A last grade up to this is a known weakness, whole grades (CM-04, LT-04). */
  readonly weakGrade: number;
  /** CX-10: a grade up to this, on this many last readings, is a known loss of movement. */
  readonly paralysedGrade: number;
  readonly paralysedReadings: number;
  /** CM-04: a range below this share of the read reference value is a known limitation. */
  readonly limitedShare: number;
}

/**
 * The settings in force until a site sets its own. Range: minimum significant difference of knee goniometry, long arm
 * 10, short arm and by eye 14, inclinometer 6 degrees (J Exp Orthop 2018, doi 10.1186/s40634-018-0161-5, source
 * `GONIO`), taken for other joints too by design. Grip: 5.0 to 6.5 kg (Bohannon 2019, `GRIP-MCID`). Two hours make one
 * visit: design. One grade is misgrading until repeated: design, after weighted kappa 0.83 of trained raters (Hermans
 * 2012). The rest is design.
 */
export const DEFAULT_RECORD_RULES: RecordRules = {
  rangeErrorDegrees: {
    'goniometer-long-arm': 10,
    'goniometer-short-arm': 14,
    'visual-estimate': 14,
    inclinometer: 6,
  },
  otherRangeErrorDegrees: 14,
  singleGripErrorKg: 6.5,
  gripErrorKg: 5,
  gradeError: 1,
  sessionMinutes: 120,
  recentHours: 7 * 24,
  sameStayHours: 24,
  runningReadings: 2,
  weakGrade: 3,
  paralysedGrade: 1,
  paralysedReadings: 2,
  limitedShare: 0.67,
};
