import { createHash } from 'node:crypto';
import type { Patient, Practitioner, Resource } from 'fhir/r4.js';
import { isLosslessNumber } from 'lossless-json';
import {
  checkAgainstRecord,
  DEFAULT_SITE_RULES,
  findingKey,
  matchPatient,
  nameFinding,
  readParsedExam,
  summarise,
  toObservations,
  toProvenance,
} from '../exam/index.js';
import type {
  Exam,
  ExamObservation,
  Finding,
  Identifier,
  Issue,
  ResourceContext,
  Staff,
} from '../exam/index.js';
import { parseJson, stringifyJson } from '../fhir/index.js';
import type { JsonValue, Lossless, ParsedJson } from '../fhir/index.js';
import {
  deleteDraft,
  keepExam,
  readKeptExamByClientId,
  readResource,
  search,
  StoreRefusal,
  transact,
  writeResources,
} from '../store/index.js';
import type { Connection, KeptExam, ResourceContent, ResourceWrite } from '../store/index.js';
import { holdToRules } from './own-resources.js';
import { findByIdentifier, readPatientRecord } from './patient-record.js';
import type { KnownStay } from './patient-record.js';
import type { ServiceOptions } from './service-options.js';

/** An answer of the exam doors: its status and its body as JSON text. */
export interface ExamAnswer {
  readonly status: 200 | 201 | 409 | 422;
  readonly body: string;
  /** Id of the exam, when one was stored. */
  readonly id?: string;
}

/**
 * Takes an exam document in: nothing is stored when anything is refused, and every fault is told at once. The same
 * document under the same `clientId` gets the first answer again, another one is refused naming the first.
 */
export async function takeExam(options: ServiceOptions, text: string): Promise<ExamAnswer> {
  const parsed = parseJson(text);
  const sent = sentDocument(parsed);
  const earlier = sent && (await readKeptExamByClientId(options.db, sent.clientId));
  if (sent && earlier) return answerAgain(earlier, sent);
  const examined = await examine(options, parsed);
  if (!isAcceptable(examined)) return refuse(examined);
  try {
    return await storeExam(options, examined, sent?.digest ?? digestOf(text));
  } catch (error) {
    const winner = await raceWinner(options, error, examined.exam.clientId);
    if (sent === undefined || winner === undefined) throw error;
    return answerAgain(winner, sent);
  }
}

/** The answer that the document would get, with nothing stored. */
export async function checkExam(options: ServiceOptions, text: string): Promise<ExamAnswer> {
  const examined = await examine(options, parseJson(text));
  if (!isAcceptable(examined)) return refuse(examined);
  const { exam, places, issues } = examined;
  const findings = exam.findings.map((finding) => toldFinding(finding, places));
  const answer = { acceptable: true, findings, issues, summary: summarise(exam) };
  return { status: 200, body: stringifyJson(answer) };
}

interface SentDocument {
  readonly clientId: string;
  readonly digest: Buffer;
}

/** What tells one document from another: its `clientId`, and its content whatever the order of its keys. */
function sentDocument(parsed: ParsedJson): SentDocument | undefined {
  if (!parsed.ok || typeof parsed.value !== 'object' || parsed.value === null) return undefined;
  const { clientId } = parsed.value as { readonly clientId?: unknown };
  if (typeof clientId !== 'string') return undefined;
  return { clientId, digest: digestOf(stringifyJson(sortKeys(parsed.value))) };
}

function digestOf(text: string): Buffer {
  return createHash('sha256').update(text).digest();
}

function sortKeys(value: JsonValue): JsonValue {
  if (Array.isArray(value)) return value.map(sortKeys);
  if (typeof value !== 'object' || value === null || isLosslessNumber(value)) return value;
  return Object.fromEntries(
    Object.entries(value)
      .sort(([one], [other]) => (one < other ? -1 : 1))
      .map(([key, held]: [string, JsonValue]) => [key, sortKeys(held)]),
  );
}

function answerAgain(first: KeptExam, sent: SentDocument): ExamAnswer {
  if (first.bodyDigest.equals(sent.digest)) return { status: 200, body: first.answer, id: first.id };
  const issue: Issue = {
    severity: 'error',
    code: 'client-id-taken',
    place: '/clientId',
    found: sent.clientId,
    sentence: `Another document was accepted under this clientId as exam ${first.id}; correct that exam, or send this one under an id of its own.`,
  };
  return { status: 409, body: stringifyJson({ exam: first.id, issues: [issue] }) };
}

