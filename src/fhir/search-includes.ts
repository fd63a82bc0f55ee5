import { isStoredType, RESOURCE_TYPES } from './resource-types.js';
import type { ResourceType } from './resource-types.js';
import type { Fault } from './search-clauses.js';
import { findSearchParameter, searchParameters } from './search-parameters.js';

/** What shall come with the matches (R4 search, including other resources in result). */
export interface SearchInclude {
  /** `include`: what `source` refers to; `revinclude`: the resources of `source` that refer to what is there. */
  readonly direction: 'include' | 'revinclude';
  /** `*`: any type. */
  readonly source: ResourceType | '*';
  /** A reference parameter of the source; `*`: all of them. */
  readonly parameter: string;
  /** Only resources of this type at the other end of an `include`, or only what refers to this type. */
  readonly target?: string;
  /** Also from what was included, not from the matches alone. */
  readonly iterate: boolean;
}

export type IncludeReading = { readonly include: SearchInclude } | { readonly fault: Fault };

/** `:recurse` is what STU3 called `:iterate`. */
const ITERATE: ReadonlySet<string> = new Set(['iterate', 'recurse']);

/**
 * Reads `_include` or `_revinclude` of a search on `type`: `Observation:subject`, `Observation:subject:Patient`,
 * `Observation:*` or `*`. Without `:iterate` an include starts at the type that is searched, and a revinclude leads to it.
 */
export function readInclude(type: ResourceType, name: string, value: string): IncludeReading {
  const [base, modifier, ...more] = name.split(':');
  if (more.length > 0 || (modifier !== undefined && !ITERATE.has(modifier)))
    return refuse('not-supported', `${base ?? ''} takes no modifier but :iterate.`, name);
  const direction = base === '_include' ? 'include' : 'revinclude';
  const [source = '', parameter = source === '*' ? '*' : '', target, ...rest] = value.split(':');
  if (parameter === '' || rest.length > 0 || target === '')
    return refuse('value', `${name} is Type:parameter or Type:parameter:Target.`, value);
  const asked: Asked = { direction, source, parameter, target, iterate: modifier !== undefined };
  return readAsked(asked, type, value);
}

interface Asked extends Pick<SearchInclude, 'direction' | 'parameter' | 'iterate'> {
  readonly source: string;
  readonly target: string | undefined;
}

function readAsked(asked: Asked, type: ResourceType, value: string): IncludeReading {
  const { source, target, iterate, direction, parameter } = asked;
  if (source !== '*' && !isStoredType(source))
    return refuse('not-supported', `No ${source.slice(0, 80)} is searched here.`, value, RESOURCE_TYPES);
  if (!iterate && !touchesType(asked, type)) {
    const way = direction === 'include' ? '_include starts at' : '_revinclude leads to';
    return refuse('not-supported', `${way} the type that is searched, ${type}, unless it iterates.`, value);
  }
  if (source === '*') {
    if (parameter !== '*') return refuse('value', 'A parameter is of one type, not of *.', value);
  } else if (parameter !== '*') {
    const end = target ?? (direction === 'revinclude' && !iterate ? type : undefined);
    if (!refersTo(source, parameter, end)) return refuseReference(source, parameter, end, value);
  }
  return { include: { direction, source, parameter, ...(target === undefined ? {} : { target }), iterate } };
}

/** Whether an include starts at the type, or a revinclude leads to it. */
function touchesType({ direction, source, target }: Asked, type: ResourceType): boolean {
  const end = direction === 'include' ? source : (target ?? type);
  return end === '*' || end === type;
}

function refuseReference(
  source: ResourceType,
  code: string,
  target: string | undefined,
  value: string,
): IncludeReading {
  const aim = target === undefined ? '' : ` to ${target.slice(0, 80)}`;
  const sentence = `${source} has no reference ${code.slice(0, 80)}${aim}.`;
  return refuse('not-supported', sentence, value, referencesOf(source));
}

function refersTo(source: ResourceType, code: string, target: string | undefined): boolean {
  const parameter = findSearchParameter(source, code);
  if (parameter?.kind !== 'reference') return false;
  return (
    target === undefined || (parameter.targets?.includes(target) ?? /^[A-Z][A-Za-z]{1,63}$/.test(target))
  );
}

function referencesOf(source: ResourceType): readonly string[] {
  return searchParameters[source].filter(({ kind }) => kind === 'reference').map(({ code }) => code);
}

function refuse(
  code: Fault['code'],
  sentence: string,
  found: string,
  allowed?: readonly string[],
): IncludeReading {
  return { fault: { code, sentence, found, ...(allowed === undefined ? {} : { allowed }) } };
}
