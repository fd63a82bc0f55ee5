import { describe, expect, test } from 'vitest';
import { readReference, type ReferenceForm } from '../../src/fhir/index.js';

// R4 references, "Literal References", with the pattern of a RESTful URL.
describe('the text of a reference', () => {
  test.each<[string, ReferenceForm]>([
    ['Patient/1', { kind: 'local', type: 'Patient', id: '1' }],
    ['Patient/a-1.b/_history/3', { kind: 'local', type: 'Patient', id: 'a-1.b', version: '3' }],
    [
      'https://a.example/fhir/Patient/1',
      { kind: 'absolute', base: 'https://a.example/fhir/', type: 'Patient', id: '1' },
    ],
    [
      'http://a.example:8080/x/y/Patient/1/_history/2',
      { kind: 'absolute', base: 'http://a.example:8080/x/y/', type: 'Patient', id: '1', version: '2' },
    ],
    ['#p', { kind: 'contained', id: 'p' }],
    ['#', { kind: 'contained', id: '' }],
    ['Patient?identifier=a|1', { kind: 'conditional', type: 'Patient', query: 'identifier=a|1' }],
    [
      'urn:uuid:c757873d-ec9a-4326-a141-556f43239520',
      { kind: 'opaque', url: 'urn:uuid:c757873d-ec9a-4326-a141-556f43239520' },
    ],
    ['https://a.example/elsewhere', { kind: 'opaque', url: 'https://a.example/elsewhere' }],
  ])('%s', (text, form) => {
    expect(readReference(text)).toEqual(form);
  });

  test.each([
    '',
    'Patient',
    'Patient/',
    'patient/1',
    'Patient/a b',
    '/Patient/1',
    'Patient/1/_history',
    '# p',
    'a b',
  ])('%j is none', (text) => {
    expect(readReference(text)).toBeUndefined();
  });

  test('a very long text is answered at once', () => {
    const started = performance.now();
    readReference(`http://${'a/'.repeat(200_000)}`);
    readReference(`Patient/${'a'.repeat(200_000)}`);
    expect(performance.now() - started).toBeLessThan(1000);
  });
});
