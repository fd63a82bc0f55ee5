import { joints, type JointId } from './joints.js';
import { finderOf, wordsOf } from './text.js';

/** One answer that an item takes. */
export interface LookFeelWord {
  readonly id: string;
  readonly label: string;
  readonly synonyms: readonly string[];
  /** The joints of which it may be said; absent: every joint of the item. */
  readonly joints?: readonly JointId[];
}

/** One thing that is looked for or felt for at a joint. */
export interface LookFeelItem {
  readonly id: string;
  readonly aspect: 'look' | 'feel';
  readonly label: string;
  readonly synonyms: readonly string[];
  /** Answers, the expected one first. */
  readonly words: readonly LookFeelWord[];
  /** Id of the word that means "within expected limits". */
  readonly expected: string;
  readonly joints: readonly JointId[];
  /** The joints at which "within expected limits" says this item too. */
  readonly expectedAt: readonly JointId[];
}

const everyJoint: readonly JointId[] = joints.map((joint) => joint.id);

const none: LookFeelWord = { id: 'none', label: 'none', synonyms: ['no', 'nil', 'absent', 'not present'] };
const present: LookFeelWord = { id: 'present', label: 'present', synonyms: ['yes', 'seen', 'felt'] };

function word(
  id: string,
  label: string,
  synonyms: readonly string[] = [],
  at?: readonly JointId[],
): LookFeelWord {
  return { id, label, synonyms, ...(at && { joints: at }) };
}

const degreesOfSwelling: readonly LookFeelWord[] = [
  none,
  word('mild', 'mild', ['slight', 'minimal']),
  word('moderate', 'moderate'),
  word('marked', 'marked', ['severe', 'gross', 'large']),
];

/** Deformities that hold a joint, so that a full range contradicts them (CX-01). */
export const fixedDeformities: ReadonlySet<string> = new Set(['contracture', 'fused']);

const deformityWords: readonly LookFeelWord[] = [
  none,
  word('present', 'present', ['yes', 'present (describe)']),
  word('contracture', 'contracture', [
    'fixed flexion',
    'fixed bend',
    'flexion contracture',
    'fixed deformity',
  ]),
  word('fused', 'no movement by fusion', ['fusion', 'fused joint', 'arthrodesis']),
  word(
    'valgus',
    'valgus alignment',
    ['knock-kneed', 'knock knee'],
    ['knee', 'elbow', 'ankle', 'foot', 'toes'],
  ),
  word('varus', 'varus alignment', ['bowed', 'bow-legged'], ['knee', 'elbow', 'ankle', 'foot', 'toes']),
  word('ulnar-drift', 'ulnar drift', ['ulnar deviation of the fingers'], ['fingers']),
  word('radial-drift', 'radial drift', ['radial deviation of the fingers'], ['fingers']),
  word('swan-neck', 'swan-neck', ['swan neck deformity'], ['fingers']),
  word('boutonniere', 'boutonnière', ['boutonnière', 'buttonhole'], ['fingers']),
  word('mallet', 'mallet', ['mallet finger'], ['fingers', 'toes']),
  word('bony-nodes', 'bony nodes', ['nodes', 'bony enlargement'], ['fingers', 'thumb']),
  word('squared-base', 'squared base of the thumb', ['squaring', 'square base'], ['thumb']),
  word('wrist-drop', 'wrist drop', ['dropped wrist'], ['wrist']),
  word('foot-drop', 'foot drop', ['dropped foot', 'drop foot'], ['ankle', 'foot']),
  word(
    'shortened-turned-out',
    'shortened and turned out',
    ['short and turned out', 'shortened and externally rotated', 'shortened, turned out'],
    ['hip'],
  ),
  word(
    'shortened-turned-in',
    'shortened and turned in',
    ['short and turned in', 'shortened and internally rotated'],
    ['hip'],
  ),
  word('flattened-contour', 'flattened contour', ['squared shoulder', 'loss of contour'], ['shoulder']),
  word('gap-below-acromion', 'gap below the acromion', ['gap', 'sulcus'], ['shoulder']),
  word(
    'winging',
    'winging of the shoulder blade',
    ['winged scapula', 'scapular winging'],
    ['shoulder-girdle'],
  ),
  word(
    'step',
    'step in the bone',
    ['bony step'],
    ['shoulder-girdle', 'shoulder', 'forearm', 'neck', 'thoracolumbar'],
  ),
  word('bowing', 'bowing', ['bent forearm'], ['forearm']),
  word('head-tilt', 'head tilt', ['tilted head'], ['neck']),
  word('low-arch', 'low arch', ['flat foot', 'flattened arch'], ['foot']),
  word('high-arch', 'high arch', ['raised arch'], ['foot']),
  word('bunion', 'bunion', [], ['toes']),
  word('hammer-toe', 'hammer toe', ['hammer'], ['toes']),
  word('claw-toe', 'claw toe', ['claw', 'clawed toes'], ['toes']),
];

