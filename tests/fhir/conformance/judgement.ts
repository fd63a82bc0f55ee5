import { readFileSync } from 'node:fs';
import {
  compileValidator,
  type FhirIssue,
  issueOfJsonFault,
  parseJson,
  r4Definitions,
} from '../../../src/fhir/index.js';

/** A resource, or the JSON text of one where an object cannot hold the case (doubled names, digits of numbers). */
export type Given = object | string;

/** A page of FHIR R4 4.0.1; anchors are named from memory. */
export const page = (name: string): string => `https://hl7.org/fhir/R4/${name}`;

const validate = compileValidator(r4Definitions);

/** What base R4 tells of a case; the places of faults in a text begin at `type`. */
export function issuesOf(given: Given, type = ''): readonly FhirIssue[] {
  if (typeof given !== 'string') return validate(given);
  const parsed = parseJson(given);
  return parsed.ok ? validate(parsed.value) : parsed.faults.map((fault) => issueOfJsonFault(fault, type));
}

export const isFault = ({ severity }: FhirIssue): boolean => severity === 'error' || severity === 'fatal';

/** Cases that fail, a name on each line after its reason; one that passes must leave the list. */
export function readExpectedFailures(file: string): ReadonlySet<string> {
  const lines = readFileSync(new URL(file, import.meta.url), 'utf8').split('\n');
  return new Set(lines.filter((line) => line !== '' && !line.startsWith('#')));
}
