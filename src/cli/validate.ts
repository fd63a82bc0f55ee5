import { createReadStream } from 'node:fs';
import type { Writable } from 'node:stream';
import {
  errorsFirst,
  hasErrors,
  isKnownProfile,
  issueOfJsonFault,
  parseJson,
  stringifyJson,
} from '../fhir/index.js';
import type { FhirIssue, JsonValue, Validator } from '../fhir/index.js';
import { openConformance } from './conformance.js';
import { readResourceTexts } from './resource-texts.js';
import type { ResourceText } from './resource-texts.js';
import { SettingsError } from './settings.js';

/** What `limbledger validate` works on. */
export interface ValidateRequest {
  /** Paths; `-` is standard input. */
  readonly files: readonly string[];
  /** Canonical URLs of profiles to hold every resource against, beyond those that it claims. */
  readonly profiles: readonly string[];
  /** Folders of definitions beside our own. */
  readonly folders: readonly string[];
}

/** Where the verb reads and tells. */
export interface Terminal {
  readonly input: AsyncIterable<Uint8Array>;
  /** Takes one JSON line for each resource. */
  readonly output: Writable;
  /** Takes lines for a person. */
  readonly say: (line: string) => void;
}

/** 0: all valid. 1: some not. 2: a file could not be read, or the reader of the output went away. */
export type ValidateExit = 0 | 1 | 2;

/**
 * Validates the resources of files, one JSON line each, without a database.
 * @throws SettingsError for definitions or profiles that cannot be used.
 */
export async function validateFiles(request: ValidateRequest, terminal: Terminal): Promise<ValidateExit> {
  const { validate, definitions } = openConformance(request.folders);
  const unknown = request.profiles.find((url) => !isKnownProfile(url, validate, definitions));
  if (unknown !== undefined) throw new SettingsError(`--profile: ${unknown} is not known here`);
  for (const remark of validate.remarks) terminal.say(remark);
  const judge = judgeBy(validate, request.profiles);
  const output = new LineWriter(terminal.output);
  const count = new Count(terminal.say);
  let failed = false;
  for (const file of request.files) {
    try {
      await validateFile(file, terminal, { judge, output, count });
    } catch (error) {
      if (error instanceof OutputClosed) return 2;
      terminal.say(`${file} cannot be read${reasonOf(error)}`);
      failed = true;
    }
  }
  if (!(await output.end())) return 2;
  count.tell();
  return failed ? 2 : count.invalid > 0 ? 1 : 0;
}

interface Work {
  readonly judge: Judge;
  readonly output: LineWriter;
  readonly count: Count;
}

async function validateFile(
  file: string,
  { input }: Terminal,
  { judge, output, count }: Work,
): Promise<void> {
  const chunks: AsyncIterable<Uint8Array> =
    file === '-' ? input : createReadStream(file, { highWaterMark: CHUNK });
  for await (const text of readResourceTexts(chunks)) {
    const verdict = judge(text);
    await output.write(stringifyJson({ file, line: text.line, ...verdict }));
    count.add(verdict.valid);
  }
}

/** Bytes. */
const CHUNK = 256 * 1024;

function reasonOf(error: unknown): string {
  if (!(error instanceof Error) || !('code' in error)) throw error;
  const code = String(error.code);
  return `: ${REASONS[code] ?? code}`;
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: 'there is no such file',
  EACCES: 'it may not be read',
  EISDIR: 'it is a folder',
  ERR_STRING_TOO_LONG: 'a resource in it is longer than a text can be',
};

/** What is said of one resource. */
interface Verdict {
  readonly resourceType: string | null;
  readonly id: string | null;
  readonly valid: boolean;
  readonly issues: readonly Pick<FhirIssue, 'severity' | 'code' | 'rule' | 'expression' | 'diagnostics'>[];
}

type Judge = (text: ResourceText) => Verdict;

function judgeBy(validate: Validator, profiles: readonly string[]): Judge {
  return ({ line, bytes }) => {
    const text = decode(bytes);
    if (text === undefined) return verdict(undefined, [notUtf8(line)]);
    const parsed = parseJson(text);
    if (parsed.ok) return verdict(parsed.value, issuesOf(parsed.value, validate, profiles));
    const { read } = parsed;
    const type = textMember(read, 'resourceType') ?? '';
    const faults = parsed.faults.map((fault) =>
      issueOfJsonFault({ ...fault, line: fault.line + line - 1 }, type),
    );
    return verdict(read, read === undefined ? faults : [...faults, ...issuesOf(read, validate, profiles)]);
  };
}

