/** The base of the URL of everything this project defines: code systems, profiles, search parameters. */
export const CANONICAL = 'https://limbledger.example/fhir';

/** Code systems of this project. */
export const SYSTEMS = {
  observable: `${CANONICAL}/CodeSystem/msk-observable`,
  strengthGrade: `${CANONICAL}/CodeSystem/msk-strength-grade`,
  notDoneReason: `${CANONICAL}/CodeSystem/msk-not-done-reason`,
  joint: `${CANONICAL}/CodeSystem/msk-joint`,
  method: `${CANONICAL}/CodeSystem/msk-method`,
  finding: `${CANONICAL}/CodeSystem/msk-finding`,
  /** Precautions and things worn on the body. */
  precaution: `${CANONICAL}/CodeSystem/msk-precaution`,
  device: `${CANONICAL}/CodeSystem/msk-device`,
  examType: `${CANONICAL}/CodeSystem/msk-exam-type`,

  snomed: 'http://snomed.info/sct',
  loinc: 'http://loinc.org',
  ucum: 'http://unitsofmeasure.org',
  observationCategory: 'http://terminology.hl7.org/CodeSystem/observation-category',
  dataAbsentReason: 'http://terminology.hl7.org/CodeSystem/data-absent-reason',
  interpretation: 'http://terminology.hl7.org/CodeSystem/v3-ObservationInterpretation',
} as const;
