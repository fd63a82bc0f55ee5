import { spawn } from 'node:child_process';
import { once } from 'node:events';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { createInterface } from 'node:readline';
import { Readable, Writable } from 'node:stream';
import type { StructureDefinition } from 'fhir/r4.js';
import { afterAll, beforeAll, describe, expect, it, test } from 'vitest';
import { SettingsError } from '../../src/cli/settings.js';
import { validateFiles } from '../../src/cli/validate.js';
import type { ValidateExit, ValidateRequest } from '../../src/cli/validate.js';
import { mainArguments, runVerb } from './service-process.js';

interface Told {
  readonly file: string;
  readonly line: number;
  readonly resourceType: string | null;
  readonly id: string | null;
  readonly valid: boolean;
  readonly issues: readonly Record<string, string>[];
}

let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), 'limbledger-validate-'));
});
afterAll(() => rm(folder, { recursive: true }));

async function fileOf(name: string, content: string | Buffer): Promise<string> {
  const file = path.join(folder, name);
  await writeFile(file, content);
  return file;
}

const linesOf = (stdout: string): Told[] =>
  stdout
    .split('\n')
    .filter((line) => line !== '')
    .map((line) => JSON.parse(line) as Told);

/** Runs the verb in this process. */
async function validate(
  request: Partial<ValidateRequest>,
  input: string | Buffer = '',
): Promise<{ readonly exit: ValidateExit; readonly told: Told[]; readonly said: string[] }> {
  let stdout = '';
  const said: string[] = [];
  const output = new Writable({
    write: (chunk: Buffer, _encoding, done) => {
      stdout += chunk.toString();
      done();
    },
  });
  const terminal = {
    input: Readable.from([Buffer.from(input)]),
    output,
    say: (line: string) => said.push(line),
  };
  const exit = await validateFiles({ files: ['-'], profiles: [], folders: [], ...request }, terminal);
  return { exit, told: linesOf(stdout), said };
}

const NARRATIVE = { status: 'generated', div: '<div xmlns="http://www.w3.org/1999/xhtml">Grip</div>' };
const GOOD = {
  resourceType: 'Observation',
  id: 'good',
  text: NARRATIVE,
  status: 'final',
  code: { text: 'Grip' },
};
const FAULTY = { ...GOOD, id: 'faulty', status: 'finished' };

/** Lines of JSON. */
const ndjson = (...resources: readonly object[]): string =>
  resources.map((resource) => `${JSON.stringify(resource)}\n`).join('');

describe('limbledger validate, as a process', () => {
  it('tells of each resource on a line of its own where it stands and what is wrong, and ends with 1', async () => {
    const good = await fileOf('good.json', JSON.stringify(GOOD, null, 2));
    const mixed = await fileOf('mixed.ndjson', ndjson(GOOD, FAULTY));
    const { code, stdout, stderr } = await runVerb(['validate', good, mixed]);
    expect(code).toBe(1);
    const [first, second, third, ...more] = linesOf(stdout);
    expect(more).toEqual([]);
    const common = { resourceType: 'Observation', valid: true, issues: [] };
    expect(first).toEqual({ file: good, line: 1, id: 'good', ...common });
    expect(second).toEqual({ file: mixed, line: 1, id: 'good', ...common });
    expect(third).toMatchObject({ file: mixed, line: 2, id: 'faulty', valid: false });
    // R4, value set observation-status; "finished" is a status of Encounter.
    expect(third?.issues).toEqual([
      {
        ...{ severity: 'error', code: 'code-invalid', rule: 'required-binding' },
        ...{
          expression: 'Observation.status',
          diagnostics: expect.stringContaining('"finished"') as unknown,
        },
      },
    ]);
    expect(stderr).toBe('3 resources: 1 not valid.');
  });

  it('ends with 0 when all are valid, and takes standard input', async () => {
    const child = spawn(process.execPath, mainArguments(['validate', '-']));
    child.stdin.end(ndjson(GOOD, GOOD));
    let stdout = '';
    child.stdout.setEncoding('utf8').on('data', (text: string) => (stdout += text));
    const [code] = (await once(child, 'close')) as [number];
    expect([code, linesOf(stdout).map(({ file, valid }) => [file, valid])]).toEqual([
      ...[
        0,
        [
          ['-', true],
          ['-', true],
        ],
      ],
    ]);
  });

  it.each([
    [
      'a file that is not there',
      ['validate', 'no-such-file.json'],
      /no-such-file\.json cannot be read: there is no such file/,
    ],
    ['a folder', ['validate', tmpdir()], /it is a folder/],
    ['no file', ['validate'], /missing required argument/],
    ['an unknown option', ['validate', '--colour', '-'], /unknown option/],
    [
      'an unknown profile',
      ['validate', '--profile', 'http://example.org/none', '-'],
      /http:\/\/example\.org\/none is not known/,
    ],
    [
      'a folder of definitions that is not there',
      ['validate', '--profiles', '/no/such', '-'],
      /\/no\/such cannot be read/,
    ],
  ])('ends with 2 for %s', async (_what, words, sentence) => {
    const { code, stdout, stderr } = await runVerb(words);
    expect([code, stdout]).toEqual([2, '']);
    expect(stderr).toMatch(sentence);
  });

  it('stops quietly when the reader of its output goes away', async () => {
    const many = await fileOf('many.ndjson', ndjson(GOOD).repeat(20_000));
    const child = spawn(process.execPath, mainArguments(['validate', many]));
    let stderr = '';
    child.stderr.setEncoding('utf8').on('data', (text: string) => (stderr += text));
    await once(createInterface({ input: child.stdout }), 'line');
    child.stdout.destroy();
    const [code] = (await once(child, 'close')) as [number];
    expect([code, stderr]).toEqual([2, '']);
  });
});

