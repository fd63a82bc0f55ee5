#!/usr/bin/env node
import { Command, Option } from 'commander';
import { EmbeddedServerFault, MigrationFault } from '../store/index.js';
import { runDemo } from './run-demo.js';
import { openStore, packageVersion, startService } from './service.js';
import type { RunningService } from './service.js';
import { readSettings, SettingsError } from './settings.js';
import type { Settings } from './settings.js';

/** The options of the command line and the settings they stand for; an option wins over the environment. */
const SETTING_OPTIONS = [
  ['--data <folder>', 'LIMBLEDGER_DATA', 'data folder of the embedded PostgreSQL (default .limbledger)'],
  ['--host <address>', 'HOST', 'where it listens (default 127.0.0.1)'],
  ['--port <number>', 'PORT', 'port, 0 for any free one (default 7460)'],
  ['--base-url <url>', 'PUBLIC_BASE_URL', 'base of every URL it gives out (default from host and port)'],
  ['--zone <name>', 'SITE_TIME_ZONE', 'zone of shifts and of dates without a time (default UTC)'],
  ['--auth <mode>', 'AUTH', 'off (on loopback only) or required'],
  ['--log-level <level>', 'LOG_LEVEL', 'fatal, error, warn, info, debug, trace or silent (default info)'],
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
  const service = await startService(settingsOf(command), say);
  stopOnSignal(service);
  say(`Limbledger listens at ${service.url}`);
}

async function migrateOnly(_options: unknown, command: Command): Promise<void> {
  const store = await openStore(settingsOf(command), say);
  await store.close();
  say(store.applied.length === 0 ? 'The database is up to date.' : `Applied: ${store.applied.join(', ')}`);
}

async function demo(_options: unknown, command: Command): Promise<void> {
  const settings = settingsOf(command, {
    LIMBLEDGER_DATA: '.limbledger-demo',
    SITE_TIME_ZONE: 'America/New_York',
    LOG_LEVEL: 'warn',
  });
  const { service, asExpected } = await runDemo(settings, say);
  stopOnSignal(service);
  if (!asExpected) process.exitCode = 1;
}

const program = new Command('limbledger')
  .description('Bedside musculoskeletal examinations as coded FHIR R4 Observations in PostgreSQL.')
  .version(packageVersion())
  .showHelpAfterError();

withSettings(program.command('serve').description('apply migrations, then serve')).action(serve);
withSettings(
  program.command('demo').description('load the invented demo ward into a fresh data folder, then serve it'),
).action(demo);
withSettings(program.command('migrate').description('apply migrations and say what was done')).action(
  migrateOnly,
);

try {
  await program.parseAsync();
} catch (error) {
  const known =
    error instanceof SettingsError || error instanceof EmbeddedServerFault || error instanceof MigrationFault;
  say(known ? error.message : String(error instanceof Error ? error.stack : error));
  process.exit(2);
}
