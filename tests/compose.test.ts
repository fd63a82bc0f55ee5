import { spawnSync } from 'node:child_process';
import { existsSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { parse } from 'yaml';
import { readSettings } from '../src/cli/settings.js';

const ROOT = fileURLToPath(new URL('..', import.meta.url));

interface ComposeService {
  readonly image?: string;
  readonly build?: { readonly context: string; readonly dockerfile_inline: string };
  readonly user?: string;
  readonly environment: Readonly<Record<string, string>>;
  readonly healthcheck: { readonly test: readonly string[] };
  readonly volumes?: readonly string[];
  readonly depends_on?: Readonly<Record<string, { readonly condition: string }>>;
}

const compose = parse(readFileSync(path.join(ROOT, 'docker-compose.yml'), 'utf8')) as {
  readonly services: { readonly database: ComposeService; readonly service: ComposeService };
  readonly volumes: Readonly<Record<string, unknown>>;
};
const { database, service } = compose.services;

const engine = spawnSync('docker', ['info'], { stdio: 'ignore' }).status === 0;

describe('the compose file', () => {
  it('gives the service settings that it accepts, with access control required beyond loopback', () => {
    const settings = readSettings({ ...service.environment, PUBLIC_BASE_URL: '', SITE_TIME_ZONE: '' });
    expect(settings).toMatchObject({ host: '0.0.0.0', port: 7460, auth: 'required' });
    expect(settings.databaseUrl).toContain('@database:5432/');
  });

  it('runs the service as a user that is not root, from an image built inline', () => {
    expect(service.user).toBe('node');
    expect(service.build?.dockerfile_inline).toMatch(/^USER node$/m);
  });

  it('copies only what exists into the image', () => {
    const lines = service.build?.dockerfile_inline.matchAll(/^COPY (?!--from)(.+) \S+$/gm) ?? [];
    const copied = [...lines].flatMap(([, names]) => names?.split(' ') ?? []);
    expect(copied).toContain('migrations');
    expect(copied.filter((name) => !existsSync(path.join(ROOT, name)))).toEqual([]);
  });

  it('waits for a healthy PostgreSQL 15 or newer and keeps its data in a volume', () => {
    expect(Number(database.image?.split(':')[1])).toBeGreaterThanOrEqual(15);
    expect(service.depends_on?.['database']?.condition).toBe('service_healthy');
    expect(database.volumes?.map((volume) => volume.split(':')[0])).toEqual(Object.keys(compose.volumes));
  });

  it('asks both for their health', () => {
    expect(database.healthcheck.test.join(' ')).toContain('pg_isready');
    expect(service.healthcheck.test.join(' ')).toContain('/health/ready');
  });

  it('is accepted by a container engine', ({ skip }) => {
    skip(!engine, 'no container engine on this machine; the file was checked by parsing');
    const checked = spawnSync('docker', ['compose', 'config', '--quiet'], {
      cwd: ROOT,
      env: { ...process.env, LIMBLEDGER_DATABASE_PASSWORD: 'a' },
      encoding: 'utf8',
    });
    expect(checked.stderr).toBe('');
    expect(checked.status).toBe(0);
  });
});
