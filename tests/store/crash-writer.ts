import {
  migrate,
  newId,
  openDatabase,
  startEmbeddedServer,
  transact,
  writeResources,
} from '../../src/store/index.js';
import { noExtractors } from '../test-server.js';

/**
 * A service to be killed: starts the embedded server in the folder named, writes without end, three resources in a
 * transaction by eight writers at once, and tells the ids of each transaction after its commit.
 */
const dataFolder = process.argv[2] ?? '';
const log = (line: string): void => {
  process.stdout.write(`log ${line}\n`);
};
const server = await startEmbeddedServer({ dataFolder, log });
const db = openDatabase({ connectionString: server.connectionString, extractors: noExtractors });
await migrate(db.pool);
process.stdout.write('ready\n');

async function write(): Promise<void> {
  const ids = [newId(), newId(), newId()];
  await transact(db, (tx) =>
    writeResources(
      tx,
      ids.map((id) => ({ method: 'create', type: 'Patient', id, resource: { resourceType: 'Patient' } })),
      { at: new Date() },
    ),
  );
  process.stdout.write(`done ${ids.join(' ')}\n`);
}

await Promise.all(
  Array.from({ length: 8 }, async () => {
    for (;;) await write();
  }),
);
