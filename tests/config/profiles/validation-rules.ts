import type { CodeSystem } from 'fhir/r4.js';
import { RULE_SYSTEM } from '../../../src/fhir/index.js';
import { headOf, narrativeOf, withNarrative } from './published.js';

/**
 * The rules that an OperationOutcome names in `issue.details`, but for the keys of invariants, which are their own names:
 * those of R4 (`obs-6`), of our profiles (`msk-side-1`) and of any other profile.
 */
export const ruleNames: Readonly<Record<string, string>> = {
  'all-well': 'No fault was found.',
  'too-many-faults': 'There are more faults than are told.',

  'json-syntax': 'The text is no JSON.',
  'json-encoding': 'The bytes are no UTF-8 text.',
  'json-too-deep': 'The text nests values more deeply than is read.',
  'json-duplicate-key': 'An object has two members of one name.',
  'json-forbidden-key': 'A member has a name that is not taken.',
  'json-bad-character': 'A text holds a character that no UTF-8 text or database column can hold.',
  'json-type': 'A value is of another JSON type than its element.',
  'json-null': 'A null stands where none may.',
  'json-padding': 'Values and their ids or extensions do not stand side by side.',
  'json-empty': 'An object, array or text is empty.',
  depth: 'Elements are nested too deeply.',

  'resource-type': 'The resource type is missing, unknown, not supported or another one than is expected.',
  'unknown-element': 'The type has no element of this name.',
  cardinality: 'An element is there too often or too seldom.',
  'choice-type': 'The value of a choice is of a type that is not allowed, or there are two of them.',
  'primitive-type': 'The text or number is no value of its primitive type.',
  'max-length': 'A text is longer than its element allows.',
  'required-binding': 'A code is none of the value set that it must be of.',
  ucum: 'The code of a unit is no UCUM unit.',
  'reference-form': 'A reference has a form that R4 does not allow.',
  'reference-type': 'The type that a reference names is not the type of what it points to.',
  'reference-target': 'A reference points to a type that is not allowed.',
  'reference-empty': 'A reference points to nothing and says nothing of what it is to.',
  'contained-id': 'Two contained resources have one id, or one has none.',
  'implicit-rules': 'The resource was written by rules that are not known here.',
  'attachment-size': 'The size or hash of an attachment is not that of its data.',
  'modifier-extension': 'An extension that may change the meaning of a resource is not known here.',
  'bundle-reference': 'A reference between the entries of a bundle finds none or several of them.',
  'full-url': 'The full URL of an entry does not fit its resource.',
  'response-status': 'The status of a response does not begin with a status code of HTTP.',

  'profile-unknown': 'A profile that is claimed or asked for is not known here.',
  'profile-type': 'A profile that is claimed or asked for is for another type.',
  'type-profile': 'A value keeps none of the profiles of its type.',
  slicing: 'A value belongs to no slice where it must, to two, or stands out of order.',
  fixed: 'A value is not the fixed one.',
  pattern: 'A value lacks what its pattern has.',
  'min-value': 'A value is below the least.',
  'max-value': 'A value is above the most.',
  aggregation: 'A reference reaches its target in a way that is not allowed.',
  versioning: 'A reference names a version where it may not, or none where it must.',
  'extension-context': 'An extension stands where its definition does not place it.',
  'extension-modifier': 'An extension stands as a modifier and is none, or the other way round.',

  'sides-disagree': 'The code, the body site and its extension say both left and right.',
  'exam-finding': 'A finding of an examination is changed with its examination.',
  'id-of-url': 'The id of the resource is not the one in the URL.',
  'mode-create': 'The resource could not be created.',
  'mode-update': 'The resource could not be updated.',
  'mode-delete': 'The resource could not be deleted.',
  'search-invalid': 'A search parameter is not well formed.',
  'search-value': 'The value of a search parameter is none of its type.',
  'search-not-supported': 'A search parameter or modifier is not offered.',
  'search-too-costly': 'A search asks for more than is answered.',

  'not-json': 'The body is no JSON.',
  invalid: 'The request is not well formed.',
  'not-supported': 'What is asked for is not offered.',
  unauthorized: 'The caller is not known.',
  forbidden: 'The caller may not do this.',
  'not-found': 'There is no such resource.',
  'unknown-type': 'There is no such resource type here.',
  'method-not-allowed': 'The address does not take this method.',
  'not-acceptable': 'None of the formats asked for is offered.',
  conflict: 'The resource was changed since, or is held by another.',
  gone: 'The resource is no more.',
  'precondition-failed': 'The version named is not the present one.',
  'too-large': 'The body is too large.',
  'unsupported-media-type': 'The body is of a format that is not taken.',
  unprocessable: 'The content is understood and cannot be taken.',
  unavailable: 'The service cannot answer at present.',
  'internal-error': 'The service failed; the fault is its own.',
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
