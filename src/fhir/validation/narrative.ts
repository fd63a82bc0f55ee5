/** A fault of a narrative: the invariant it breaks, and one sentence. */
export interface NarrativeFault {
  readonly rule: 'txt-1' | 'txt-2';
  readonly diagnostics: string;
  readonly found?: string;
}

const XHTML = 'http://www.w3.org/1999/xhtml';

/**
 * HTML 4.0, chapters 7 to 11 (without 9.4) and 15: the elements that txt-1 names in its XPath, and those of the chapters
 * that it leaves out (address 7.5.6, bdo 8.2.4, kbd 9.2.1). Deprecated ones are not among them.
 */
const ELEMENTS: ReadonlySet<string> = new Set(
  (
    'a abbr acronym address b bdo big blockquote br caption cite code col colgroup dd dfn div dl dt em h1 h2 h3 h4 h5 h6 hr i ' +
    'img kbd li ol p pre q samp small span strong sub sup table tbody td tfoot th thead tr tt ul var'
  ).split(' '),
);

/**
 * The attributes that txt-1 names in its XPath, on whichever element; those of img and table that HTML 4.0 has beside them;
 * and the language as XML says it, which XHTML 1.0 (C.7) wants beside `lang`.
 */
const ATTRIBUTES: ReadonlySet<string> = new Set(
  (
    'abbr accesskey align alt axis bgcolor border cellhalign cellpadding cellspacing cellvalign char charoff charset cite class ' +
    'colspan compact coords dir frame headers height href hreflang hspace id lang longdesc name nowrap rel rev rowspan rules ' +
    'scope shape span src start style summary tabindex title type valign value vspace width xml:lang xmlns'
  ).split(' '),
);

