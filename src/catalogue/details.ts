import { CANONICAL } from './canonical.js';

/** Free words beside a component, which R4 gives no note of its own. */
export const DETAIL_NOTE_URL = `${CANONICAL}/StructureDefinition/detail-note`;
/** Side or direction of a component where the Observation as a whole has another or none. */
export const DETAIL_SIDE_URL = `${CANONICAL}/StructureDefinition/detail-side`;

/**
 * What an Observation of an exam says in its components beside its value: our own CodeSystem `msk-detail`. The
 * `holds` of a row is the type of the component's value.
 */
export interface Detail {
  readonly code: string;
  readonly display: string;
  readonly holds: 'text' | 'coded' | 'quantity' | 'whole' | 'yes-no' | 'dateTime';
  readonly definition: string;
}

const rows = {
  'exam-type': { display: 'Type of exam', holds: 'coded', definition: 'What kind of exam was done.' },
  position: { display: 'Position', holds: 'coded', definition: 'How the patient lay, sat or stood.' },
  precaution: { display: 'Precaution', holds: 'coded', definition: 'An order that forbids or limits tests.' },
  confirmed: { display: 'Confirmed', holds: 'text', definition: 'A check that the examiner confirmed.' },
  ward: { display: 'Ward', holds: 'text', definition: 'The ward of the exam.' },
  'read-back-name': {
    display: 'Name read back',
    holds: 'text',
    definition: 'The name the examiner read back.',
  },
  'read-back-birth-date': {
    display: 'Birth date read back',
    holds: 'dateTime',
    definition: 'The birth date (or year) the examiner read back.',
  },
  'late-reason': { display: 'Reason for late entry', holds: 'text', definition: 'Why it was typed late.' },
  'typed-word': {
    display: 'Word as typed',
    holds: 'text',
    definition: 'The word as it was typed, before it was corrected to a term of the catalogue.',
  },
  movement: { display: 'Movement', holds: 'coded', definition: 'The movement this is about.' },
  direction: {
    display: 'Direction',
    holds: 'coded',
    definition: 'Direction of a midline movement; never a side of the body.',
  },
  mode: { display: 'Mode', holds: 'coded', definition: 'Active, active-assisted or passive.' },
  'limited-by': { display: 'Limited by', holds: 'text', definition: 'What limited the movement or effort.' },
  'gravity-eliminated': {
    display: 'Gravity eliminated',
    holds: 'yes-no',
    definition: 'Whether strength was tested with gravity removed.',
  },
  trial: { display: 'Trial', holds: 'quantity', definition: 'One reading of a measure taken several times.' },
  'trial-rule': { display: 'Rule over the trials', holds: 'coded', definition: 'How the value follows.' },
  device: { display: 'Device', holds: 'coded', definition: 'What was used, or what is on the body.' },
  'handle-position': {
    display: 'Handle position',
    holds: 'whole',
    definition: 'Of the dynamometer, 1 to 5.',
  },
  'dominant-hand': {
    display: 'Dominant hand',
    holds: 'yes-no',
    definition: 'Whether this is the dominant hand.',
  },
  level: { display: 'Level', holds: 'text', definition: 'Where on the limb.' },
  aspect: { display: 'Aspect', holds: 'coded', definition: 'Look, feel, range or strength.' },
  joint: {
    display: 'Joint',
    holds: 'coded',
    definition: 'A joint this is about, when there may be several.',
  },
  'expected-definition': {
    display: 'Definition of within expected limits',
    holds: 'text',
    definition: 'Version of the written wording behind "within expected limits".',
  },
  subject: { display: 'Test', holds: 'coded', definition: 'The test that was not done.' },
  'reason-detail': {
    display: 'Detail of the reason',
    holds: 'text',
    definition: 'More on why it was not done.',
  },
  since: { display: 'Since', holds: 'dateTime', definition: 'On the body from then.' },
  until: { display: 'Until', holds: 'dateTime', definition: 'On the body up to then.' },
  'gait-pattern': { display: 'Walking pattern', holds: 'coded', definition: 'How the patient walks.' },
  'gait-assistance': { display: 'Help to walk', holds: 'coded', definition: 'The help needed to walk.' },
} as const satisfies Record<string, Omit<Detail, 'code'>>;

export type DetailCode = keyof typeof rows;

/** Every detail, in the order of the CodeSystem. */
export const details: readonly Detail[] = Object.entries(rows).map(([code, row]) => ({ code, ...row }));

/** The wording of a detail's code. */
export function detailDisplay(code: DetailCode): string {
  return rows[code].display;
}
