/** The base of the URL of everything this project defines: code systems, profiles, search parameters. */
export const CANONICAL = 'https://limbledger.example/fhir';

/** Version of all those definitions, which are published together: year, change of meaning, correction. */
export const DEFINITIONS_VERSION = '2026.1.0';

/** The code systems in use: first those of this project, then the standard ones. */
export const SYSTEMS = {
  observable: `${CANONICAL}/CodeSystem/msk-observable`,
  strengthGrade: `${CANONICAL}/CodeSystem/msk-strength-grade`,
  notDoneReason: `${CANONICAL}/CodeSystem/msk-not-done-reason`,
  joint: `${CANONICAL}/CodeSystem/msk-joint`,
  method: `${CANONICAL}/CodeSystem/msk-method`,
  /** Words that findings are told in: none, mild, warmer, foot-drop ... */
  word: `${CANONICAL}/CodeSystem/msk-word`,
  /** What the components of an Observation say. */
  detail: `${CANONICAL}/CodeSystem/msk-detail`,
  snomed: 'http://snomed.info/sct',
  loinc: 'http://loinc.org',
  ucum: 'http://unitsofmeasure.org',
  observationCategory: 'http://terminology.hl7.org/CodeSystem/observation-category',
  dataAbsentReason: 'http://terminology.hl7.org/CodeSystem/data-absent-reason',
  interpretation: 'http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation',
} as const;
