import type { Encounter, Identifier, Location, Meta, Patient, Practitioner } from 'fhir/r4.js';
import { demoShifts } from './shifts.js';

/** Identifier systems of the demo ward; `example.org` is reserved for examples (RFC 2606). */
export const DEMO_SYSTEMS = {
  patient: 'http://example.org/demo/mrn',
  staff: 'http://example.org/demo/staff',
  place: 'http://example.org/demo/place',
  stay: 'http://example.org/demo/stay',
} as const;

/** Id of the ward's Location, and what exam documents call it. */
export const DEMO_WARD = '6E';

/** A patient of the demo ward. Everything here is invented; family names begin with "Zz" so that none can be real. */
export interface DemoPatient {
  /** `P01` to `P24`; the bed has the same number. */
  readonly key: string;
  readonly family: string;
  readonly given: string;
  readonly gender: 'female' | 'male';
  readonly birthYear: number;
  /** Why the patient is on the ward, as the admission says it. */
  readonly reason: string;
  readonly arrived: string;
  readonly left: string;
}

type PatientRow = readonly [
  key: string,
  family: string,
  given: string,
  gender: 'female' | 'male',
  birthYear: number,
  reason: string,
  arrived: string,
  left: string,
];

/** Ages are those of March 2026; only the year of birth is kept. */
const PATIENT_ROWS: readonly PatientRow[] = [
  ['P01', 'Zzapplequill', 'Orrin', 'female', 1945, 'left hip part-replacement', '2026-02-28T13:10:00-05:00', '2026-03-10T11:00:00-04:00'],
  ['P02', 'Zzbrindlow', 'Maeve', 'male', 1948, 'right hip fixation', '2026-02-27T18:40:00-05:00', '2026-03-11T10:30:00-04:00'],
  ['P03', 'Zzcorvane', 'Tilda', 'female', 1960, 'right knee replacement', '2026-03-01T09:05:00-05:00', '2026-03-09T14:00:00-04:00'],
  ['P04', 'Zzdunmoor', 'Pascoe', 'male', 1956, 'left knee replacement', '2026-03-01T09:50:00-05:00', '2026-03-12T13:00:00-04:00'],
  ['P05', 'Zzembercote', 'Ilse', 'female', 1952, 'long-standing left-side weakness, recovery', '2026-02-20T15:00:00-05:00', '2026-03-12T11:00:00-04:00'],
  ['P06', 'Zzfallowick', 'Bram', 'male', 1957, 'right-side weakness, close neurological watch', '2026-02-28T22:15:00-05:00', '2026-03-12T15:30:00-04:00'],
  ['P07', 'Zzgarnet', 'Sunniva', 'female', 1968, 'flare of known rheumatoid joint disease', '2026-03-01T16:20:00-05:00', '2026-03-12T10:00:00-04:00'],
  ['P08', 'Zzhollinbeck', 'Arlo', 'male', 1982, 'left wrist fracture', '2026-03-02T04:30:00-05:00', '2026-03-09T12:00:00-04:00'],
  ['P09', 'Zzivorling', 'Petra', 'female', 1975, 'right wrist fracture', '2026-03-01T11:45:00-05:00', '2026-03-10T09:30:00-04:00'],
  ['P10', 'Zzjuniper', 'Wendeline', 'female', 1942, 'deconditioning after illness', '2026-02-25T14:00:00-05:00', '2026-03-12T11:30:00-04:00'],
  ['P11', 'Zzkestrel', 'Osmund', 'male', 1947, 'recovery after back surgery', '2026-02-26T12:00:00-05:00', '2026-03-10T10:00:00-04:00'],
  ['P12', 'Zzlarkmead', 'Ottoline', 'female', 1963, 'recovery after neck surgery', '2026-02-27T10:15:00-05:00', '2026-03-10T15:00:00-04:00'],
  ['P13', 'Zzmossgrove', 'Finn', 'male', 1989, 'new weakness of both legs, observation', '2026-03-02T02:20:00-05:00', '2026-03-04T20:00:00-05:00'],
  ['P14', 'Zznettlewood', 'Hesper', 'male', 1950, 'recovery after a fall, old knee contractures', '2026-02-24T17:30:00-05:00', '2026-03-11T13:30:00-04:00'],
  ['P15', 'Zzoxbarrow', 'Lowri', 'male', 1955, 'right below-knee amputation, recovery', '2026-02-23T09:00:00-05:00', '2026-03-12T09:00:00-04:00'],
  ['P16', 'Zzpebblecombe', 'Ansel', 'male', 1993, 'long-standing paraplegia, skin care', '2026-02-25T19:10:00-05:00', '2026-03-12T14:00:00-04:00'],
  ['P17', 'Zzquillfeather', 'Dorrit', 'female', 1958, 'recovery after knee washout', '2026-02-28T10:40:00-05:00', '2026-03-09T16:00:00-04:00'],
  ['P18', 'Zzrushmere', 'Tobin', 'male', 1965, 'recovery after back surgery', '2026-02-28T08:30:00-05:00', '2026-03-09T11:00:00-04:00'],
  ['P19', 'Zzsaltgarth', 'Briony', 'female', 1954, 'low pressure on standing, observation', '2026-03-01T20:00:00-05:00', '2026-03-09T13:00:00-04:00'],
  ['P20', 'Zzthistledown', 'Cormac', 'male', 1971, 'recovery after ankle ligament repair', '2026-03-01T13:25:00-05:00', '2026-03-09T10:30:00-04:00'],
  ['P21', 'Zzumberlow', 'Greta', 'female', 1946, 'vertebral compression fracture, brace', '2026-02-26T21:00:00-05:00', '2026-03-11T15:00:00-04:00'],
  ['P22', 'Zzvellacott', 'Jory', 'male', 1959, 'bleed into the right knee on a blood thinner', '2026-03-01T07:30:00-05:00', '2026-03-11T11:00:00-04:00'],
  ['P23', 'Zzwinterbourne', 'Elowen', 'female', 1967, 'right shoulder replacement', '2026-03-01T10:30:00-05:00', '2026-03-10T12:30:00-04:00'],
  ['P24', 'Zzyarrowby', 'Nils', 'male', 1978, 'transfer for observation, stable', '2026-03-04T21:10:00-05:00', '2026-03-09T09:30:00-04:00'],
]; // prettier-ignore

