import type { Aspect, Side } from '../catalogue/index.js';

/** The digits of a number as they were typed, e.g. `30.50`. Always matches the pattern of a JSON number. */
export type DecimalText = string;

/** A moment with its offset, as it was typed, e.g. `2026-03-05T08:10:00-05:00`. */
export type InstantText = string;

/** A business identifier, as FHIR's Identifier. */
export interface Identifier {
  readonly system: string;
  readonly value: string;
}

/** A member of staff as the document names them. */
export interface Staff {
  readonly identifier: Identifier;
  /** RN, PT, MD ... as the site writes it. */
  readonly role?: string;
}

/** The identifiers that the nurse read back to make sure of the patient. */
export interface ReadBack {
  readonly name?: string;
  /** Year, year-month or full date. */
  readonly birthDate?: string;
}

/**
 * One examination after its document was parsed, its words resolved and its groups expanded: what is stored.
 * Each finding becomes one Observation, and the exam is again the same from its Observations (`fromObservations`).
 */
export interface Exam {
  readonly clientId: string;
  readonly type: ExamType;
  readonly patient: Identifier;
  readonly readBack: ReadBack;
  readonly ward?: string;
  readonly examiner: Staff;
  /** Who typed; absent when it was the examiner. */
  readonly recorder?: Staff;
  readonly performedAt: InstantText;
  readonly recordedAt: InstantText;
  /** Why the entry was late, when a reason was given (TM-04 asks and never demands). */
  readonly lateReason?: string;
  readonly positions: readonly string[];
  readonly precautions: readonly Precaution[];
  /** Ids of the checks the person confirmed, kept on the record with the examiner's name. */
  readonly confirmed: readonly string[];
  readonly note?: string;
  readonly findings: readonly Finding[];
}

export type ExamType = 'full' | 'brief-screen' | 'focused' | 'neurovascular' | 'therapist';

/** An order that forbids or limits tests. `precaution` is an id of the catalogue, or free words. */
export interface Precaution {
  readonly precaution: string;
  readonly side?: Side;
  readonly note?: string;
}

interface FindingBase {
  /** Free words of the examiner about this finding. */
  readonly describe?: string;
  /** The word as typed, when it was corrected (the catalogue's action `normalise`, `suggest`, `rehome` or a chosen word). */
  readonly typed?: string;
}

/** One digit's joint, when a finger, thumb or toe is measured joint by joint. */
export interface DigitJoint {
  /** index, middle, ring, little (fingers); great, second, third, fourth, little (toes). */
  readonly digit?: string;
  readonly digitJoint?: 'cmc' | 'mcp' | 'pip' | 'dip' | 'ip' | 'mtp';
}

interface MovementFinding extends FindingBase, DigitJoint {
  /** Id of the movement in the catalogue, e.g. `knee.flexion`. */
  readonly movement: string;
  /** Side of the body part; absent on midline movements. */
  readonly side?: Side;
  /** Direction of a midline movement (turn the head left); never a side. */
  readonly direction?: Side;
}

/** How far a joint moves. Extension of knee and elbow is what it lacks or how far it hyperextends, never negative. */
export interface RangeFinding extends MovementFinding {
  readonly kind: 'range';
  readonly mode: 'active' | 'active-assisted' | 'passive';
  readonly extent:
    | { readonly degrees: DecimalText }
    | { readonly lacks: DecimalText }
    | { readonly hyperextends: DecimalText }
    | { readonly millimetres: DecimalText }
    | { readonly word: 'full' | 'limited' | 'absent' };
  /** Id of the method; `visual-estimate` when degrees came without one (VL-05). Absent for a bare word. */
  readonly method?: string;
  readonly limitedBy?: string;
}

/** Muscle strength, MRC grade `0` to `5` (`4-`, `4+` where the site allows them). */
export interface StrengthFinding extends MovementFinding {
  readonly kind: 'strength';
  readonly grade: string;
  readonly limitedBy?: string;
  readonly gravityEliminated?: boolean;
}

/** Dynamometer grip: every trial as typed; the device's kg and lb are forces. */
export interface GripFinding extends FindingBase {
  readonly kind: 'grip';
  readonly side: Side;
  readonly trials: readonly DecimalText[];
  readonly unit: 'kg' | 'lb' | 'N';
  readonly rule: 'single' | 'mean-of-3' | 'best-of-3' | 'best-of-6';
  readonly device?: string;
  /** 1 to 5. */
  readonly handlePosition?: number;
  readonly dominant?: boolean;
}

