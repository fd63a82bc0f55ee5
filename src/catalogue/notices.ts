/** A notice that a code system asks those who use it to show. */
export interface LicenceNotice {
  readonly of: 'LOINC' | 'SNOMED CT' | 'UCUM';
  readonly text: string;
}

/** Shown wherever the codes are, and in the CapabilityStatement's copyright. */
export const licenceNotices: readonly LicenceNotice[] = [
  {
    of: 'LOINC',
    text: 'This material contains content from LOINC (http://loinc.org). LOINC is copyright (c) Regenstrief Institute, Inc. and the Logical Observation Identifiers Names and Codes (LOINC) Committee and is available at no cost under the license at http://loinc.org/license. LOINC(R) is a registered United States trademark of Regenstrief Institute, Inc.',
  },
  {
    of: 'SNOMED CT',
    text: 'This material includes content from SNOMED CT, which is copyright (c) 2002+ International Health Terminology Standards Development Organisation (IHTSDO). Use of SNOMED CT in a system is subject to the terms of SNOMED International in the country of use.',
  },
  {
    of: 'UCUM',
    text: 'This material contains content from UCUM (https://ucum.org). UCUM is copyright (c) Regenstrief Institute, Inc. and The UCUM Organization and is available at no cost under its terms of use.',
  },
];
