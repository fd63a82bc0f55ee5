import type { Observation, Provenance } from 'fhir/r4.js';
import { changesOf, entryOf, nameFinding, presentExam, summarise, toShownDocument } from '../exam/index.js';
import type { ExamProvenance, Issue, StoredExam } from '../exam/index.js';
import { stringifyJson } from '../fhir/index.js';
import { readKeptExam, readResource, readResources, search } from '../store/index.js';
import type { Connection, KeptExam } from '../store/index.js';
import { FhirError } from './errors.js';
import { contentOf } from './patient-record.js';

/** An exam with its resources as they stand now. */
export interface LoadedExam {
  readonly kept: KeptExam;
  readonly stored: StoredExam;
}

/** Reads an exam's resources. Throws `not-found` for an id that is no exam's. */
export async function loadExam(db: Connection, id: string): Promise<LoadedExam> {
  const [kept, version] = await Promise.all([readKeptExam(db, id), readResource(db, 'Observation', id)]);
  if (kept === undefined || version === undefined) throw new FhirError('not-found', 'There is no such exam.');
  const panel = contentOf<Observation>(version);
  const names = (panel.hasMember ?? []).flatMap(({ reference }) => nameOf(reference));
  const members = (await readResources(db, names)).map((member) => contentOf<Observation>(member));
  return { kept, stored: { panel, members } };
}

function nameOf(reference: string | undefined): readonly { readonly type: string; readonly id: string }[] {
  const [type, id] = reference?.split('/') ?? [];
  return type === undefined || id === undefined ? [] : [{ type, id }];
}

/**
 * The document of an exam as it stands now, what was taken back, and who changed what, when and why, as JSON text;
 * with what was remarked on the change that led here, where there was one.
 */
export async function tellExam(db: Connection, id: string, issues?: readonly Issue[]): Promise<string> {
  const [{ kept, stored }, acts] = await Promise.all([loadExam(db, id), readActs(db, id)]);
  const { status, exam, ids, withdrawn, addedNotes } = presentExam(stored);
  return stringifyJson({
    id,
    status,
    patientId: kept.patientId,
    encounterId: stored.panel.encounter?.reference?.split('/')[1],
    ...toShownDocument(exam, ids),
    withdrawn: withdrawn.map(({ id: of, finding }) => ({
      id: of,
      text: nameFinding(finding),
      finding: entryOf(finding).entry,
    })),
    addedNotes,
    changes: changesOf(acts).filter(({ kind }) => kind !== 'exam'),
    issues,
    summary: summarise(exam),
  });
}

/**
 * The exam that an Observation belongs to; undefined for one that came over FHIR. Told by the Provenance of the act
 * that wrote it, which no one else can write and whose first target is the exam's panel.
 */
export async function findExamOf(db: Connection, observationId: string): Promise<string | undefined> {
  const [act] = await readActs(db, observationId, 1);
  const panel = act?.target[0]?.reference?.split('/')[1];
  const kept = panel === undefined ? undefined : await readKeptExam(db, panel);
  return kept?.id;
}

/** The Provenances of the acts on an exam, or on one of its Observations. */
async function readActs(db: Connection, id: string, count = 1000): Promise<readonly ExamProvenance[]> {
  const { matches } = await search(db, {
    type: 'Provenance',
    clauses: [{ kind: 'reference', parameter: 'target', values: [{ type: 'Observation', id }] }],
    sort: [],
    count,
  });
  return matches.map((version) => contentOf<Provenance>(version));
}
