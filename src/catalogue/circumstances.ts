import { SYSTEMS } from './canonical.js';
import { finderOf, wordsOf, type Named } from './text.js';
import type { Code } from './types.js';

/** A thing as it is shown. */
type Shown = Named & { readonly label: string };

/** How the patient was placed. */
export type Position = Shown & {
  /** Bears weight through the legs, so an order may forbid it. */
  readonly standing: boolean;
};

export const positions: readonly Position[] = [
  { id: 'sitting', label: 'sitting', synonyms: ['seated', 'chair', 'edge of bed'], standing: false },
  {
    id: 'semi-reclined',
    label: 'half sitting',
    synonyms: ['semi-fowler', 'propped up', 'head raised'],
    standing: false,
  },
  { id: 'supine', label: 'lying on the back', synonyms: ['lying', 'on the back'], standing: false },
  { id: 'prone', label: 'lying face down', synonyms: ['face down'], standing: false },
  { id: 'side-lying', label: 'lying on the side', synonyms: ['lateral', 'on the side'], standing: false },
  { id: 'side-lying-left', label: 'lying on the left side', synonyms: ['left side-lying'], standing: false },
  {
    id: 'side-lying-right',
    label: 'lying on the right side',
    synonyms: ['right side-lying'],
    standing: false,
  },
  { id: 'standing', label: 'standing', synonyms: ['upright', 'stood'], standing: true },
  { id: 'walking', label: 'walking', synonyms: ['ambulating'], standing: true },
];

/** A thing worn on or fixed to the body (BP-02 to BP-04). */
export type BodyDevice = Shown & {
  /** It encloses or holds the joint: range, strength and girth inside it are asked about (BP-03). */
  readonly covering: boolean;
  /** Putting it on calls for neurovascular checks (BP-04). */
  readonly callsForChecks: boolean;
  /** It stands for an absent part, which takes no range and no strength (BP-02). */
  readonly replacesPart: boolean;
};

function device(
  id: string,
  label: string,
  synonyms: readonly string[],
  traits: { covering?: true; callsForChecks?: true; replacesPart?: true } = {},
): BodyDevice {
  return {
    id,
    label,
    synonyms,
    covering: traits.covering ?? false,
    callsForChecks: traits.callsForChecks ?? false,
    replacesPart: traits.replacesPart ?? false,
  };
}

export const bodyDevices: readonly BodyDevice[] = [
  device('cast', 'cast', ['plaster', 'plaster cast', 'long cast', 'short cast', 'spica'], {
    covering: true,
    callsForChecks: true,
  }),
  device('backslab', 'backslab', ['back slab', 'half cast'], { covering: true, callsForChecks: true }),
  device('splint', 'splint', ['wrist splint', 'thumb splint', 'finger splint'], {
    covering: true,
    callsForChecks: true,
  }),
  device('external-frame', 'external frame', ['frame', 'external fixator', 'ex-fix'], {
    covering: true,
    callsForChecks: true,
  }),
  device('traction', 'traction', ['skin traction', 'skeletal traction'], {
    covering: true,
    callsForChecks: true,
  }),
  device('boot', 'boot', ['walking boot', 'walker boot'], { covering: true }),
  device('immobiliser', 'immobiliser', ['knee immobiliser', 'immobilizer', 'knee immobilizer'], {
    covering: true,
  }),
  device('brace', 'brace', ['hinged brace', 'knee brace', 'back brace', 'corset', 'orthosis']),
  device('collar', 'collar', ['neck collar', 'cervical collar', 'hard collar', 'soft collar'], {
    covering: true,
  }),
  device('sling', 'sling', ['arm sling', 'collar and cuff']),
  device('bandage', 'bandage', ['compression bandage', 'dressing']),
  device('stocking', 'compression stocking', ['stocking', 'stockings']),
  device('prosthesis', 'prosthesis', ['artificial limb', 'artificial leg', 'artificial arm'], {
    replacesPart: true,
  }),
];

/** Why something was not assessed. */
export interface NotAssessedReason {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** Counts as complete in the audit (AU-01). */
  readonly countsComplete: boolean;
  /** Left out of the audit's denominator (AU-02). */
  readonly excluded: boolean;
  /** Detail is asked for (CM-06). */
  readonly needsDetail: boolean;
  /** Code of HL7's data-absent-reason; our own reason stands beside it. */
  readonly dataAbsentReason: Code;
}

function absent(code: string, display: string): Code {
  return { system: SYSTEMS.dataAbsentReason, code, display };
}

const askedDeclined = absent('asked-declined', 'Asked But Declined');
const notApplicable = absent('not-applicable', 'Not Applicable');
const notPerformed = absent('not-performed', 'Not Performed');

function reason(
  id: string,
  label: string,
  synonyms: readonly string[],
  traits: { incomplete?: true; excluded?: true; needsDetail?: true; dataAbsentReason?: Code } = {},
): NotAssessedReason {
  return {
    id,
    label,
    synonyms,
    countsComplete: !traits.incomplete,
    excluded: traits.excluded ?? false,
    needsDetail: traits.needsDetail ?? false,
    dataAbsentReason: traits.dataAbsentReason ?? notPerformed,
  };
}

export const notAssessedReasons: readonly NotAssessedReason[] = [
  reason('declined', 'Patient declined', ['refused'], { needsDetail: true, dataAbsentReason: askedDeclined }),
  reason('pain', 'Too painful to test', ['painful', 'too painful'], { needsDetail: true }),
  reason('position', 'Could not be positioned', ['positioning']),
  reason('immobilised', 'Cast, splint, frame or traction', [
    'immobilized',
    'cast',
    'splint',
    'frame',
    'traction',
  ]),
  reason(
    'precaution',
    'Ordered precaution or post-operative limit',
    ['precautions', 'post-operative', 'order'],
    {
      needsDetail: true,
    },
  ),
  reason('suspected-injury', 'Suspected fracture, dislocation or spine injury', ['suspected fracture'], {
    needsDetail: true,
  }),
  reason('privacy', 'Deferred for privacy or dignity', ['dignity']),
  reason('instability', 'Clinically unstable', ['unstable'], { needsDetail: true }),
  reason('unable-follow', 'Sedated, confused or cannot follow instructions', [
    'sedated',
    'confused',
    'cannot follow',
    'unable to follow',
  ]),
  reason('off-unit', 'Away from the unit', ['off ward', 'away'], { incomplete: true, excluded: true }),
  reason('absent-part', 'Body part absent', ['absent', 'amputated'], { dataAbsentReason: notApplicable }),
  reason('equipment', 'Equipment not available', ['no equipment'], { incomplete: true }),
  reason('no-time', 'Not done this shift', ['not done', 'no time'], { incomplete: true }),
];

/** The code of a reason in our own CodeSystem. */
export function notAssessedReasonCode({ id, label }: NotAssessedReason): Code {
  return { system: SYSTEMS.notDoneReason, code: id, display: label };
}

/** The position meant by a word. */
export const findPosition: (word: string) => Position | undefined = finderOf(positions, wordsOf);

/** The device meant by a word. */
export const findBodyDevice: (word: string) => BodyDevice | undefined = finderOf(bodyDevices, wordsOf);

/** The reason meant by a word. */
export const findNotAssessedReason: (word: string) => NotAssessedReason | undefined = finderOf(
  notAssessedReasons,
  wordsOf,
);
