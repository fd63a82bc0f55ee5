import { isLosslessNumber, type LosslessNumber } from 'lossless-json';
import { z } from 'zod';
import { isDate, isInstant } from '../fhir/index.js';

/** The most that one document may hold; more is no bedside examination. */
export const DOCUMENT_LIMITS = { entries: 2000, list: 100, text: 4000, word: 200 } as const;

/** A number of a document: a safe integer, or the digits as typed. */
export type TypedNumber = number | LosslessNumber;

/** What a `custom` check of the schema found wrong; the sentence is made from it. */
export type ShapeFault = 'number' | 'whole' | 'instant' | 'date' | 'grade';

/** Whether a value of a parsed document is a number. */
export function isTypedNumber(value: unknown): value is TypedNumber {
  return typeof value === 'number' || isLosslessNumber(value);
}

/** An R4 instant that a clock can be read at; a leap second is none. */
const isMoment = (value: unknown): value is string =>
  typeof value === 'string' && isInstant(value) && !Number.isNaN(Date.parse(value));

const isGrade = (value: unknown): value is TypedNumber | string =>
  isTypedNumber(value) || (typeof value === 'string' && value.length <= DOCUMENT_LIMITS.word);

const checked = <T>(check: (value: unknown) => value is T, fault: ShapeFault): z.ZodCustom<T> =>
  z.custom<T>(check, { params: { fault } });

const number = (description: string): z.ZodCustom<TypedNumber> =>
  checked(isTypedNumber, 'number').meta({ type: 'number', description });

const whole = (low: number, high: number, description: string): z.ZodCustom<number> =>
  checked(
    (value): value is number =>
      typeof value === 'number' && Number.isInteger(value) && value >= low && value <= high,
    'whole',
  ).meta({ type: 'integer', minimum: low, maximum: high, description });

const word = (description: string): z.ZodString =>
  z.string().min(1).max(DOCUMENT_LIMITS.word).describe(description);

const text = (description: string): z.ZodString =>
  z.string().min(1).max(DOCUMENT_LIMITS.text).describe(description);

const instant = (description: string): z.ZodCustom<string> =>
  checked(isMoment, 'instant').meta({
    type: 'string',
    format: 'date-time',
    description,
  });

const list = <T extends z.ZodType>(item: T, description: string): z.ZodArray<T> =>
  z.array(item).min(1).max(DOCUMENT_LIMITS.list).describe(description);

const side = z
  .enum(['left', 'right', 'both'])
  .describe(
    "The patient's left or right; `both` only where two equal findings are meant (look and feel words), never for a measured number (LT-01). A midline joint takes none (LT-02).",
  );
const sides = z.enum(['left', 'right', 'both']).describe('Default `both` for paired joints.');
const oneSide = z.enum(['left', 'right']);
const aspects = z
  .array(z.enum(['look', 'feel', 'range', 'strength']))
  .min(1)
  .max(4)
  .describe('Default: all four.');
const mode = z.enum(['active', 'active-assisted', 'passive']).describe('Default `active`.');
const joint = word('A joint: its id, name or an accepted synonym.');
const joints = list(
  joint,
  'Joints by id, name or accepted synonym; each is named, `all` is refused (CM-02).',
);
const describe = text('Free words: where, how much, new or known.').optional();
const typed = word(
  'The word as first typed, where a document is written back after a correction.',
).optional();
const id = word('The id of the finding, as a document is given back; it says nothing here.').optional();
/** What every entry may carry. */
const common = { id, describe, typed };

const identifier = z.strictObject({
  system: word('The system that gives the identifier, a URI.'),
  value: word('The identifier itself.'),
});

const staff = z.strictObject({
  identifier,
  role: word('RN, PT, MD ... as the site writes it.').optional(),
});

const itemWord = z
  .union([
    word('One of the words of the item.'),
    z.strictObject({ value: word('One of the words of the item.'), describe }),
  ])
  .describe('A word of the item, or an object with the word and free words about it.');

const itemWords = (heading: string): z.ZodOptional<z.ZodRecord<z.ZodString, typeof itemWord>> =>
  z
    .record(z.string().min(1).max(DOCUMENT_LIMITS.word), itemWord)
    .describe(`${heading}: item (swelling, warmth, deformity ...) to word.`)
    .optional();

