import type { OperationOutcome, OperationOutcomeIssue } from 'fhir/r4.js';
import type { JsonFault } from './json.js';

/** A fault or remark about a resource, as data; `diagnostics` is its sentence. */
export interface FhirIssue {
  readonly severity: OperationOutcomeIssue['severity'];
  readonly code: OperationOutcomeIssue['code'];
  /** The standard's key of an invariant (`per-1`), or our stable name of the broken rule (`cardinality`). */
  readonly rule: string;
  /** Place in FHIRPath, from the type's name: `Observation.component[1].value`. Empty: the whole input. */
  readonly expression: string;
  /** One plain sentence. */
  readonly diagnostics: string;
  readonly found?: unknown;
  readonly allowed?: unknown;
  /** Canonical URL of the profile that has the rule; absent for the standard's own. */
  readonly profile?: string;
}

/** System of the rules' codes in `OperationOutcome.issue.details`. */
export const RULE_SYSTEM = 'https://limbledger.example/fhir/CodeSystem/validation-rule';

/** Whether the issues forbid that the resource is stored. */
export function hasErrors(issues: readonly FhirIssue[]): boolean {
  return issues.some(({ severity }) => severity === 'error' || severity === 'fatal');
}

/** The issues as FHIR tells them (R4 operationoutcome), errors first; without any, the one remark that all is well. */
export function toOperationOutcome(issues: readonly FhirIssue[]): OperationOutcome {
  const told = issues.length === 0 ? [ALL_WELL] : errorsFirst(issues);
  return { resourceType: 'OperationOutcome', issue: told.map(outcomeIssueOf) };
}

/** The issues by severity, and those of one severity as they stand. */
export function errorsFirst(issues: readonly FhirIssue[]): readonly FhirIssue[] {
  return [...issues].sort((one, other) => RANK[one.severity] - RANK[other.severity]);
}

const RANK = { fatal: 0, error: 1, warning: 2, information: 3 } as const;

/** A fault of the JSON text as an issue; the place is told from the root, a resource of `type`, with line and column. */
export function issueOfJsonFault(fault: JsonFault, type = ''): FhirIssue {
  const { line, column } = fault;
  return {
    severity: 'fatal',
    code: 'structure',
    rule: fault.code,
    expression: expressionOfPointer(fault.pointer, type),
    diagnostics: `${fault.sentence} (Line ${String(line)}, column ${String(column)}.)`,
  };
}

/** `name` as a step of a FHIRPath: a name that is no identifier stands in backquotes, one of any length is cut. */
export function pathStep(name: string): string {
  if (/^[A-Za-z_]\w{0,99}$/.test(name)) return name;
  const shown = name.length <= 100 ? name : `${name.slice(0, 100)}…`;
  return `\`${shown.replaceAll('\\', '\\\\').replaceAll('`', '\\`')}\``;
}

const ALL_WELL: FhirIssue = {
  severity: 'information',
  code: 'informational',
  rule: 'all-well',
  expression: '',
  diagnostics: 'No fault was found.',
};

function outcomeIssueOf(issue: FhirIssue): OperationOutcomeIssue {
  const { severity, code, rule, expression, diagnostics } = issue;
  return {
    severity,
    code,
    details: { coding: [{ system: RULE_SYSTEM, code: rule }] },
    diagnostics,
    ...(expression === '' ? {} : { expression: [expression] }),
  };
}

/** `/component/1/code` as `component[1].code`, after the name of the root's type. */
function expressionOfPointer(pointer: string, type: string): string {
  const steps = pointer.split('/').slice(1);
  const names = steps.map((step) => step.replaceAll('~1', '/').replaceAll('~0', '~'));
  return names.reduce((path, name) => {
    if (/^\d+$/.test(name)) return `${path}[${name}]`;
    return path === '' ? pathStep(name) : `${path}.${pathStep(name)}`;
  }, type);
}
