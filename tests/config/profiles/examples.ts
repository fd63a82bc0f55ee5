import type { Observation } from 'fhir/r4.js';
import { profileOf, readExam, toObservations, type Exam } from '../../../src/exam/index.js';
import { stringifyJson } from '../../../src/fhir/index.js';

/** One examination of an invented patient, with one finding for each profile. */
const document = {
  clientId: 'example-1',
  type: 'focused',
  patient: {
    identifier: { system: 'http://example.org/mrn', value: 'EXAMPLE-1' },
    readBack: { name: 'Zzexample', birthDate: '1956-03-02' },
  },
  ward: '6E',
  examiner: { identifier: { system: 'http://example.org/staff', value: 'EXAMPLE-RN-1' }, role: 'RN' },
  recorder: { identifier: { system: 'http://example.org/staff', value: 'EXAMPLE-RN-2' }, role: 'RN' },
  performedAt: '2026-03-05T08:10:00-05:00',
  recordedAt: '2026-03-05T08:25:00-05:00',
  positions: ['sitting', 'supine'],
  precautions: [],
  asExpected: [{ joints: ['elbow'], sides: 'right', aspects: ['look', 'feel', 'range', 'strength'] }],
  findings: [
    {
      joint: 'knee',
      side: 'left',
      movement: 'flexion',
      mode: 'active',
      degrees: 60,
      method: 'goniometer-long-arm',
      limitedBy: 'pain',
    },
    { joint: 'hip', side: 'right', movement: 'flexion', strength: 4, describe: 'known since admission' },
    {
      measure: 'grip',
      side: 'right',
      trials: [22.5, 23, 22],
      unit: 'kg',
      rule: 'mean-of-3',
      device: 'hydraulic',
      handlePosition: 2,
      dominant: true,
    },
    { measure: 'circumference', joint: 'knee', side: 'left', level: 'mid-patella', value: 41.5, unit: 'cm' },
    { measure: 'timed-up-and-go', value: 18.4, unit: 's' },
    { measure: 'pain', joint: 'shoulder', side: 'left', value: 3, when: 'rest' },
    {
      joint: 'knee',
      side: 'left',
      look: { swelling: 'moderate' },
      feel: { warmth: 'warmer', tenderness: 'mild' },
      describe: 'worse since the evening',
    },
    { screen: 'hand-squeeze', result: 'equal and strong' },
    {
      check: 'neurovascular',
      limb: 'lower',
      side: 'left',
      elements: {
        'pain-rest': 2,
        'pain-passive-stretch': 'none',
        sensation: 'intact',
        movement: 'full',
        colour: 'usual',
        warmth: 'warm',
        'capillary-refill': '<2',
        pulse: 'present',
        swelling: 'none',
      },
    },
    { gait: { pattern: 'steady', assistance: 'supervised', device: 'walking-frame' } },
  ],
  onBody: [{ device: 'cast', joints: ['wrist'], side: 'left', since: '2026-03-02T10:00:00-05:00' }],
  absent: [{ joints: ['toes'], side: 'right', level: 'through the toes' }],
  notAssessed: [
    {
      joints: ['hip'],
      sides: 'left',
      aspects: ['look', 'feel'],
      reason: 'privacy',
      note: 'to be offered at 14:00',
    },
  ],
  note: 'Rested before the walk.',
};

const NOW = { at: Date.parse('2026-03-05T08:25:00-05:00'), zone: 'America/New_York' };

function readExample(): Exam {
  const { exam, issues } = readExam(stringifyJson(document), NOW);
  if (exam === undefined) throw new Error(`the example is not taken: ${JSON.stringify(issues)}`);
  return exam;
}

/** The example of each profile, named for it: the panel, then its members. */
export function exampleObservations(): readonly Observation[] {
  const exam = readExample();
  const ids = ['exam', ...exam.findings.map(profileOf)].map((profile) => `example-${profile}`);
  if (new Set(ids).size < ids.length) throw new Error(`two examples of one profile: ${ids.join(', ')}`);
  const next = ids.values();
  const written = toObservations(exam, {
    patientId: 'example',
    practitionerId: () => undefined,
    newId: () => next.next().value ?? '',
  });
  return written.map((resource) => JSON.parse(stringifyJson(resource)) as Observation);
}
