import { AFTER, PAGE_SIZE, writeSearchset } from '../fhir/index.js';
import type { DefinitionType, FhirIssue, Parameter, PublishedDefinition } from '../fhir/index.js';
import { FhirError } from './errors.js';
import { preferenceOf, searchParametersOf, sendFhir } from './fhir-exchange.js';
import type { Door, FhirContext } from './fhir-reads.js';

const HL7_PARAMETERS = 'http://hl7.org/fhir/SearchParameter';

/** What a published definition is found by, and where it keeps that. */
export const DEFINITION_PARAMETERS = [
  { code: '_id', kind: 'token', definition: `${HL7_PARAMETERS}/Resource-id`, member: 'id' },
  { code: 'url', kind: 'uri', definition: `${HL7_PARAMETERS}/conformance-url`, member: 'url' },
] as const;

/** R4 http, read of a definition that we publish; it has one version, that of the service. */
export function readDefinitionDoor(type: DefinitionType, own: readonly PublishedDefinition[]): Door {
  return (request, reply) => {
    const { id } = request.params as { id: string };
    return sendFhir(reply, findDefinition(type, id, own).body);
  };
}

/** Throws `not-found` for an id that no definition of the type has. */
export function findDefinition(
  type: DefinitionType,
  id: string,
  own: readonly PublishedDefinition[],
): PublishedDefinition {
  const found = own.find((definition) => definition.id === id);
  if (found === undefined) throw new FhirError('not-found', `${type}/${id} is not known.`);
  return found;
}

/** R4 search of the definitions that we publish: few, and held in memory. */
export function searchDefinitionsDoor(
  type: DefinitionType,
  own: readonly PublishedDefinition[],
  { baseUrl }: Pick<FhirContext, 'baseUrl'>,
): Door {
  return (request, reply) => {
    const { used, issues } = readSearch(type, searchParametersOf(request), preferenceOf(request).strict);
    if (issues.some(({ severity }) => severity === 'error'))
      throw new FhirError('invalid', 'The search cannot be read.', issues);
    const found = own.filter((definition) => used.every((parameter) => isFoundBy(definition, parameter)));
    const page = { baseUrl: baseUrl(), type, used, total: found.length, warnings: issues };
    return sendFhir(reply, writeSearchset({ ...page, ...cut(found, new Map(used)) }));
  };
}

function isFoundBy(definition: PublishedDefinition, [name, value]: Parameter): boolean {
  const row = DEFINITION_PARAMETERS.find(({ code }) => code === name);
  return row === undefined || value.split(',').includes(definition[row.member]);
}

/** One page; the place of the next is the id of the last match. */
function cut(
  found: readonly PublishedDefinition[],
  used: ReadonlyMap<string, string>,
): {
  readonly matches: readonly Pick<PublishedDefinition, 'type' | 'id' | 'body'>[];
  readonly next?: string;
} {
  const count = used.get('_summary') === 'count' ? 0 : Number(used.get('_count') ?? PAGE_SIZE.default);
  const start = found.findIndex(({ id }) => id === used.get(AFTER)) + 1;
  const matches = found.slice(start, start + count);
  const last = matches.at(-1);
  return last === undefined || start + count >= found.length ? { matches } : { matches, next: last.id };
}

interface DefinitionSearch {
  readonly used: readonly Parameter[];
  readonly issues: readonly FhirIssue[];
}

function readSearch(type: string, given: readonly Parameter[], strict: boolean): DefinitionSearch {
  const used: Parameter[] = [];
  const issues: FhirIssue[] = [];
  for (const [name, value] of given) {
    if (value === '') continue;
    const [code = '', modifier] = name.split(':');
    const isFilter = DEFINITION_PARAMETERS.some((row) => row.code === code);
    const form = CONTROLS.get(name);
    if (isFilter && modifier !== undefined)
      issues.push(
        issueOf(
          'error',
          'not-supported',
          name,
          `The modifier :${modifier.slice(0, 80)} is not offered here.`,
        ),
      );
    else if (form !== undefined && !form.test(value))
      issues.push(issueOf('error', 'value', name, `${name} cannot have this value.`));
    else if (isFilter || form !== undefined) used.push([name, value]);
    else
      issues.push(
        issueOf(
          strict ? 'error' : 'warning',
          'not-supported',
          name,
          `${type} has no search parameter ${name.slice(0, 80)} here; it was left out.`,
        ),
      );
  }
  return { used, issues };
}

/** Parameters that shape the result and choose nothing, with the values that they may have. */
const CONTROLS: ReadonlyMap<string, RegExp> = new Map([
  ['_count', /^\d{1,9}$/],
  ['_summary', /^(?:count|false)$/],
  ['_total', /^(?:none|estimate|accurate)$/],
  ['_format', /^/],
  [AFTER, /^[A-Za-z0-9.-]{1,64}$/],
]);

function issueOf(
  severity: 'error' | 'warning',
  code: 'not-supported' | 'value',
  name: string,
  diagnostics: string,
): FhirIssue {
  return { severity, code, rule: `search-${code}`, expression: `http.${name.slice(0, 80)}`, diagnostics };
}