/** A single number with its unit from the catalogue's table of measures: circumference, timed walk, fingertip to floor ... */
export interface MeasureFinding extends FindingBase {
  readonly kind: 'measure';
  /** Id of the measure in the catalogue, e.g. `circumference`. */
  readonly measure: string;
  readonly joint?: string;
  readonly side?: Side;
  /** Where on the limb, e.g. `mid-patella`; compared only at the same level. */
  readonly level?: string;
  readonly value: DecimalText;
  /** UCUM code. */
  readonly unit: string;
  readonly method?: string;
}

/** Pain 0 to 10, at rest or on movement. */
export interface PainFinding extends FindingBase {
  readonly kind: 'pain';
  readonly score: DecimalText;
  readonly when: 'rest' | 'movement';
  /** Absent beside a movement, which tells its joint. */
  readonly joint?: string;
  readonly side?: Side;
  /** The movement that hurt. */
  readonly movement?: string;
  readonly direction?: Side;
  readonly mode?: 'active' | 'active-assisted' | 'passive';
}

/** What was seen and felt at one joint on one side. */
export interface LookFeelFinding extends FindingBase {
  readonly kind: 'look-feel';
  readonly joint: string;
  readonly side?: Side;
  readonly items: readonly LookFeelItem[];
}

export interface LookFeelItem {
  /** Id of the item in the catalogue: swelling, warmth, tenderness, deformity ... */
  readonly item: string;
  /** One of the item's words. */
  readonly value: string;
  readonly describe?: string;
}

/** A joint examined and within expected limits: exactly these things were examined, and nothing else is said (CM-02). */
export interface AsExpectedFinding extends FindingBase {
  readonly kind: 'as-expected';
  readonly joint: string;
  readonly side?: Side;
  readonly aspects: readonly Aspect[];
  readonly items: readonly string[];
  /** Movements with full range, by id; midline movements with a direction as `neck.rotation>left`. */
  readonly range: readonly string[];
  /** Movements with strength 5, written as in `range`. */
  readonly strength: readonly string[];
  /** Version of the written definition behind "within expected limits" (CM-03). */
  readonly definition: string;
}

/** Not assessed, and why. Without a joint it concerns a screen, measure, gait or pain (`subject`). */
export interface NotAssessedFinding extends FindingBase {
  readonly kind: 'not-assessed';
  readonly joint?: string;
  readonly side?: Side;
  readonly aspects: readonly Aspect[];
  /** Narrowed to these movements, when the document names them. */
  readonly movements?: readonly string[];
  readonly mode?: 'active' | 'active-assisted' | 'passive';
  /** Id of the screen, measure or check that was not done: `grip`, `gait`, `pain`, `hand-squeeze`, `neurovascular` ... */
  readonly subject?: string;
  /** Id of the reason in the catalogue. */
  readonly reason: string;
  readonly note?: string;
}

/** A two-sided screen of the brief exam; never a grade (SC-05). */
export interface ScreenFinding extends FindingBase {
  readonly kind: 'screen';
  readonly screen: string;
  readonly result: string;
}

/** A neurovascular check of one limb by its eight elements. */
export interface NeurovascularFinding extends FindingBase {
  readonly kind: 'neurovascular';
  readonly limb: 'upper' | 'lower';
  readonly side: Side;
  readonly elements: readonly NeurovascularElement[];
}

export interface NeurovascularElement {
  /** Id of the element in the catalogue: pain-rest, pain-passive-stretch, sensation, movement, colour, warmth, capillary-refill, pulse, swelling. */
  readonly element: string;
  /** One of the element's words, or the digits of its number. */
  readonly value: string;
  /** `<` or `>` before a number, as typed. */
  readonly comparator?: '<' | '>';
  readonly describe?: string;
}

/** Walking: pattern, help and device, in the catalogue's words. */
export interface GaitFinding extends FindingBase {
  readonly kind: 'gait';
  readonly pattern?: string;
  readonly assistance?: string;
  readonly device?: string;
}

/** A cast, splint, sling, brace, frame, traction or prosthesis on the body, in force until its `until`. */
export interface OnBodyFinding extends FindingBase {
  readonly kind: 'on-body';
  readonly device: string;
  readonly joints: readonly string[];
  readonly side?: Side;
  readonly since?: InstantText;
  readonly until?: InstantText;
}

/** A part that is not there; no finding is taken below it (BP-01). */
export interface AbsentPartFinding extends FindingBase {
  readonly kind: 'absent-part';
  readonly joints: readonly string[];
  readonly side: Side;
  readonly level: string;
}

export type Finding =
  | RangeFinding
  | StrengthFinding
  | GripFinding
  | MeasureFinding
  | PainFinding
  | LookFeelFinding
  | AsExpectedFinding
  | NotAssessedFinding
  | ScreenFinding
  | NeurovascularFinding
  | GaitFinding
  | OnBodyFinding
  | AbsentPartFinding;
