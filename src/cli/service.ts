import type { AddressInfo } from 'node:net';
import type { FastifyInstance } from 'fastify';
import { pino } from 'pino';
import type { Logger } from 'pino';
import { buildServer, extractorsOf } from '../http/index.js';
import type { ServiceOptions } from '../http/index.js';
import {
  closeDatabase,
  isUnavailable,
  migrate,
  newId,
  openDatabase,
  startEmbeddedServer,
} from '../store/index.js';
import type { Database, EmbeddedServerOptions } from '../store/index.js';
import { openConformance } from './conformance.js';
import { SettingsError } from './settings.js';
import type { Settings } from './settings.js';
import { packageVersion } from './version.js';

/** A database that is ready to serve, and how to let go of it. */
export interface OpenStore {
  readonly db: Database;
  /** Numbers and names of the migrations applied by this start. */
  readonly applied: readonly string[];
  close(): Promise<void>;
}

/** The service while it listens. */
export interface RunningService {
  /** Base URL, e.g. `http://127.0.0.1:7460`. */
  readonly url: string;
  readonly db: Database;
  /** Answers what was accepted, then closes database and embedded server. */
  stop(): Promise<void>;
}

/** Takes one clear line for the person at the terminal. */
export type Say = (line: string) => void;

/** How a store is opened beside its settings. */
export interface StoreOptions {
  /** Tells the base of every absolute URL; known for sure only once the service listens. */
  readonly publicBaseUrl?: () => string;
  /** Another database of the embedded server than the service's own. */
  readonly embeddedDatabase?: Pick<EmbeddedServerOptions, 'database' | 'fresh'>;
}

/** How a service is started beside its settings. */
export interface StartOptions extends Pick<StoreOptions, 'embeddedDatabase'> {
  /** What the start page names to look at first. */
  readonly examples?: NonNullable<ServiceOptions['examples']>;
}

/** Opens the database of the settings, the embedded one where none is named, and applies what migrations it lacks. */
export async function openStore(
  settings: Settings,
  say: Say,
  { publicBaseUrl = () => settings.publicBaseUrl ?? '', embeddedDatabase = {} }: StoreOptions = {},
): Promise<OpenStore> {
  const embedded =
    settings.databaseUrl === undefined
      ? await startEmbeddedServer({ dataFolder: settings.dataFolder, log: say, ...embeddedDatabase })
      : undefined;
  const connectionString = embedded?.connectionString ?? settings.databaseUrl ?? '';
  const extractors = extractorsOf({
    siteZone: settings.siteTimeZone,
    baseUrl: () => `${publicBaseUrl()}/fhir`,
  });
  const db = openDatabase({ connectionString, extractors });
  const close = async (): Promise<void> => {
    await closeDatabase(db);
    await embedded?.stop();
  };
  try {
    const { applied } = await migrate(db.pool);
    return { db, applied, close };
  } catch (error) {
    await close();
    throw settings.databaseUrl === undefined ? error : databaseFault(error);
  }
}

/** A named database that cannot be used is a fault of the setting; the driver's words never hold the password. */
function databaseFault(error: unknown): unknown {
  const code = error instanceof Error && 'code' in error ? String(error.code) : '';
  const isRefused = isUnavailable(error) || /^(28\w{3}|3D000|42501)$/.test(code);
  if (!isRefused || !(error instanceof Error)) return error;
  return new SettingsError(`DATABASE_URL: the database cannot be used: ${error.message || code}`);
}

/** Opens the store and listens. */
export async function startService(
  settings: Settings,
  say: Say,
  { examples = [], embeddedDatabase = {} }: StartOptions = {},
): Promise<RunningService> {
  let url = settings.publicBaseUrl ?? '';
  const publicBaseUrl = (): string => url;
  // Before the store: a definition at fault is told at once.
  const conformance = openConformance(settings.profileFolders);
  for (const remark of conformance.validate.remarks) say(remark);
  const store = await openStore(settings, say, { publicBaseUrl, embeddedDatabase });
  try {
    const app = await buildServer({
      db: store.db,
      conformance,
      publicBaseUrl,
      siteTimeZone: settings.siteTimeZone,
      auth: settings.auth,
      clock: () => new Date(),
      newId,
      version: packageVersion(),
      logger: openLog(settings.logLevel),
      examples,
    });
    await listen(app, settings);
    url = publicUrl(settings, app);
    const stop = async (): Promise<void> => {
      await app.close();
      await store.close();
    };
    return { url, db: store.db, stop };
  } catch (error) {
    await store.close();
    throw error;
  }
}

/** @throws SettingsError when the address cannot be listened on. */
async function listen(app: FastifyInstance, { host, port }: Settings): Promise<void> {
  try {
    await app.listen({ host, port });
  } catch (error) {
    const code = error instanceof Error && 'code' in error ? String(error.code) : '';
    const reason = CANNOT_LISTEN[code];
    throw reason === undefined ? error : new SettingsError(`HOST ${host}, PORT ${port}: ${reason}`);
  }
}

const CANNOT_LISTEN: Readonly<Record<string, string>> = {
  EADDRINUSE: 'another process listens there already',
  EADDRNOTAVAIL: 'this machine has no such address',
  EACCES: 'this user may not listen there',
  ENOTFOUND: 'no such address is known',
};

/** The public base, or the address it listens on; the port is known only then when PORT is 0. */
function publicUrl(settings: Settings, app: FastifyInstance): string {
  if (settings.publicBaseUrl !== undefined) return settings.publicBaseUrl;
  const { port } = app.server.address() as AddressInfo;
  const host = settings.host.includes(':') ? `[${settings.host}]` : settings.host;
  return `http://${host}:${port}`;
}

/** The service's own log: JSON lines on standard output, never with patient data. */
function openLog(level: Settings['logLevel']): Logger {
  return pino({ level, base: null, timestamp: pino.stdTimeFunctions.isoTime });
}