/** The exam that another request entered under the same id in the meantime. */
async function raceWinner(
  { db }: ServiceOptions,
  error: unknown,
  clientId: string,
): Promise<KeptExam | undefined> {
  const lost = error instanceof StoreRefusal && error.code === 'client-id-taken';
  return lost ? readKeptExamByClientId(db, clientId) : undefined;
}

/** A document as far as it could be read, with all that was found. */
interface Examined {
  readonly exam?: Exam;
  readonly places: ReadonlyMap<string, string>;
  readonly issues: readonly Issue[];
  readonly patient?: Lossless<Patient>;
  readonly stay?: KnownStay;
  readonly practitionerId: ResourceContext['practitionerId'];
}

type Acceptable = Examined & Required<Pick<Examined, 'exam' | 'patient'>>;

function isAcceptable(examined: Examined): examined is Acceptable {
  return examined.exam !== undefined && examined.patient !== undefined && !isRefused(examined.issues);
}

/** Whether anything keeps a document from being stored: an error, or a question that was not answered. */
export function isRefused(issues: readonly Issue[]): boolean {
  return issues.some(({ severity }) => severity === 'error' || severity === 'confirm');
}

function refuse({ issues }: Examined): ExamAnswer {
  return { status: 422, body: stringifyJson({ issues }) };
}

async function examine(options: ServiceOptions, parsed: ParsedJson): Promise<Examined> {
  const now = { at: options.clock().getTime(), zone: options.siteTimeZone };
  const { legible: exam, whom, places, issues } = readParsedExam(parsed, now, DEFAULT_SITE_RULES);
  const nobody = { places, issues, practitionerId: () => undefined };
  if (exam === undefined) {
    const found = whom && (await findPatient(options, whom));
    return { ...nobody, issues: [...issues, ...untold(found?.issues ?? [], issues)] };
  }
  const [found, staff, ward] = await Promise.all([
    findPatient(options, exam),
    findStaff(options.db, [exam.examiner, ...(exam.recorder === undefined ? [] : [exam.recorder])]),
    wardIssues(options, exam),
  ]);
  const known = { ...nobody, exam, practitionerId: staff };
  if (found.patient === undefined)
    return { ...known, issues: [...issues, ...untold(found.issues, issues), ...ward] };
  const { record, stays } = await readPatientRecord(
    options.db,
    found.patient.id ?? '',
    Date.parse(exam.performedAt),
    options.siteTimeZone,
  );
  const against = checkAgainstRecord(exam, places, record, DEFAULT_SITE_RULES);
  const stay = stayAt(stays, Date.parse(exam.performedAt));
  return {
    ...known,
    issues: [...issues, ...untold(found.issues, issues), ...ward, ...against],
    patient: found.patient,
    ...(stay === undefined ? {} : { stay }),
  };
}

/** The issues whose check has not spoken of the same place before. */
function untold(more: readonly Issue[], told: readonly Issue[]): readonly Issue[] {
  return more.filter(({ code, place }) => !told.some((one) => one.code === code && one.place === place));
}

/** The latest stay that an instant lies in. */
function stayAt(stays: readonly KnownStay[], at: number): KnownStay | undefined {
  return stays
    .filter(({ start, end }) => start.ms <= at && (end === undefined || at <= end.ms))
    .reduce<KnownStay | undefined>(
      (best, one) => (best && best.start.ms > one.start.ms ? best : one),
      undefined,
    );
}

interface FoundPatient {
  readonly patient?: Lossless<Patient>;
  readonly issues: readonly Issue[];
}

/** The one patient of the document's identifier, held against what was read back. */
async function findPatient(
  { db }: ServiceOptions,
  { patient: identifier, readBack }: Pick<Exam, 'patient' | 'readBack'>,
): Promise<FoundPatient> {
  const [patient, another] = await findByIdentifier<Patient>(db, 'Patient', [identifier]);
  if (patient !== undefined && another === undefined) {
    return { patient, issues: matchPatient(patient, readBack) };
  }
  const sentence =
    patient === undefined
      ? 'No patient on record has this identifier; send the Patient first, or correct the identifier.'
      : 'More than one patient on record has this identifier; it names nobody.';
  const code = patient === undefined ? 'patient-unknown' : 'patient-ambiguous';
  const issue: Issue = {
    severity: 'error',
    code,
    place: '/patient/identifier',
    found: identifier,
    sentence,
  };
  return { issues: [issue] };
}

