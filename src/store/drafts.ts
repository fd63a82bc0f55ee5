import { sql } from 'kysely';
import { build, run } from './database.js';
import type { Connection } from './database.js';
import { withoutNul } from './found-by.js';
import { StoreRefusal } from './refusal.js';
import type { DraftTable } from './tables.js';

/** A business identifier, as FHIR's Identifier. */
export interface DraftIdentifier {
  readonly system: string;
  readonly value: string;
}

/** An unsigned exam document of its author. */
export interface Draft {
  readonly clientId: string;
  readonly author: DraftIdentifier;
  readonly patient?: DraftIdentifier;
  readonly ward?: string;
  /** The document as sent; it need not be complete. */
  readonly body: string;
  readonly createdAt: Date;
  readonly updatedAt: Date;
}

/**
 * Keeps a draft in place of the author's former one under the same client's id, and says whether it is new. Refuses
 * with `draft-of-another` when the id is another author's.
 */
export async function putDraft(
  db: Connection,
  draft: Omit<Draft, 'createdAt' | 'updatedAt'>,
  options: { readonly at: Date },
): Promise<{ readonly created: boolean }> {
  const content = {
    patient_system: draft.patient?.system ?? null,
    patient_value: draft.patient?.value ?? null,
    ward: draft.ward ?? null,
    body: draft.body,
    updated_at: options.at,
  };
  const { clientId, author } = draft;
  const owner = { client_id: clientId, author_system: author.system, author_value: author.value };
  const [row] = await run(
    db,
    build
      .insertInto('draft')
      .values({ ...owner, ...content, created_at: options.at })
      .onConflict((conflict) =>
        conflict
          .column('client_id')
          .doUpdateSet(content)
          .where('draft.author_system', '=', author.system)
          .where('draft.author_value', '=', author.value),
      )
      .returning(sql<boolean>`xmax = 0`.as('created')),
  );
  if (row !== undefined) return row;
  throw new StoreRefusal('draft-of-another', "The draft under this clientId is another author's.");
}

/** Whose drafts, or of which ward; latest change first. */
export interface DraftFilter {
  readonly author?: DraftIdentifier;
  readonly ward?: string;
  /** At most so many; 1000 when absent. */
  readonly limit?: number;
}

export async function readDraft(db: Connection, clientId: string): Promise<Draft | undefined> {
  const [row] = await run(
    db,
    build.selectFrom('draft').selectAll().where('client_id', '=', withoutNul(clientId)),
  );
  return row === undefined ? undefined : draftOf(row);
}

export async function listDrafts(db: Connection, filter: DraftFilter = {}): Promise<readonly Draft[]> {
  const { author, ward, limit = 1000 } = filter;
  let asked = build.selectFrom('draft').selectAll();
  if (author !== undefined) {
    asked = asked
      .where('author_system', '=', withoutNul(author.system))
      .where('author_value', '=', withoutNul(author.value));
  }
  if (ward !== undefined) asked = asked.where('ward', '=', withoutNul(ward));
  const rows = await run(db, asked.orderBy('updated_at', 'desc').orderBy('client_id').limit(limit));
  return rows.map(draftOf);
}

/** Removes a draft, which is no part of the record; in the transaction that accepts its exam, or when its author does. */
export async function deleteDraft(db: Connection, clientId: string): Promise<boolean> {
  const rows = await run(
    db,
    build.deleteFrom('draft').where('client_id', '=', withoutNul(clientId)).returning('client_id'),
  );
  return rows.length > 0;
}

type DraftRow = { readonly [Column in keyof DraftTable]: DraftTable[Column] };

function draftOf(row: DraftRow): Draft {
  const { patient_system: system, patient_value: value, ward } = row;
  return {
    clientId: row.client_id,
    author: { system: row.author_system, value: row.author_value },
    ...(system === null || value === null ? {} : { patient: { system, value } }),
    ...(ward === null ? {} : { ward }),
    body: row.body,
    createdAt: row.created_at,
    updatedAt: row.updated_at,
  };
}
