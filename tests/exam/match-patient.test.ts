import fc from 'fast-check';
import type { Patient } from 'fhir/r4.js';
import { describe, expect, it } from 'vitest';

import { matchPatient } from '../../src/exam/match-patient.js';
import type { ReadBack } from '../../src/exam/exam.js';

// Invented patients. That two identifiers are asked for, and the bed is none: Joint Commission NPSG.01.01.01. How a
// name and a date agree is common practice.
const PASCOE: Patient = {
  resourceType: 'Patient',
  name: [
    { use: 'official', family: 'Zzdunmoor', given: ['Pascoe', 'Eli'] },
    { use: 'nickname', text: 'Pash' },
  ],
  birthDate: '1956',
};

function codes(patient: Patient, readBack: ReadBack): readonly string[] {
  return matchPatient(patient, readBack).map(({ severity, code, place }) => `${severity} ${code} ${place}`);
}

const named = (family: string, ...given: readonly string[]): Patient => ({
  resourceType: 'Patient',
  name: [{ family, given: [...given] }],
});

const NAME_DIFFERS = ['error patient-mismatch /patient/readBack/name'];

describe('the patient read back', () => {
  it.each<ReadBack>([
    { name: 'Zzdunmoor' },
    { name: 'Pascoe Zzdunmoor' },
    { name: 'ZZDUNMOOR, pascoe' },
    { name: 'Mr Zzdunmoor' },
    { name: 'Pash Zzdunmoor' },
    { birthDate: '1956' },
    { birthDate: '1956-11-02' },
    { name: 'Eli Zzdunmoor', birthDate: '1956-11' },
  ])('agrees with the record and nothing is said: %o', (readBack) => {
    expect(matchPatient(PASCOE, readBack)).toEqual([]);
  });

  it.each([
    [named("Zzo'Brien"), 'Zzo’Brien'],
    [named("Zzo'Brien"), 'ZzoBrien'],
    [named("Zzo'Brien"), 'Zzo Brien'],
    [named('Zzlund', 'Anne-Marie'), 'Annemarie Zzlund'],
    [named('Zzlund', 'Annemarie'), 'Anne-Marie Zzlund'],
    [named('Zzmüller', 'Zoë'), 'zoe zzmuller'],
    [named('Zzsørensen'), 'Zzsorensen'],
    [named('Zzstraße'), 'ZZSTRASSE'],
    [named('Zzgarcía Zzlópez', 'María'), 'Maria Zzlopez'],
  ])('is folded for case, accents and marks: %j as %s', (patient, name) => {
    expect(matchPatient(patient, { name })).toEqual([]);
  });

  it.each(['Pascoe', 'Zzdunmore', 'Zzdunmoor Maeve', 'dunmoor', 'Zz'])(
    'by another name, or without the family name, is refused: %s',
    (name) => {
      expect(codes(PASCOE, { name })).toEqual(NAME_DIFFERS);
    },
  );

  it('must give two words, or the only one, where the record tells no family name apart', () => {
    const patient: Patient = { resourceType: 'Patient', name: [{ text: 'Pascoe Zzdunmoor' }] };
    expect(codes(patient, { name: 'Zzdunmoor Pascoe' })).toEqual([]);
    expect(codes(patient, { name: 'Pascoe' })).toEqual(NAME_DIFFERS);
    expect(codes({ resourceType: 'Patient', name: [{ text: 'Pascoe' }] }, { name: 'Pascoe' })).toEqual([]);
  });

  it('must agree in each thing given: a right name does not carry a wrong birth date', () => {
    expect(codes(PASCOE, { name: 'Zzdunmoor', birthDate: '1957' })).toEqual([
      'error patient-mismatch /patient/readBack/birthDate',
    ]);
    expect(codes(PASCOE, { name: 'Zzgarnet', birthDate: '1957' })).toHaveLength(2);
  });

  it('must give a birth date as exact as the record has it', () => {
    const patient: Patient = { ...PASCOE, birthDate: '1956-11-02' };
    expect(codes(patient, { birthDate: '1956-11-02' })).toEqual([]);
    expect(codes(patient, { birthDate: '1956-11' })).toContain(
      'error patient-mismatch /patient/readBack/birthDate',
    );
    expect(codes(patient, { birthDate: '1956' })).toContain(
      'error patient-mismatch /patient/readBack/birthDate',
    );
  });

  it('may give a less exact birth date beside the name, which alone is then the second identifier', () => {
    const patient: Patient = { ...PASCOE, birthDate: '1956-11-02' };
    expect(codes(patient, { name: 'Zzdunmoor', birthDate: '1956' })).toEqual([
      'advise patient-not-comparable /patient/readBack/birthDate',
    ]);
    expect(codes(patient, { name: 'Zzgarnet', birthDate: '1956' })).toContain(
      'error patient-mismatch /patient/readBack/birthDate',
    );
  });

  it.each<ReadBack>([{}, { name: '' }, { name: ' - ' }])(
    'must be there beside the identifier: %o',
    (readBack) => {
      expect(codes(PASCOE, readBack)).toEqual(['error ID-01 /patient/readBack']);
    },
  );

  it('confirms nothing where the record has no such thing, and another identifier is then needed', () => {
    const nameless: Patient = { resourceType: 'Patient', birthDate: '1956' };
    expect(codes(nameless, { name: 'Zzdunmoor' })).toEqual([
      'error ID-01 /patient/readBack',
      'advise patient-not-comparable /patient/readBack/name',
    ]);
    expect(codes(nameless, { name: 'Zzdunmoor', birthDate: '1956' })).toEqual([
      'advise patient-not-comparable /patient/readBack/name',
    ]);
  });

  it('is remarked on when the record says dead, inactive or replaced', () => {
    const readBack = { name: 'Zzdunmoor' };
    const at = '/patient/identifier';
    expect(codes({ ...PASCOE, deceasedBoolean: true }, readBack)).toEqual([`advise patient-deceased ${at}`]);
    expect(codes({ ...PASCOE, deceasedDateTime: '2026' }, readBack)).toEqual([
      `advise patient-deceased ${at}`,
    ]);
    expect(codes({ ...PASCOE, active: false }, readBack)).toEqual([`advise patient-inactive ${at}`]);
    const other = { reference: 'Patient/2' };
    expect(codes({ ...PASCOE, link: [{ type: 'replaced-by', other }] }, readBack)).toEqual([
      `advise patient-replaced ${at}`,
    ]);
    expect(codes({ ...PASCOE, deceasedBoolean: false, active: true }, readBack)).toEqual([]);
  });
});

