import type { FastifyInstance, FastifyReply } from 'fastify';
import { examDocument } from '../exam/index.js';
import { acceptedExam, answers, checkedExam, clientIdTaken, standingExam } from './answers.js';
import { changeDoors } from './exam-changes.js';
import { checkExam, takeExam } from './exam-intake.js';
import type { ExamAnswer } from './exam-intake.js';
import { tellExam } from './exam-reading.js';
import { bodyOf, JSON_TYPE } from './exchange.js';
import { jsonSchemaOf } from './json-schema.js';
import type { ServiceOptions } from './service-options.js';

/** The doors of exam documents: in, checked, as they stand now, and changed. */
export function examDoors(app: FastifyInstance, options: ServiceOptions): void {
  const body = jsonSchemaOf(examDocument);

  app.post('/exams', { schema: { ...TAKE, body } }, async (request, reply) =>
    send(reply, await takeExam(options, bodyOf(request))),
  );

  app.post('/exams/check', { schema: { ...CHECK, body } }, async (request, reply) =>
    send(reply, await checkExam(options, bodyOf(request))),
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
  response: answers({
    200: { description: 'The first answer to this document again.', schema: acceptedExam },
    201: { description: 'Stored; Location names the exam.', schema: acceptedExam },
    409: { description: 'Another document has this clientId.', schema: clientIdTaken },
    422: 'Nothing is stored; every fault and open question with its place.',
  }),
};
const CHECK = {
  tags: TAGS,
  summary: 'Check an exam document',
  description: 'The answer that the document would get; nothing is stored.',
  response: answers({
    200: { description: 'It would be stored.', schema: checkedExam },
    422: 'It would be refused; every fault and open question with its place.',
  }),
};
const READ = {
  tags: TAGS,
  summary: 'An exam as it stands now, with its changes',
  response: answers({
    200: { description: 'The exam.', schema: standingExam },
    404: 'There is no such exam.',
  }),
};
