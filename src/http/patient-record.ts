import type { Encounter, Location, Observation, Patient, Practitioner } from 'fhir/r4.js';
import { observables, SYSTEMS } from '../catalogue/index.js';
import type { DetailCode, ObservableKind } from '../catalogue/index.js';
import { DEFAULT_RECORD_RULES, findingOf, fromObservations, NotAnExam, standingOf } from '../exam/index.js';
import type {
  EarlierExam,
  ExamObservation,
  Finding,
  Identifier,
  PatientRecord,
  Stay,
} from '../exam/index.js';
import { dateRange, parseJson } from '../fhir/index.js';
import type { Lossless, SearchClause, TokenMatch } from '../fhir/index.js';
import { readSeriesTails, search } from '../store/index.js';
import type { Connection, StoredVersion } from '../store/index.js';

/** A stay with the Encounter that says so. */
export interface KnownStay extends Stay {
  readonly encounterId: string;
}

/** What an exam is held against, and the stays of it with their ids. */
export interface LoadedRecord {
  readonly record: PatientRecord;
  readonly stays: readonly KnownStay[];
}

/** Most resources of one kind that a patient's record is drawn from, the newest. */
const MOST = 1000;

/** Most points of one series that the checks look at: the last before the exam's moment and its session. */
const SERIES_TAIL = 6;

/** Milliseconds after an exam's moment that still belong to its session, by the rule that compares within one. */
const SESSION_MS = DEFAULT_RECORD_RULES.sessionMinutes * 60_000;

/**
 * Draws from the store all that `checkAgainstRecord` reads of one patient (id of the Patient resource) for an exam
 * done at an instant (ms), which may lie far back when it is entered late.
 */
export async function readPatientRecord(
  db: Connection,
  patientId: string,
  performedAt: number,
  siteZone: string,
): Promise<LoadedRecord> {
  const [stays, series, standing, ordered] = await Promise.all([
    readStays(db, patientId, siteZone),
    readSeriesTails(db, patientId, { until: performedAt + SESSION_MS, limit: SERIES_TAIL }),
    readObservations(db, patientId, codesOf(['on-body', 'absent-part', 'look-feel'])),
    readOrders(db, patientId),
  ]);
  const expected = await readExpected(db, patientId, standing);
  const record = {
    stays,
    series,
    ...standingOf([...earlierOf([...standing, ...expected]), ...ordered.map(ordersOf)]),
    knownSides: [],
  };
  return { record, stays };
}

/** Stays that took place: an encounter that is planned, cancelled or entered in error is none. */
async function readStays(db: Connection, patientId: string, siteZone: string): Promise<readonly KnownStay[]> {
  const { matches } = await search(db, {
    type: 'Encounter',
    clauses: [patientClause(patientId)],
    sort: [],
    count: MOST,
  });
  return matches.flatMap((version) => stayOf(contentOf<Encounter>(version), siteZone) ?? []);
}

const NO_STAY: ReadonlySet<string> = new Set(['planned', 'cancelled', 'entered-in-error']);

function stayOf({ id, status, period }: Lossless<Encounter>, siteZone: string): KnownStay | undefined {
  const start = period?.start === undefined ? undefined : dateRange(period.start, siteZone);
  if (id === undefined || start === undefined || NO_STAY.has(status)) return undefined;
  const end = period?.end === undefined ? undefined : dateRange(period.end, siteZone);
  return {
    encounterId: id,
    start: { ms: start.low, text: period?.start ?? '' },
    ...(end === undefined ? {} : { end: { ms: end.high, text: period?.end ?? '' } }),
  };
}

async function readObservations(
  db: Connection,
  patientId: string,
  codes: readonly TokenMatch[],
): Promise<readonly ExamObservation[]> {
  if (codes.length === 0) return [];
  return readMatches(db, patientId, [{ kind: 'token', parameter: 'code', values: codes }]);
}

/** The panels that name a precaution. */
function readOrders(db: Connection, patientId: string): Promise<readonly ExamObservation[]> {
  return readMatches(db, patientId, [
    { kind: 'token', parameter: 'code', values: codesOf(['panel']) },
    {
      kind: 'token',
      parameter: 'component-code',
      values: [{ system: SYSTEMS.detail, code: 'precaution' satisfies DetailCode }],
    },
  ]);
}