/** The 24 patients, in the order of their beds. */
export const demoPatients: readonly DemoPatient[] = PATIENT_ROWS.map(
  ([key, family, given, gender, birthYear, reason, arrived, left]) => ({
    key,
    family,
    given,
    gender,
    birthYear,
    reason,
    arrived,
    left,
  }),
);

/** The patient of a key, `P01` to `P24`. */
export function demoPatient(key: string): DemoPatient {
  const patient = demoPatients.find((row) => row.key === key);
  if (patient === undefined) throw new RangeError(`no demo patient ${key}`);
  return patient;
}

/** What the ward's own numbers call a patient, e.g. `DEMO-6E-P04`. */
export function demoIdentifier(key: string): { readonly system: string; readonly value: string } {
  return { system: DEMO_SYSTEMS.patient, value: `DEMO-${DEMO_WARD}-${key}` };
}

/** Milliseconds that a patient must be on the ward in a shift to count in it: 4 h (common practice). */
const LEAST_STAY_MS = 4 * 3_600_000;

/** The patients who count in a shift: on the ward for at least 4 h of it. */
export function eligiblePatients(start: string, end: string): readonly DemoPatient[] {
  return demoPatients.filter((patient) => {
    const from = Math.max(Date.parse(patient.arrived), Date.parse(start));
    const to = Math.min(Date.parse(patient.left), Date.parse(end));
    return to - from >= LEAST_STAY_MS;
  });
}

/** FHIR's security label for data that stand for no real person (HL7 v3-ActReason, HTEST). */
const TEST_DATA: Meta = {
  security: [
    {
      system: 'http://terminology.hl7.org/CodeSystem/v3-ActReason',
      code: 'HTEST',
      display: 'test health data',
    },
  ],
};

/** A resource of the ward, to be put under its own id. */
export type WardResource = (Patient | Encounter | Location | Practitioner) & { readonly id: string };

/** What the ward is made of before any exam: places, staff, and each patient with the present stay. */
export function wardResources(): readonly WardResource[] {
  return [...places(), ...staff(), ...demoPatients.flatMap((row) => [toPatient(row), toStay(row)])];
}

const BED_COUNT = 28;

function places(): readonly WardResource[] {
  const hospital = place('saltmarsh', 'Saltmarsh Example Hospital', 'si', 'Site');
  const ward = place(DEMO_WARD, 'Unit 6E, orthopaedic and neuro recovery', 'wa', 'Ward', hospital.id);
  const beds = Array.from({ length: BED_COUNT }, (_, index) => bedId(index + 1)).map((id) =>
    place(id, `Bed ${id}`, 'bd', 'Bed', DEMO_WARD),
  );
  return [hospital, ward, ...beds];
}

