import { countMatches } from '../store/index.js';
import { demoLinks, loadDemo, reportLines } from './demo/index.js';
import { startService } from './service.js';
import type { RunningService, Say } from './service.js';
import { SettingsError } from './settings.js';
import type { Settings } from './settings.js';

/** The demo's own database in the embedded server; the service's database beside it is never touched. */
const DEMO_DATABASE = 'limbledger_demo';

/**
 * Serves the demo ward from nothing: a fresh database, the service, the week sent through its public doors. What is
 * refused as the story has it is listed; an answer that was not expected makes `asExpected` false.
 * @throws SettingsError rather than load into a named database that holds patients.
 */
export async function runDemo(
  settings: Settings,
  say: Say,
): Promise<{ readonly service: RunningService; readonly asExpected: boolean }> {
  const service = await startService(settings, say, {
    examples: demoLinks(),
    embeddedDatabase: { database: DEMO_DATABASE, fresh: true },
  });
  try {
    if (settings.databaseUrl !== undefined) await refuseUsedDatabase(service);
    say(`Loading the demo ward through ${service.url} ...`);
    const report = await loadDemo(service.url, say);
    for (const line of reportLines(report)) say(line);
    say('Open:');
    for (const { href, label } of demoLinks()) say(`  ${service.url}${href}  ${label}`);
    say('All patients and staff are invented. Stop with Ctrl+C.');
    return { service, asExpected: report.differences.length === 0 };
  } catch (error) {
    await service.stop();
    throw error;
  }
}

async function refuseUsedDatabase({ db }: RunningService): Promise<void> {
  const patients = await countMatches(db, { type: 'Patient', clauses: [], sort: [], count: 1 });
  if (patients === 0) return;
  throw new SettingsError(
    `DATABASE_URL names a database that holds ${patients} patients: the demo wants an empty one, or unset DATABASE_URL`,
  );
}