describe('an answer about the patient', () => {
  const word = fc.stringMatching(/^[a-z]{3,9}$/);

  it('never tells the record’s own name or birth date', () => {
    fc.assert(
      fc.property(word, word, fc.integer({ min: 1900, max: 2025 }), (family, said, year) => {
        const patient: Patient = {
          resourceType: 'Patient',
          name: [{ family: `Qq${family}` }],
          birthDate: String(year),
        };
        const issues = matchPatient(patient, { name: said, birthDate: '1899' });
        expect(issues).not.toEqual([]);
        expect(JSON.stringify(issues).toLowerCase()).not.toContain(`qq${family}`);
        expect(JSON.stringify(issues)).not.toContain(String(year));
      }),
    );
  });

  it('never depends on the order of the words said or of the names on record', () => {
    const names = fc.array(fc.record({ family: word, given: fc.array(word) }), {
      minLength: 1,
      maxLength: 3,
    });
    fc.assert(
      fc.property(names, fc.array(word, { minLength: 1, maxLength: 4 }), (name, said) => {
        const words = [...said, ...name.flatMap(({ family }) => [family])];
        const ahead = matchPatient({ resourceType: 'Patient', name }, { name: words.join(' ') });
        const back = matchPatient(
          { resourceType: 'Patient', name: [...name].reverse() },
          { name: [...words].reverse().join(' ') },
        );
        expect(back.map(({ code }) => code)).toEqual(ahead.map(({ code }) => code));
      }),
    );
  });
});
