import { findStrengthGrade } from '../catalogue/index.js';
import type { SiteRules } from './rules.js';

/** What was read in a strength field. */
export type GradeReading =
  | { readonly kind: 'grade'; readonly grade: string }
  /** A leading plus, which is read as the plain grade after a confirmation. */
  | { readonly kind: 'leading-plus'; readonly grade: string }
  | {
      readonly kind: 'refused';
      readonly rule: 'SC-01' | 'SC-02' | 'SC-03' | 'SC-04' | 'SC-05';
      readonly why: string;
    };

const OTHER_SCALES = /pulse|o?edema|reflex|pitting|pain/i;
const SCREEN_WORDS = /equal|strong|weak|squeeze|push|pull/i;

type GradeRules = Pick<SiteRules, 'plusMinusGrades'>;

/**
 * Reads a strength grade of the MRC scale: 0 to 5, also as `4/5` (SC-01 to SC-05). Takes what was typed; plus and
 * minus only where the site has switched them on.
 */
export function readGrade(said: string, site: GradeRules): GradeReading {
  const typed = said.trim();
  if (OTHER_SCALES.test(typed)) return refuse('SC-04', 'it belongs to another scale than muscle strength');
  if (SCREEN_WORDS.test(typed)) return refuse('SC-05', 'a screen is not a grade');
  const [, lead = '', number, trail = '', denominator] = GRADE.exec(typed) ?? [];
  if (number === undefined) return refuse('SC-01', 'it is not on the scale');
  if (denominator !== undefined && denominator !== '5') return refuse('SC-03', 'a grade is out of 5');
  if (trail !== '') return readSplit(lead, number, trail, site);
  if (!/^[0-5]$/.test(number) || lead === '-') return refuse('SC-01', 'it is not on the scale');
  return { kind: lead === '+' ? 'leading-plus' : 'grade', grade: number };
}

const GRADE = /^([+-]?)(\d+)([+-]*)(?:\s*\/\s*(\d+))?$/;

function readSplit(lead: string, number: string, trail: string, site: GradeRules): GradeReading {
  const known = lead === '' ? findStrengthGrade(number + trail) : undefined;
  if (!known) return refuse('SC-02', `grade ${number} with that sign is on no scale`);
  if (site.plusMinusGrades) return { kind: 'grade', grade: known.grade };
  return refuse('SC-02', 'plus and minus are not used here, and stand for pulses and swelling too');
}

function refuse(rule: Extract<GradeReading, { kind: 'refused' }>['rule'], why: string): GradeReading {
  return { kind: 'refused', rule, why };
}
