import { describe, expect, test } from 'vitest';
import { readInclude } from '../../src/fhir/search-includes.js';

const include = (name: string, value: string): unknown => {
  const reading = readInclude('Observation', name, value);
  return 'include' in reading ? reading.include : undefined;
};

describe('an include (R4 search, including other resources in result)', () => {
  test('starts at the type that is searched and may name the type at its end', () => {
    const plain = { direction: 'include', source: 'Observation', parameter: 'subject', iterate: false };
    expect(include('_include', 'Observation:subject')).toEqual(plain);
    expect(include('_include', 'Observation:subject:Patient')).toEqual({ ...plain, target: 'Patient' });
    expect(include('_include', 'Patient:organization')).toBeUndefined();
  });

  test('may go on from what was included, under the older word too', () => {
    const onwards = { direction: 'include', source: 'Encounter', parameter: 'location', iterate: true };
    expect(include('_include:iterate', 'Encounter:location')).toEqual(onwards);
    expect(include('_include:recurse', 'Encounter:location')).toEqual(onwards);
    expect(include('_include:once', 'Observation:subject')).toBeUndefined();
  });

  test('takes every reference of a type, or of all', () => {
    expect(include('_include', 'Observation:*')).toMatchObject({ source: 'Observation', parameter: '*' });
    expect(include('_include', '*')).toMatchObject({ source: '*', parameter: '*' });
    expect(include('_include', '*:subject')).toBeUndefined();
  });

  test('backwards leads to the type that is searched (US Core: _revinclude=Provenance:target)', () => {
    expect(include('_revinclude', 'Provenance:target')).toEqual({
      ...{ direction: 'revinclude', source: 'Provenance', parameter: 'target', iterate: false },
    });
    expect(include('_revinclude', 'Encounter:location')).toBeUndefined();
    expect(include('_revinclude:iterate', 'Encounter:location')).toMatchObject({ iterate: true });
    expect(include('_revinclude', 'Provenance:target:Patient')).toBeUndefined();
  });

  test.each([
    ['_include', 'Observation'],
    ['_include', 'Observation:'],
    ['_include', 'Observation:code'],
    ['_include', 'Observation:colour'],
    ['_include', 'Observation:subject:Encounter'],
    ['_include', 'Observation:subject:Patient:x'],
    ['_include', 'Observation:subject:'],
    ['_revinclude', 'Medication:subject'],
    ['_include:iterate:iterate', 'Observation:subject'],
  ])('is refused as %s=%s', (name, value) => {
    expect(readInclude('Observation', name, value)).toHaveProperty('fault');
  });

  test('that names no reference is told which there are', () => {
    expect(readInclude('Encounter', '_include', 'Encounter:colour')).toMatchObject({
      fault: { allowed: expect.arrayContaining(['subject', 'location']) as unknown },
    });
  });
});
