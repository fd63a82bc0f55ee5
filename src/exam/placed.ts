import type { Finding } from './exam.js';
import type { Issue } from './issue.js';

/** A finding with the JSON Pointer of the value it was read from. */
export interface Placed<F extends Finding = Finding> {
  readonly finding: F;
  readonly place: string;
  /** Parts that were given and refused: they are told as wrong, and not also as missing. */
  readonly refused?: readonly string[];
}

/** Takes the issues of a document as they are found; they are all listed at the end. */
export type Report = (issue: Issue) => void;

/** An issue of the document's form, which no written rule names: one of our stable codes. */
export function formIssue(
  code: string,
  place: string,
  sentence: string,
  details: Pick<Issue, 'found' | 'allowed' | 'choices'> & { readonly severity?: Issue['severity'] } = {},
): Issue {
  return { severity: 'error', code, place, ...details, sentence };
}

/** The JSON Pointer of a member or item (RFC 6901, section 3). */
export function pointer(place: string, ...steps: readonly PropertyKey[]): string {
  return place + steps.map((step) => `/${escapeStep(String(step))}`).join('');
}

function escapeStep(step: string): string {
  return step.replaceAll('~', '~0').replaceAll('/', '~1');
}

/** Only the findings of one kind. */
export function ofKind<K extends Finding['kind']>(
  placed: readonly Placed[],
  kind: K,
): readonly Placed<Extract<Finding, { kind: K }>>[] {
  return placed.filter((one): one is Placed<Extract<Finding, { kind: K }>> => one.finding.kind === kind);
}

/** Words in a row as people list them: `a, b or c`. */
export function listed(words: readonly string[], last: 'or' | 'and' = 'or'): string {
  const [only = ''] = words;
  return words.length < 2 ? only : `${words.slice(0, -1).join(', ')} ${last} ${words.at(-1) ?? ''}`;
}