const limbJoints: readonly JointId[] = everyJoint.filter(
  (id) => id !== 'jaw' && id !== 'neck' && id !== 'thoracolumbar',
);
const lined: readonly JointId[] = [
  'shoulder',
  'elbow',
  'wrist',
  'fingers',
  'thumb',
  'knee',
  'ankle',
  'foot',
  'toes',
];

/**
 * Everything that is looked for and felt for. Words and their order: common practice of the bedside examination
 * (`opened-nursing-texts`); nothing here names a cause. Effusion is swelling inside a joint: one finding, felt, and
 * part of "within expected limits" at the knee.
 */
export const lookFeelItems: readonly LookFeelItem[] = [
  {
    id: 'swelling',
    aspect: 'look',
    label: 'swelling',
    synonyms: ['swollen', 'oedema', 'edema'],
    words: degreesOfSwelling,
    expected: 'none',
    joints: everyJoint,
    expectedAt: everyJoint,
  },
  {
    id: 'redness',
    aspect: 'look',
    label: 'redness',
    synonyms: ['red', 'erythema'],
    words: [none, present],
    expected: 'none',
    joints: everyJoint,
    expectedAt: everyJoint,
  },
  {
    id: 'deformity',
    aspect: 'look',
    label: 'deformity',
    synonyms: ['alignment', 'deformed'],
    words: deformityWords,
    expected: 'none',
    joints: everyJoint,
    expectedAt: everyJoint,
  },
  {
    id: 'wasting',
    aspect: 'look',
    label: 'muscle wasting',
    synonyms: ['wasting', 'atrophy', 'muscle bulk'],
    words: [none, present, word('mild', 'mild', ['slight']), word('marked', 'marked', ['severe'])],
    expected: 'none',
    joints: everyJoint,
    expectedAt: [],
  },
  {
    id: 'bruising',
    aspect: 'look',
    label: 'bruising',
    synonyms: ['bruise', 'bruised', 'ecchymosis'],
    words: [none, present],
    expected: 'none',
    joints: everyJoint,
    expectedAt: [],
  },
  {
    id: 'drift',
    aspect: 'look',
    label: 'drift of the held arm',
    synonyms: ['pronator drift', 'arm drift'],
    words: [none, present],
    expected: 'none',
    joints: ['shoulder', 'elbow', 'forearm'],
    expectedAt: [],
  },
  {
    id: 'nodules',
    aspect: 'look',
    label: 'nodules under the skin',
    synonyms: ['nodule'],
    words: [none, present],
    expected: 'none',
    joints: ['elbow', 'forearm', 'wrist', 'fingers', 'thumb', 'knee', 'ankle', 'foot', 'toes'],
    expectedAt: [],
  },
  {
    id: 'opening-path',
    aspect: 'look',
    label: 'path of the jaw on opening',
    synonyms: ['jaw path', 'path of opening'],
    words: [
      word('straight', 'straight', ['midline']),
      word('deviates-left', 'deviates to the left', ['left']),
      word('deviates-right', 'deviates to the right', ['right']),
    ],
    expected: 'straight',
    joints: ['jaw'],
    expectedAt: [],
  },
  {
    id: 'kyphosis',
    aspect: 'look',
    label: 'increased thoracic curve (kyphosis)',
    synonyms: ['increased thoracic curve', 'hunched back'],
    words: [none, present],
    expected: 'none',
    joints: ['thoracolumbar'],
    expectedAt: ['thoracolumbar'],
  },
  {
    id: 'lordosis',
    aspect: 'look',
    label: 'increased lumbar curve (lordosis)',
    synonyms: ['increased lumbar curve', 'sway back'],
    words: [none, present],
    expected: 'none',
    joints: ['thoracolumbar'],
    expectedAt: ['thoracolumbar'],
  },
  {
    id: 'scoliosis',
    aspect: 'look',
    label: 'sideways curve (scoliosis)',
    synonyms: ['sideways curve', 'side curve'],
    words: [
      none,
      present,
      word('to-left', 'curve to the left', ['left']),
      word('to-right', 'curve to the right', ['right']),
    ],
    expected: 'none',
    joints: ['thoracolumbar'],
    expectedAt: ['thoracolumbar'],
  },
  {
    id: 'rib-hump',
    aspect: 'look',
    label: 'hump on forward bend',
    synonyms: ['hump', 'loin hump', 'rib or loin hump'],
    words: [
      none,
      present,
      word('left', 'hump on the left', ['left side']),
      word('right', 'hump on the right', ['right side']),
    ],
    expected: 'none',
    joints: ['thoracolumbar'],
    expectedAt: [],
  },
  {
    id: 'shoulder-level',
    aspect: 'look',
    label: 'level of the shoulders',
    synonyms: ['shoulders level'],
    words: [
      word('level', 'level', ['equal']),
      word('left-higher', 'left higher', ['left']),
      word('right-higher', 'right higher', ['right']),
    ],
    expected: 'level',
    joints: ['thoracolumbar'],
    expectedAt: [],
  },
  {
    id: 'pelvis-level',
    aspect: 'look',
    label: 'level of the pelvis',
    synonyms: ['pelvis level', 'iliac crests'],
    words: [
      word('level', 'level', ['equal']),
      word('left-higher', 'left higher', ['left']),
      word('right-higher', 'right higher', ['right']),
    ],
    expected: 'level',
    joints: ['thoracolumbar'],
    expectedAt: [],
  },
  {
    id: 'tenderness',
    aspect: 'feel',
    label: 'tenderness',
    synonyms: ['tender'],
    words: [
      none,
      word('mild', 'mild', ['slight']),
      word('moderate', 'moderate'),
      word('severe', 'severe', ['marked']),
      word('withdraws', 'withdraws', ['pulls away']),
    ],
    expected: 'none',
    joints: everyJoint,
    expectedAt: everyJoint,
  },
  {
    id: 'warmth',
    aspect: 'feel',
    label: 'warmth',
    synonyms: ['temperature', 'heat'],
    words: [
      word('same', 'same as other side', ['equal', 'none', 'not warm', 'same as the skin around it', 'no']),
      word('warmer', 'warmer', ['warm', 'hot', 'increased']),
      word('cooler', 'cooler', ['cool', 'cold', 'decreased']),
    ],
    expected: 'same',
    joints: everyJoint,
    expectedAt: everyJoint,
  },
  {
    id: 'effusion',
    aspect: 'feel',
    label: 'effusion',
    synonyms: ['fluid in the joint', 'bulge', 'patellar tap', 'joint swelling'],
    words: [
      word('absent', 'absent', ['none', 'no', 'nil', 'not present']),
      word('present', 'present', ['yes', 'felt']),
    ],
    expected: 'absent',
    joints: lined,
    expectedAt: ['knee'],
  },
  {
    id: 'boggy-swelling',
    aspect: 'feel',
    label: 'boggy swelling',
    synonyms: ['bogginess', 'boggy'],
    words: [none, present],
    expected: 'none',
    joints: lined,
    expectedAt: [],
  },
  {
    id: 'crepitus',
    aspect: 'feel',
    label: 'grating on movement',
    synonyms: ['grating', 'crepitation'],
    words: [none, present],
    expected: 'none',
    joints: everyJoint,
    expectedAt: [],
  },
  {
    id: 'click',
    aspect: 'feel',
    label: 'click on movement',
    synonyms: ['clicking'],
    words: [none, present],
    expected: 'none',
    joints: ['jaw', 'shoulder', 'hip', 'knee'],
    expectedAt: [],
  },
  {
    id: 'spasm',
    aspect: 'feel',
    label: 'muscle spasm',
    synonyms: ['spasm'],
    words: [none, present],
    expected: 'none',
    joints: ['jaw', 'neck', 'thoracolumbar'],
    expectedAt: [],
  },
  {
    id: 'compartments',
    aspect: 'feel',
    label: 'muscle compartments',
    synonyms: ['compartment'],
    words: [word('soft', 'soft'), word('tense', 'tense', ['hard', 'firm', 'tight'])],
    expected: 'soft',
    joints: limbJoints,
    expectedAt: [],
  },
];

