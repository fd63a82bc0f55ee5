import path from 'node:path';
import { isIP } from 'node:net';
import { z } from 'zod';

/** The settings of a process, read once at start from the environment. */
export interface Settings {
  /** Undefined: the embedded server in `dataFolder`. */
  readonly databaseUrl: string | undefined;
  /** Absolute folder of the embedded server. */
  readonly dataFolder: string;
  readonly host: string;
  /** 0 lets the system choose. */
  readonly port: number;
  /** Base of every absolute URL given out, without a trailing slash; undefined: from host and port. */
  readonly publicBaseUrl: string | undefined;
  /** IANA name. */
  readonly siteTimeZone: string;
  readonly auth: 'off' | 'required';
  readonly logLevel: (typeof LOG_LEVELS)[number];
  /** Absolute folders of a deployment's own FHIR definitions. */
  readonly profileFolders: readonly string[];
}

/** A setting that cannot be used: one line that names it, what was found and what is allowed. */
export class SettingsError extends Error {
  override readonly name = 'SettingsError';
}

const LOG_LEVELS = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const;

const environment = z.object({
  DATABASE_URL: z
    .string()
    .regex(/^postgres(ql)?:\/\//, 'must begin with postgres:// or postgresql://')
    .optional(),
  LIMBLEDGER_DATA: z.string().default('.limbledger'),
  HOST: z.string().default('127.0.0.1'),
  PORT: z.coerce.number('must be a port from 0 to 65535').int().min(0).max(65_535).default(7460),
  PUBLIC_BASE_URL: z.url({ protocol: /^https?$/, error: 'must be an http or https URL' }).optional(),
  SITE_TIME_ZONE: z
    .string()
    .refine(isTimeZone, 'must be an IANA time zone such as Europe/London')
    .default('UTC'),
  AUTH: z.enum(['off', 'required'], 'must be off or required').optional(),
  LOG_LEVEL: z.enum(LOG_LEVELS, `must be one of ${LOG_LEVELS.join(', ')}`).default('info'),
  FHIR_PROFILES: z.string().default(''),
});

/**
 * Reads the settings. An empty variable counts as not set.
 * @throws SettingsError with one line that names every setting at fault.
 */
export function readSettings(variables: Readonly<Record<string, string | undefined>>): Settings {
  const given = Object.fromEntries(
    Object.entries(variables).filter(([, value]) => value !== undefined && value !== ''),
  );
  const parsed = environment.safeParse(given);
  if (!parsed.success) {
    throw new SettingsError(parsed.error.issues.map((issue) => faultOf(issue, given)).join('; '));
  }
  const { data } = parsed;
  return {
    databaseUrl: data.DATABASE_URL,
    dataFolder: path.resolve(data.LIMBLEDGER_DATA),
    host: data.HOST,
    port: data.PORT,
    publicBaseUrl: data.PUBLIC_BASE_URL?.replace(/\/+$/, ''),
    siteTimeZone: data.SITE_TIME_ZONE,
    auth: readAuth(data.AUTH, data.HOST),
    logLevel: data.LOG_LEVEL,
    profileFolders: readFolders(data.FHIR_PROFILES),
  };
}

/** Folders parted as in PATH. */
export function readFolders(text: string): readonly string[] {
  return text.split(path.delimiter).flatMap((folder) => (folder === '' ? [] : [path.resolve(folder)]));
}

/** `off` is for one machine: anywhere else it would show patients to the whole network. */
function readAuth(auth: 'off' | 'required' | undefined, host: string): 'off' | 'required' {
  if (auth === 'off' && !isLoopback(host)) {
    throw new SettingsError(
      `AUTH is off, which is allowed on loopback only, and HOST is ${host}: set AUTH=required`,
    );
  }
  return auth ?? (isLoopback(host) ? 'off' : 'required');
}

/** Whether an address to listen on is reached from this machine alone. */
export function isLoopback(host: string): boolean {
  if (host === 'localhost' || host === '::1') return true;
  return isIP(host) === 4 && host.startsWith('127.');
}

function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

function faultOf(issue: z.core.$ZodIssue, given: Readonly<Record<string, string | undefined>>): string {
  const name = String(issue.path[0]);
  // A database URL may hold a password.
  const found = name === 'DATABASE_URL' ? '' : ` (found ${JSON.stringify(given[name])})`;
  return `${name}: ${issue.message}${found}`;
}
