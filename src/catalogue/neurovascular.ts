import { SYSTEMS } from './canonical.js';
import { finderOf, wordsOf } from './text.js';
import type { CodeReference } from './types.js';

/** One answer of an element. */
export interface NeurovascularWord {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  readonly code?: CodeReference;
}

/** One element of the check of a limb at risk. */
export interface NeurovascularElementRow {
  readonly id: string;
  /** The eight elements: pain is one, asked at rest and on passive stretch (CM-11). */
  readonly group:
    'pain' | 'sensation' | 'movement' | 'colour' | 'warmth' | 'capillary-refill' | 'pulse' | 'swelling';
  readonly label: string;
  readonly synonyms: readonly string[];
  /** Answers in words, the expected one first. Empty: only a number is taken. */
  readonly words: readonly NeurovascularWord[];
  /** A number may be given, in this UCUM unit and within these limits, both included. */
  readonly number?: {
    readonly unit: string;
    readonly min: number;
    readonly max: number;
    readonly comparator: boolean;
  };
  /** Standard code of the element, where one was seen. */
  readonly code?: CodeReference;
}

function snomed(code: string, display?: string): CodeReference {
  return { system: SYSTEMS.snomed, code, ...(display !== undefined && { display }) };
}

const pain = { unit: '{score}', min: 0, max: 10, comparator: false } as const;

/**
 * The neurovascular check: pain at rest and on passive stretch, sensation, active movement, colour, warmth, capillary
 * refill, pulse and swelling (`boast-10`, CM-11). A normal pulse says nothing of the pressure in a compartment.
 */
