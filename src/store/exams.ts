import { build, run } from './database.js';
import type { Connection, Transaction } from './database.js';
import { withoutNul } from './found-by.js';
import { StoreRefusal } from './refusal.js';
import type { ExamTable } from './tables.js';

/** An exam document as it was accepted. */
export interface KeptExam {
  readonly id: string;
  /** The id its client gave the document. */
  readonly clientId: string;
  /** SHA-256 of the body, to tell the same document sent again from another one under the same id. */
  readonly bodyDigest: Buffer;
  /** JSON text of the first answer. */
  readonly answer: string;
  /** Id of the Patient resource. */
  readonly patientId: string;
  readonly performedAt: Date;
  readonly acceptedAt: Date;
}

/**
 * Enters an accepted exam, in the transaction that writes its Observations. Of two documents under one client's id,
 * however close together, one is entered and the other is refused with `client-id-taken`; the transaction is then to
 * be given up and the first read by `readKeptExamByClientId`.
 */
export async function keepExam(tx: Transaction, exam: KeptExam): Promise<void> {
  const rows = await run(
    tx,
    build
      .insertInto('exam')
      .values({
        id: exam.id,
        client_id: exam.clientId,
        body_digest: exam.bodyDigest,
        answer: exam.answer,
        patient: exam.patientId,
        performed_at: exam.performedAt,
        accepted_at: exam.acceptedAt,
      })
      .onConflict((conflict) => conflict.column('client_id').doNothing())
      .returning('id'),
  );
  if (rows.length > 0) return;
  throw new StoreRefusal('client-id-taken', 'An exam was already accepted under this clientId.');
}

/** The exam accepted under a client's id. */
export async function readKeptExamByClientId(
  db: Connection,
  clientId: string,
): Promise<KeptExam | undefined> {
  const [row] = await run(
    db,
    build.selectFrom('exam').selectAll().where('client_id', '=', withoutNul(clientId)),
  );
  return row === undefined ? undefined : examOf(row);
}

export async function readKeptExam(db: Connection, id: string): Promise<KeptExam | undefined> {
  const [row] = await run(db, build.selectFrom('exam').selectAll().where('id', '=', withoutNul(id)));
  return row === undefined ? undefined : examOf(row);
}

/** The exams of a patient (id of the Patient resource), latest performed first. */
export async function listExams(
  db: Connection,
  patientId: string,
  page: { readonly limit: number; readonly before?: Date },
): Promise<readonly KeptExam[]> {
  const { limit, before } = page;
  const all = build.selectFrom('exam').selectAll().where('patient', '=', patientId);
  const asked = before === undefined ? all : all.where('performed_at', '<', before);
  const rows = await run(db, asked.orderBy('performed_at', 'desc').orderBy('id', 'desc').limit(limit));
  return rows.map(examOf);
}

type ExamRow = { readonly [Column in keyof ExamTable]: ExamTable[Column] };

function examOf(row: ExamRow): KeptExam {
  return {
    id: row.id,
    clientId: row.client_id,
    bodyDigest: row.body_digest,
    answer: row.answer,
    patientId: row.patient,
    performedAt: row.performed_at,
    acceptedAt: row.accepted_at,
  };
}
