export { closeDatabase, isReady, isUnavailable, openDatabase, transact } from './database.js';
export type { Connection, Database, DatabaseOptions, Extractors, Transaction } from './database.js';
export { startEmbeddedServer } from './embedded-server.js';
export type { EmbeddedServer, EmbeddedServerOptions } from './embedded-server.js';
export { EmbeddedServerFault } from './server-place.js';
export { migrate, MigrationFault } from './migrate.js';
export { StoreRefusal } from './refusal.js';
export type { RefusalCode } from './refusal.js';
export {
  newId,
  readChanges,
  readHistory,
  readResource,
  readResources,
  readVersion,
  writeResources,
} from './resources.js';
export type { Change, ResourceContent, ResourceWrite, StoredVersion, WrittenVersion } from './resources.js';
export { deleteDraft, listDrafts, putDraft, readDraft } from './drafts.js';
export type { Draft, DraftFilter, DraftIdentifier } from './drafts.js';
export { keepExam, listExams, readKeptExam, readKeptExamByClientId } from './exams.js';
export type { KeptExam } from './exams.js';
export type { Point, SeriesKey } from './point.js';
export { countMatches, search } from './search.js';
export type { SearchPage } from './search.js';
export { readNames, readSeries, readSeriesTails } from './series.js';
export type { Series, SeriesFilter, SeriesPoint, TailFilter } from './series.js';
