import { parseJson } from '../fhir/index.js';

/** The text of one resource as it stands in a file. */
export interface ResourceText {
  /** Number, from 1, of the line that the bytes begin in. */
  readonly line: number;
  /** As they stand in the file; not always UTF-8, let alone JSON. */
  readonly bytes: Uint8Array;
}

/**
 * Parts a file into its resources. What it holds is told by its first two lines that are not blank: a resource on each
 * line (NDJSON), or one JSON document over all lines. Of NDJSON a line at a time is held in memory.
 */
export async function* readResourceTexts(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<ResourceText> {
  const lines = linesOf(chunks);
  const start = await takeStart(lines);
  if (isNdjson(start)) {
    yield* start.filter(isFilled).map(withoutBreak);
    for await (const line of lines) if (isFilled(line)) yield withoutBreak(line);
    return;
  }
  const all = [...start];
  for await (const line of lines) all.push(line);
  const begun = all.slice(all.findIndex(isFilled));
  const [first] = begun;
  if (first !== undefined) yield { line: first.line, bytes: Buffer.concat(begun.map(({ bytes }) => bytes)) };
}

/** Every line with the break that ends it. */
async function* linesOf(chunks: AsyncIterable<Uint8Array>): AsyncGenerator<ResourceText> {
  let line = 1;
  let held: Uint8Array[] = [];
  for await (const chunk of chunks) {
    let at = 0;
    for (let end = chunk.indexOf(LINE_FEED); end >= 0; end = chunk.indexOf(LINE_FEED, at)) {
      held.push(chunk.subarray(at, end + 1));
      yield { line, bytes: Buffer.concat(held) };
      line += 1;
      held = [];
      at = end + 1;
    }
    if (at < chunk.length) held.push(chunk.subarray(at));
  }
  if (held.length > 0) yield { line, bytes: Buffer.concat(held) };
}

const LINE_FEED = 0x0a;

function withoutBreak({ line, bytes }: ResourceText): ResourceText {
  return bytes.at(-1) === LINE_FEED ? { line, bytes: bytes.subarray(0, -1) } : { line, bytes };
}

/** The lines up to the second that is not blank. */
async function takeStart(lines: AsyncGenerator<ResourceText>): Promise<readonly ResourceText[]> {
  const start: ResourceText[] = [];
  let filled = 0;
  while (filled < 2) {
    const next = await lines.next();
    if (next.done === true) break;
    start.push(next.value);
    if (isFilled(next.value)) filled += 1;
  }
  return start;
}

const isFilled = ({ bytes }: ResourceText): boolean => bytes.some((byte) => !BLANKS.has(byte));

/** White space of JSON (RFC 8259, section 2). */
const BLANKS: ReadonlySet<number> = new Set([0x20, 0x09, LINE_FEED, 0x0d]);

function isNdjson(start: readonly ResourceText[]): boolean {
  const [first, second] = start
    .filter(isFilled)
    .map(({ bytes }) => textOf(bytes).replace('\uFEFF', '').trim());
  if (first === undefined || second === undefined || isJson(first)) return true;
  if (first.startsWith('[')) return false;
  // After the opening line of an object comes a member, and never an object whole.
  return !first.startsWith('{') || (second.startsWith('{') && isJson(second));
}

/** Whether the text is whole; names that stand twice and the like do not make it less so. */
function isJson(text: string): boolean {
  const parsed = parseJson(text);
  return parsed.ok || !parsed.faults.some(({ code }) => code === 'json-syntax');
}

const textOf = (bytes: Uint8Array): string => new TextDecoder('utf-8', { ignoreBOM: true }).decode(bytes);
