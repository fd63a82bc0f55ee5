import type { Observation, Provenance } from 'fhir/r4.js';
import { presentExam, summarise, toDocument } from '../exam/index.js';
import type { ExamProvenance, StoredExam } from '../exam/index.js';
import { stringifyJson } from '../fhir/index.js';
import { readExam, readResource, readResources, search } from '../store/index.js';
import type { Connection, KeptExam } from '../store/index.js';
import { FhirError } from './errors.js';
import { contentOf } from './patient-record.js';
import type { ServiceOptions } from './service-options.js';

/** An exam with its resources as they stand now. */
export interface LoadedExam {
  readonly kept: KeptExam;
  readonly stored: StoredExam;
}

/** Reads an exam's resources. Throws `not-found` for an id that is no exam's. */
export async function loadExam(db: Connection, id: string): Promise<LoadedExam> {
  const [kept, version] = await Promise.all([readExam(db, id), readResource(db, 'Observation', id)]);
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

/** The document of an exam as it stands now, what was taken back, and who changed what, when and why. As JSON text. */
export async function readExamAsItStands({ db }: ServiceOptions, id: string): Promise<string> {
  const { kept, stored } = await loadExam(db, id);
  const { status, exam, ids, withdrawn, addedNotes } = presentExam(stored);
  const changes: unknown[] = [];
  const taken = withdrawn.map(({ id: observation, finding }) => ({ id: observation, finding }));
  const { encounter } = stored.panel;
  return stringifyJson({
    id,
    status,
    patientId: kept.patientId,
    encounterId: encounter?.reference?.split('/')[1],
    ...toDocument(exam, ids),
    withdrawn: taken,
    addedNotes,
    changes,
    summary: summarise(exam),
  });
}

/** The Provenances of an exam's acts. */
export async function readActs(db: Connection, id: string): Promise<readonly ExamProvenance[]> {
  const { matches } = await search(db, {
    type: 'Provenance',
    clauses: [{ kind: 'reference', parameter: 'target', values: [{ type: 'Observation', id }] }],
    sort: [],
    count: 1000,
  });
  return matches.map((version) => contentOf<Provenance>(version));
}