/** What was seen, felt, moved, graded and measured at one joint; each thing of it becomes a finding of its own. */
export const jointEntry = z.strictObject({
  joint,
  side: side.optional(),
  look: itemWords('What was seen'),
  feel: itemWords('What was felt'),
  movement: word(
    'A movement: id, term or accepted synonym; a wrong word is corrected, asked about or refused (MV-01).',
  ).optional(),
  direction: oneSide
    .describe('Where a midline structure moves (turn the head left); never a side of the body.')
    .optional(),
  digit: word('index, middle, ring, little; of the foot great, second, third, fourth, little.').optional(),
  digitJoint: z.enum(['cmc', 'mcp', 'pip', 'dip', 'ip', 'mtp']).optional(),
  mode: mode.optional(),
  degrees: number('Degrees moved, 0 or more.').optional(),
  lacks: number(
    'Degrees that extension of elbow or knee lacks, 0 or more; never together with `hyperextends`.',
  ).optional(),
  hyperextends: number('Degrees past straight, 0 or more.').optional(),
  millimetres: number('Millimetres, for the jaw.').optional(),
  range: word('`full`, `limited` or `absent`, when no angle was taken.').optional(),
  method: word('How degrees were taken; without it they count as a visual estimate (VL-05).').optional(),
  strength: checked(isGrade, 'grade')
    .meta({
      type: ['integer', 'string'],
      description:
        'Grade 0 to 5, also as "4" or "4/5"; "4-" and "4+" only where the site allows them (SC-02).',
    })
    .optional(),
  gravityEliminated: z.boolean().describe('Strength was tested with gravity removed.').optional(),
  pain: number('Pain 0 to 10: on this movement, or at the joint with `when`.').optional(),
  when: z
    .enum(['rest', 'movement'])
    .describe('When it hurt; `movement` by itself beside a movement (VL-11).')
    .optional(),
  limitedBy: word('What limited it: pain, stiffness, fear, dizziness ...').optional(),
  circumferenceCm: number('Circumference in cm, with its `level`.').optional(),
  level: word('Where on the limb: mid-patella, 10 cm above ... (VL-10).').optional(),
  ...common,
});

/** Dynamometer grip with every trial as typed. */
export const gripEntry = z.strictObject({
  measure: word('`grip`'),
  side: side.optional(),
  trials: z.array(number('One reading.')).min(1).max(12).describe('Every reading, in the order taken.'),
  unit: word('kg, lb or N as the device shows (VL-06).').optional(),
  rule: word('single, mean-of-3, best-of-3 or best-of-6; a single trial needs none.').optional(),
  device: word('The kind of dynamometer.').optional(),
  handlePosition: whole(1, 5, 'Handle position, 1 to 5.').optional(),
  dominant: z.boolean().describe('Whether this is the dominant hand.').optional(),
  ...common,
});

/** Pain 0 to 10, at rest or on movement. */
export const painEntry = z.strictObject({
  measure: word('`pain`'),
  value: number('0 to 10.'),
  when: z.enum(['rest', 'movement']).describe('VL-11: which of the two it was.').optional(),
  joint: joint.optional(),
  side: side.optional(),
  movement: word('The movement that hurt.').optional(),
  direction: oneSide.optional(),
  mode: mode.optional(),
  ...common,
});

/** One number with its unit: circumference, timed walk, fingertip to floor ... */
export const measureEntry = z.strictObject({
  measure: word('A measure of the catalogue, by id or name.'),
  value: number('The number as typed.'),
  unit: word('Its unit.').optional(),
  joint: joint.optional(),
  side: side.optional(),
  level: word('Where on the limb.').optional(),
  method: word('How it was taken.').optional(),
  ...common,
});

/** A two-sided screen of the brief exam; never a grade (SC-05). */
export const screenEntry = z.strictObject({
  screen: word('A screen of the catalogue: hand-squeeze, foot-push, foot-pull.'),
  result: word('One of the screen words: equal and strong, left weaker ...'),
  ...common,
});

const elementWord = z
  .union([
    word('A word of the element, or a number with `<` or `>` before it.'),
    number('A number: seconds, or a score.'),
    z.strictObject({
      value: z.union([word('A word of the element.'), number('A number.')]),
      describe,
    }),
  ])
  .describe('A word or number of the element, or an object with it and free words.');

/** A neurovascular check of one limb by its eight elements (CM-11). */
export const neurovascularEntry = z.strictObject({
  check: word('`neurovascular`'),
  limb: z.enum(['upper', 'lower']),
  side: side.optional(),
  elements: z
    .record(z.string().min(1).max(DOCUMENT_LIMITS.word), elementWord)
    .describe(
      'Element (pain at rest, pain on passive stretch, sensation, movement, colour, warmth, capillary refill, pulse, swelling) to word or number.',
    ),
  ...common,
});

/** Walking: pattern, help and device. */
export const gaitEntry = z.strictObject({
  gait: z.union([
    word('The pattern.'),
    z.strictObject({
      pattern: word('How the patient walks.').optional(),
      assistance: word('The help needed.').optional(),
      device: word('The walking device.').optional(),
    }),
  ]),
  ...common,
});

/** Joints examined and within expected limits; nothing is said of any other (CM-02). */
export const asExpectedEntry = z.strictObject({
  joints: z.union([joints, z.string()]),
  sides: sides.optional(),
  aspects: aspects.optional(),
  ...common,
});

