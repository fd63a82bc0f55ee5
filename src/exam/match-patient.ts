import type { HumanName, Patient } from 'fhir/r4.js';

import type { Lossless } from '../fhir/index.js';
import type { ReadBack } from './exam.js';
import type { Issue } from './issue.js';
import { ruleIssue } from './rules.js';

/**
 * Whether the patient whom the document's identifier found is the one the nurse read back (ID-01: two identifiers,
 * never the bed). Each thing read back must agree with the record; a disagreement names the identifier, never the
 * record's own value, which the sender may have no right to. A patient who is dead, inactive or filed under another
 * record is remarked on.
 */
export function matchPatient(patient: Lossless<Patient>, readBack: ReadBack): readonly Issue[] {
  const answers = [
    { what: 'name', place: `${READ_BACK}/name`, said: readBack.name, answer: compareName(patient, readBack) },
    {
      what: 'birth date',
      place: `${READ_BACK}/birthDate`,
      said: readBack.birthDate,
      answer: compareBirthDate(patient.birthDate, readBack.birthDate),
    },
  ];
  const isMatched = answers.some(({ answer }) => answer === 'agrees');
  const isJudged = isMatched || answers.some(({ answer }) => answer === 'differs');
  const issues = answers.flatMap(({ what, place, said, answer }) =>
    remark(answer, what, place, said, isMatched),
  );
  return [...(isJudged ? [] : [secondIdentifierMissing()]), ...issues, ...recordState(patient)];
}

const READ_BACK = '/patient/readBack';

/** `vague`: less precise than the record. `unknown`: the record has none to compare with. */
type Answer = 'not said' | 'unknown' | 'agrees' | 'vague' | 'differs';

/** What is said of one thing read back; a vague one does not match, and is no fault beside one that does. */
function remark(
  answer: Answer,
  what: string,
  place: string,
  said: string | undefined,
  isMatched: boolean,
): readonly Issue[] {
  switch (answer) {
    case 'not said':
    case 'agrees':
      return [];
    case 'unknown':
      return [
        {
          severity: 'advise',
          code: 'patient-not-comparable',
          place,
          sentence: `The record has no ${what}, so the ${what} read back confirms nothing.`,
        },
      ];
    case 'vague': {
      const sentence = `The ${what} read back is less exact than the record's: read the whole of it back.`;
      return [
        isMatched
          ? { severity: 'advise', code: 'patient-not-comparable', place, found: said, sentence }
          : mismatch(place, said, sentence),
      ];
    }
    case 'differs':
      return [
        mismatch(
          place,
          said,
          `The ${what} read back is not that of the patient with this identifier: is this the patient?`,
        ),
      ];
  }
}

function mismatch(place: string, found: string | undefined, sentence: string): Issue {
  return { severity: 'error', code: 'patient-mismatch', place, found, sentence };
}

function secondIdentifierMissing(): Issue {
  return ruleIssue(
    'ID-01',
    READ_BACK,
    'Two identifiers are needed: read the name or the birth date back beside the identifier (not the bed).',
    { allowed: ['name', 'birthDate'] },
  );
}

/** R4 `date` has a precision: a year on record is met by any day of it, a day on record by that day only. */
function compareBirthDate(known: string | undefined, said: string | undefined): Answer {
  if (said === undefined) return 'not said';
  if (known === undefined) return 'unknown';
  if (isWithin(said, known)) return 'agrees';
  return isWithin(known, said) ? 'vague' : 'differs';
}

function isWithin(date: string, period: string): boolean {
  return date === period || date.startsWith(`${period}-`);
}

/**
 * Every word said must stand in the names on record and one of them in a family name; where no family name is told
 * apart (R4 HumanName with `text` only), two words must, or the only one.
 */
function compareName(patient: Lossless<Patient>, { name: said }: ReadBack): Answer {
  const words = saidWords(said ?? '');
  if (words.length === 0) return 'not said';
  const names = patient.name ?? [];
  const known = names.flatMap(partsOfName);
  if (known.length === 0) return 'unknown';
  const all = knownForms(known);
  if (!words.every((word) => standsIn(word, all))) return 'differs';
  const families = names.flatMap(({ family }) => (family === undefined ? [] : [family]));
  if (families.length > 0) {
    const family = knownForms(families);
    return words.some((word) => standsIn(word, family)) ? 'agrees' : 'differs';
  }
  return words.length >= Math.min(2, known.join(' ').split(/\s+/).length) ? 'agrees' : 'differs';
}

function partsOfName({ text, family, given, prefix, suffix }: Lossless<HumanName>): readonly string[] {
  const parts = [text, family, ...(given ?? []), ...(prefix ?? []), ...(suffix ?? [])];
  return parts.filter((part) => part !== undefined);
}

/** One written word: whole, with its marks left out (`obrien`), and cut at them (`o`, `brien`). */
interface Word {
  readonly whole: string;
  readonly parts: readonly string[];
}

/** Forms of address are said without standing on the record. */
const TITLES: ReadonlySet<string> = new Set(['mr', 'mrs', 'ms', 'miss', 'mx', 'dr']);

function saidWords(said: string): readonly Word[] {
  const words = wordsOf(said);
  const names = words.filter(({ whole }) => !TITLES.has(whole));
  return names.length > 0 ? names : words;
}

function standsIn(word: Word, forms: ReadonlySet<string>): boolean {
  return forms.has(word.whole) || word.parts.every((part) => forms.has(part));
}

function knownForms(texts: readonly string[]): ReadonlySet<string> {
  return new Set(texts.flatMap(wordsOf).flatMap(({ whole, parts }) => [whole, ...parts]));
}

function wordsOf(text: string): readonly Word[] {
  return fold(text)
    .split(/[\s,;]+/u)
    .map((written) => {
      const parts = written.split(/[^\p{L}\p{M}\p{N}]+/u).filter((part) => part !== '');
      return { whole: parts.join(''), parts };
    })
    .filter(({ whole }) => whole !== '');
}

/** Latin letters that no decomposition takes apart. */
const LETTERS: Readonly<Record<string, string>> = {
  ß: 'ss',
  æ: 'ae',
  œ: 'oe',
  ø: 'o',
  đ: 'd',
  ð: 'd',
  ł: 'l',
  þ: 'th',
  ı: 'i',
};

/** Without case and accents. Only the Latin, Greek and Cyrillic accents go: in other scripts marks are letters. */
function fold(text: string): string {
  return text
    .normalize('NFKD')
    .replace(/[\u0300-\u036f]/gu, '')
    .toLowerCase()
    .replace(/[ßæœøđðłþı]/gu, (letter) => LETTERS[letter] ?? letter)
    .normalize('NFC');
}

function recordState(patient: Lossless<Patient>): readonly Issue[] {
  const dead = patient.deceasedBoolean === true || patient.deceasedDateTime !== undefined;
  const replaced = patient.link?.some(({ type }) => type === 'replaced-by') ?? false;
  return [
    ...(dead ? [stateRemark('patient-deceased', 'The record says that this patient has died.')] : []),
    ...(patient.active === false
      ? [stateRemark('patient-inactive', 'The record of this patient is marked as no longer in use.')]
      : []),
    ...(replaced
      ? [stateRemark('patient-replaced', 'The record of this patient was replaced by another one.')]
      : []),
  ];
}

function stateRemark(code: string, sentence: string): Issue {
  return { severity: 'advise', code, place: '/patient/identifier', sentence };
}
