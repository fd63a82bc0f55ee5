import { checkFullUrl, checkResponseStatus, checkUrns } from './bundle-rules.js';
import { checkUnit } from './quantity-units.js';
import { type JsonObject, objectsIn, type Walk } from './walk.js';

/** Checks an object that has the right shape beyond what its definition says in structure and invariants. */
export type ProseRule = (element: JsonObject, walk: Walk) => void;

/** What R4 says in prose only, by the type or the path of an element it stands on; it holds for derived types too. */
export const PROSE_RULES: ReadonlyMap<string, readonly ProseRule[]> = new Map([
  ['Quantity', [checkUnit]],
  ['Reference', [checkSaysSomething]],
  ['Attachment', [checkSize]],
  ['Resource', [checkImplicitRules]],
  ['DomainResource', [checkContainedIds]],
  ['Bundle', [checkUrns]],
  ['Bundle.entry', [checkFullUrl]],
  ['Bundle.entry.response', [checkResponseStatus]],
]);

/**
 * R4 references, Reference: "At least one of reference, identifier and display SHALL be present (unless an extension is
 * provided)" (from memory). R4 has no invariant of it, so that a type alone is told as a warning.
 */
function checkSaysSomething(reference: JsonObject, walk: Walk): void {
  if (reference['type'] === undefined || SAYING.some((name) => reference[name] !== undefined)) return;
  const diagnostics =
    'The reference has neither a reference nor an identifier nor a display: it points nowhere.';
  walk.report({ severity: 'warning', code: 'required', rule: 'reference-empty', diagnostics });
}

const SAYING = ['reference', '_reference', 'identifier', 'display', '_display', 'extension'] as const;

/** R4 resource, implicitRules: who does not know the rules must not read on. None are known here. */
function checkImplicitRules({ implicitRules }: JsonObject, walk: Walk): void {
  if (typeof implicitRules !== 'string') return;
  walk.reportAt('implicitRules', {
    severity: 'warning',
    code: 'not-supported',
    rule: 'implicit-rules',
    diagnostics: `The resource was written by rules that are not known here (${implicitRules}); they may change its meaning.`,
    found: implicitRules,
  });
}

/** R4 references, "Contained Resources": `#id` finds one resource, so that no two have the same id. */
function checkContainedIds({ contained }: JsonObject, walk: Walk): void {
  if (contained === undefined) return;
  const seen = new Set<unknown>();
  for (const { id } of objectsIn(contained)) {
    if (typeof id === 'string' && seen.has(id)) {
      const diagnostics = `Two contained resources have the id "${id}", so that "#${id}" could mean either.`;
      walk.reportAt('contained', { code: 'value', rule: 'contained-id', diagnostics, found: id });
    }
    seen.add(id);
  }
}

/** R4 datatypes, Attachment.size: "The number of bytes of data that make up this attachment (before base64 encoding)". */
function checkSize({ data, size }: JsonObject, walk: Walk): void {
  if (typeof data !== 'string' || typeof size !== 'number') return;
  const bytes = bytesOf(data);
  if (bytes === undefined || bytes === size) return;
  walk.reportAt('size', {
    code: 'value',
    rule: 'attachment-size',
    diagnostics: `The size says ${String(size)} bytes; the data has ${String(bytes)}.`,
    found: size,
    allowed: bytes,
  });
}

/** How many bytes base64 stands for; undefined when it is none (RFC 4648, 4). */
function bytesOf(base64: string): number | undefined {
  const text = base64.replaceAll(/\s+/g, '');
  const padding = text.length - text.replace(/={1,2}$/, '').length;
  return text.length % 4 === 0 ? (text.length / 4) * 3 - padding : undefined;
}