/** Tells the Practitioner of each of these members of staff, as far as the record has them. */
export async function findStaff(
  db: Connection,
  staff: readonly Staff[],
): Promise<ResourceContext['practitionerId']> {
  const named = staff.map(({ identifier }) => identifier);
  const known = await findByIdentifier<Practitioner>(db, 'Practitioner', named);
  return ({ system, value }: Identifier) =>
    known.find(({ identifier }) => identifier?.some((one) => one.system === system && one.value === value))
      ?.id;
}

/** A ward that no Location bears is remarked on: the exam would be missed on its board. */
async function wardIssues({ db }: ServiceOptions, { ward }: Exam): Promise<readonly Issue[]> {
  if (ward === undefined || (await isKnownWard(db, ward))) return [];
  const sentence = `No ward on record is called ${ward}; the exam is kept under this name.`;
  return [{ severity: 'advise', code: 'ward-unknown', place: '/ward', found: ward, sentence }];
}

async function isKnownWard(db: ServiceOptions['db'], ward: string): Promise<boolean> {
  const byId = await readResource(db, 'Location', ward);
  if (byId !== undefined && !byId.deleted) return true;
  const { matches } = await search(db, {
    type: 'Location',
    clauses: [{ kind: 'token', parameter: 'identifier', values: [{ code: ward }] }],
    sort: [],
    count: 1,
  });
  return matches.length > 0;
}

async function storeExam(options: ServiceOptions, examined: Acceptable, digest: Buffer): Promise<ExamAnswer> {
  const { exam } = examined;
  const at = options.clock();
  const context = contextOf(options, examined);
  const [panel, ...members] = toObservations(exam, context);
  const id = panel.id ?? '';
  const provenance = toProvenance(
    {
      kind: 'exam',
      by: exam.examiner,
      ...(exam.recorder === undefined ? {} : { enteredBy: exam.recorder }),
      occurredAt: exam.performedAt,
      recordedAt: exam.recordedAt,
      clientId: exam.clientId,
    },
    [panel, ...members],
    context,
  );
  const resources = [panel, ...members, provenance];
  holdToRules(resources, options.conformance);
  const answer = stringifyJson(acceptedAnswer(examined, id, members));
  await transact(options.db, async (tx) => {
    await writeResources(tx, resources.map(creation), { at });
    await keepExam(tx, {
      id,
      clientId: exam.clientId,
      bodyDigest: digest,
      answer,
      patientId: context.patientId,
      performedAt: new Date(exam.performedAt),
      acceptedAt: at,
    });
    await deleteDraft(tx, exam.clientId);
  });
  return { status: 201, body: answer, id };
}

/** What the resources of this patient's exam need beside the document. */
function contextOf(
  { newId }: ServiceOptions,
  { patient, stay, practitionerId }: Acceptable,
): ResourceContext {
  return {
    patientId: patient.id ?? '',
    practitionerId,
    newId,
    ...(stay === undefined ? {} : { encounterId: stay.encounterId }),
    testData: isTestData(patient),
  };
}

/** Whether a resource bears the security label HTEST: what is written about a test patient is test data too. */
export function isTestData({ meta }: Pick<Lossless<Resource>, 'meta'>): boolean {
  return meta?.security?.some(({ code }) => code === 'HTEST') ?? false;
}

/** A new resource as a write of the store. */
export function creation(resource: ResourceContent & { readonly id?: string | undefined }): ResourceWrite {
  return { method: 'create', type: resource.resourceType, id: resource.id ?? '', resource };
}

function acceptedAnswer(
  { exam, places, issues, patient, stay }: Acceptable,
  id: string,
  members: readonly ExamObservation[],
): object {
  return {
    id,
    patient: patient.id,
    encounter: stay?.encounterId,
    observations: exam.findings.map((finding, index) => ({
      id: members[index]?.id,
      ...toldFinding(finding, places),
    })),
    issues,
    summary: summarise(exam),
  };
}

/** A finding in words, with the place in the document that it came from. */
function toldFinding(finding: Finding, places: ReadonlyMap<string, string>): object {
  return { place: places.get(findingKey(finding)), text: nameFinding(finding) };
}
