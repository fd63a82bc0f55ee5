import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { parseJson, stringifyJson } from '../fhir/index.js';
import type { JsonValue } from '../fhir/index.js';
import { deleteDraft, listDrafts, putDraft, readDraft, readExamByClientId } from '../store/index.js';
import type { Draft, DraftIdentifier } from '../store/index.js';
import { FhirError } from './errors.js';
import { JSON_TYPE } from './exchange.js';
import type { ServiceOptions } from './service-options.js';

interface ByClientId {
  readonly Params: { readonly clientId: string };
}

/** Longest client's id of a draft, in characters. */
const LONGEST_ID = 200;

/** Unsigned documents of their authors: kept, listed (ID-04), never counted, gone when their exam is accepted. */
export function draftDoors(app: FastifyInstance, { db, clock }: ServiceOptions): void {
  app.put<ByClientId>('/drafts/:clientId', { schema: PUT }, async (request, reply) => {
    const { clientId } = request.params;
    const draft = readSent(clientId, request.body as string);
    const accepted = await readExamByClientId(db, clientId);
    if (accepted !== undefined) {
      throw new FhirError(
        'conflict',
        `The exam of this clientId was accepted as ${accepted.id}; a draft of it is too late.`,
      );
    }
    const { created } = await putDraft(db, draft, { at: clock() });
    return reply
      .code(created ? 201 : 200)
      .type(JSON_TYPE)
      .send(draft.body);
  });

  app.get<ByClientId>('/drafts/:clientId', { schema: GET }, async (request, reply) => {
    const draft = await readDraft(db, request.params.clientId);
    if (draft === undefined) throw new FhirError('not-found', 'There is no draft under this clientId.');
    return reply.type(JSON_TYPE).send(draft.body);
  });

  app.delete<ByClientId>('/drafts/:clientId', { schema: DELETE }, async (request, reply) => {
    await deleteDraft(db, request.params.clientId);
    return reply.code(204).send();
  });

  app.get<{ Querystring: Readonly<Record<string, unknown>> }>(
    '/drafts',
    { schema: LIST },
    async (request, reply) => {
      const drafts = await listDrafts(db, readFilter(request.query));
      return reply.type(JSON_TYPE).send(stringifyJson({ drafts: drafts.map(listed) }));
    },
  );
}

const person = z.object({ identifier: z.object({ system: z.string(), value: z.string() }) });

/** What is needed of an unfinished document to keep and list it. */
const draftHead = z.object({
  examiner: person,
  patient: person.optional().catch(undefined),
  ward: z.string().optional().catch(undefined),
});

function readSent(clientId: string, text: string): Omit<Draft, 'createdAt' | 'updatedAt'> {
  if (clientId.length > LONGEST_ID)
    throw new FhirError('invalid', `A clientId has at most ${LONGEST_ID} characters.`);
  const parsed = parseJson(text);
  if (!parsed.ok) {
    const [fault] = parsed.faults;
    throw new FhirError('not-json', fault?.sentence ?? 'The body is not JSON.');
  }
  const head = draftHead.safeParse(parsed.value);
  if (!head.success) {
    throw new FhirError(
      'unprocessable',
      'A draft is a JSON object that names its author as examiner.identifier, with system and value.',
    );
  }
  refuseOtherId(clientId, parsed.value);
  const { examiner, patient, ward } = head.data;
  return {
    clientId,
    author: examiner.identifier,
    ...(patient === undefined ? {} : { patient: patient.identifier }),
    ...(ward === undefined ? {} : { ward }),
    body: stringifyJson(parsed.value),
  };
}

function refuseOtherId(clientId: string, document: JsonValue): void {
  const { clientId: said } = document as { readonly clientId?: unknown };
  if (said === undefined || said === clientId) return;
  throw new FhirError('unprocessable', "The document's clientId is not the one in the URL.");
}

function readFilter({ author, ward }: Readonly<Record<string, unknown>>): {
  author?: DraftIdentifier;
  ward?: string;
} {
  return {
    ...(typeof author === 'string' ? { author: readAuthor(author) } : {}),
    ...(typeof ward === 'string' ? { ward } : {}),
  };
}

/** `system|value`, as FHIR writes a token. */
function readAuthor(token: string): DraftIdentifier {
  const bar = token.indexOf('|');
  if (bar < 0) throw new FhirError('invalid', 'author is written system|value.');
  return { system: token.slice(0, bar), value: token.slice(bar + 1) };
}

function listed({ clientId, author, patient, ward, createdAt, updatedAt }: Draft): object {
  return {
    clientId,
    author,
    patient,
    ward,
    createdAt: createdAt.toISOString(),
    updatedAt: updatedAt.toISOString(),
  };
}

const TAGS = ['drafts'];
const PUT = {
  tags: TAGS,
  summary: 'Keep an unsigned document',
  description:
    'The document may be unfinished; it must name its author. It is never counted, and gone when its exam is accepted.',
  body: { type: 'object', additionalProperties: true, required: ['examiner'] },
};
const GET = { tags: TAGS, summary: 'Read an unsigned document' };
const DELETE = { tags: TAGS, summary: 'Drop an unsigned document; it is no part of the record' };
const LIST = {
  tags: TAGS,
  summary: 'List unsigned documents, latest change first',
  querystring: {
    type: 'object',
    properties: {
      author: { type: 'string', description: 'system|value of the author' },
      ward: { type: 'string' },
    },
  },
};
