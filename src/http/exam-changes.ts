import type { FastifyInstance, FastifyRequest, RouteGenericInterface } from 'fastify';
import {
  addendumRequest,
  addToExam,
  checkAgainstRecord,
  correctFindings,
  correctionRequest,
  DEFAULT_CHANGE_RULES,
  DEFAULT_SITE_RULES,
  findingKey,
  presentExam,
  readAddendum,
  readCorrection,
  readWithdrawal,
  withdrawalRequest,
  withdrawFindings,
} from '../exam/index.js';
import type {
  ChangeAnswer,
  ChangeAuthor,
  ChangeReading,
  Exam,
  ExamChange,
  Finding,
  Issue,
  Now,
  ResourceContext,
  StoredExam,
} from '../exam/index.js';
import { stringifyJson } from '../fhir/index.js';
import type { JsonValue } from '../fhir/index.js';
import { StoreRefusal, transact, writeResources } from '../store/index.js';
import type { ResourceWrite } from '../store/index.js';
import { answers, standingExam } from './answers.js';
import { FhirError } from './errors.js';
import { creation, findStaff, isRefused, isTestData } from './exam-intake.js';
import { loadExam, tellExam } from './exam-reading.js';
import type { LoadedExam } from './exam-reading.js';
import { documentOf, JSON_TYPE } from './exchange.js';
import { jsonSchemaOf } from './json-schema.js';
import { holdToRules } from './own-resources.js';
import { readPatientRecord } from './patient-record.js';
import type { ServiceOptions } from './service-options.js';

/** One way to change a finished exam: how its request is read, what it says anew, and what it makes of the exam. */
interface ChangeKind<Request extends ChangeAuthor> {
  readonly read: (body: JsonValue, stored: StoredExam, now: Now) => ChangeReading<Request>;
  /** The findings of the request with their places in it: they are held against the patient's record. */
  readonly says: (request: Request) => readonly Said[];
  readonly apply: (stored: StoredExam, request: Request, context: ResourceContext) => ChangeAnswer;
}

interface Said {
  readonly place: string;
  readonly finding: Finding;
}

/** Corrections, withdrawals and addenda: nothing is deleted, and each is kept with who, when and why. */
export function changeDoors(app: FastifyInstance, options: ServiceOptions): void {
  addDoor(app, options, 'corrections', CORRECT, {
    read: (body, stored, now) => readCorrection(body, stored, now, DEFAULT_SITE_RULES),
    says: ({ replaces, adds = [] }) => [
      ...replaces.map(({ finding }, index) => ({ place: `/replaces/${index}/finding`, finding })),
      ...adds.map((finding) => ({ place: '/replaces', finding })),
    ],
    apply: (stored, request, context) => correctFindings(stored, request, context, DEFAULT_CHANGE_RULES),
  });
  addDoor(app, options, 'withdrawals', WITHDRAW, {
    read: (body, _stored, now) => readWithdrawal(body, now, DEFAULT_SITE_RULES),
    says: () => [],
    apply: (stored, request, context) => withdrawFindings(stored, request, context, DEFAULT_CHANGE_RULES),
  });
  addDoor(app, options, 'addenda', ADD, {
    read: (body, stored, now) => readAddendum(body, stored, now, DEFAULT_SITE_RULES),
    says: ({ findings }) => findings.map((finding) => ({ place: '/findings', finding })),
    apply: addToExam,
  });
}

interface ById extends RouteGenericInterface {
  readonly Params: { readonly id: string };
}

function addDoor<Request extends ChangeAuthor>(
  app: FastifyInstance,
  options: ServiceOptions,
  name: string,
  schema: object,
  kind: ChangeKind<Request>,
): void {
  app.post<ById>(`/exams/:id/${name}`, { schema }, async (request, reply) => {
    const { status, body } = await changeExam(options, request.params.id, request, kind);
    return reply.code(status).type(JSON_TYPE).send(body);
  });
}

