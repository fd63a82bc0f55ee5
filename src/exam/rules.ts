import { gripLimits } from '../catalogue/index.js';
import type { Issue } from './issue.js';

/**
 * A documentation rule of the exam: what is checked, how hard it is held and on whose word. A `block` of the written
 * rules is an `error` here and a `suggest` is a `confirm`.
 */
export interface Rule {
  readonly severity: Issue['severity'];
  readonly title: string;
  /** Keys of the catalogue's sources; `CP` is common practice and `DESIGN` a choice of this project. */
  readonly sources: readonly string[];
}

/** Every rule that an exam document is held to, alone or against the patient's record, by its public id. */
export const RULES = {
  'ID-01': { severity: 'error', title: 'Two identifiers recorded', sources: ['NPSG-01', 'BCC-CHK'] },
  'ID-02': { severity: 'error', title: 'Author present and is a person', sources: ['NMC-10', 'CMS-PIM'] },
  'ID-03': { severity: 'confirm', title: 'Observed by someone else', sources: ['CP'] },
  'TM-01': { severity: 'error', title: 'Assessment time required', sources: ['NMC-10', 'CNPS-LATE'] },
  'TM-02': { severity: 'error', title: 'Not in the future', sources: ['CP'] },
  'TM-03': { severity: 'error', title: 'Inside the stay', sources: ['CP'] },
  'TM-04': { severity: 'advise', title: 'Late entry marked', sources: ['NMC-10', 'CNPS-LATE', 'CMS-PIM'] },
  'TM-05': { severity: 'advise', title: 'Very late entry', sources: ['CP'] },
  'SC-01': { severity: 'error', title: 'Grade inside 0-5', sources: ['MRC'] },
  'SC-02': {
    severity: 'error',
    title: 'Plus and minus only where allowed',
    sources: ['MRC', 'MRC-4PLUS', 'NURSE-MMT'],
  },
  'SC-03': { severity: 'error', title: 'Denominator matches', sources: ['MRC'] },
  'SC-04': { severity: 'error', title: 'Other scales are not MRC', sources: ['CP'] },
  'SC-05': { severity: 'error', title: 'Screen is not a grade', sources: ['DESIGN', 'CP'] },
  'SC-06': { severity: 'confirm', title: 'Grade 3 needs gravity', sources: ['MRC'] },
  'SC-07': { severity: 'advise', title: 'Pain-limited strength is marked', sources: ['CP'] },
  'VL-01': { severity: 'error', title: 'Range ceiling', sources: ['DESIGN'] },
  'VL-02': { severity: 'confirm', title: 'Unusually high range', sources: ['DESIGN'] },
  'VL-03': { severity: 'error', title: 'No negative extension', sources: ['CP'] },
  'VL-04': { severity: 'confirm', title: 'Passive at least active', sources: ['CP', 'GONIO'] },
  'VL-05': { severity: 'advise', title: 'Method and observer with degrees', sources: ['GONIO', 'LENSSEN'] },
  'VL-06': { severity: 'error', title: 'Grip unit required', sources: ['CP'] },
  'VL-07': { severity: 'confirm', title: 'Grip unit slip', sources: ['CP', 'DESIGN'] },
  'VL-08': { severity: 'confirm', title: 'Grip plausible', sources: ['DESIGN'] },
  'VL-09': { severity: 'advise', title: 'Grip protocol stated', sources: ['GRIP-PROT'] },
  'VL-10': { severity: 'confirm', title: 'Circumference with level', sources: ['CP'] },
  'VL-11': { severity: 'confirm', title: 'Pain 0-10', sources: ['CP'] },
  'VL-12': { severity: 'error', title: 'Cap refill in seconds', sources: ['CP'] },
  'VL-13': { severity: 'error', title: 'Decimal comma and text numbers', sources: ['DESIGN'] },
  'LT-01': { severity: 'error', title: 'Side required for paired joints', sources: ['LATERAL', 'CP'] },
  'LT-02': { severity: 'error', title: 'No side on midline', sources: ['DESIGN'] },
  'LT-03': { severity: 'advise', title: 'Both sides recorded', sources: ['TMU-MSK'] },
  'LT-04': { severity: 'confirm', title: 'Side conflicts with known problem', sources: ['LATERAL', 'CP'] },
  'LT-05': { severity: 'confirm', title: 'Sides swapped', sources: ['LATERAL', 'DESIGN'] },
  'MV-01': { severity: 'error', title: 'Movement belongs to joint', sources: ['DESIGN'] },
  'MV-03': { severity: 'error', title: 'Direction needed', sources: ['DESIGN'] },
  'MV-04': { severity: 'confirm', title: 'Finding is not a movement', sources: ['DESIGN'] },
  'MV-05': { severity: 'confirm', title: 'Ambiguous abbreviations', sources: ['NMC-10', 'CP'] },
  'CM-01': { severity: 'advise', title: 'Every region answered', sources: ['ANA-2010', 'NMC-10', 'CP'] },
  'CM-02': { severity: 'error', title: "'Normal' covers only what was examined", sources: ['CBE', 'CP'] },
  'CM-04': { severity: 'confirm', title: 'Within-limits against known problem', sources: ['CBE', 'CP'] },
  'CM-05': { severity: 'error', title: 'Reason for not assessed from a list', sources: ['CP'] },
  'CM-06': { severity: 'confirm', title: 'Declined needs detail', sources: ['CP'] },
  'CM-08': { severity: 'advise', title: 'Abnormal needs a describe field', sources: ['CBE'] },
  'CM-09': { severity: 'advise', title: 'Pain recorded with movement', sources: ['NICE-124', 'CP'] },
  'CM-10': { severity: 'advise', title: 'Gait and device', sources: ['BCC-CHK'] },
  'CM-11': {
    severity: 'confirm',
    title: 'Neurovascular set complete',
    sources: ['BOAST-10', 'BLRS-2024', 'FARAZ-2022'],
  },
  'CX-01': { severity: 'confirm', title: 'Full range with contracture', sources: ['CP'] },
  'CX-02': { severity: 'error', title: 'Strength without movement', sources: ['MRC'] },
  'CX-03': { severity: 'error', title: 'Movement without strength', sources: ['MRC'] },
  'CX-04': { severity: 'confirm', title: 'No swelling but bigger', sources: ['TKA-SWELL', 'DESIGN'] },
  'CX-05': { severity: 'confirm', title: 'No pain but pain-limited', sources: ['CP'] },
  'CX-06': { severity: 'confirm', title: "Warmth with 'no inflammation'", sources: ['CP'] },
  'CX-07': { severity: 'confirm', title: 'Independent walking with no leg power', sources: ['CP'] },
  'CX-08': { severity: 'confirm', title: 'Grade 5 with drift or drop', sources: ['CP'] },
  'CX-09': { severity: 'advise', title: 'Note and fields disagree', sources: ['LATERAL', 'DESIGN'] },
  'CX-10': { severity: 'confirm', title: 'Unexplained recovery', sources: ['DESIGN'] },
  'BP-01': { severity: 'error', title: 'Absent part', sources: ['CP'] },
  'BP-02': { severity: 'error', title: 'Prosthesis is a device', sources: ['CP'] },
  'BP-03': { severity: 'confirm', title: 'Joint inside cast', sources: ['CP'] },
  'SF-01': { severity: 'confirm', title: 'Precaution blocks the test', sources: ['TMU-MSK', 'CP'] },
  'SF-02': { severity: 'confirm', title: 'Suspected fracture or spine injury', sources: ['TMU-MSK'] },
  'SF-03': { severity: 'advise', title: 'Standing tests need a fall check', sources: ['CP'] },
  'SF-04': { severity: 'confirm', title: 'Stop rule recorded', sources: ['CP'] },
  'SF-06': { severity: 'advise', title: 'Resist gently or not', sources: ['CP'] },
} as const satisfies Readonly<Record<string, Rule>>;

