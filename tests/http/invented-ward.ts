import type { Encounter, Location, Patient, Practitioner } from 'fhir/r4.js';

/** Systems of identifiers in these tests; `example.org` is reserved for examples (RFC 2606). */
const SYSTEMS = { patient: 'http://example.org/tests/mrn', staff: 'http://example.org/tests/staff' } as const;

/** The invented patient of these tests, as the bedside names her. */
export const PATIENT = {
  id: 'zzmarlow',
  identifier: { system: SYSTEMS.patient, value: 'TEST-7A-P01' },
  readBack: { name: 'Zzmarlow', birthDate: '1951-06-30' },
} as const;

/** The invented nurse. */
export const NURSE = { identifier: { system: SYSTEMS.staff, value: 'TEST-RN-01' }, role: 'RN' } as const;

/** When the invented stay began; it has not ended. */
export const ARRIVED = '2024-02-26T12:00:00Z';

export const WARD = '7A';

type WardResource = (Encounter | Location | Patient | Practitioner) & { readonly id: string };

/** What must be on record before an exam can be taken in, in an order in which it can be written. */
export const inventedWard: readonly WardResource[] = [
  { resourceType: 'Location', id: WARD, status: 'active', name: 'Ward 7A' },
  {
    resourceType: 'Practitioner',
    id: 'test-rn-01',
    identifier: [{ ...NURSE.identifier }],
    name: [{ family: 'Zzthrale', given: ['Wilmot'] }],
  },
  {
    resourceType: 'Patient',
    id: PATIENT.id,
    identifier: [{ ...PATIENT.identifier }],
    name: [{ family: PATIENT.readBack.name, given: ['Isolde'] }],
    birthDate: PATIENT.readBack.birthDate,
  },
  {
    resourceType: 'Encounter',
    id: 'stay-of-zzmarlow',
    status: 'in-progress',
    class: { system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode', code: 'IMP' },
    subject: { reference: `Patient/${PATIENT.id}` },
    period: { start: ARRIVED },
  },
];

/** An exam document of the invented patient, done at an instant, that nothing is held against. */
export function examOf(
  clientId: string,
  performedAt: string,
  parts: Readonly<Record<string, unknown>> = {},
): Readonly<Record<string, unknown>> {
  const { identifier, readBack } = PATIENT;
  return {
    clientId,
    type: 'focused',
    patient: { identifier, readBack },
    ward: WARD,
    examiner: NURSE,
    performedAt,
    asExpected: [{ joints: ['shoulder'], sides: 'both', aspects: ['look', 'feel', 'range', 'strength'] }],
    findings: [
      { joint: 'knee', side: 'left', look: { swelling: 'moderate' }, feel: { warmth: 'warmer' } },
      { joint: 'knee', side: 'left', movement: 'flexion', degrees: 95, method: 'goniometer-long-arm' },
      {
        ...{ measure: 'grip', side: 'right', trials: [20.5, 21, 20.5], unit: 'kg' },
        ...{ rule: 'mean-of-3', device: 'hydraulic' },
      },
    ],
    notAssessed: [
      { joints: ['hip'], sides: 'both', aspects: ['range'], reason: 'privacy', note: 'offered at 14:00' },
    ],
    ...parts,
  };
}
