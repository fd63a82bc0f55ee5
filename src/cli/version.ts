import { readFileSync } from 'node:fs';

/** The version in package.json, two folders above both `src/cli` and `dist/cli`. */
export function packageVersion(): string {
  const text = readFileSync(new URL('../../package.json', import.meta.url), 'utf8');
  return (JSON.parse(text) as { version: string }).version;
}