/** The items that may be told of a joint. */
export function lookFeelItemsOf(joint: string): readonly LookFeelItem[] {
  return lookFeelItems.filter((item) => item.joints.some((id) => id === joint));
}

/** The items that "within expected limits" says of a joint (CM-03): what is looked for, then what is felt for. */
export function expectedItems(
  joint: string,
  aspects: readonly string[] = ['look', 'feel'],
): readonly LookFeelItem[] {
  return lookFeelItems.filter(
    (item) => aspects.includes(item.aspect) && item.expectedAt.some((id) => id === joint),
  );
}

/** The item meant by its id, label or a synonym, whatever joint it is told of. */
export const findLookFeelItem: (said: string) => LookFeelItem | undefined = finderOf(lookFeelItems, wordsOf);

/** The answers an item takes at a joint. */
export function lookFeelWordsOf(item: LookFeelItem, joint: string): readonly LookFeelWord[] {
  return item.words.filter(({ joints: at }) => at === undefined || at.some((id) => id === joint));
}

/** The answer meant by its id, label or a synonym, when the item takes it at this joint. */
export function readLookFeelWord(item: LookFeelItem, joint: string, said: string): LookFeelWord | undefined {
  return answerFinders.get(`${item.id} at ${joint}`)?.(said);
}

const answerFinders: ReadonlyMap<string, (said: string) => LookFeelWord | undefined> = new Map(
  lookFeelItems.flatMap((item) =>
    item.joints.map(
      (joint) => [`${item.id} at ${joint}`, finderOf(lookFeelWordsOf(item, joint), wordsOf)] as const,
    ),
  ),
);

/** The finding that a word names by itself, e.g. `kyphosis` or `wrist drop`, when it belongs to this joint (GR-10). */
export function findNamedFinding(
  joint: string,
  said: string,
): { readonly item: LookFeelItem; readonly word: LookFeelWord } | undefined {
  const deformity = findLookFeelItem('deformity');
  const named = deformity && readLookFeelWord(deformity, joint, said);
  if (deformity && named && named.id !== 'none' && named.id !== 'present') {
    return { item: deformity, word: named };
  }
  const item = lookFeelItemsOf(joint).find((one) => one.id !== 'deformity' && one === findLookFeelItem(said));
  const shown = item?.words.find((one) => one.id === 'present');
  return item && shown && { item, word: shown };
}