export const neurovascularElements: readonly NeurovascularElementRow[] = [
  {
    id: 'pain-rest',
    group: 'pain',
    label: 'pain at rest',
    synonyms: ['pain'],
    words: [],
    number: pain,
  },
  {
    id: 'pain-passive-stretch',
    group: 'pain',
    label: 'pain on passive stretch',
    synonyms: ['passive stretch', 'pain on stretch'],
    words: [
      { id: 'none', label: 'none', synonyms: ['no', 'absent'] },
      { id: 'present', label: 'present', synonyms: ['yes'] },
      { id: 'severe', label: 'severe', synonyms: ['out of proportion'] },
    ],
    number: pain,
  },
  {
    id: 'sensation',
    group: 'sensation',
    label: 'sensation',
    synonyms: ['feeling'],
    words: [
      {
        id: 'intact',
        label: 'intact',
        synonyms: ['full', 'present', 'as usual', 'normal'],
        code: snomed('299956006', 'Normal sensation'),
      },
      {
        id: 'tingling',
        label: 'tingling',
        synonyms: ['pins and needles'],
        code: snomed('91019004', 'Paresthesia (finding)'),
      },
      {
        id: 'reduced',
        label: 'reduced',
        synonyms: ['decreased', 'dull'],
        code: snomed('398026008', 'Reduced sensation of skin (finding)'),
      },
      { id: 'numb', label: 'numb', synonyms: ['numbness'], code: snomed('44077006', 'Numbness (finding)') },
      {
        id: 'absent',
        label: 'absent',
        synonyms: ['none', 'no feeling'],
        code: snomed('33653009', 'Absence of sensation (finding)'),
      },
      { id: 'blocked', label: 'regional block in force', synonyms: ['block', 'nerve block'] },
    ],
  },
  {
    id: 'movement',
    group: 'movement',
    label: 'active movement',
    synonyms: ['motor', 'movement of digits'],
    words: [
      {
        id: 'full',
        label: 'full',
        synonyms: ['present', 'moves', 'normal'],
        code: snomed('301999002', 'Able to move'),
      },
      { id: 'reduced', label: 'reduced', synonyms: ['weak', 'limited', 'decreased'] },
      {
        id: 'absent',
        label: 'absent',
        synonyms: ['none', 'unable'],
        code: snomed('225601007', 'Unable to move'),
      },
      { id: 'blocked', label: 'regional block in force', synonyms: ['block', 'nerve block'] },
    ],
  },
  {
    id: 'colour',
    group: 'colour',
    label: 'colour',
    synonyms: ['color', 'skin colour'],
    words: [
      {
        id: 'usual',
        label: 'usual for the patient',
        synonyms: ['pink', 'as other side', 'normal', 'normal for patient'],
        code: snomed('297952003', 'Normal color of skin'),
      },
      { id: 'pale', label: 'pale', synonyms: ['white', 'pallor'] },
      {
        id: 'blue',
        label: 'blue',
        synonyms: ['dusky', 'cyanosed', 'cyanotic'],
        code: snomed('119419001', 'Cyanosis of skin (finding)'),
      },
      { id: 'mottled', label: 'mottled', synonyms: ['patchy'], code: snomed('406128001', 'Mottling') },
      { id: 'red', label: 'red', synonyms: ['flushed'] },
    ],
    code: snomed('364533002', 'Color of skin (observable entity)'),
  },
  {
    id: 'warmth',
    group: 'warmth',
    label: 'warmth',
    synonyms: ['temperature', 'skin temperature'],
    words: [
      {
        id: 'warm',
        label: 'warm',
        synonyms: ['as other side', 'same', 'normal'],
        code: snomed('297977002', 'Skin normal temperature'),
      },
      { id: 'cool', label: 'cool', synonyms: ['cooler'] },
      { id: 'cold', label: 'cold', synonyms: ['icy'], code: snomed('703883009', 'Cold skin') },
      { id: 'hot', label: 'hot', synonyms: ['hotter', 'warmer'], code: snomed('707793005', 'Hot skin') },
    ],
  },
  {
    id: 'capillary-refill',
    group: 'capillary-refill',
    label: 'capillary refill',
    synonyms: ['cap refill', 'CRT', 'refill'],
    words: [],
    number: { unit: 's', min: 0, max: 20, comparator: true },
    code: { system: SYSTEMS.loinc, code: '44963-7', display: 'Capillary refill Time Nail Bed' },
  },
  {
    id: 'pulse',
    group: 'pulse',
    label: 'pulse',
    synonyms: ['distal pulse', 'pulses'],
    words: [
      {
        id: 'present',
        label: 'present',
        synonyms: ['palpable', 'strong', 'normal'],
        code: snomed('12146004', 'Normal pulse'),
      },
      { id: 'weak', label: 'weak', synonyms: ['faint', 'diminished', 'thready'] },
      {
        id: 'doppler-only',
        label: 'heard by Doppler only',
        synonyms: ['doppler', 'by doppler'],
      },
      {
        id: 'absent',
        label: 'absent',
        synonyms: ['none', 'not felt'],
        code: snomed('54518005', 'Absent pulse'),
      },
      {
        id: 'covered',
        label: 'cannot be reached under the device',
        synonyms: ['under cast', 'unable, cast', 'not reachable'],
      },
    ],
    code: { system: SYSTEMS.loinc, code: '44974-4', display: 'Pulse intensity Palpation' },
  },
  {
    id: 'swelling',
    group: 'swelling',
    label: 'swelling and tension',
    synonyms: ['swelling', 'tension'],
    words: [
      { id: 'none', label: 'none', synonyms: ['no', 'soft'] },
      { id: 'mild', label: 'mild', synonyms: ['slight'] },
      { id: 'moderate', label: 'moderate', synonyms: [] },
      { id: 'marked', label: 'marked', synonyms: ['severe', 'gross'] },
      { id: 'tense', label: 'tense', synonyms: ['hard', 'tight'] },
    ],
  },
];

/** The element meant by a word. */
export const findNeurovascularElement: (word: string) => NeurovascularElementRow | undefined = finderOf(
  neurovascularElements,
  wordsOf,
);

const wordFinders = new Map(neurovascularElements.map(({ id, words }) => [id, finderOf(words, wordsOf)]));

/** The answer of an element meant by its id, label or a synonym. */
export function findNeurovascularWord(
  element: NeurovascularElementRow,
  word: string,
): NeurovascularWord | undefined {
  return wordFinders.get(element.id)?.(word);
}
