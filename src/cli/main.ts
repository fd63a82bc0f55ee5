#!/usr/bin/env node
import { Command, CommanderError, Option } from 'commander';
import type { RunningService } from './service.js';
import { readFolders, readSettings } from './settings.js';
import type { Settings } from './settings.js';
import { packageVersion } from './version.js';

// Each verb loads what it needs: `validate` starts without the HTTP server and the database driver.

/** The options of the command line and the settings they stand for; an option wins over the environment. */
const SETTING_OPTIONS = [
  ['--data <folder>', 'LIMBLEDGER_DATA', 'data folder of the embedded PostgreSQL (default .limbledger)'],
  ['--host <address>', 'HOST', 'where it listens (default 127.0.0.1)'],
  ['--port <number>', 'PORT', 'port, 0 for any free one (default 7460)'],
  ['--base-url <url>', 'PUBLIC_BASE_URL', 'base of every URL it gives out (default from host and port)'],
  ['--zone <name>', 'SITE_TIME_ZONE', 'zone of shifts and of dates without a time (default UTC)'],
  ['--auth <mode>', 'AUTH', 'off (on loopback only) or required'],
  ['--log-level <level>', 'LOG_LEVEL', 'fatal, error, warn, info, debug, trace or silent (default info)'],
  ['--profiles <folders>', 'FHIR_PROFILES', "folders of a deployment's FHIR definitions, parted as in PATH"],
] as const;

const say = (line: string): void => {
  process.stderr.write(`${line}\n`);
};

function settingsOf(command: Command, defaults: Readonly<Record<string, string>> = {}): Settings {
  const given = command.optsWithGlobals<Record<string, string | undefined>>();
  const chosen = SETTING_OPTIONS.flatMap(([flags, name]) => {
    const value = given[new Option(flags).attributeName()];
    return value === undefined ? [] : [[name, value] as const];
  });
  return readSettings({ ...defaults, ...process.env, ...Object.fromEntries(chosen) });
}

function withSettings(command: Command): Command {
  for (const [flags, name, description] of SETTING_OPTIONS) {
    command.addOption(new Option(flags, `${description}; also ${name}`));
  }
  return command.addHelpText(
    'after',
    '\nDATABASE_URL names any PostgreSQL 15 or newer; without it the embedded server of the data folder is used.',
  );
}

/** Stops once on SIGTERM or SIGINT: accepted requests are answered, then the database is closed. */
function stopOnSignal(service: RunningService): void {
  let stopping = false;
  const stop = (): void => {
    if (stopping) return;
    stopping = true;
    service.stop().then(
      () => process.exit(0),
      (error: unknown) => {
        say(`The service did not stop cleanly: ${String(error)}`);
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', stop);
  process.on('SIGINT', stop);
}

async function serve(_options: unknown, command: Command): Promise<void> {
  const { startService } = await import('./service.js');
  const service = await startService(settingsOf(command), say);
  stopOnSignal(service);
  say(`Limbledger listens at ${service.url}`);
}

async function migrateOnly(_options: unknown, command: Command): Promise<void> {
  const { openStore } = await import('./service.js');
  const store = await openStore(settingsOf(command), say);
  await store.close();
  say(store.applied.length === 0 ? 'The database is up to date.' : `Applied: ${store.applied.join(', ')}`);
}

async function demo(_options: unknown, command: Command): Promise<void> {
  const { runDemo } = await import('./run-demo.js');
  const settings = settingsOf(command, {
    LIMBLEDGER_DATA: '.limbledger-demo',
    SITE_TIME_ZONE: 'America/New_York',
    LOG_LEVEL: 'warn',
  });
  const { service, asExpected } = await runDemo(settings, say);
  stopOnSignal(service);
  if (!asExpected) process.exitCode = 1;
}

interface ValidateOptions {
  readonly profile?: readonly string[];
  readonly profiles?: string;
}

async function validate(files: readonly string[], options: ValidateOptions): Promise<void> {
  const { validateFiles } = await import('./validate.js');
  const folders = readFolders(options.profiles ?? process.env['FHIR_PROFILES'] ?? '');
  const terminal = { input: process.stdin, output: process.stdout, say };
  process.exitCode = await validateFiles({ files, profiles: options.profile ?? [], folders }, terminal);
}

const program = new Command('limbledger')
  .description('Bedside musculoskeletal examinations as coded FHIR R4 Observations in PostgreSQL.')
  .version(packageVersion())
  .showHelpAfterError()
  .exitOverride();

withSettings(program.command('serve').description('apply migrations, then serve')).action(serve);
withSettings(
  program.command('demo').description('load the invented demo ward into a fresh data folder, then serve it'),
).action(demo);
withSettings(program.command('migrate').description('apply migrations and say what was done')).action(
  migrateOnly,
);

program
  .command('validate')
  .description('say of FHIR resources whether they are valid, one JSON line each; needs no database')
  .argument('<files...>', 'JSON or NDJSON; - for standard input')
  .option(
    '--profile <url>',
    'a profile to hold every resource against; may be repeated',
    (url: string, others: readonly string[] | undefined) => [...(others ?? []), url],
  )
  .option(
    '--profiles <folders>',
    'folders of FHIR definitions beside our own, parted as in PATH; also FHIR_PROFILES',
  )
  .addHelpText('after', '\nEnds with 0: all valid. 1: some not. 2: could not run.')
  .action(validate);

/** Faults whose message is meant for the person at the terminal, by name, so that their modules need not be loaded. */
const TOLD: ReadonlySet<string> = new Set(['SettingsError', 'EmbeddedServerFault', 'MigrationFault']);

try {
  await program.parseAsync();
} catch (error) {
  if (error instanceof CommanderError) process.exit(error.exitCode === 0 ? 0 : 2);
  const isTold = error instanceof Error && TOLD.has(error.name);
  say(isTold ? error.message : String(error instanceof Error ? error.stack : error));
  process.exit(2);
}
