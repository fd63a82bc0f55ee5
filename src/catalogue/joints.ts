import { finderOf } from './text.js';

/** The joints and joint groups of an examination, from jaw to toes. */
export type JointId =
  | 'jaw'
  | 'neck'
  | 'thoracolumbar'
  | 'shoulder-girdle'
  | 'shoulder'
  | 'elbow'
  | 'forearm'
  | 'wrist'
  | 'fingers'
  | 'thumb'
  | 'hip'
  | 'knee'
  | 'ankle'
  | 'foot'
  | 'toes';

export type Region = 'head-neck' | 'spine' | 'upper-limb' | 'lower-limb';

/** A joint or joint group that is looked at, felt and moved as one. */
export interface Joint {
  readonly id: JointId;
  readonly name: string;
  readonly synonyms: readonly string[];
  readonly region: Region;
  /** A paired joint has two findings, one a side; a midline one has none (LT-01, LT-02). */
  readonly structure: 'paired' | 'midline';
  /** How the patient is placed. */
  readonly position: string;
  readonly lookFor: readonly string[];
  readonly feelFor: readonly string[];
  /** Digits that may be examined one by one. */
  readonly digits?: readonly string[];
  /** Joints of a digit that may be measured one by one. */
  readonly digitJoints?: readonly string[];
  readonly cautions: readonly string[];
}

