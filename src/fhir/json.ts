import { isLosslessNumber, LosslessNumber, stringify } from 'lossless-json';

/** A JSON value; numbers that are no safe integers keep their digits (30.50, 1e2, -0, 12345678901234567890). */
export type JsonValue =
  | string
  | number
  | boolean
  | null
  | LosslessNumber
  | readonly JsonValue[]
  | { readonly [key: string]: JsonValue };

/** A fault of a JSON text, with its place. The sentence names keys, never values. */
export interface JsonFault {
  readonly code:
    'json-syntax' | 'json-too-deep' | 'json-duplicate-key' | 'json-forbidden-key' | 'json-bad-character';
  /** JSON Pointer (RFC 6901) of the value or member that is wrong. */
  readonly pointer: string;
  /** From 1; columns count UTF-16 units. */
  readonly line: number;
  readonly column: number;
  readonly sentence: string;
}

export type ParsedJson =
  | { readonly ok: true; readonly value: JsonValue }
  /** At least one fault, in the order of the text; with what was read, where no fault ended the reading. */
  | { readonly ok: false; readonly faults: readonly JsonFault[]; readonly read?: JsonValue };

/**
 * Reads a JSON text without losing what `JSON.parse` loses: the digits of numbers, and members of the same name, which
 * are refused even when equal (R4 json: "Property names SHALL be unique"). Refused too: nesting deeper than `maxDepth`
 * levels, before anything deeper is built; the member names `__proto__`, `constructor` and `prototype`; half surrogate
 * pairs and NUL, which no UTF-8 text or database column can hold. A byte order mark at the start is passed over.
 * Never throws. A fault of syntax or depth ends the reading, others are all listed.
 */
export function parseJson(text: string, maxDepth: number = DEFAULT_MAX_DEPTH): ParsedJson {
  const reader = new JsonReader(text, maxDepth);
  try {
    const value = reader.readText();
    return reader.faults.length === 0
      ? { ok: true, value }
      : { ok: false, faults: reader.faults, read: value };
  } catch (error) {
    if (!(error instanceof ReadingEnded)) throw error;
    return { ok: false, faults: reader.faults };
  }
}

/** Writes a value as compact JSON; members that are undefined are left out, numbers keep their digits. */
export function stringifyJson(value: unknown): string {
  // The engine's own writer is several times as fast; it only cannot write digits as they came.
  return (holdsDigits(value) ? stringify(value) : writeNatively(value)) ?? 'null';
}

const writeNatively: (value: unknown) => string | undefined = JSON.stringify;

/** Whether a number of the value keeps its digits as text. */
function holdsDigits(value: unknown): boolean {
  if (typeof value !== 'object' || value === null) return false;
  if (isLosslessNumber(value)) return true;
  return Array.isArray(value) ? value.some(holdsDigits) : Object.values(value).some(holdsDigits);
}

/** Levels of nesting; the deepest published R4 example has 14. */
const DEFAULT_MAX_DEPTH = 64;

/** A document with this many faults is garbage; more would only lengthen the answer. */
const MAX_FAULTS = 100;

const FORBIDDEN_KEYS: ReadonlySet<string> = new Set(['__proto__', 'constructor', 'prototype']);

const NUMBER = /-?(?:0|[1-9]\d*)(\.\d+)?([eE][+-]?\d+)?/y;
/** What follows a number that ran on wrongly: 01, 1.2.3, 5mg. */
const NUMBER_TAIL = /[\w.+-]/;
const QUOTE = 0x22;
const BACKSLASH = 0x5c;
const HEX4 = /[0-9a-fA-F]{4}/y;
const HALF_PAIR = /\p{Surrogate}/u;

const ESCAPES: ReadonlyMap<string, string> = new Map([
  ['"', '"'],
  ['\\', '\\'],
  ['/', '/'],
  ['b', '\b'],
  ['f', '\f'],
  ['n', '\n'],
  ['r', '\r'],
  ['t', '\t'],
]);

/** Thrown inside the reader only, after the fault was noted. */
class ReadingEnded extends Error {}

