import type { CodeSystem } from 'fhir/r4.js';
import { RULE_SYSTEM } from '../../../src/fhir/index.js';
import { headOf, narrativeOf, withNarrative } from './published.js';

/**
 * The rules that an OperationOutcome names in `issue.details`, but for the keys of invariants, which are their own names:
 * those of R4 (`obs-6`), of our profiles (`msk-side-1`) and of any other profile.
 */
export const ruleNames: Readonly<Record<string, string>> = {
  'all-well': 'No fault was found.',
  'json-syntax': 'The text is no JSON.',
  'json-too-deep': 'Values are nested more deeply than is read.',
  'json-duplicate-key': 'An object has two members of one name.',
  'json-forbidden-key': 'A member has a name that is not taken.',
  'json-bad-character': 'A text holds a character that no UTF-8 text can hold.',
};

export function ruleSystem(): CodeSystem {
  const title = 'Rules of validation';
  const description =
    'The rules that an issue of an OperationOutcome names. Keys of invariants are told by the same system and are not listed: each is defined by its own profile or type.';
  const concept = Object.entries(ruleNames)
    .sort(([one], [other]) => (one < other ? -1 : 1))
    .map(([code, definition]) => ({ code, display: code.replaceAll('-', ' '), definition }));
  return withNarrative(
    {
      ...headOf('CodeSystem', RULE_SYSTEM.slice(RULE_SYSTEM.lastIndexOf('/') + 1)),
      title,
      description,
      caseSensitive: true,
      content: 'fragment',
      concept,
    },
    narrativeOf(title, [description], {
      head: ['Rule', 'What is wrong'],
      rows: concept.map(({ code, definition }) => [code, definition]),
    }),
  );
}