describe('a resource in a file', () => {
  test.each([
    ['breaks off', '{"resourceType":"Patient",', 1, 'json-syntax', /Line 1, column 27/],
    [
      'breaks off on a later line',
      `${ndjson(GOOD)}\n{"resourceType":"Patient"`,
      3,
      'json-syntax',
      /Line 3, column/,
    ],
    [
      'breaks off in a document over lines',
      '{\n "resourceType": "Patient",\n "active": tru\n}',
      ...[1, 'json-syntax', /Line 3, column 12/],
    ],
    ['names a member twice', '{"resourceType":"Patient","id":"a","id":"b"}', 1, 'json-duplicate-key', /"id"/],
    ['stands in an array', '[\n{"resourceType":"Patient"}\n]', 1, 'json-type', /An array/],
    ['is a text', '"Patient"', 1, 'json-type', /JSON object/],
    ['is not UTF-8', Buffer.from([0x7b, 0x22, 0xff, 0x22, 0x7d]), 1, 'json-encoding', /not UTF-8/],
    ['is of no type', '{"id":"a"}', 1, 'resource-type', /resourceType/],
  ] as const)('that %s is not valid, and the place is told', async (_what, input, line, rule, sentence) => {
    const { exit, told } = await validate({}, input);
    const last = told.at(-1);
    expect([exit, last?.line, last?.valid]).toEqual([1, line, false]);
    const [issue] = last?.issues ?? [];
    expect(issue).toMatchObject({ rule, diagnostics: expect.stringMatching(sentence) as unknown });
  });

  it('is told by its type, with every other fault, when a member of it stands twice', async () => {
    const { told } = await validate({}, '{"resourceType":"Patient","id":"a","id":"b","gender":"x"}');
    expect(told).toMatchObject([{ resourceType: 'Patient', valid: false }]);
    expect(told[0]?.issues.slice(0, 2).map(({ expression }) => expression)).toEqual([
      'Patient.id',
      'Patient.gender',
    ]);
  });

  it('is told with its errors before what is only remarked', async () => {
    const { text, ...bare } = FAULTY;
    expect(text).toBeDefined();
    const { told } = await validate({}, ndjson(bare));
    expect(told[0]?.issues.map(({ severity }) => severity)).toEqual(['error', 'warning']);
  });

  it('is one even when it is a Bundle of many', async () => {
    const entry = [GOOD, FAULTY].map((resource) => ({
      fullUrl: `http://example.org/fhir/Observation/${resource.id}`,
      resource,
    }));
    const { told } = await validate({}, ndjson({ resourceType: 'Bundle', type: 'collection', entry }));
    expect(told.map(({ resourceType, valid }) => [resourceType, valid])).toEqual([['Bundle', false]]);
    expect(told[0]?.issues[0]?.['expression']).toBe('Bundle.entry[1].resource.status');
  });

  it('of a file without any is none: ends with 0 and says so', async () => {
    expect(await validate({}, '\n')).toEqual({ exit: 0, told: [], said: ['No resource was found.'] });
  });

  it('after a file that cannot be read is still told, and the end is 2', async () => {
    const file = await fileOf('one.json', JSON.stringify(GOOD));
    const { exit, told } = await validate({ files: [path.join(folder, 'none'), file] });
    expect([exit, told.length]).toEqual([2, 1]);
  });
});