/** Every joint, in the order of an examination: from the jaw down to the toes. */
export const joints: readonly Joint[] = [
  {
    id: 'jaw',
    name: 'Jaw (temporomandibular joint)',
    synonyms: ['TMJ', 'jaw joint', 'temporomandibular'],
    region: 'head-neck',
    structure: 'paired',
    position: 'Sitting or head of bed raised, facing the nurse, mouth relaxed',
    lookFor: [
      'facial symmetry',
      'swelling over joint',
      'jaw path on opening: straight or deviates, and to which side',
    ],
    feelFor: [
      'joint in front of the ear while opening and closing: tenderness, click, grating',
      'chewing muscles: tenderness, bulk, clench on both sides',
    ],
    cautions: [
      'recent jaw fracture, wiring or facial surgery: do not test',
      'locked or dislocated jaw: stop and tell a practitioner',
    ],
  },
  {
    id: 'neck',
    name: 'Neck (cervical spine)',
    synonyms: ['cervical', 'c-spine', 'cervical spine'],
    region: 'spine',
    structure: 'midline',
    position: 'Sitting, shoulders level; supine only if sitting is not allowed',
    lookFor: [
      'head position and tilt',
      'curve of the neck',
      'muscle bulk and spasm',
      'collar or brace present',
    ],
    feelFor: ['spinous processes: tenderness, step', 'neck and trapezius muscles: tenderness, spasm'],
    cautions: [
      "trauma, collar, known or suspected unstable cervical spine, new midline tenderness: do not move; record 'not assessed - precaution'",
      'rheumatoid disease of the neck: no passive or resisted testing without an order',
      'dizziness, arm tingling or visual change during movement: stop',
    ],
  },
  {
    id: 'thoracolumbar',
    name: 'Back and trunk (thoracic and lumbar spine)',
    synonyms: ['spine', 'trunk', 'back', 'lumbar', 'thoracic', 'thoracolumbar'],
    region: 'spine',
    structure: 'midline',
    position:
      'Standing if safe, seen from behind and from the side; seated or side-lying version recorded as such when standing is unsafe',
    lookFor: [
      'curves from the side: cervical, thoracic, lumbar; increased thoracic curve (kyphosis), increased lumbar curve (lordosis)',
      'from behind: spine straight; shoulder, scapula, iliac crest levels; sideways curve (scoliosis)',
      'forward bend: rib or loin hump, side',
      'brace present',
    ],
    feelFor: [
      'spinous processes: tenderness, step',
      'paraspinal muscles: spasm, tenderness',
      'sacroiliac area',
    ],
    cautions: [
      'suspected spinal injury, unstable fracture, spinal surgery precautions, brace on: no bending or twisting',
      'known vertebral compression fracture or marked osteoporosis: no loaded forward bend',
      'cannot stand safely, lines or drains in the way, low blood pressure on standing: defer standing tests, record the reason',
      'new leg weakness, saddle numbness or loss of bladder/bowel control: stop and escalate',
    ],
  },
  {
    id: 'shoulder-girdle',
    name: 'Shoulder girdle (scapula and clavicle)',
    synonyms: ['scapula', 'clavicle', 'shoulder blade', 'AC joint', 'sternoclavicular'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Sitting, arms relaxed, gown open at the back',
    lookFor: [
      'level of shoulders and scapulae',
      'winging',
      'clavicle contour, sternoclavicular and acromioclavicular swelling or step',
    ],
    feelFor: [
      'clavicle along its length, both joints of the clavicle, scapular spine: tenderness, step, warmth',
    ],
    cautions: ['clavicle or scapular fracture, sling, recent shoulder surgery: do not resist'],
  },
  {
    id: 'shoulder',
    name: 'Shoulder (glenohumeral)',
    synonyms: ['glenohumeral', 'GH', 'shoulder joint'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Sitting; supine for passive or goniometer work',
    lookFor: [
      'contour, symmetry, wasting of deltoid and scapular muscles',
      'swelling, redness, deformity, bruising',
      'sling, subluxation gap below the acromion in a weak arm',
    ],
    feelFor: [
      'joint line, acromion, biceps groove, greater tuberosity: tenderness, warmth, swelling, grating on movement',
    ],
    cautions: [
      "shoulder replacement, dislocation, fracture or rotator cuff repair: follow the surgeon's limits; active and resisted testing commonly not allowed early",
      'weak arm after stroke: support the arm, never pull on it',
      'lines, pacemaker wound or lymphoedema side: check before lifting',
    ],
  },
  {
    id: 'elbow',
    name: 'Elbow',
    synonyms: ['humeroulnar', 'elbow joint'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Sitting, arm at side, palm forward',
    lookFor: ['carrying angle, deformity', 'swelling each side of the olecranon, bursa', 'redness, nodules'],
    feelFor: ['olecranon and both epicondyles: tenderness', 'grooves beside the olecranon: effusion, warmth'],
    cautions: [
      'fracture, cast, backslab, dialysis access or arterial line in that arm: check before moving or resisting',
    ],
  },
  {
    id: 'forearm',
    name: 'Forearm (proximal and distal radioulnar)',
    synonyms: ['radioulnar', 'forearm rotation'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Sitting, elbow bent 90 degrees and held at the side, thumb up',
    lookFor: ['bowing, swelling, wasting, bruising'],
    feelFor: ['radius and ulna along their length: tenderness, step; compartments soft or tense'],
    cautions: ['forearm fracture: high risk of compartment syndrome; do not resist, do neurovascular checks'],
  },
  {
    id: 'wrist',
    name: 'Wrist',
    synonyms: ['radiocarpal', 'wrist joint', 'carpus'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Sitting, forearm supported, palm down, fingers relaxed',
    lookFor: [
      'swelling of the back of the wrist, ganglion',
      'deformity, drop, redness',
      'cast, splint or dressing',
    ],
    feelFor: [
      'both sides of the joint with thumbs: effusion, bogginess, tenderness, warmth',
      'hollow at the base of the thumb (snuffbox): tenderness',
    ],
    cautions: [
      'cast, splint or recent fracture: wrist motion and grip on that side are not assessed; move fingers, thumb, elbow and shoulder instead',
      'arterial line: check before moving',
    ],
  },
  {
    id: 'fingers',
    name: 'Fingers (MCP, PIP, DIP of digits 2-5)',
    synonyms: ['digits', 'MCP', 'PIP', 'DIP', 'knuckles', 'hand joints'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Hands on a pillow or table, palms down then up',
    lookFor: [
      'swelling of knuckles and finger joints',
      'ulnar drift, swan-neck, boutonniere, mallet, bony nodes',
      'wasting between the bones, nails, skin colour',
      'rings removed?',
    ],
    feelFor: [
      'squeeze across the knuckles: tenderness',
      'each PIP and DIP between finger and thumb: swelling, warmth, tenderness',
    ],
    digits: ['index', 'middle', 'ring', 'little'],
    digitJoints: ['mcp', 'pip', 'dip'],
    cautions: [
      "tendon repair, fresh fracture or hand surgery: no active or resisted flexion without the hand team's limits",
      'never let a patient squeeze a ringed hand; offer two fingers',
    ],
  },
  {
    id: 'thumb',
    name: 'Thumb (CMC, MCP, IP)',
    synonyms: ['pollex', 'first digit'],
    region: 'upper-limb',
    structure: 'paired',
    position: 'Forearm supported, thumb up',
    lookFor: ['squaring at the base, wasting of the thumb muscles, deformity'],
    feelFor: ['base of thumb, snuffbox: tenderness, swelling'],
    digitJoints: ['cmc', 'mcp', 'ip'],
    cautions: ['scaphoid or thumb fracture, spica cast: not assessed'],
  },
  {
    id: 'hip',
    name: 'Hip',
    synonyms: ['hip joint', 'coxofemoral'],
    region: 'lower-limb',
    structure: 'paired',
    position: 'Lying on the back; side-lying or prone for extension; standing only if safe',
    lookFor: [
      'leg length, resting rotation (short and turned out after a fall is a red flag)',
      'gluteal and thigh bulk, scars, swelling, bruising',
    ],
    feelFor: ['groin fold, greater trochanter, iliac crest: tenderness, warmth'],
    cautions: [
      "hip replacement precautions (posterior approach commonly: no flexion past 90, no adduction past midline, no internal rotation: the surgeon's order decides)",
      'suspected hip fracture (short, turned out, groin pain): no motion testing',
      'weight-bearing order must be known before standing tests',
    ],
  },
  {
    id: 'knee',
    name: 'Knee',
    synonyms: ['tibiofemoral', 'knee joint'],
    region: 'lower-limb',
    structure: 'paired',
    position: 'Lying on the back or sitting at the bed edge',
    lookFor: [
      'swelling above and beside the kneecap, lost hollows',
      'alignment: knock-kneed (valgus), bowed (varus), fixed bend',
      'thigh muscle bulk, scar, redness, bruising',
    ],
    feelFor: [
      'warmth with the back of the hand, compared side to side',
      'effusion: bulge or patellar tap',
      'joint line, patella: tenderness; grating on movement',
    ],
    cautions: [
      'knee immobiliser, fracture, extensor repair: no flexion or straight-leg lift without an order',
      'bleeding into the joint or anticoagulated with a new hot swollen knee: no resisted testing, escalate',
    ],
  },
  {
    id: 'ankle',
    name: 'Ankle (talocrural)',
    synonyms: ['talocrural', 'ankle joint'],
    region: 'lower-limb',
    structure: 'paired',
    position: 'Lying or sitting, knee bent a little, heel free',
    lookFor: ['swelling round the ankle bones, bruising, deformity, foot drop'],
    feelFor: ['both ankle bones, front joint line, Achilles tendon: tenderness, warmth, swelling'],
    cautions: [
      'boot, cast, external frame, Achilles repair: not assessed',
      'new inability to lift the foot: escalate',
    ],
  },
  {
    id: 'foot',
    name: 'Foot (subtalar and midfoot)',
    synonyms: ['subtalar', 'midfoot', 'hindfoot'],
    region: 'lower-limb',
    structure: 'paired',
    position: 'Lying or sitting, heel held still',
    lookFor: ['arch, alignment of heel, deformity, skin and pressure points, swelling'],
    feelFor: ['heel, midfoot, squeeze across the metatarsal heads: tenderness, warmth'],
    cautions: [
      'foot fracture, cast, non-weight-bearing order, infected or ischaemic foot: no resisted testing',
    ],
  },
  {
    id: 'toes',
    name: 'Toes (MTP and IP)',
    synonyms: ['MTP', 'hallux', 'great toe', 'lesser toes'],
    region: 'lower-limb',
    structure: 'paired',
    position: 'Lying or sitting, foot supported',
    lookFor: ['bunion, hammer or claw toes, swelling, redness of the great-toe joint, nails, colour'],
    feelFor: ['each MTP joint: tenderness, warmth, swelling'],
    digits: ['great', 'second', 'third', 'fourth', 'little'],
    digitJoints: ['mtp', 'ip', 'pip', 'dip'],
    cautions: ['toe amputation or ray resection: mark the absent part first'],
  },
];

/** The joint meant by its id, its name (also without what stands in brackets) or a synonym. */
export const findJoint: (word: string) => Joint | undefined = finderOf(joints, ({ id, name, synonyms }) => [
  id,
  name,
  name.replace(/ \(.*\)$/, ''),
  ...synonyms,
]);