export type RuleId = keyof typeof RULES;

/** What an issue says beside its rule: fields of `Issue`, and a severity where one rule holds two (VL-08, SC-02). */
export interface IssueDetails {
  readonly severity?: Issue['severity'];
  readonly found?: unknown;
  readonly allowed?: unknown;
  readonly choices?: readonly string[];
}

/** The issue of a rule at a place (JSON Pointer), in one plain sentence. */
export function ruleIssue(rule: RuleId, place: string, sentence: string, details: IssueDetails = {}): Issue {
  return { severity: RULES[rule].severity, code: rule, place, ...details, sentence };
}

/**
 * The site's own settings of the exam rules. None of these figures is a clinical norm: all are common practice or
 * design, and a site sets its own.
 */
export interface SiteRules {
  /** SC-02: grades such as `4-` and `4+` are taken. */
  readonly plusMinusGrades: boolean;
  /** TM-02: how far a clock may run ahead, in minutes. */
  readonly clockToleranceMinutes: number;
  /** TM-04: an entry later than this after the examination is labelled late, in minutes. */
  readonly lateEntryMinutes: number;
  /** TM-05: an entry later than this after the examination is shown to the charge nurse, in minutes. */
  readonly veryLateEntryMinutes: number;
  /** VL-02: degrees above the read reference value that ask for a confirmation. */
  readonly highRangeDegrees: number;
  /** VL-04: degrees by which active may exceed passive range within measurement error. */
  readonly activeOverPassiveDegrees: number;
  /** VL-08: kilogram-force above which a grip is confirmed, and above which it is refused. */
  readonly gripConfirmKg: number;
  readonly gripMaxKg: number;
  /** VL-07: ratios to the median of the last readings that look like pounds for kilograms, or the reverse. */
  readonly gripSlipRatios: readonly { readonly low: number; readonly high: number }[];
  /** VL-07: how many earlier readings make the median. */
  readonly gripSlipReadings: number;
  /** CX-04: centimetres above the last reading at the same level. */
  readonly swellingRiseCm: number;
  /** CX-04: percent above the other side at the same level. */
  readonly swellingSidePercent: number;
  /** CX-10: grades by which a known grade 0 or 1 may not rise unasked. */
  readonly recoveryGrades: number;
}

/** The settings in force until a site sets its own (thresholds of the written rules; design, not norms). */
export const DEFAULT_SITE_RULES: SiteRules = {
  plusMinusGrades: false,
  clockToleranceMinutes: 5,
  lateEntryMinutes: 120,
  veryLateEntryMinutes: 36 * 60,
  highRangeDegrees: 20,
  activeOverPassiveDegrees: 10,
  gripConfirmKg: gripLimits.confirmAbove,
  gripMaxKg: gripLimits.max,
  gripSlipRatios: [
    { low: 1.9, high: 2.5 },
    { low: 0.4, high: 0.52 },
  ],
  gripSlipReadings: 3,
  swellingRiseCm: 2,
  swellingSidePercent: 8,
  recoveryGrades: 3,
};
