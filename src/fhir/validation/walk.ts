import { type FhirIssue, pathStep } from '../issue.js';
import { isLosslessNumber } from 'lossless-json';

export type JsonObject = Readonly<Record<string, unknown>>;

/** What a check says of a fault; the walk adds the place. */
export interface Fault {
  readonly severity?: FhirIssue['severity'];
  readonly code: FhirIssue['code'];
  readonly rule: string;
  readonly diagnostics: string;
  readonly found?: unknown;
  readonly allowed?: unknown;
}

/** Whether the value is a JSON object: no array, null or number object. */
export function isJsonObject(value: unknown): value is JsonObject {
  return typeof value === 'object' && value !== null && !Array.isArray(value) && !isLosslessNumber(value);
}

/** Deeper than any parsed text goes, so that an object that holds itself ends too. */
const MAX_STEPS = 400;

/**
 * One way through a resource: where the checks are, what they found, and the resource that contains what is looked at.
 * Steps are kept apart and joined only when a fault is found.
 */
export class Walk {
  readonly issues: FhirIssue[] = [];
  /** The resource whose `contained` a reference of `#id` looks into. */
  container: JsonObject = {};
  readonly #steps: (string | number)[] = [];

  /** Goes down to a member, or to an item of it; false when it is too deep to go on. */
  enter(step: string | number): boolean {
    if (this.#steps.length >= MAX_STEPS) {
      this.report({ code: 'too-long', rule: 'depth', diagnostics: 'Elements are nested too deeply.' });
      return false;
    }
    this.#steps.push(step);
    return true;
  }

  leave(): void {
    this.#steps.pop();
  }

  report(fault: Fault): void {
    this.issues.push({ severity: 'error', ...fault, expression: this.expression });
  }

  /** Reports a fault of a member of the element at hand. */
  reportAt(name: string, fault: Fault): void {
    this.#steps.push(name);
    this.report(fault);
    this.#steps.pop();
  }

  /** The place in FHIRPath. */
  get expression(): string {
    return this.#steps.reduce<string>((path, step) => {
      if (typeof step === 'number') return `${path}[${String(step)}]`;
      return path === '' ? pathStep(step) : `${path}.${pathStep(step)}`;
    }, '');
  }
}
