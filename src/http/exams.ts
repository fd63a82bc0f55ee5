import type { FastifyInstance, FastifyReply } from 'fastify';
import { examDocument } from '../exam/index.js';
import { changeDoors } from './exam-changes.js';
import { checkExam, takeExam } from './exam-intake.js';
import type { ExamAnswer } from './exam-intake.js';
import { tellExam } from './exam-reading.js';
import { JSON_TYPE } from './exchange.js';
import { jsonSchemaOf } from './json-schema.js';
import type { ServiceOptions } from './service-options.js';

/** The doors of exam documents: in, checked, as they stand now, and changed. */
export function examDoors(app: FastifyInstance, options: ServiceOptions): void {
  const body = jsonSchemaOf(examDocument);

  app.post('/exams', { schema: { ...TAKE, body } }, async (request, reply) =>
    send(reply, await takeExam(options, request.body as string)),
  );

  app.post('/exams/check', { schema: { ...CHECK, body } }, async (request, reply) =>
    send(reply, await checkExam(options, request.body as string)),
  );

  app.get<{ Params: { id: string } }>('/exams/:id', { schema: READ }, async (request, reply) =>
    reply.type(JSON_TYPE).send(await tellExam(options.db, request.params.id)),
  );

  changeDoors(app, options);
}

function send(reply: FastifyReply, { status, body, id }: ExamAnswer): FastifyReply {
  if (id !== undefined) void reply.header('location', `/exams/${id}`);
  return reply.code(status).type(JSON_TYPE).send(body);
}

const TAGS = ['exams'];
const TAKE = {
  tags: TAGS,
  summary: 'Take an exam document in',
  description:
    'Stored whole or not at all. 201 with the exam id, the Observations written, what was remarked and a summary; 422 with every fault at once. The same clientId with the same document gets the first answer again (200), with another one 409.',
};
const CHECK = {
  tags: TAGS,
  summary: 'Check an exam document',
  description: 'The answer that the document would get; nothing is stored.',
};
const READ = {
  tags: TAGS,
  summary: 'An exam as it stands now, with its changes',
};