class JsonReader {
  readonly faults: JsonFault[] = [];
  readonly #text: string;
  readonly #maxDepth: number;
  /** Raw half pairs are so rare that one look at the whole text spares a look at each string. */
  readonly #hasHalfPair: boolean;
  /** Keys and indexes from the root to the value being read; entries beyond the depth are stale. */
  readonly #path: (string | number)[] = [];
  #at = 0;
  #depth = 0;

  constructor(text: string, maxDepth: number) {
    this.#text = text;
    this.#maxDepth = maxDepth;
    this.#hasHalfPair = HALF_PAIR.test(text);
  }

  readText(): JsonValue {
    if (this.#text.charCodeAt(0) === 0xfeff) this.#at = 1;
    this.#skipSpace();
    if (this.#at === this.#text.length) this.#end('The text is empty; a JSON value is expected.');
    const value = this.#readValue();
    this.#skipSpace();
    if (this.#at < this.#text.length) this.#end(`${this.#here()} stands after the end of the JSON value.`);
    return value;
  }

  #readValue(): JsonValue {
    switch (this.#text[this.#at]) {
      case '{':
        return this.#readObject();
      case '[':
        return this.#readArray();
      case '"':
        return this.#readString();
      case 't':
        return this.#readWord('true', true);
      case 'f':
        return this.#readWord('false', false);
      case 'n':
        return this.#readWord('null', null);
      case undefined:
      default:
        return this.#readNumber();
    }
  }

  #readObject(): JsonValue {
    const object: Record<string, JsonValue> = {};
    this.#enter();
    if (this.#takes('}')) return this.#leave(object);
    for (;;) {
      this.#readMember(object);
      this.#skipSpace();
      if (this.#takes('}')) return this.#leave(object);
      if (!this.#takes(',')) this.#end(`${this.#here()} stands where a comma or } is expected.`);
      this.#skipSpace();
    }
  }

  #readMember(object: Record<string, JsonValue>): void {
    const start = this.#at;
    if (this.#text[start] !== '"') this.#end(`${this.#here()} stands where a quoted name is expected.`);
    const key = this.#readString();
    this.#path[this.#depth - 1] = key;
    this.#skipSpace();
    if (!this.#takes(':')) this.#end(`${this.#here()} stands where a colon is expected.`);
    this.#skipSpace();
    if (FORBIDDEN_KEYS.has(key)) {
      this.#note('json-forbidden-key', start, `The name "${key}" is not allowed.`);
      this.#readValue();
    } else if (Object.hasOwn(object, key)) {
      this.#note('json-duplicate-key', start, `The name "${shorten(key)}" stands twice in the same object.`);
      this.#readValue();
    } else {
      object[key] = this.#readValue();
    }
  }

  #readArray(): JsonValue {
    const items: JsonValue[] = [];
    this.#enter();
    if (this.#takes(']')) return this.#leave(items);
    for (;;) {
      this.#path[this.#depth - 1] = items.length;
      items.push(this.#readValue());
      this.#skipSpace();
      if (this.#takes(']')) return this.#leave(items);
      if (!this.#takes(',')) this.#end(`${this.#here()} stands where a comma or ] is expected.`);
      this.#skipSpace();
    }
  }

  #enter(): void {
    if (this.#depth === this.#maxDepth) {
      this.#note(
        'json-too-deep',
        this.#at,
        `Values are nested deeper than ${String(this.#maxDepth)} levels.`,
      );
      throw new ReadingEnded();
    }
    this.#at += 1;
    this.#depth += 1;
    this.#path.length = this.#depth - 1;
    this.#skipSpace();
  }

  #leave<T>(value: T): T {
    this.#depth -= 1;
    this.#path.length = this.#depth;
    return value;
  }

  #readString(): string {
    const start = this.#at;
    this.#at += 1;
    const stop = this.#findStringStop();
    const plain = this.#text.slice(this.#at, stop);
    this.#at = stop;
    const isPlain = this.#text[stop] === '"';
    const value = isPlain ? plain : plain + this.#readEscapedRest();
    this.#at += 1;
    if ((!isPlain || this.#hasHalfPair) && HALF_PAIR.test(value)) {
      this.#note(
        'json-bad-character',
        start,
        'The text holds half of a surrogate pair, which is no character.',
      );
    }
    if (!isPlain && value.includes('\0')) {
      this.#note('json-bad-character', start, 'The text holds the character NUL (U+0000).');
    }
    return value;
  }

  #readEscapedRest(): string {
    let rest = '';
    while (this.#text[this.#at] !== '"') {
      rest += this.#readEscape();
      const stop = this.#findStringStop();
      rest += this.#text.slice(this.#at, stop);
      this.#at = stop;
    }
    return rest;
  }

  /** The next quote, escape, or character that RFC 8259, section 7, wants escaped (U+0000 to U+001F). */
  #findStringStop(): number {
    const text = this.#text;
    for (let at = this.#at; at < text.length; at += 1) {
      const unit = text.charCodeAt(at);
      if (unit === QUOTE || unit === BACKSLASH || unit < 0x20) return at;
    }
    this.#at = text.length;
    return this.#end('The text ends within a string.');
  }

  #readEscape(): string {
    if (this.#text[this.#at] !== '\\') this.#end('A control character in a string must be escaped.');
    const letter = this.#text[this.#at + 1] ?? '';
    const character = ESCAPES.get(letter);
    if (character !== undefined) {
      this.#at += 2;
      return character;
    }
    HEX4.lastIndex = this.#at + 2;
    const hex = letter === 'u' ? HEX4.exec(this.#text)?.[0] : undefined;
    if (hex === undefined) return this.#end('A backslash in a string starts no known escape.');
    this.#at += 6;
    return String.fromCharCode(Number.parseInt(hex, 16));
  }

  #readWord<T extends JsonValue>(word: string, value: T): T {
    if (!this.#text.startsWith(word, this.#at)) this.#end(`${this.#here()} starts no JSON value.`);
    this.#at += word.length;
    return value;
  }

  #readNumber(): number | LosslessNumber {
    NUMBER.lastIndex = this.#at;
    const match = NUMBER.exec(this.#text);
    if (match === null) return this.#end(`${this.#here()} starts no JSON value.`);
    const digits = match[0];
    const end = this.#at + digits.length;
    if (NUMBER_TAIL.test(this.#text[end] ?? '')) this.#end('A number is not written as JSON numbers are.');
    this.#at = end;
    const isWhole = match[1] === undefined && match[2] === undefined && digits !== '-0';
    const value = isWhole ? Number(digits) : Number.NaN;
    return Number.isSafeInteger(value) ? value : new LosslessNumber(digits);
  }

  #skipSpace(): void {
    for (;;) {
      const unit = this.#text.charCodeAt(this.#at);
      if (unit !== 0x20 && unit !== 0x0a && unit !== 0x0d && unit !== 0x09) return;
      this.#at += 1;
    }
  }

  #takes(character: string): boolean {
    if (this.#text[this.#at] !== character) return false;
    this.#at += 1;
    return true;
  }

  /** How the character at the present place is spoken of. */
  #here(): string {
    const point = this.#text.codePointAt(this.#at);
    if (point === undefined) return 'The end of the text';
    const isPrintable = point > 0x20 && point < 0x7f;
    return isPrintable
      ? `"${String.fromCodePoint(point)}"`
      : `U+${point.toString(16).toUpperCase().padStart(4, '0')}`;
  }

  #end(sentence: string): never {
    this.#note('json-syntax', this.#at, sentence);
    throw new ReadingEnded();
  }

  #note(code: JsonFault['code'], at: number, sentence: string): void {
    const before = this.#text.slice(0, at);
    const lineStart = before.lastIndexOf('\n') + 1;
    const line = before.split('\n').length;
    const pointer = this.#path.map((step) => `/${String(step).replaceAll('~', '~0').replaceAll('/', '~1')}`);
    this.faults.push({ code, pointer: pointer.join(''), line, column: at - lineStart + 1, sentence });
    if (this.faults.length >= MAX_FAULTS) throw new ReadingEnded();
  }
}

const shorten = (key: string): string => (key.length <= 40 ? key : `${key.slice(0, 40)}…`);
