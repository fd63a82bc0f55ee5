import type { ValueSetCodes } from '../definitions/index.js';
import { isJsonObject, type JsonObject, type Walk } from './walk.js';

/** Whether a code is in a value set; `system` undefined: the place binds a bare code, its system goes without saying. */
export type CodeMember = (code: unknown, system?: unknown) => boolean;

export interface RequiredBinding {
  readonly isMember: CodeMember;
  /** Codes to name in the fault. */
  readonly allowed: readonly string[];
  readonly url: string;
}

/** Makes ready a value set of a required binding (R4 terminologies, "required"). */
export function compileBinding({ url, include }: ValueSetCodes): RequiredBinding {
  const bare = new Set<unknown>(include.flatMap(({ codes }) => codes));
  const bySystem = new Map<unknown, ReadonlySet<unknown>>(
    include.map(({ system, codes }) => [system, new Set<unknown>(codes)]),
  );
  const isMember: CodeMember = (code, system) =>
    system === undefined ? bare.has(code) : (bySystem.get(system)?.has(code) ?? false);
  return { isMember, allowed: [...bare].map(String), url };
}

/** Checks a code, Coding or CodeableConcept of the right JSON shape; one that is only extended is left alone. */
export function checkRequiredBinding(binding: RequiredBinding, value: unknown, walk: Walk): void {
  if (typeof value === 'string') {
    if (!binding.isMember(value)) reportNotAllowed(binding, value, walk);
  } else if (isJsonObject(value)) {
    const codings = Array.isArray(value['coding']) ? (value['coding'] as readonly unknown[]) : [value];
    const isBound = codings.some((coding) => isJsonObject(coding) && isBoundCoding(binding, coding));
    if (!isBound && value['extension'] === undefined) reportNotAllowed(binding, value, walk);
  }
}

const isBoundCoding = (binding: RequiredBinding, coding: JsonObject): boolean =>
  binding.isMember(coding['code'], coding['system'] ?? null);

/** Longer lists are no help to read; the value set's URL stands for them. */
const MAX_NAMED = 30;

function reportNotAllowed(binding: RequiredBinding, found: unknown, walk: Walk): void {
  const { allowed, url } = binding;
  const choices = allowed.length <= MAX_NAMED ? `one of ${allowed.join(', ')}` : `a code of ${url}`;
  const shown = typeof found === 'string' ? `"${found}"` : 'The concept';
  walk.report({
    code: 'code-invalid',
    rule: 'required-binding',
    diagnostics: `${shown} is not allowed here; it must be ${choices}.`,
    found,
    allowed: allowed.length <= MAX_NAMED ? allowed : url,
  });
}