function decode(bytes: Uint8Array): string | undefined {
  try {
    return UTF8.decode(bytes);
  } catch (error) {
    if (error instanceof TypeError) return undefined;
    throw error;
  }
}

const UTF8 = new TextDecoder('utf-8', { fatal: true, ignoreBOM: true });

function notUtf8(line: number): FhirIssue {
  const diagnostics = `The text is not UTF-8. (Line ${String(line)}.)`;
  return { severity: 'fatal', code: 'structure', rule: 'json-encoding', expression: '', diagnostics };
}

function issuesOf(value: JsonValue, validate: Validator, profiles: readonly string[]): readonly FhirIssue[] {
  if (!Array.isArray(value)) return validate(value, undefined, profiles);
  const diagnostics = 'An array stands here; a file holds one resource, or one on each line (NDJSON).';
  return [{ severity: 'fatal', code: 'structure', rule: 'json-type', expression: '', diagnostics }];
}

function verdict(value: JsonValue | undefined, issues: readonly FhirIssue[]): Verdict {
  const told = errorsFirst(issues).map(({ severity, code, rule, expression, diagnostics }) => ({
    ...{ severity, code, rule, expression, diagnostics },
  }));
  return {
    resourceType: textMember(value, 'resourceType'),
    id: textMember(value, 'id'),
    valid: !hasErrors(issues),
    issues: told,
  };
}

function textMember(value: JsonValue | undefined, name: string): string | null {
  if (typeof value !== 'object' || value === null || Array.isArray(value)) return null;
  const member = (value as { readonly [name: string]: JsonValue })[name];
  return typeof member === 'string' ? member : null;
}

/** The reader of the output has gone, as `head` does. */
class OutputClosed extends Error {}

/** Writes lines a block at a time, and no faster than they are taken. */
class LineWriter {
  readonly #output: Writable;
  #held = '';
  #isClosed = false;

  constructor(output: Writable) {
    this.#output = output;
    output.on('error', () => {
      this.#isClosed = true;
    });
  }

  async write(line: string): Promise<void> {
    this.#held += `${line}\n`;
    if (this.#held.length >= BLOCK) await this.#send();
  }

  /** Sends what is left; false when nobody takes it any more. */
  async end(): Promise<boolean> {
    try {
      await this.#send();
      return true;
    } catch (error) {
      if (error instanceof OutputClosed) return false;
      throw error;
    }
  }

  async #send(): Promise<void> {
    const text = this.#held;
    this.#held = '';
    if (this.#isClosed) throw new OutputClosed();
    if (text === '') return;
    await new Promise<void>((resolve, reject) => {
      this.#output.write(text, (error) => {
        if (error) reject(new OutputClosed());
        else resolve();
      });
    });
  }
}

/** Characters. */
const BLOCK = 64 * 1024;

/** How many resources there were, told to a person who waits. */
class Count {
  invalid = 0;
  #all = 0;
  #toldAt = Date.now();
  readonly #say: Terminal['say'];

  constructor(say: Terminal['say']) {
    this.#say = say;
  }

  add(valid: boolean): void {
    this.#all += 1;
    if (!valid) this.invalid += 1;
    if (this.#all % CLOCK_EVERY !== 0 || Date.now() - this.#toldAt < PROGRESS_MS) return;
    this.#toldAt = Date.now();
    this.tell(' so far');
  }

  tell(when = ''): void {
    const resources = this.#all === 1 ? '1 resource' : `${this.#all.toLocaleString('en')} resources`;
    const faulty = this.invalid === 0 ? 'all valid' : `${this.invalid.toLocaleString('en')} not valid`;
    this.#say(this.#all === 0 ? 'No resource was found.' : `${resources}${when}: ${faulty}.`);
  }
}

/** Resources between two looks at the clock. */
const CLOCK_EVERY = 100;
const PROGRESS_MS = 5000;
