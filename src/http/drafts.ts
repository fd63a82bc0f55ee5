import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import type { Issue } from '../exam/index.js';
import { stringifyJson } from '../fhir/index.js';
import type { JsonValue } from '../fhir/index.js';
import { deleteDraft, listDrafts, putDraft, readDraft, readKeptExamByClientId } from '../store/index.js';
import type { Draft, DraftIdentifier } from '../store/index.js';
import { answers, draftDocument, draftList } from './answers.js';
import { FhirError, RefusedRequest } from './errors.js';
import { documentOf, JSON_TYPE, queryBy } from './exchange.js';
import { jsonSchemaOf } from './json-schema.js';
import type { ServiceOptions } from './service-options.js';

interface ByClientId {
  readonly Params: { readonly clientId: string };
}

/** Unsigned documents of their authors: kept, listed (ID-04), never counted, gone when their exam is accepted. */
export function draftDoors(app: FastifyInstance, { db, clock }: ServiceOptions): void {
  app.put<ByClientId>('/drafts/:clientId', { schema: PUT }, async (request, reply) => {
    const { clientId } = request.params;
    if (clientId === '') throw new FhirError('not-found', 'There is no draft without a clientId.');
    const draft = readSent(clientId, documentOf(request));
    const accepted = await readKeptExamByClientId(db, clientId);
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

  app.get('/drafts', { schema: LIST }, async (request, reply) => {
    const { author, ward } = queryBy(draftQuery, request);
    const drafts = await listDrafts(db, {
      ...(author === undefined ? {} : { author: readAuthor(author) }),
      ...(ward === undefined ? {} : { ward }),
    });
    return reply.type(JSON_TYPE).send(stringifyJson({ drafts: drafts.map(listed) }));
  });
}

const person = z.object({ identifier: z.object({ system: z.string(), value: z.string() }) });

/** What is needed of an unfinished document to keep and list it. */
const draftHead = z.object({
  examiner: person,
  patient: person.optional().catch(undefined),
  ward: z.string().optional().catch(undefined),
});

/** What `GET /drafts` takes. */
const draftQuery = z.strictObject({
  author: z.string().optional().describe('Only those of one author: `system|value` of the identifier.'),
  ward: z.string().optional().describe('Only those of one ward.'),
});

function readSent(clientId: string, document: JsonValue): Omit<Draft, 'createdAt' | 'updatedAt'> {
  const head = draftHead.safeParse(document);
  const issues = [
    ...(head.success ? [] : head.error.issues.map(({ path }) => unnamedAuthor(path))),
    ...otherIdIssues(clientId, document),
  ];
  if (!head.success || issues.length > 0) throw new RefusedRequest(422, issues);
  const { examiner, patient, ward } = head.data;
  return {
    clientId,
    author: examiner.identifier,
    ...(patient === undefined ? {} : { patient: patient.identifier }),
    ...(ward === undefined ? {} : { ward }),
    body: stringifyJson(document),
  };
}

function unnamedAuthor(path: readonly PropertyKey[]): Issue {
  const place = path.map((step) => `/${String(step)}`).join('');
  const sentence =
    'A draft is an object that names its author as examiner.identifier, with system and value.';
  return { severity: 'error', code: 'ID-04', place, sentence };
}

function otherIdIssues(clientId: string, document: JsonValue): readonly Issue[] {
  const said = (document as { readonly clientId?: unknown } | null)?.clientId;
  if (said === undefined || said === clientId) return [];
  const sentence = "The document's clientId is not the one in the URL.";
  return [{ severity: 'error', code: 'other-client-id', place: '/clientId', allowed: clientId, sentence }];
}

/** `system|value`, as FHIR writes a token. */
function readAuthor(token: string): DraftIdentifier {
  const bar = token.indexOf('|');
  if (bar >= 0) return { system: token.slice(0, bar), value: token.slice(bar + 1) };
  const sentence = 'author is written system|value.';
  throw new RefusedRequest(400, [{ severity: 'error', code: 'invalid', place: '/author', sentence }]);
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
  body: jsonSchemaOf(draftDocument),
  response: answers({
    200: { description: 'The draft, which replaced an earlier one.', schema: draftDocument },
    201: { description: 'The draft, kept for the first time.', schema: draftDocument },
    403: 'The draft under this clientId is of another author.',
    409: 'The exam of this clientId was accepted already.',
    422: 'Not JSON, or no author; each fault with its place.',
  }),
};
const GET = {
  tags: TAGS,
  summary: 'Read an unsigned document',
  response: answers({
    200: { description: 'The document as it was sent.', schema: draftDocument },
    404: 'There is none under this clientId.',
  }),
};
const DELETE = {
  tags: TAGS,
  summary: 'Drop an unsigned document; it is no part of the record',
  response: answers({ 204: { description: 'There is no such draft any more.', schema: undefined } }),
};
const LIST = {
  tags: TAGS,
  summary: 'List unsigned documents, latest change first',
  querystring: jsonSchemaOf(draftQuery),
  response: answers({
    200: { description: 'Who has an unsigned document of which patient, and since when.', schema: draftList },
    400: 'The query cannot be read.',
  }),
};
