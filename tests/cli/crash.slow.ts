import { writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { setTimeout as sleep } from 'node:timers/promises';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import type { Observation, Provenance } from 'fhir/r4.js';
import { openDatabase, startEmbeddedServer } from '../../src/store/index.js';
import { panelObservable } from '../../src/catalogue/index.js';
import { noExtractors } from '../database.js';
import { examOf, inventedWard, NURSE, PATIENT } from '../http/invented-ward.js';
import { makeDataFolder, postmasterOf, sendJson, startService } from './service-process.js';
import type { ServiceProcess } from './service-process.js';

const ROUNDS = 20;
const WRITERS = 6;

/** In which rounds PostgreSQL is killed too: at the same moment, or before the service, which starts it again. */
const killsPostgres = (round: number): 'not' | 'too' | 'first' =>
  round % 4 === 1 ? 'too' : round % 4 === 3 ? 'first' : 'not';

type Document = Readonly<Record<string, unknown>>;

interface Taken {
  readonly id: string;
  readonly observations: readonly { readonly id: string; readonly place: string }[];
}

/** Degrees of one knee, as the exam said them first and as each change of them was asked for and acknowledged. */
interface Change {
  readonly examId: string;
  readonly degrees: number;
}

/** What the writers know: what they sent, and what they were told. */
class Told {
  readonly taken = new Map<string, Taken>();
  readonly unanswered = new Map<string, Document>();
  readonly drafts = new Set<string>();
  readonly corrected: Change[] = [];
  readonly uncertain: Change[] = [];
  readonly surprises: string[] = [];
}

/** Findings of the exam of the writers: two shoulders, three of knee and hand, two hips. */
const FINDINGS = 7;
const FIRST_DEGREES = 95;

let folder: Awaited<ReturnType<typeof makeDataFolder>>;
let service: ServiceProcess;
const told = new Told();
const figures: object[] = [];

beforeAll(async () => {
  folder = await makeDataFolder();
  service = await startService({ LIMBLEDGER_DATA: folder.data, LOG_LEVEL: 'warn' });
  for (const resource of inventedWard) {
    const { status } = await sendJson(
      `${service.url}/fhir/${resource.resourceType}/${resource.id}`,
      resource,
      'PUT',
    );
    expect(status).toBe(201);
  }
});
afterAll(async () => {
  await service.end('SIGKILL');
  const postmaster = await postmasterOf(folder.data);
  if (postmaster !== undefined) kill(postmaster);
  await folder.remove();
});

function kill(pid: number): void {
  try {
    process.kill(pid, 'SIGKILL');
  } catch {
    // it was gone already
  }
}

const performedAt = new Date(Date.now() - 3_600_000).toISOString();

function documentOf(clientId: string): Document {
  return examOf(clientId, performedAt, { note: `Written as ${clientId}.` });
}

/** Sends drafts, exams and corrections until the service is gone. */
async function write(name: string, url: string): Promise<void> {
  for (let count = 0; ; count += 1) {
    const clientId = `${name}-${count}`;
    try {
      if (count % 3 === 0) await writeDraft(url, clientId);
      const taken = await writeExam(url, clientId);
      if (taken !== undefined && count % 2 === 0) await correct(url, taken, 40 + (count % 50));
    } catch {
      return;
    }
  }
}

async function writeDraft(url: string, clientId: string): Promise<void> {
  const response = await sendJson(`${url}/drafts/${clientId}`, documentOf(clientId), 'PUT');
  await response.text();
  if (response.status === 201) told.drafts.add(clientId);
  else noteSurprise('draft', response.status);
}

async function writeExam(url: string, clientId: string): Promise<Taken | undefined> {
  const document = documentOf(clientId);
  told.unanswered.set(clientId, document);
  const response = await sendUntilServed(`${url}/exams`, document);
  const answer = (await response.json()) as Taken;
  if (response.status !== 201 && response.status !== 200) {
    noteSurprise('exam', response.status);
    return undefined;
  }
  told.taken.set(clientId, answer);
  told.unanswered.delete(clientId);
  return answer;
}

/** Sends a document again while the service says that it cannot reach its database. */
async function sendUntilServed(url: string, document: Document): Promise<Response> {
  for (;;) {
    const response = await sendJson(url, document);
    if (response.status !== 503) return response;
    await response.text();
    await sleep(20);
  }
}

async function correct(url: string, { id, observations }: Taken, degrees: number): Promise<void> {
  const finding = observations.find(({ place }) => place.endsWith('/degrees'))?.id;
  const change = { examId: id, degrees };
  told.uncertain.push(change);
  const response = await sendJson(`${url}/exams/${id}/corrections`, {
    ...{ by: NURSE, why: 'misread' },
    replaces: [{ id: finding, finding: { ...KNEE_FLEXION, degrees } }],
  });
  await response.text();
  if (response.status !== 200) {
    noteSurprise('correction', response.status);
    return;
  }
  told.uncertain.splice(told.uncertain.indexOf(change), 1);
  told.corrected.push(change);
}

const KNEE_FLEXION = { joint: 'knee', side: 'left', movement: 'flexion', method: 'goniometer-long-arm' };

/** 503 is the right answer while PostgreSQL is down. */
function noteSurprise(what: string, status: number): void {
  if (status !== 503) told.surprises.push(`${what} ${status}`);
}

async function read(door: string): Promise<{ readonly status: number; readonly body: unknown }> {
  const response = await fetch(service.url + door);
  return { status: response.status, body: await response.json() };
}

async function readResource<Resource>(reference: string): Promise<Resource> {
  const { status, body } = await read(`/fhir/${reference}`);
  expect([reference, status]).toEqual([reference, 200]);
  return body as Resource;
}

/** An exam is whole: as sent, each of its Observations there, each of its acts told. */
async function expectWhole(clientId: string, { id, observations }: Taken): Promise<void> {
  const { status, body } = await read(`/exams/${id}`);
  expect([clientId, status]).toEqual([clientId, 200]);
  expect(body).toMatchObject({ id, clientId, patientId: PATIENT.id, note: `Written as ${clientId}.` });
  const panel = await readResource<Observation>(`Observation/${id}`);
  const members = (panel.hasMember ?? []).map(({ reference = '' }) => reference);
  expect(members).toEqual(observations.map((one) => `Observation/${one.id}`));
  expect(members).toHaveLength(FINDINGS);
  const versions = new Map<string, number>();
  for (const reference of [`Observation/${id}`, ...members]) {
    const { meta, subject } = await readResource<Observation>(reference);
    expect(subject?.reference).toBe(`Patient/${PATIENT.id}`);
    versions.set(reference, Number(meta?.versionId));
  }
  await expectActs(id, versions);
}

/** Each version of the exam's resources is told by the Provenance of one act, and no act tells of one that is not there. */
async function expectActs(id: string, versions: ReadonlyMap<string, number>): Promise<void> {
  const { body } = await read(`/fhir/Provenance?target=Observation/${id}&_count=100`);
  const { entry = [] } = body as { readonly entry?: readonly { readonly resource: Provenance }[] };
  const toldOf = entry.flatMap(({ resource }) => resource.target.map(({ reference = '' }) => reference));
  const kept = [...versions].flatMap(([reference, latest]) =>
    Array.from({ length: latest }, (_, before) => `${reference}/_history/${before + 1}`),
  );
  expect(toldOf.sort()).toEqual(kept.sort());
}

async function degreesOf(examId: string): Promise<number | undefined> {
  const { body } = await read(`/exams/${examId}`);
  const { findings } = body as { readonly findings: readonly { readonly degrees?: number }[] };
  return findings.find(({ degrees }) => degrees !== undefined)?.degrees;
}

/** Each correction that was acknowledged stands; one that was not stands or does not. */
async function expectCorrections(examIds: ReadonlySet<string>): Promise<void> {
  for (const { examId, degrees } of told.corrected.filter((one) => examIds.has(one.examId)))
    expect([examId, await degreesOf(examId)]).toEqual([examId, degrees]);
  for (const { examId, degrees } of told.uncertain.filter((one) => examIds.has(one.examId)))
    expect([FIRST_DEGREES, degrees]).toContain(await degreesOf(examId));
}

/** A draft that was acknowledged is there until its exam is accepted, and gone with that. */
async function expectDrafts(clientIds: readonly string[]): Promise<void> {
  for (const clientId of clientIds) {
    const { status } = await read(`/drafts/${clientId}`);
    const accepted = await countPanels(clientId);
    expect([clientId, status]).toEqual([clientId, accepted === 0 ? 200 : 404]);
  }
}

async function countPanels(clientId: string): Promise<number> {
  const { body } = await read(`/fhir/Observation?identifier=${clientId}&_summary=count`);
  return (body as { readonly total: number }).total;
}

/** What was not answered is sent again: it is then stored exactly once, whether it was before or not. */
async function sendUnanswered(): Promise<{ readonly stored: number; readonly again: number }> {
  const counts = { stored: 0, again: 0 };
  for (const [clientId, document] of told.unanswered) {
    const before = await countPanels(clientId);
    const response = await sendJson(`${service.url}/exams`, document);
    expect([clientId, response.status]).toEqual([clientId, before === 0 ? 201 : 200]);
    const taken = (await response.json()) as Taken;
    expect([clientId, await countPanels(clientId)]).toEqual([clientId, 1]);
    await expectWhole(clientId, taken);
    told.taken.set(clientId, taken);
    counts[before === 0 ? 'again' : 'stored'] += 1;
  }
  told.unanswered.clear();
  return counts;
}

/** Kills at a random moment after the first answer; gives the milliseconds from then. */
async function killDuringWrites(round: number): Promise<number> {
  const before = told.taken.size;
  const writers = Array.from({ length: WRITERS }, (_, index) => write(`r${round}-w${index}`, service.url));
  const postmaster = (await postmasterOf(folder.data)) ?? 0;
  while (told.taken.size === before) await sleep(5);
  const moment = Math.random() * 1500;
  await sleep(moment);
  const kind = killsPostgres(round);
  if (kind === 'first') {
    kill(postmaster);
    await sleep(Math.random() * 1500);
  }
  service.child.kill('SIGKILL');
  if (kind === 'too') kill(postmaster);
  await Promise.all([service.ended, ...writers]);
  return Math.round(moment);
}

describe('the service, killed while exams are written', () => {
  for (let round = 0; round < ROUNDS; round += 1) {
    it(`loses nothing it acknowledged and keeps nothing half, round ${round + 1} of ${ROUNDS}`, async () => {
      const known = new Set(told.taken.keys());
      const draftsBefore = told.drafts.size;
      const killedAfterMs = await killDuringWrites(round);
      const restart = Date.now();
      service = await startService({ LIMBLEDGER_DATA: folder.data, LOG_LEVEL: 'warn' });
      const restartMs = Date.now() - restart;
      const fresh = [...told.taken].filter(([clientId]) => !known.has(clientId));
      for (const [clientId, taken] of fresh) await expectWhole(clientId, taken);
      await expectCorrections(new Set(fresh.map(([, { id }]) => id)));
      await expectDrafts([...told.drafts].slice(draftsBefore));
      const unanswered = await sendUnanswered();
      figures.push({
        ...{ round: round + 1, postgres: killsPostgres(round), killedAfterMs, restartMs },
        ...{ acknowledged: fresh.length, unanswered },
      });
      expect(told.surprises, 'answers that were neither the right one nor 503').toEqual([]);
    });
  }

  it('has in the end every exam of all rounds, whole, and nothing else', async () => {
    for (const [clientId, taken] of told.taken) await expectWhole(clientId, taken);
    await service.end();
    const counts = await countKept();
    await writeFile(
      path.join(tmpdir(), 'limbledger-crash-figures.json'),
      JSON.stringify(
        {
          exams: told.taken.size,
          corrections: told.corrected.length,
          drafts: told.drafts.size,
          rounds: figures,
        },
        undefined,
        2,
      ),
    );
    expect(counts.ledger).toEqual([...told.taken.values()].map(({ id }) => id).sort());
    expect(counts.panels).toEqual(counts.ledger);
    expect(counts.observations).toBe(told.taken.size * (FINDINGS + 1));
    expect(counts.changes).toBe(counts.versions);
  });
});

interface Kept {
  readonly ledger: readonly string[];
  readonly panels: readonly string[];
  readonly observations: number;
  readonly versions: number;
  readonly changes: number;
}

/** What the database holds, asked of it directly. */
async function countKept(): Promise<Kept> {
  const server = await startEmbeddedServer({ dataFolder: folder.data, log: () => undefined });
  const db = openDatabase({ connectionString: server.connectionString, extractors: noExtractors });
  try {
    const ledger = await db.query<{ id: string }>({ text: 'select id from exam order by id' });
    const panels = await db.query<{ id: string }>({
      text: `select id from resource where concept in
               (select concept.id from concept join token on token.id = any(concept.tokens) where token.code = $1)
             order by id`,
      values: [panelObservable.code],
    });
    const [counts] = await db.query<Omit<Kept, 'ledger' | 'panels'>>({
      text: `select (select count(*) from resource where type = 'Observation') as observations,
                    (select count(*) from resource) + (select count(*) from resource_history) as versions,
                    (select count(*) from change) as changes`,
    });
    return {
      ledger: ledger.map(({ id }) => id),
      panels: panels.map(({ id }) => id),
      ...(counts ?? { observations: 0, versions: 0, changes: 0 }),
    };
  } finally {
    await db.close();
    await server.stop();
  }
}
