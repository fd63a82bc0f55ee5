import { readdirSync } from 'node:fs';
import type { StructureDefinition } from 'fhir/r4.js';
import { describe, expect, test } from 'vitest';
import {
  CANONICAL,
  DETAIL_NOTE_URL,
  DETAIL_SIDE_URL,
  LATERALITY_URL,
  SYSTEMS,
} from '../../src/catalogue/index.js';
import { RECORDER_URL, ROLE_URL } from '../../src/exam/to-observations.js';
import { ownConformance } from '../conformance.js';

const { definitions } = ownConformance();

describe('the published definitions', () => {
  test('lie in files named by type and id, each id and URL once', () => {
    const files = readdirSync(new URL('../../fhir-profiles/', import.meta.url));
    const json = files.filter((name) => name.endsWith('.json')).sort();
    expect(definitions.map(({ type, id }) => `${type}-${id}.json`)).toEqual(json);
    expect(new Set(definitions.map(({ url }) => url)).size).toBe(definitions.length);
  });

  test('have the URL that their type and id make, on our base or HL7’s', () => {
    for (const { type, id, url } of definitions) {
      expect([`${CANONICAL}/${type}/${id}`, `http://hl7.org/fhir/${type}/${id}`]).toContain(url);
    }
  });

  test('hold each extension and each code system that an exam is written with', () => {
    const own = Object.values(SYSTEMS).filter((system) => system.startsWith(CANONICAL));
    const needed = [...own, DETAIL_NOTE_URL, DETAIL_SIDE_URL, RECORDER_URL, ROLE_URL, LATERALITY_URL];
    expect(definitions.map(({ url }) => url)).toEqual(expect.arrayContaining(needed));
  });

  test('name in each extension its own URL and the type of its value (R4, defining extensions)', () => {
    for (const { body, url, type } of definitions) {
      if (type !== 'StructureDefinition') continue;
      const { differential, type: constrained } = JSON.parse(body.toString()) as StructureDefinition;
      if (constrained !== 'Extension') continue;
      const element = (path: string) => differential?.element.find((one) => one.path === path);
      expect(element('Extension.url')?.fixedUri).toBe(url);
      expect(element('Extension.value[x]')?.type).toHaveLength(1);
    }
  });
});
