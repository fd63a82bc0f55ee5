import { describe, expect, it } from 'vitest';
import {
  CANONICAL,
  observables,
  publishedCodeSystems,
  strengthGrades,
  SYSTEMS,
} from '../../src/catalogue/index.js';

const systems = publishedCodeSystems();

describe('the published code systems', () => {
  it('are one for each of our own URLs', () => {
    const own = Object.values(SYSTEMS).filter((url) => url.startsWith(CANONICAL));
    expect(systems.map(({ url }) => url).sort()).toEqual(own.sort());
  });

  it('hold each code once, written as FHIR R4 writes a code', () => {
    for (const { id, concept = [] } of systems) {
      const codes = concept.map(({ code }) => code);
      expect(new Set(codes).size, id).toBe(codes.length);
      // R4 datatypes, code: no white space at either end, single spaces inside.
      expect(codes.filter((code) => !/^[^\s]+( [^\s]+)*$/.test(code))).toEqual([]);
    }
  });

  it('hold every code that an Observation can carry', () => {
    const codesOf = (url: string): readonly string[] =>
      systems.find((system) => system.url === url)?.concept?.map(({ code }) => code) ?? [];
    expect(codesOf(SYSTEMS.observable)).toEqual(observables.map(({ code }) => code));
    expect(codesOf(SYSTEMS.strengthGrade)).toEqual(strengthGrades.map(({ grade }) => grade));
    expect(codesOf(SYSTEMS.word)).toEqual(
      expect.arrayContaining(['none', 'foot-drop', 'knee.flexion', 'mid-patella', 'hip-posterior', 'steady']),
    );
  });

  it('give each strength grade its ordinal value by the extension of HL7', () => {
    const grades = systems.find(({ url }) => url === SYSTEMS.strengthGrade)?.concept ?? [];
    const four = grades.find(({ code }) => code === '4');
    expect(four?.extension).toEqual([
      { url: 'http://hl7.org/fhir/StructureDefinition/ordinalValue', valueDecimal: 4 },
    ]);
  });
});
