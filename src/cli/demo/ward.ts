import type { Encounter, Identifier, Location, Meta, Patient, Practitioner } from 'fhir/r4.js';

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

/** The 24 patients, in the order of their beds. Ages are those of March 2026; only the year of birth is kept. */
export const demoPatients: readonly DemoPatient[] = [
  {
    key: 'P01',
    family: 'Zzapplequill',
    given: 'Orrin',
    gender: 'female',
    birthYear: 1945,
    reason: 'left hip part-replacement',
    arrived: '2026-02-28T13:10:00-05:00',
    left: '2026-03-10T11:00:00-04:00',
  },
  {
    key: 'P02',
    family: 'Zzbrindlow',
    given: 'Maeve',
    gender: 'male',
    birthYear: 1948,
    reason: 'right hip fixation',
    arrived: '2026-02-27T18:40:00-05:00',
    left: '2026-03-11T10:30:00-04:00',
  },
  {
    key: 'P03',
    family: 'Zzcorvane',
    given: 'Tilda',
    gender: 'female',
    birthYear: 1960,
    reason: 'right knee replacement',
    arrived: '2026-03-01T09:05:00-05:00',
    left: '2026-03-09T14:00:00-04:00',
  },
  {
    key: 'P04',
    family: 'Zzdunmoor',
    given: 'Pascoe',
    gender: 'male',
    birthYear: 1956,
    reason: 'left knee replacement',
    arrived: '2026-03-01T09:50:00-05:00',
    left: '2026-03-12T13:00:00-04:00',
  },
  {
    key: 'P05',
    family: 'Zzembercote',
    given: 'Ilse',
    gender: 'female',
    birthYear: 1952,
    reason: 'long-standing left-side weakness, recovery',
    arrived: '2026-02-20T15:00:00-05:00',
    left: '2026-03-12T11:00:00-04:00',
  },
  {
    key: 'P06',
    family: 'Zzfallowick',
    given: 'Bram',
    gender: 'male',
    birthYear: 1957,
    reason: 'right-side weakness, close neurological watch',
    arrived: '2026-02-28T22:15:00-05:00',
    left: '2026-03-12T15:30:00-04:00',
  },
  {
    key: 'P07',
    family: 'Zzgarnet',
    given: 'Sunniva',
    gender: 'female',
    birthYear: 1968,
    reason: 'flare of known rheumatoid joint disease',
    arrived: '2026-03-01T16:20:00-05:00',
    left: '2026-03-12T10:00:00-04:00',
  },
  {
    key: 'P08',
    family: 'Zzhollinbeck',
    given: 'Arlo',
    gender: 'male',
    birthYear: 1982,
    reason: 'left wrist fracture',
    arrived: '2026-03-02T04:30:00-05:00',
    left: '2026-03-09T12:00:00-04:00',
  },
  {
    key: 'P09',
    family: 'Zzivorling',
    given: 'Petra',
    gender: 'female',
    birthYear: 1975,
    reason: 'right wrist fracture',
    arrived: '2026-03-01T11:45:00-05:00',
    left: '2026-03-10T09:30:00-04:00',
  },
  {
    key: 'P10',
    family: 'Zzjuniper',
    given: 'Wendeline',
    gender: 'female',
    birthYear: 1942,
    reason: 'deconditioning after illness',
    arrived: '2026-02-25T14:00:00-05:00',
    left: '2026-03-12T11:30:00-04:00',
  },
  {
    key: 'P11',
    family: 'Zzkestrel',
    given: 'Osmund',
    gender: 'male',
    birthYear: 1947,
    reason: 'recovery after back surgery',
    arrived: '2026-02-26T12:00:00-05:00',
    left: '2026-03-10T10:00:00-04:00',
  },
  {
    key: 'P12',
    family: 'Zzlarkmead',
    given: 'Ottoline',
    gender: 'female',
    birthYear: 1963,
    reason: 'recovery after neck surgery',
    arrived: '2026-02-27T10:15:00-05:00',
    left: '2026-03-10T15:00:00-04:00',
  },
  {
    key: 'P13',
    family: 'Zzmossgrove',
    given: 'Finn',
    gender: 'male',
    birthYear: 1989,
    reason: 'new weakness of both legs, observation',
    arrived: '2026-03-02T02:20:00-05:00',
    left: '2026-03-04T20:00:00-05:00',
  },
  {
    key: 'P14',
    family: 'Zznettlewood',
    given: 'Hesper',
    gender: 'male',
    birthYear: 1950,
    reason: 'recovery after a fall, old knee contractures',
    arrived: '2026-02-24T17:30:00-05:00',
    left: '2026-03-11T13:30:00-04:00',
  },
  {
    key: 'P15',
    family: 'Zzoxbarrow',
    given: 'Lowri',
    gender: 'male',
    birthYear: 1955,
    reason: 'right below-knee amputation, recovery',
    arrived: '2026-02-23T09:00:00-05:00',
    left: '2026-03-12T09:00:00-04:00',
  },
  {
    key: 'P16',
    family: 'Zzpebblecombe',
    given: 'Ansel',
    gender: 'male',
    birthYear: 1993,
    reason: 'long-standing paraplegia, skin care',
    arrived: '2026-02-25T19:10:00-05:00',
    left: '2026-03-12T14:00:00-04:00',
  },
  {
    key: 'P17',
    family: 'Zzquillfeather',
    given: 'Dorrit',
    gender: 'female',
    birthYear: 1958,
    reason: 'recovery after knee washout',
    arrived: '2026-02-28T10:40:00-05:00',
    left: '2026-03-09T16:00:00-04:00',
  },
  {
    key: 'P18',
    family: 'Zzrushmere',
    given: 'Tobin',
    gender: 'male',
    birthYear: 1965,
    reason: 'recovery after back surgery',
    arrived: '2026-02-28T08:30:00-05:00',
    left: '2026-03-09T11:00:00-04:00',
  },
  {
    key: 'P19',
    family: 'Zzsaltgarth',
    given: 'Briony',
    gender: 'female',
    birthYear: 1954,
    reason: 'low pressure on standing, observation',
    arrived: '2026-03-01T20:00:00-05:00',
    left: '2026-03-09T13:00:00-04:00',
  },
  {
    key: 'P20',
    family: 'Zzthistledown',
    given: 'Cormac',
    gender: 'male',
    birthYear: 1971,
    reason: 'recovery after ankle ligament repair',
    arrived: '2026-03-01T13:25:00-05:00',
    left: '2026-03-09T10:30:00-04:00',
  },
  {
    key: 'P21',
    family: 'Zzumberlow',
    given: 'Greta',
    gender: 'female',
    birthYear: 1946,
    reason: 'vertebral compression fracture, brace',
    arrived: '2026-02-26T21:00:00-05:00',
    left: '2026-03-11T15:00:00-04:00',
  },
  {
    key: 'P22',
    family: 'Zzvellacott',
    given: 'Jory',
    gender: 'male',
    birthYear: 1959,
    reason: 'bleed into the right knee on a blood thinner',
    arrived: '2026-03-01T07:30:00-05:00',
    left: '2026-03-11T11:00:00-04:00',
  },
  {
    key: 'P23',
    family: 'Zzwinterbourne',
    given: 'Elowen',
    gender: 'female',
    birthYear: 1967,
    reason: 'right shoulder replacement',
    arrived: '2026-03-01T10:30:00-05:00',
    left: '2026-03-10T12:30:00-04:00',
  },
  {
    key: 'P24',
    family: 'Zzyarrowby',
    given: 'Nils',
    gender: 'male',
    birthYear: 1978,
    reason: 'transfer for observation, stable',
    arrived: '2026-03-04T21:10:00-05:00',
    left: '2026-03-09T09:30:00-04:00',
  },
];

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
