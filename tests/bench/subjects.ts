import { readFileSync } from 'node:fs';
import type { Observation, Patient } from 'fhir/r4.js';

const readJson = (file: string): unknown => JSON.parse(readFileSync(new URL(file, import.meta.url), 'utf8'));

/** A grip of the right hand as the service writes it: value, site with side, trials, device; it claims its profile. */
const claimedGrip = readJson('../../fhir-profiles/examples/Observation-example-grip.json') as Observation;
const grip: Observation = { ...claimedGrip };
delete grip.meta;

/** Value, site with side, and the trials alone. */
const trials = grip.component?.filter(({ code }) => code.text === 'Trial');

// HL7 FHIR R4 4.0.1, published examples (package hl7.fhir.r4.examples, CC0-1.0), as they are.
const bloodPressure = readJson('Observation-blood-pressure.json') as Observation;
const patient = readJson('Patient-example.json') as Patient;

const uuidOf = (index: number): string =>
  `urn:uuid:c757873d-ec9a-4326-a141-${index.toString(16).padStart(12, '0')}`;

const bundle = {
  resourceType: 'Bundle',
  type: 'collection',
  entry: Array.from({ length: 100 }, (_each, index) => ({
    fullUrl: uuidOf(index),
    resource: { ...claimedGrip, id: `grip-${String(index)}` },
  })),
};

/** What is validated, over and over; each is valid. */
export const subjects: readonly (readonly [name: string, resource: object])[] = [
  ['grip of three trials, base R4', { ...grip, component: trials }],
  ['grip as we write it, base R4', grip],
  ['grip as we write it, claims its profile', claimedGrip],
  ['blood pressure (published)', bloodPressure],
  ['Patient (published)', patient],
  ['Bundle of 100 grip Observations', bundle],
];

const [anyComponent] = bloodPressure.component ?? [];

/** Resources with one fault each, and the rule of HL7 FHIR R4 4.0.1 that it breaks. */
export const faults: readonly (readonly [rule: string, resource: object])[] = [
  ['an element that R4 does not have', { ...grip, bodySide: 'right' }],
  ['cardinality: no code', { ...grip, code: undefined }],
  ['cardinality: an array for one subject', { ...grip, subject: [grip.subject] }],
  ['cardinality: one category, no array', { ...grip, category: grip.category?.[0] }],
  ['JSON: an empty array', { ...grip, note: [] }],
  ['JSON: null', { ...grip, subject: null }],
  ['primitive: a date that is none', { ...patient, birthDate: '2024-02-30' }],
  ['primitive: a number as text', { ...grip, valueQuantity: { ...grip.valueQuantity, value: '22.5' } }],
  ['primitive: an id with an underscore', { ...grip, id: 'grip_1' }],
  ['primitive: an instant without a zone', { ...grip, issued: '2026-03-05T08:25:00' }],
  ['choice: two values', { ...grip, valueString: 'strong' }],
  ['choice: a type that value[x] has not', { ...grip, valueQuantity: undefined, valueDecimal: 22.5 }],
  ['binding: a status outside of its set', { ...grip, status: 'done' }],
  ['binding: a gender outside of its set', { ...patient, gender: 'f' }],
  ['reference: a subject of a type not allowed', { ...grip, subject: { reference: 'Practitioner/1' } }],
  ['ref-1: nothing contained of that id', { ...grip, subject: { reference: '#p' } }],
  ['dom-3: contained, and not referred to', { ...grip, contained: [{ resourceType: 'Patient', id: 'p' }] }],
  ['obs-3: a reference range of nothing', { ...grip, referenceRange: [{ appliesTo: [{ text: 'all' }] }] }],
  ['obs-6: a value and why there is none', { ...grip, dataAbsentReason: { text: 'asleep' } }],
  [
    'obs-7: value, and a component of the same code',
    { ...grip, component: [{ ...anyComponent, code: grip.code }] },
  ],
  [
    'per-1: ends before it starts',
    { ...patient, name: [{ period: { start: '2026-03-06', end: '2026-03-05' } }] },
  ],
  ['qty-3: a code of a unit without system', { ...grip, valueQuantity: { value: 22.5, code: 'kgf' } }],
  ['ext-1: an extension of nothing', { ...grip, extension: [{ url: 'http://example.org/a' }] }],
  ['pat-1: a contact of nobody', { ...patient, contact: [{ gender: 'female' }] }],
  ['txt-1: a script in the narrative', narrated('<script>a()</script>')],
  ['XHTML: an element that does not end', narrated('<p>strong')],
  ['UCUM: a unit that is none', { ...grip, valueQuantity: { ...grip.valueQuantity, code: 'kgs' } }],
  ['vital-signs profile: no value, no component', { ...bloodPressure, component: undefined }],
  ['profile: right by its code, left by its site', { ...claimedGrip, bodySite: onTheLeft() }],
];

function narrated(inner: string): object {
  const div = `<div xmlns="http://www.w3.org/1999/xhtml">${inner}</div>`;
  return { ...grip, text: { status: 'generated', div } };
}

/** The site's side on the left, as SNOMED CT has it (7771000, Left). */
function onTheLeft(): object {
  const text = JSON.stringify(claimedGrip.bodySite);
  return JSON.parse(text.replace('24028007', '7771000').replaceAll('Right', 'Left')) as object;
}