function bedId(number: number): string {
  return `${DEMO_WARD}-${String(number).padStart(2, '0')}`;
}

function place(
  id: string,
  name: string,
  code: string,
  display: string,
  partOf?: string,
): Location & { readonly id: string } {
  return {
    resourceType: 'Location',
    id,
    meta: TEST_DATA,
    identifier: [{ system: DEMO_SYSTEMS.place, value: id }],
    status: 'active',
    name,
    mode: 'instance',
    physicalType: {
      coding: [{ system: 'http://terminology.hl7.org/CodeSystem/location-physical-type', code, display }],
    },
    ...(partOf !== undefined && { partOf: { reference: `Location/${partOf}` } }),
  };
}

/** Invented names of the staff, by role. */
const STAFF_ROWS = {
  RN: [
    ['Zzamberley', 'Idony'],
    ['Zzbarnaby', 'Corin'],
    ['Zzcastellane', 'Merle'],
    ['Zzdovecote', 'Hal'],
    ['Zzeastry', 'Linnet'],
    ['Zzfenwater', 'Piers'],
    ['Zzgorsehill', 'Tamsin'],
    ['Zzharrowmere', 'Jude'],
    ['Zzinglebrook', 'Wren'],
    ['Zzjessamy', 'Aldous'],
    ['Zzkelder', 'Rowena'],
    ['Zzlongacre', 'Silas'],
  ],
  PT: [
    ['Zzmarchbanks', 'Odile'],
    ['Zznorthway', 'Ewan'],
    ['Zzorchardson', 'Bryn'],
  ],
  MD: [
    ['Zzpenhallow', 'Isolde'],
    ['Zzquarrie', 'Lucan'],
    ['Zzravensholt', 'Amity'],
    ['Zzsedgemoor', 'Caspar'],
  ],
} as const;

const ROLE_NAMES: Readonly<Record<keyof typeof STAFF_ROWS, string>> = {
  RN: 'Registered nurse',
  PT: 'Physiotherapist',
  MD: 'Physician',
};

function staff(): readonly WardResource[] {
  return (['RN', 'PT', 'MD'] as const).flatMap((role) =>
    STAFF_ROWS[role].map(([family, given], index) => {
      const number = `DEMO-${role}-${String(index + 1).padStart(2, '0')}`;
      return {
        resourceType: 'Practitioner' as const,
        id: number.toLowerCase(),
        meta: TEST_DATA,
        identifier: [{ system: DEMO_SYSTEMS.staff, value: number }],
        active: true,
        name: [{ use: 'official' as const, family, given: [given] }],
        qualification: [{ code: { text: ROLE_NAMES[role] } }],
      };
    }),
  );
}

/** Id of a patient's resource, e.g. `demo-6e-p04`. */
export function demoPatientId(key: string): string {
  return `demo-6e-${key.toLowerCase()}`;
}

function toPatient(row: DemoPatient): Patient & { readonly id: string } {
  const identifier: Identifier = { use: 'usual', ...demoIdentifier(row.key) };
  return {
    resourceType: 'Patient',
    id: demoPatientId(row.key),
    meta: TEST_DATA,
    identifier: [identifier],
    active: true,
    name: [{ use: 'official', family: row.family, given: [row.given] }],
    gender: row.gender,
    birthDate: String(row.birthYear),
  };
}

function toStay(row: DemoPatient): Encounter & { readonly id: string } {
  const id = `${demoPatientId(row.key)}-stay`;
  const period = { start: row.arrived, end: row.left };
  const bed = bedId(Number(row.key.slice(1)));
  return {
    resourceType: 'Encounter',
    id,
    meta: TEST_DATA,
    identifier: [{ system: DEMO_SYSTEMS.stay, value: id }],
    status: 'finished',
    class: {
      system: 'http://terminology.hl7.org/CodeSystem/v3-ActCode',
      code: 'IMP',
      display: 'inpatient encounter',
    },
    subject: { reference: `Patient/${demoPatientId(row.key)}`, display: `${row.given} ${row.family}` },
    period,
    reasonCode: [{ text: row.reason }],
    location: [DEMO_WARD, bed].map((place) => ({
      location: { reference: `Location/${place}` },
      status: 'completed' as const,
      period,
    })),
  };
}

/** The staff numbers of the demo ward, e.g. `DEMO-RN-01`. */
export const demoNurses: readonly string[] = [...new Set(demoShifts.flatMap((shift) => shift.nurses))].sort();
