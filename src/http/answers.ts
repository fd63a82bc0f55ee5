import { z } from 'zod';
import { examDocument } from '../exam/index.js';
import { jsonSchemaOf } from './json-schema.js';

/** What the doors other than FHIR answer, for their description; tests hold real answers to these schemas. */

const text = (description: string): z.ZodString => z.string().describe(description);
const instant = (description: string): z.ZodString => z.string().meta({ format: 'date-time', description });

const issue = z
  .strictObject({
    severity: z
      .enum(['error', 'confirm', 'advise', 'info'])
      .describe(
        '`error`: refused. `confirm`: refused until the same document comes again with the code in `confirmed`. `advise` and `info` refuse nothing.',
      ),
    code: text('Id of the rule, or a stable code.'),
    place: text('JSON Pointer into what was sent (RFC 6901); of a query `/` and the parameter.'),
    found: z.unknown().optional().describe('What stands there.'),
    allowed: z.unknown().optional().describe('What may stand there.'),
    choices: z.array(z.string()).optional().describe('The words to choose from; one of them is sent back.'),
    sentence: text('One plain sentence.'),
  })
  .describe('A fault or remark with its place.');

const issues = z.array(issue);

/** The body of every refusal. */
export const refusal = z.strictObject({ issues: issues.min(1) });

const identifier = z.strictObject({ system: z.string(), value: z.string() });
const staff = z.strictObject({ identifier, role: z.string().optional() });

const observationId = text("Id of the finding's Observation, under `/fhir/Observation`.");
const findingText = text('The finding in words.');
const findingPlace = text('JSON Pointer of the entry that it came from.');
const summary = text('The exam as people read it, in lines.');

/** 201, or 200 for the same document again. */
export const acceptedExam = z.strictObject({
  id: text('Id of the exam, and of its panel Observation.'),
  patient: text('Id of the Patient.'),
  encounter: text('Id of the Encounter that it fell in.').optional(),
  observations: z.array(z.strictObject({ id: observationId, place: findingPlace, text: findingText })),
  issues: issues.describe('What was remarked; nothing of it refuses.'),
  summary,
});

/** The answer of a document that would be accepted. */
export const checkedExam = z.strictObject({
  acceptable: z.literal(true),
  findings: z.array(z.strictObject({ place: findingPlace, text: findingText })),
  issues,
  summary,
});

/** 409: another document was accepted under this `clientId`. */
export const clientIdTaken = refusal.extend({ exam: text('Id of the exam that was accepted.') });

const { asExpected, ...document } = examDocument.shape;

/** An exam as it stands now: the document, each entry with the id of its Observation, and what became of it. */
export const standingExam = z.strictObject({
  id: text('Id of the exam, and of its panel Observation.'),
  status: z
    .enum(['final', 'amended', 'entered-in-error'])
    .describe('`amended` once it was changed; `entered-in-error` when all of it was taken back.'),
  patientId: text('Id of the Patient.'),
  encounterId: text('Id of the Encounter.').optional(),
  ...document,
  asExpected: z
    .array(
      asExpected.unwrap().element.extend({
        covers: z
          .strictObject({
            items: z.array(z.string()),
            range: z.array(z.string()),
            strength: z.array(z.string()),
          })
          .describe('Exactly what is said to be within expected limits.'),
      }),
    )
    .optional(),
  withdrawn: z
    .array(
      z.strictObject({
        id: observationId,
        text: findingText,
        finding: z.looseObject({}).describe('What was taken back, as an entry of the document.'),
      }),
    )
    .describe('Findings that were taken back as entered in error.'),
  addedNotes: z.array(z.strictObject({ by: staff.optional(), at: instant('When.'), note: z.string() })),
  changes: z
    .array(
      z.strictObject({
        kind: z.enum(['correction', 'withdrawal', 'addendum']),
        by: staff,
        at: instant('When it was recorded.'),
        why: z.string().optional(),
        resources: z
          .array(z.string())
          .describe('Ids of the Observations that it wrote, the panel among them.'),
      }),
    )
    .describe('Who changed what, when and why, oldest first.'),
  issues: issues.optional().describe('What was remarked on the change that led here.'),
  summary,
});

/** An unsigned document: what was sent. */
export const draftDocument = z.looseObject({
  examiner: z.looseObject({ identifier: z.looseObject({ system: z.string(), value: z.string() }) }),
});

export const draftList = z.strictObject({
  drafts: z.array(
    z.strictObject({
      clientId: z.string(),
      author: identifier,
      patient: identifier.optional(),
      ward: z.string().optional(),
      createdAt: instant('When it was kept for the first time.'),
      updatedAt: instant('When it was last replaced.'),
    }),
  ),
});

const point = z.strictObject({
  at: instant('When it was so.'),
  value: z.number().describe('In the unit of the series, with the digits as typed.'),
  grade: text('A strength grade as written, such as `4-`.').optional(),
  status: text('Status of the Observation.'),
  asExpected: z
    .literal(true)
    .optional()
    .describe('It stands for "within expected limits" and not for a measurement.'),
  observation: observationId.optional(),
});

export const trends = z.strictObject({
  patient: text('Id of the Patient.'),
  series: z.array(
    z.strictObject({
      item: text('What was measured: knee.flexion, knee.extension-lacks, grip ...'),
      measure: z.enum(['range', 'strength', 'grip', 'measure', 'pain']),
      unit: text('UCUM code; `1` for a strength grade.'),
      side: z.enum(['left', 'right']).optional(),
      direction: z.enum(['left', 'right']).optional().describe('Of a midline movement; never a side.'),
      mode: z.string().optional(),
      method: z.string().optional(),
      level: text('Where on the limb a circumference was taken.').optional(),
      position: text('Handle position of a dynamometer; of pain the movement that hurt.').optional(),
      rule: text('How a grip follows from its trials.').optional(),
      device: z.string().optional(),
      digit: text('The digit, with its joint: `ring`, `ring.pip`.').optional(),
      baseline: point.describe('The first point in time.'),
      latest: point.describe('The last point in time.'),
      change: z.number().describe('Latest less baseline, in the unit of the series; it judges nothing.'),
      points: z.array(point).describe('In order of time.'),
    }),
  ),
});

/** An answer with the schema of its body, or of no body; in words alone it is a refusal. */
type Answer = string | { readonly description: string; readonly schema: z.ZodType | undefined };

/** The answers of a door by status, as its description has them; those that any door may give are added. */
export function answers(own: Readonly<Record<number, Answer>>): object {
  const told: readonly (readonly [string, Answer])[] = Object.entries({ ...own, default: OF_ANY_DOOR });
  return Object.fromEntries(told.map(([status, answer]) => [status, describedAs(answer)]));
}

function describedAs(answer: Answer): object {
  const { description, schema } =
    typeof answer === 'string' ? { description: answer, schema: refusal } : answer;
  if (schema === undefined) return { description };
  return { description, content: { 'application/json': { schema: jsonSchemaOf(schema) } } };
}

const OF_ANY_DOOR =
  'Refused: 400 unreadable, 401 no access, 413 too large, 415 not JSON, 503 try again, 500 our own fault.';