/** "Within expected limits" of the joints that something abnormal was ever seen at: it may have ended. */
function readExpected(
  db: Connection,
  patientId: string,
  standing: readonly ExamObservation[],
): Promise<readonly ExamObservation[]> {
  const joints = new Set(
    standing.flatMap(findingsIn).flatMap((finding) => (finding.kind === 'look-feel' ? [finding.joint] : [])),
  );
  const codes = joints.size === 0 ? [] : codesOf(['joint-exam'], joints);
  return readObservations(db, patientId, codes);
}

async function readMatches(
  db: Connection,
  patientId: string,
  narrowed: readonly SearchClause[],
): Promise<readonly ExamObservation[]> {
  const { matches } = await search(db, {
    type: 'Observation',
    clauses: [patientClause(patientId), ...narrowed, IN_FORCE],
    sort: [{ parameter: 'date', descending: true }],
    count: MOST,
  });
  return matches.map((version) => contentOf<Observation>(version)).filter(isOfAnExam);
}

/** System of R4's observation-status. */
const OBSERVATION_STATUS = 'http://hl7.org/fhir/observation-status';

/** Withdrawn findings are no part of what stands (CR-04). */
const IN_FORCE: SearchClause = {
  kind: 'token',
  parameter: 'status',
  not: true,
  values: ['entered-in-error', 'cancelled'].map((code) => ({ system: OBSERVATION_STATUS, code })),
};

/** Our own codes of these kinds of observables, of these joints only where some are named. */
function codesOf(kinds: readonly ObservableKind[], joints?: ReadonlySet<string>): readonly TokenMatch[] {
  return observables
    .filter(({ kind, item }) => kinds.includes(kind) && (joints === undefined || joints.has(item)))
    .map(({ code }) => ({ system: SYSTEMS.observable, code }));
}

/** Another system's Observation may bear one of our codes and still not be one of an exam. */
function isOfAnExam(observation: ExamObservation): boolean {
  return observation.effectiveDateTime !== undefined && observation.performer?.[0]?.identifier !== undefined;
}

function earlierOf(observations: readonly ExamObservation[]): readonly EarlierExam[] {
  return observations.map((observation) => ({
    performedAt: performedMs(observation),
    precautions: [],
    findings: findingsIn(observation),
  }));
}

function findingsIn(observation: ExamObservation): readonly Finding[] {
  return asAnExam(() => [findingOf(observation)]);
}

function ordersOf(panel: ExamObservation): EarlierExam {
  const precautions = asAnExam(() => fromObservations(panel, []).precautions);
  return { performedAt: performedMs(panel), precautions, findings: [] };
}

/** What an exam's Observations say; nothing where another system used our codes otherwise than an exam does. */
function asAnExam<T>(read: () => readonly T[]): readonly T[] {
  try {
    return read();
  } catch (error) {
    if (error instanceof NotAnExam) return [];
    throw error;
  }
}

function performedMs({ effectiveDateTime }: ExamObservation): number {
  return Date.parse(effectiveDateTime ?? '');
}

/** The resources of a type that bear one of these business identifiers; at most two for each. */
export async function findByIdentifier<Resource extends Patient | Practitioner | Location>(
  db: Connection,
  type: Resource['resourceType'],
  identifiers: readonly Identifier[],
): Promise<readonly Lossless<Resource>[]> {
  const { matches } = await search(db, {
    type,
    clauses: [
      {
        kind: 'token',
        parameter: 'identifier',
        values: identifiers.map(({ system, value }) => ({ system, code: value })),
      },
    ],
    sort: [],
    count: 2 * identifiers.length,
  });
  return matches.map((version) => contentOf<Resource>(version));
}

function patientClause(id: string): SearchClause {
  return { kind: 'reference', parameter: 'patient', values: [{ type: 'Patient', id }] };
}

/**
 * The resource that a stored version holds, its numbers with their digits. Its shape was checked when it was written.
 * Throws on a body that is not JSON, which the store never holds.
 */
export function contentOf<Resource>({ body, type, id }: StoredVersion): Lossless<Resource> {
  const parsed = parseJson(body.toString('utf8'));
  if (!parsed.ok) throw new Error(`the stored body of ${type}/${id} is not JSON`);
  return parsed.value as Lossless<Resource>;
}