/** Changes an exam whole or not at all; 200 with the exam as it stands then, 422 with every fault. */
async function changeExam<Request extends ChangeAuthor>(
  options: ServiceOptions,
  id: string,
  sent: FastifyRequest,
  { read, says, apply }: ChangeKind<Request>,
): Promise<{ readonly status: 200 | 422; readonly body: string }> {
  const loaded = await loadExam(options.db, id);
  const now = { at: options.clock().getTime(), zone: options.siteTimeZone };
  const { request, issues } = read(documentOf(sent), loaded.stored, now);
  if (request === undefined) return refuse(issues);
  const told = [...issues, ...(await holdAgainstRecord(options, loaded, request, says(request)))];
  if (isRefused(told)) return refuse(told);
  const answer = apply(loaded.stored, request, await contextOf(options, loaded, request));
  if (answer.kind === 'refused') return refuse([...told, ...answer.issues]);
  await store(options, answer.change);
  return { status: 200, body: await tellExam(options.db, id, told) };
}

function refuse(issues: readonly Issue[]): { readonly status: 422; readonly body: string } {
  return { status: 422, body: stringifyJson({ issues }) };
}

/** What the change says is held to the record as if it were an exam of its own at that moment. */
async function holdAgainstRecord(
  { db, siteTimeZone }: ServiceOptions,
  { kept, stored }: LoadedExam,
  { confirmed = [] }: ChangeAuthor,
  said: readonly Said[],
): Promise<readonly Issue[]> {
  if (said.length === 0) return [];
  const { record } = await readPatientRecord(db, kept.patientId, kept.performedAt.getTime(), siteTimeZone);
  const exam: Exam = { ...presentExam(stored).exam, confirmed, findings: said.map(({ finding }) => finding) };
  const places = new Map(said.map(({ place, finding }) => [findingKey(finding), place]));
  return checkAgainstRecord(exam, places, record, DEFAULT_SITE_RULES);
}

async function contextOf(
  options: ServiceOptions,
  { kept, stored: { panel } }: LoadedExam,
  { by }: ChangeAuthor,
): Promise<ResourceContext> {
  const encounterId = panel.encounter?.reference?.split('/')[1];
  return {
    patientId: kept.patientId,
    practitionerId: await findStaff(options.db, [by]),
    newId: options.newId,
    testData: isTestData(panel),
    ...(encounterId === undefined ? {} : { encounterId }),
  };
}

/** Two changes of one exam at once: the second is refused, since it was made on what the exam no longer is. */
async function store(
  { db, clock, conformance }: ServiceOptions,
  { updated, created, provenance }: ExamChange,
): Promise<void> {
  holdToRules([...updated, ...created, provenance], conformance);
  const writes = [...updated.map(update), ...[...created, provenance].map(creation)];
  try {
    await transact(db, (tx) => writeResources(tx, writes, { at: clock() }));
  } catch (error) {
    const isConflict = error instanceof StoreRefusal && error.code === 'version-conflict';
    throw isConflict
      ? new FhirError('conflict', 'The exam was changed in the meantime; read it again.')
      : error;
  }
}

function update(resource: ExamChange['updated'][number]): ResourceWrite {
  const { id = '', meta } = resource;
  return { method: 'update', type: 'Observation', id, resource, ifVersion: Number(meta?.versionId) };
}

const TAGS = ['exams'];
const ANSWERS = answers({
  200: { description: 'Stored; the exam as it stands now.', schema: standingExam },
  404: 'There is no such exam.',
  409: 'The exam was changed in the meantime; read it again.',
  422: 'Nothing is stored; every fault and open question with its place.',
});
const CORRECT = {
  tags: TAGS,
  summary: 'Correct findings of an exam',
  description:
    'A wrong value put right: the Observation keeps its id and becomes `corrected`, the version before stays readable. Only the examiner, the recorder or a records role corrects (CR-03).',
  body: jsonSchemaOf(correctionRequest),
  response: ANSWERS,
};
const WITHDRAW = {
  tags: TAGS,
  summary: 'Take findings, or the whole exam, back as entered in error',
  description: 'They leave trends at once and stay in the history.',
  body: jsonSchemaOf(withdrawalRequest),
  response: ANSWERS,
};
const ADD = {
  tags: TAGS,
  summary: 'Add findings or a note to a finished exam',
  description: 'Anyone may add, in their own name.',
  body: jsonSchemaOf(addendumRequest),
  response: ANSWERS,
};