/** XML 1.0, 2.2, Char: what may not stand in it; a surrogate alone is none. */
const NO_XML_CHARACTER = /[\0-\x08\v\f\x0e-\x1f\ufffe\uffff]|\p{Surrogate}/u;
/** XML 1.0, 4.6: the five entities that need no declaration. */
const ENTITY = /&(?:(amp|lt|gt|quot|apos)|#(\d+)|#x([\da-f]+));/gi;
const OPEN_ENTITY = /&(?!(?:amp|lt|gt|quot|apos|#\d+|#x[\dA-Fa-f]+);)[^\s;<&]*;?/;
/** URLs that run as a program when they are followed. */
const PROGRAM = /^[\s\0-\x1f]*(?:java|vb)script\s*:/i;

/** XML 1.0: 2.5 comment, 3.1 end tag and start tag with its attributes, 2.4 text. */
const TOKEN =
  /<!--(?<comment>(?:(?!--)[^])*)-->|<\/(?<end>[^\s<>/]+)\s*>|<(?<start>[^\s<>/!?]+)(?<attributes>(?:\s+[^\s=<>/"']+\s*=\s*(?:"[^"<]*"|'[^'<]*'))*)\s*(?<close>\/?)>|(?<text>[^<]+)/y;
const ATTRIBUTE = /([^\s=]+)\s*=\s*(?:"([^"]*)"|'([^']*)')/g;

/** What is known of a narrative on the way through it. */
interface Reading {
  readonly open: string[];
  readonly faults: Map<string, NarrativeFault>;
  hasRoot: boolean;
  hasContent: boolean;
}

/**
 * Says what is wrong with a narrative (R4 narrative, Narrative.div): it is one `div` of XHTML, well-formed, holding only
 * what formats a text, and something to read.
 */
export function findNarrativeFaults(html: string): readonly NarrativeFault[] {
  const reading: Reading = { open: [], faults: new Map(), hasRoot: false, hasContent: false };
  if (!isReadThrough(html, reading)) return [...reading.faults.values()];
  const [unclosed] = reading.open;
  if (unclosed !== undefined) addFault(reading, `The element <${unclosed}> is not closed.`, unclosed);
  else if (!reading.hasRoot) addFault(reading, NO_DIV);
  else if (!reading.hasContent) {
    const diagnostics = 'The narrative has nothing to read: neither text nor an image.';
    reading.faults.set(diagnostics, { rule: 'txt-2', diagnostics });
  }
  return [...reading.faults.values()];
}

const NO_DIV = `A narrative must be one <div xmlns="${XHTML}"> with nothing before and after it.`;

/** Whether the text could be read to its end, which it cannot where it is not well-formed. */
function isReadThrough(html: string, reading: Reading): boolean {
  if (NO_XML_CHARACTER.test(html)) return stopAt(reading, 'A character stands in it that XML does not have.');
  TOKEN.lastIndex = 0;
  while (TOKEN.lastIndex < html.length) {
    const at = TOKEN.lastIndex;
    const token = TOKEN.exec(html)?.groups;
    if (token === undefined) return stopAt(reading, `It is not well-formed at ${excerpt(html, at)}.`);
    if (!readToken(token, reading)) return false;
  }
  return true;
}

function readToken(token: Readonly<Record<string, string | undefined>>, reading: Reading): boolean {
  const { comment, end, start, attributes = '', close, text = '' } = token;
  if (start !== undefined) return readStart(start, attributes, close === '/', reading);
  if (reading.open.length === 0)
    return comment === undefined && text.trim() === '' && end === undefined ? true : stopAt(reading, NO_DIV);
  if (comment !== undefined) return true;
  if (end === undefined) return readText(text, reading);
  const opened = reading.open.pop();
  return opened === end || stopAt(reading, `The element <${String(opened)}> is closed by </${end}>.`, end);
}

function readText(text: string, reading: Reading): boolean {
  checkEntities(text, reading);
  if (text.includes(']]>')) return stopAt(reading, 'It is not well-formed at "]]>".');
  reading.hasContent ||= /[^ \t\r\n]/.test(text);
  return true;
}

function readStart(name: string, attributes: string, isClosed: boolean, reading: Reading): boolean {
  if (!ELEMENTS.has(name)) addFault(reading, `The element <${name}> is not allowed in a narrative.`, name);
  const held = readAttributes(name, attributes, reading);
  if (reading.open.length === 0) {
    if (reading.hasRoot || name !== 'div' || held.get('xmlns') !== XHTML) return stopAt(reading, NO_DIV);
    reading.hasRoot = true;
  }
  if (name === 'img' && held.has('src')) reading.hasContent = true;
  if (!isClosed) reading.open.push(name);
  return true;
}

function readAttributes(element: string, text: string, reading: Reading): ReadonlyMap<string, string> {
  const held = new Map<string, string>();
  for (const [, name = '', double, single] of text.matchAll(ATTRIBUTE)) {
    const value = double ?? single ?? '';
    if (held.has(name)) addFault(reading, `The attribute ${name} stands twice at <${element}>.`, name);
    held.set(name, value);
    checkEntities(value, reading);
    checkAttribute(element, name, value, reading);
  }
  return held;
}

function checkAttribute(element: string, name: string, value: string, reading: Reading): void {
  if (!ATTRIBUTES.has(name)) {
    addFault(reading, `The attribute ${name} of <${element}> is not allowed in a narrative.`, name);
  } else if (name === 'xmlns' && value !== XHTML) {
    addFault(reading, `The namespace of <${element}> must be ${XHTML}.`, value);
  } else if (PROGRAM.test(decoded(value))) {
    addFault(
      reading,
      `The ${name} of <${element}> runs a program, which is not allowed in a narrative.`,
      value,
    );
  }
}

function checkEntities(text: string, reading: Reading): void {
  if (!text.includes('&')) return;
  const [open] = OPEN_ENTITY.exec(text) ?? [];
  if (open !== undefined) {
    addFault(reading, `"${open}" is no entity of XML; write the character itself, or its number.`, open);
  } else if (NO_XML_CHARACTER.test(decoded(text))) {
    addFault(reading, 'A number in it names a character that XML does not have.');
  }
}

const NAMED: Readonly<Record<string, string>> = { amp: '&', lt: '<', gt: '>', quot: '"', apos: "'" };

const decoded = (text: string): string =>
  text.replaceAll(
    ENTITY,
    (_all, name: string | undefined, decimal: string | undefined, hex: string | undefined) =>
      name === undefined
        ? characterOf(decimal === undefined ? parseInt(hex ?? '', 16) : Number(decimal))
        : (NAMED[name] ?? ''),
  );

/** NUL for a number that is no code point: no more allowed than that one. */
const characterOf = (point: number): string => (point <= 0x10_ffff ? String.fromCodePoint(point) : '\0');

function stopAt(reading: Reading, diagnostics: string, found?: string): false {
  addFault(reading, diagnostics, found);
  return false;
}

function addFault({ faults }: Reading, diagnostics: string, found?: string): void {
  faults.set(diagnostics, { rule: 'txt-1', diagnostics, ...(found === undefined ? {} : { found }) });
}

const excerpt = (html: string, at: number): string => `"${html.slice(at, at + 30)}"`;