/** What was not assessed, and why (CM-05). */
export const notAssessedEntry = z.strictObject({
  joints: z.union([joints, z.string()]).optional(),
  sides: sides.optional(),
  aspects: aspects.optional(),
  movements: list(word('A movement.'), 'Only these movements.').optional(),
  mode: mode.describe('Only this mode, e.g. active after a tendon repair.').optional(),
  measure: word('A measure that was not done: grip, pain, circumference ...').optional(),
  screen: word('A screen that was not done.').optional(),
  check: word('`neurovascular` or `gait`.').optional(),
  reason: word('A reason of the list: declined, pain, position, immobilised, precaution ...'),
  note: text('Detail: what was offered, which order, when again (CM-06).').optional(),
  ...common,
});

/** A cast, splint, sling, brace, frame, traction or prosthesis on the body. */
export const onBodyEntry = z.strictObject({
  device: word('A device of the catalogue.'),
  joints,
  side: side.optional(),
  since: instant('In force from then.').optional(),
  until: instant('Taken off then; absent while it stays on.').optional(),
  ...common,
});

/** A part that is not there; no finding is taken of it (BP-01). */
export const absentEntry = z.strictObject({
  joints,
  side: side.optional(),
  level: word('The level, e.g. below knee.'),
  ...common,
});

const precautionEntry = z.union([
  word('A precaution of the catalogue, or free words.'),
  z.strictObject({
    precaution: word('A precaution of the catalogue, or free words.'),
    side: oneSide.optional(),
    note: text('The order in its own words.').optional(),
  }),
]);

const birthDate = checked(
  (value): value is string => typeof value === 'string' && isDate(value),
  'date',
).meta({
  type: 'string',
  description: 'Year, month or day of birth as read back, e.g. `1956`.',
});

const entries = <T extends z.ZodType>(entry: T, description: string): z.ZodOptional<z.ZodArray<T>> =>
  z.array(entry).max(DOCUMENT_LIMITS.entries).describe(description).optional();

/** All of a document but its lists of entries, which are read one by one so that every fault is found at once. */
export const documentHead = z.strictObject({
  clientId: z
    .string()
    .min(1)
    .max(DOCUMENT_LIMITS.word)
    .describe("The sender's own id of this document: the same id with the same document is one record."),
  type: z
    .enum(['full', 'brief-screen', 'focused', 'neurovascular', 'therapist'])
    .describe('What was ordered; it says what is required.'),
  patient: z.strictObject({
    identifier,
    readBack: z
      .strictObject({ name: word('The name as read back.').optional(), birthDate: birthDate.optional() })
      .describe('What the patient or the wristband said; with the identifier this makes two (ID-01).'),
  }),
  ward: word('The ward.').optional(),
  examiner: staff.describe('Who examined; the finding is theirs (ID-02).'),
  recorder: staff.describe('Who typed, when that was someone else (ID-03).').optional(),
  performedAt: instant('When it was done, to the second and with its offset (TM-01).'),
  recordedAt: instant('When it was typed; default now.').optional(),
  lateReason: text('Why it was typed late; asked for and never demanded (TM-04).').optional(),
  positions: z.array(word('sitting, supine ...')).max(DOCUMENT_LIMITS.list).optional(),
  precautions: z.array(precautionEntry).max(DOCUMENT_LIMITS.list).optional(),
  confirmed: z
    .array(word('The code of a check.'))
    .max(DOCUMENT_LIMITS.list)
    .describe('Codes of the checks (severity `confirm`) that the examiner has confirmed.')
    .optional(),
  note: text('Free words about the whole exam.').optional(),
  asExpected: z.unknown().optional(),
  findings: z.unknown().optional(),
  onBody: z.unknown().optional(),
  absent: z.unknown().optional(),
  notAssessed: z.unknown().optional(),
});

/** One exam document in the nurse's terms: the body of `POST /exams`. The schema is also its public description. */
export const examDocument = documentHead.extend({
  asExpected: entries(asExpectedEntry, 'Examined and within expected limits: only what is named here.'),
  findings: entries(
    z.union([jointEntry, gripEntry, painEntry, measureEntry, screenEntry, neurovascularEntry, gaitEntry]),
    'Each finding by itself; left and right are two.',
  ),
  onBody: entries(onBodyEntry, 'Devices on the body, in force until their `until`.'),
  absent: entries(absentEntry, 'Parts that are not there.'),
  notAssessed: entries(notAssessedEntry, 'What was not assessed, each with its reason.'),
});

export type DocumentHead = z.infer<typeof documentHead>;
export type JointEntry = z.infer<typeof jointEntry>;
export type GripEntry = z.infer<typeof gripEntry>;
export type PainEntry = z.infer<typeof painEntry>;
export type MeasureEntry = z.infer<typeof measureEntry>;
export type ScreenEntry = z.infer<typeof screenEntry>;
export type NeurovascularEntry = z.infer<typeof neurovascularEntry>;
export type GaitEntry = z.infer<typeof gaitEntry>;
export type AsExpectedEntry = z.infer<typeof asExpectedEntry>;
export type NotAssessedEntry = z.infer<typeof notAssessedEntry>;
export type OnBodyEntry = z.infer<typeof onBodyEntry>;
export type AbsentEntry = z.infer<typeof absentEntry>;
