import { createHash } from 'node:crypto';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  deleteDraft,
  keepExam,
  listDrafts,
  listExams,
  newId,
  putDraft,
  readDraft,
  readKeptExam,
  readKeptExamByClientId,
  transact,
} from '../../src/store/index.js';
import type { Database, KeptExam } from '../../src/store/index.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';

let fresh: FreshDatabase;
let db: Database;
beforeAll(async () => {
  fresh = await freshDatabase();
  db = fresh.db;
});
afterAll(() => fresh.drop());

const AT = new Date('2026-03-05T13:10:00.000Z');

const exam = (clientId: string, more: Partial<KeptExam> = {}): KeptExam => ({
  ...{
    id: newId(),
    clientId,
    bodyDigest: createHash('sha256').update(clientId).digest(),
    answer: '{"a":30.50}',
  },
  ...{ patientId: 'p1', performedAt: AT, acceptedAt: AT },
  ...more,
});

describe('an accepted exam', () => {
  it('is read back by its id and by its client id, its answer as it was', async () => {
    const kept = exam(newId());
    await transact(db, (tx) => keepExam(tx, kept));
    expect(await readKeptExam(db, kept.id)).toEqual(kept);
    expect(await readKeptExamByClientId(db, kept.clientId)).toEqual(kept);
    expect(await readKeptExamByClientId(db, 'another')).toBeUndefined();
  });

  it('is one alone under its client id when ten come at the same moment', async () => {
    const clientId = newId();
    const tries = Array.from({ length: 10 }, () => transact(db, (tx) => keepExam(tx, exam(clientId))));
    const outcomes = await Promise.allSettled(tries);
    expect(outcomes.filter(({ status }) => status === 'fulfilled')).toHaveLength(1);
    for (const outcome of outcomes) {
      if (outcome.status === 'rejected') expect(outcome.reason).toMatchObject({ code: 'client-id-taken' });
    }
  });

  it('is listed for its patient, latest performed first', async () => {
    const patientId = newId();
    for (const day of [4, 6, 5]) {
      const performedAt = new Date(Date.UTC(2026, 2, day));
      await transact(db, (tx) => keepExam(tx, exam(newId(), { patientId, performedAt })));
    }
    const days = (await listExams(db, patientId, { limit: 2 })).map(({ performedAt }) =>
      performedAt.getUTCDate(),
    );
    expect(days).toEqual([6, 5]);
    const before = new Date(Date.UTC(2026, 2, 5));
    expect(await listExams(db, patientId, { limit: 9, before })).toHaveLength(1);
  });
});

describe('a draft', () => {
  const author = { system: 'urn:staff', value: 'RN-1' };

  it('is replaced by its author, and refused to another', async () => {
    const clientId = newId();
    const draft = { clientId, author, patient: { system: 'urn:mrn', value: '7' }, ward: 'W1', body: '{}' };
    expect(await putDraft(db, draft, { at: AT })).toEqual({ created: true });
    const later = new Date(AT.getTime() + 1000);
    expect(await putDraft(db, { clientId, author, body: '{"half":' }, { at: later })).toEqual({
      created: false,
    });
    expect(await readDraft(db, clientId)).toEqual({
      ...{ clientId, author, body: '{"half":', createdAt: AT, updatedAt: later },
    });
    const stranger = { ...draft, author: { system: 'urn:staff', value: 'RN-2' } };
    await expect(putDraft(db, stranger, { at: AT })).rejects.toMatchObject({ code: 'draft-of-another' });
  });

  it('is listed by author and by ward, and gone when it is deleted with its exam', async () => {
    const mine = { system: 'urn:staff', value: newId() };
    const [one, two] = [newId(), newId()];
    await putDraft(db, { clientId: one, author: mine, ward: 'W7', body: '1' }, { at: AT });
    await putDraft(db, { clientId: two, author: mine, body: '2' }, { at: new Date(AT.getTime() + 1) });
    expect((await listDrafts(db, { author: mine })).map(({ clientId }) => clientId)).toEqual([two, one]);
    expect((await listDrafts(db, { ward: 'W7' })).map(({ clientId }) => clientId)).toEqual([one]);
    await transact(db, async (tx) => {
      await keepExam(tx, exam(one));
      expect(await deleteDraft(tx, one)).toBe(true);
    });
    expect(await readDraft(db, one)).toBeUndefined();
    expect(await deleteDraft(db, one)).toBe(false);
  });

  it('stays when the exam is not accepted after all', async () => {
    const clientId = newId();
    await putDraft(db, { clientId, author, body: '{}' }, { at: AT });
    const failed = transact(db, async (tx) => {
      await deleteDraft(tx, clientId);
      throw new Error('refused');
    });
    await expect(failed).rejects.toThrow('refused');
    expect(await readDraft(db, clientId)).toBeDefined();
  });
});