/** A profile that demands a method. */
const WITH_METHOD: StructureDefinition = {
  resourceType: 'StructureDefinition',
  id: 'with-method',
  url: 'http://example.org/fhir/StructureDefinition/with-method',
  version: '2.0.0',
  name: 'WithMethod',
  status: 'active',
  kind: 'resource',
  abstract: false,
  type: 'Observation',
  baseDefinition: 'http://hl7.org/fhir/StructureDefinition/Observation',
  derivation: 'constraint',
  differential: {
    element: [
      { id: 'Observation', path: 'Observation' },
      { id: 'Observation.method', path: 'Observation.method', min: 1 },
    ],
  },
};

describe('the definitions of a deployment', () => {
  const folderOf = async (files: Readonly<Record<string, object | string>>): Promise<string> => {
    const own = await mkdtemp(path.join(folder, 'definitions-'));
    for (const [name, content] of Object.entries(files))
      await writeFile(path.join(own, name), typeof content === 'string' ? content : JSON.stringify(content));
    return own;
  };

  it.each([
    ['a claim', { ...GOOD, meta: { profile: [WITH_METHOD.url] } }, []],
    ['a claim of the version', { ...GOOD, meta: { profile: [`${WITH_METHOD.url}|2.0.0`] } }, []],
    ['the option --profile', GOOD, [WITH_METHOD.url]],
    ['the option with the version', GOOD, [`${WITH_METHOD.url}|2.0.0`]],
  ])('hold a resource by %s', async (_what, resource, profiles) => {
    const folders = [await folderOf({ 'method.json': WITH_METHOD, 'package.json': { name: 'example' } })];
    const { exit, told } = await validate({ folders, profiles }, ndjson(resource));
    expect([exit, told[0]?.issues.map(({ expression }) => expression)]).toEqual([1, ['Observation.method']]);
  });

  it('leave alone what does not claim them', async () => {
    const folders = [await folderOf({ 'method.json': WITH_METHOD })];
    expect((await validate({ folders }, ndjson(GOOD))).exit).toBe(0);
  });

  const element = WITH_METHOD.differential?.element ?? [];
  test.each([
    ['no JSON', { 'a.json': '{' }, /a\.json is not JSON: .*Line 1, column 2/],
    ['no definition', { 'a.json': GOOD }, /a\.json is no definition/],
    [
      'a definition without a url',
      { 'a.json': { ...WITH_METHOD, url: undefined } },
      /a\.json is no definition/,
    ],
    [
      'a definition twice',
      { 'a.json': WITH_METHOD, 'b.json': WITH_METHOD },
      /b\.json defines .*with-method, as .*a\.json/,
    ],
    [
      'a definition that is not valid R4',
      { 'a.json': { ...WITH_METHOD, status: 'done' } },
      /a\.json: http:\S+with-method: StructureDefinition\.status: /,
    ],
    [
      'an element that R4 has not',
      {
        'a.json': {
          ...WITH_METHOD,
          differential: {
            element: [...element, { id: 'Observation.colour', path: 'Observation.colour', min: 1 }],
          },
        },
      },
      /a\.json: http:\S+with-method at Observation\.colour: /,
    ],
    [
      'an invariant that is no FHIRPath',
      {
        'a.json': {
          ...WITH_METHOD,
          differential: {
            element: [
              {
                ...{ id: 'Observation', path: 'Observation' },
                constraint: [{ key: 'own-1', severity: 'error', human: 'Something.', expression: 'code.(' }],
              },
            ],
          },
        },
      },
      /a\.json: http:\S+with-method at Observation: .*own-1/,
    ],
  ])('with %s stop the start in one line that names the file', async (_what, files, sentence) => {
    const folders = [await folderOf(files)];
    const refused = validate({ folders }).catch((error: unknown) => error);
    const error = await refused;
    expect(error).toBeInstanceOf(SettingsError);
    const { message } = error as SettingsError;
    expect(message).toMatch(sentence);
    expect(message).not.toContain('\n');
  });
});
