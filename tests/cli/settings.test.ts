import path from 'node:path';
import { describe, expect, it } from 'vitest';
import { isLoopback, readSettings, SettingsError } from '../../src/cli/settings.js';

describe('the settings', () => {
  it('have a sensible value each when nothing is set', () => {
    expect(readSettings({})).toMatchObject({
      databaseUrl: undefined,
      host: '127.0.0.1',
      port: 7460,
      publicBaseUrl: undefined,
      siteTimeZone: 'UTC',
      auth: 'off',
      logLevel: 'info',
    });
  });

  it('take the folders of definitions as a path list, absolute', () => {
    expect(readSettings({}).profileFolders).toEqual([]);
    const { profileFolders } = readSettings({ FHIR_PROFILES: ['one', '/two', ''].join(path.delimiter) });
    expect(profileFolders).toEqual([path.resolve('one'), '/two']);
  });

  it('take an empty variable as not set', () => {
    expect(readSettings({ PORT: '', HOST: '' }).port).toBe(7460);
  });

  it('require access control on any address beyond loopback', () => {
    expect(readSettings({ HOST: '0.0.0.0' }).auth).toBe('required');
    expect(() => readSettings({ HOST: '0.0.0.0', AUTH: 'off' })).toThrow(SettingsError);
    expect(() => readSettings({ HOST: '::', AUTH: 'off' })).toThrow('loopback');
    expect(readSettings({ HOST: '::1', AUTH: 'off' }).auth).toBe('off');
  });

  it.each(['127.0.0.1', '127.8.9.1', '::1', 'localhost'])('know %s as loopback', (host) => {
    expect(isLoopback(host)).toBe(true);
  });

  it.each(['127.0.0.1.example.org', '0.0.0.0', '::', '10.0.0.7', '1270.0.0.1'])(
    'do not take %s for loopback',
    (host) => {
      expect(isLoopback(host)).toBe(false);
    },
  );

  it('name every setting at fault on one line, with what was found and what is allowed', () => {
    const faulty = { PORT: '70000', SITE_TIME_ZONE: 'Mars/Base', LOG_LEVEL: 'loud' };
    const message = messageOf(() => readSettings(faulty));
    expect(message).not.toContain('\n');
    for (const words of ['PORT', '70000', 'SITE_TIME_ZONE', 'Mars/Base', 'LOG_LEVEL', 'trace']) {
      expect(message).toContain(words);
    }
  });

  it('never repeat a database URL, which may hold a password', () => {
    expect(messageOf(() => readSettings({ DATABASE_URL: 'mysql://a:hush@b/c' }))).not.toContain('hush');
  });

  it('strip the slash at the end of the public base', () => {
    expect(readSettings({ PUBLIC_BASE_URL: 'https://fhir.example.org/msk/' }).publicBaseUrl).toBe(
      'https://fhir.example.org/msk',
    );
  });
});

function messageOf(act: () => unknown): string {
  try {
    act();
  } catch (error) {
    return String(error);
  }
  return '';
}
