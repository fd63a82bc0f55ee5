import type { JointId } from './joints.js';

/**
 * What is done about a wrong word. `normalise`: stored as the right one, shown. `suggest`: the right one is offered
 * and confirmed. `ask`: ambiguous, the nurse chooses. `rehome`: right movement, wrong joint: offered there.
 * `reject`: no sensible meaning.
 */
export type MisnomerAction = 'normalise' | 'suggest' | 'ask' | 'rehome' | 'reject';

/** What a word stands for: a movement, or something seen (GR-10: a drift or a curve is no movement). */
export type Target = MovementTarget | InspectionTarget;

export interface MovementTarget {
  readonly kind: 'movement';
  /** Id of the movement; it may belong to another joint than the word was said of. */
  readonly movement: string;
  /** "Hyperextension" says which of the two numbers of extension is meant. */
  readonly part?: 'hyperextends';
}

export interface InspectionTarget {
  readonly kind: 'look-feel';
  readonly joint: JointId;
  readonly item: string;
  readonly value: string;
}

/** A right word, as it is offered and may be sent back, with what it stands for. */
export interface RightWord {
  readonly word: string;
  readonly target: Target;
}

/** A word that is said of a joint and is wrong there. */
export interface Misnomer {
  readonly joint: JointId;
  readonly said: string;
  readonly action: MisnomerAction;
  /** What is meant or may be meant; with `reject` only what comes nearest, which is never offered. */
  readonly right: readonly RightWord[];
  /** The joint at which the thing is filed. */
  readonly rehomeTo?: JointId;
  readonly why: string;
}

function movement(word: string, id: string, part?: 'hyperextends'): RightWord {
  return { word, target: { kind: 'movement', movement: id, ...(part && { part }) } };
}

function inspection(word: string, joint: JointId, item: string, value: string): RightWord {
  return { word, target: { kind: 'look-feel', joint, item, value } };
}

/**
 * The wrong words of each joint. Where a meaning cannot be stored it is no choice: the thumb and the ankle have no
 * circumduction of their own here.
 */
export const misnomers: readonly Misnomer[] = [
  {
    joint: 'jaw',
    said: 'flexion',
    action: 'ask',
    right: [
      movement('depression (mouth opening)', 'jaw.depression'),
      movement('elevation (closing)', 'jaw.elevation'),
    ],
    why: 'the jaw has no flexion',
  },
  {
    joint: 'jaw',
    said: 'extension',
    action: 'ask',
    right: [movement('depression (mouth opening)', 'jaw.depression')],
    why: 'the jaw has no extension',
  },
  {
    joint: 'jaw',
    said: 'abduction',
    action: 'ask',
    right: [movement('lateral excursion', 'jaw.lateral')],
    why: 'not used for the jaw',
  },
  {
    joint: 'jaw',
    said: 'rotation',
    action: 'ask',
    right: [movement('lateral excursion', 'jaw.lateral')],
    why: 'not an examinable jaw movement',
  },
  {
    joint: 'neck',
    said: 'abduction',
    action: 'suggest',
    right: [movement('lateral flexion', 'neck.lateral-flexion')],
    why: 'midline structures bend sideways; they do not abduct',
  },
  {
    joint: 'neck',
    said: 'adduction',
    action: 'suggest',
    right: [movement('lateral flexion', 'neck.lateral-flexion')],
    why: 'midline structures do not adduct',
  },
  {
    joint: 'neck',
    said: 'lateral rotation',
    action: 'ask',
    right: [
      movement('rotation (left or right)', 'neck.rotation'),
      movement('lateral flexion (left or right)', 'neck.lateral-flexion'),
    ],
    why: 'two different movements are meant by this phrase',
  },
  {
    joint: 'neck',
    said: 'inversion',
    action: 'ask',
    right: [movement('lateral flexion', 'neck.lateral-flexion')],
    why: 'inversion belongs to the foot',
  },
  {
    joint: 'neck',
    said: 'pronation',
    action: 'reject',
    right: [movement('rotation', 'neck.rotation')],
    why: 'pronation belongs to the forearm (or foot)',
  },
  {
    joint: 'neck',
    said: 'dorsiflexion',
    action: 'suggest',
    right: [movement('extension', 'neck.extension')],
    why: 'dorsiflexion belongs to the ankle',
  },
  {
    joint: 'neck',
    said: 'hyperflexion',
    action: 'ask',
    right: [movement('flexion', 'neck.flexion')],
    why: 'describes an injury mechanism rather than an examined movement',
  },
  {
    joint: 'thoracolumbar',
    said: 'abduction',
    action: 'suggest',
    right: [movement('lateral flexion', 'trunk.lateral-flexion')],
    why: 'midline structures do not abduct',
  },
  {
    joint: 'thoracolumbar',
    said: 'adduction',
    action: 'suggest',
    right: [movement('lateral flexion', 'trunk.lateral-flexion')],
    why: 'midline structures do not adduct',
  },
  {
    joint: 'thoracolumbar',
    said: 'scoliosis present on flexion',
    action: 'rehome',
    right: [
      inspection(
        'inspection finding: sideways curve or hump on forward bend',
        'thoracolumbar',
        'scoliosis',
        'present',
      ),
    ],
    rehomeTo: 'thoracolumbar',
    why: 'a curve is an inspection finding, not a movement',
  },
  {
    joint: 'thoracolumbar',
    said: 'inversion',
    action: 'reject',
    right: [],
    why: 'inversion belongs to the foot',
  },
  {
    joint: 'thoracolumbar',
    said: 'pronation',
    action: 'reject',
    right: [],
    why: 'pronation belongs to the forearm (or foot)',
  },
  {
    joint: 'thoracolumbar',
    said: 'circumduction',
    action: 'ask',
    right: [
      movement('flexion', 'trunk.flexion'),
      movement('extension', 'trunk.extension'),
      movement('lateral flexion', 'trunk.lateral-flexion'),
      movement('rotation', 'trunk.rotation'),
    ],
    why: 'record the components',
  },
  {
    joint: 'shoulder-girdle',
    said: 'flexion',
    action: 'ask',
    right: [
      movement('elevation (shrug)', 'girdle.elevation'),
      movement('flexion of the shoulder joint', 'shoulder.flexion'),
    ],
    rehomeTo: 'shoulder',
    why: 'flexion is at the shoulder joint, not the girdle',
  },
  {
    joint: 'shoulder',
    said: 'pronation',
    action: 'ask',
    right: [
      movement('internal rotation', 'shoulder.internal-rotation'),
      movement('pronation of the forearm', 'forearm.pronation'),
    ],
    rehomeTo: 'forearm',
    why: 'pronation belongs to the forearm',
  },
  {
    joint: 'shoulder',
    said: 'supination',
    action: 'ask',
    right: [
      movement('external rotation', 'shoulder.external-rotation'),
      movement('supination of the forearm', 'forearm.supination'),
    ],
    rehomeTo: 'forearm',
    why: 'supination belongs to the forearm',
  },
  {
    joint: 'shoulder',
    said: 'inversion',
    action: 'ask',
    right: [movement('internal rotation', 'shoulder.internal-rotation')],
    why: 'inversion belongs to the foot',
  },
  {
    joint: 'shoulder',
    said: 'eversion',
    action: 'ask',
    right: [movement('external rotation', 'shoulder.external-rotation')],
    why: 'eversion belongs to the foot',
  },
  {
    joint: 'shoulder',
    said: 'dorsiflexion',
    action: 'reject',
    right: [],
    why: 'dorsiflexion belongs to the ankle',
  },
  {
    joint: 'shoulder',
    said: 'elevation',
    action: 'ask',
    right: [
      movement('flexion', 'shoulder.flexion'),
      movement('abduction', 'shoulder.abduction'),
      movement('elevation (shrug) of the shoulder girdle', 'girdle.elevation'),
    ],
    why: 'means different movements to different people',
  },
  {
    joint: 'shoulder',
    said: 'deviation',
    action: 'reject',
    right: [],
    why: 'deviation belongs to the wrist',
  },
  {
    joint: 'elbow',
    said: 'pronation',
    action: 'rehome',
    right: [movement('pronation', 'forearm.pronation')],
    rehomeTo: 'forearm',
    why: 'turning the palm is a forearm movement',
  },
  {
    joint: 'elbow',
    said: 'supination',
    action: 'rehome',
    right: [movement('supination', 'forearm.supination')],
    rehomeTo: 'forearm',
    why: 'turning the palm is a forearm movement',
  },
  {
    joint: 'elbow',
    said: 'rotation',
    action: 'ask',
    right: [
      movement('pronation of the forearm', 'forearm.pronation'),
      movement('supination of the forearm', 'forearm.supination'),
    ],
    why: 'turning the palm is a forearm movement',
  },
  {
    joint: 'elbow',
    said: 'abduction',
    action: 'reject',
    right: [],
    why: 'hinge joint; valgus is alignment or stability, not a movement',
  },
  {
    joint: 'elbow',
    said: 'adduction',
    action: 'reject',
    right: [],
    why: 'hinge joint; varus is alignment or stability, not a movement',
  },
  {
    joint: 'elbow',
    said: 'hyperextension',
    action: 'normalise',
    right: [movement('extension beyond neutral', 'elbow.extension', 'hyperextends')],
    why: 'record as degrees of hyperextension',
  },
  {
    joint: 'elbow',
    said: 'dorsiflexion',
    action: 'reject',
    right: [],
    why: 'belongs to the ankle',
  },
  {
    joint: 'elbow',
    said: 'inversion',
    action: 'reject',
    right: [],
    why: 'belongs to the foot',
  },
  {
    joint: 'forearm',
    said: 'inversion',
    action: 'ask',
    right: [movement('pronation', 'forearm.pronation'), movement('supination', 'forearm.supination')],
    why: 'inversion belongs to the foot; ask which way the palm faced',
  },
  {
    joint: 'forearm',
    said: 'eversion',
    action: 'ask',
    right: [movement('pronation', 'forearm.pronation'), movement('supination', 'forearm.supination')],
    why: 'eversion belongs to the foot; ask which way the palm faced',
  },
  {
    joint: 'forearm',
    said: 'internal rotation',
    action: 'suggest',
    right: [movement('pronation', 'forearm.pronation')],
    why: 'forearm turning is pronation',
  },
  {
    joint: 'forearm',
    said: 'external rotation',
    action: 'suggest',
    right: [movement('supination', 'forearm.supination')],
    why: 'forearm turning is supination',
  },
  {
    joint: 'forearm',
    said: 'rotation',
    action: 'ask',
    right: [movement('pronation', 'forearm.pronation'), movement('supination', 'forearm.supination')],
    why: 'direction needed',
  },
  {
    joint: 'forearm',
    said: 'flexion',
    action: 'ask',
    right: [
      movement('flexion of the elbow', 'elbow.flexion'),
      movement('flexion of the wrist', 'wrist.flexion'),
    ],
    why: 'the forearm itself does not bend',
  },
  {
    joint: 'wrist',
    said: 'inversion',
    action: 'ask',
    right: [
      movement('radial deviation', 'wrist.radial-deviation'),
      movement('ulnar deviation', 'wrist.ulnar-deviation'),
    ],
    why: 'inversion is the sole turning inward at the foot; the wrist tilts toward thumb or little finger. Never map silently: people do not agree which they mean',
  },
  {
    joint: 'wrist',
    said: 'eversion',
    action: 'ask',
    right: [
      movement('radial deviation', 'wrist.radial-deviation'),
      movement('ulnar deviation', 'wrist.ulnar-deviation'),
    ],
    why: 'eversion is the sole turning outward at the foot; ask thumb side or little-finger side',
  },
  {
    joint: 'wrist',
    said: 'dorsiflexion',
    action: 'normalise',
    right: [movement('extension', 'wrist.extension')],
    why: 'widely used for the wrist; store as extension and show the change',
  },
  {
    joint: 'wrist',
    said: 'plantar flexion',
    action: 'suggest',
    right: [movement('flexion', 'wrist.flexion')],
    why: 'plantar is the sole of the foot; palmar flexion was probably meant',
  },
  {
    joint: 'wrist',
    said: 'pronation',
    action: 'rehome',
    right: [movement('pronation of the forearm', 'forearm.pronation')],
    rehomeTo: 'forearm',
    why: 'turning the palm is a forearm movement',
  },
  {
    joint: 'wrist',
    said: 'supination',
    action: 'rehome',
    right: [movement('supination of the forearm', 'forearm.supination')],
    rehomeTo: 'forearm',
    why: 'turning the palm is a forearm movement',
  },
  {
    joint: 'wrist',
    said: 'rotation',
    action: 'ask',
    right: [
      movement('circumduction of the wrist', 'wrist.circumduction'),
      movement('pronation of the forearm', 'forearm.pronation'),
      movement('supination of the forearm', 'forearm.supination'),
    ],
    why: 'three different things are meant',
  },
  {
    joint: 'wrist',
    said: 'lateral flexion',
    action: 'ask',
    right: [
      movement('radial deviation', 'wrist.radial-deviation'),
      movement('ulnar deviation', 'wrist.ulnar-deviation'),
    ],
    why: 'side depends on palm position',
  },
  {
    joint: 'wrist',
    said: 'medial deviation',
    action: 'suggest',
    right: [movement('ulnar deviation', 'wrist.ulnar-deviation')],
    why: 'thumb-up or palm-down changes the meaning; confirm',
  },
  {
    joint: 'wrist',
    said: 'lateral deviation',
    action: 'suggest',
    right: [movement('radial deviation', 'wrist.radial-deviation')],
    why: 'confirm thumb side',
  },
  {
    joint: 'wrist',
    said: 'opposition',
    action: 'rehome',
    right: [movement('opposition of the thumb', 'thumb.opposition')],
    rehomeTo: 'thumb',
    why: 'thumb movement',
  },
  {
    joint: 'fingers',
    said: 'dorsiflexion',
    action: 'suggest',
    right: [movement('extension', 'fingers.extension')],
    why: 'belongs to the ankle (sometimes wrist)',
  },
  {
    joint: 'fingers',
    said: 'radial deviation',
    action: 'ask',
    right: [
      inspection('inspection finding: radial drift', 'fingers', 'deformity', 'radial-drift'),
      movement('abduction', 'fingers.abduction'),
    ],
    why: 'drift of the fingers is a deformity',
  },
  {
    joint: 'fingers',
    said: 'ulnar deviation',
    action: 'rehome',
    right: [inspection('inspection finding: ulnar drift', 'fingers', 'deformity', 'ulnar-drift')],
    rehomeTo: 'fingers',
    why: 'drift of the fingers is a deformity, not a movement',
  },
  {
    joint: 'fingers',
    said: 'inversion',
    action: 'reject',
    right: [],
    why: 'belongs to the foot',
  },
  {
    joint: 'fingers',
    said: 'pronation',
    action: 'rehome',
    right: [movement('pronation of the forearm', 'forearm.pronation')],
    rehomeTo: 'forearm',
    why: 'forearm movement',
  },
  {
    joint: 'fingers',
    said: 'opposition',
    action: 'rehome',
    right: [movement('opposition of the thumb', 'thumb.opposition')],
    rehomeTo: 'thumb',
    why: 'thumb movement',
  },
  {
    joint: 'thumb',
    said: 'inversion',
    action: 'reject',
    right: [],
    why: 'belongs to the foot',
  },
  {
    joint: 'thumb',
    said: 'pronation',
    action: 'ask',
    right: [movement('opposition', 'thumb.opposition')],
    why: 'opposition includes thumb rotation; confirm',
  },
  {
    joint: 'thumb',
    said: 'rotation',
    action: 'ask',
    right: [movement('opposition', 'thumb.opposition')],
    why: 'name the movement',
  },
  {
    joint: 'hip',
    said: 'inversion',
    action: 'ask',
    right: [movement('internal rotation', 'hip.internal-rotation')],
    why: 'belongs to the foot',
  },
  {
    joint: 'hip',
    said: 'eversion',
    action: 'ask',
    right: [movement('external rotation', 'hip.external-rotation')],
    why: 'belongs to the foot',
  },
  {
    joint: 'hip',
    said: 'pronation',
    action: 'reject',
    right: [movement('internal rotation', 'hip.internal-rotation')],
    why: 'belongs to the forearm or foot',
  },
  {
    joint: 'hip',
    said: 'supination',
    action: 'reject',
    right: [movement('external rotation', 'hip.external-rotation')],
    why: 'belongs to the forearm or foot',
  },
  {
    joint: 'hip',
    said: 'dorsiflexion',
    action: 'reject',
    right: [],
    why: 'belongs to the ankle',
  },
  {
    joint: 'hip',
    said: 'deviation',
    action: 'reject',
    right: [],
    why: 'belongs to the wrist',
  },
  {
    joint: 'hip',
    said: 'lateral flexion',
    action: 'suggest',
    right: [movement('abduction', 'hip.abduction')],
    why: 'limbs abduct; the spine bends sideways',
  },
  {
    joint: 'hip',
    said: 'rotation',
    action: 'ask',
    right: [
      movement('internal rotation', 'hip.internal-rotation'),
      movement('external rotation', 'hip.external-rotation'),
    ],
    why: 'direction needed',
  },
  {
    joint: 'knee',
    said: 'dorsiflexion',
    action: 'reject',
    right: [],
    why: 'belongs to the ankle',
  },
  {
    joint: 'knee',
    said: 'plantar flexion',
    action: 'reject',
    right: [],
    why: 'belongs to the ankle',
  },
  {
    joint: 'knee',
    said: 'abduction',
    action: 'ask',
    right: [
      inspection('inspection finding: valgus alignment', 'knee', 'deformity', 'valgus'),
      movement('abduction of the hip', 'hip.abduction'),
    ],
    why: 'the knee is not actively abducted',
  },
  {
    joint: 'knee',
    said: 'adduction',
    action: 'ask',
    right: [
      inspection('inspection finding: varus alignment', 'knee', 'deformity', 'varus'),
      movement('adduction of the hip', 'hip.adduction'),
    ],
    why: 'the knee is not actively adducted',
  },
  {
    joint: 'knee',
    said: 'internal rotation',
    action: 'rehome',
    right: [movement('internal rotation of the hip', 'hip.internal-rotation')],
    rehomeTo: 'hip',
    why: 'tested at the hip in a nursing examination',
  },
  {
    joint: 'knee',
    said: 'external rotation',
    action: 'rehome',
    right: [movement('external rotation of the hip', 'hip.external-rotation')],
    rehomeTo: 'hip',
    why: 'tested at the hip in a nursing examination',
  },
  {
    joint: 'knee',
    said: 'hyperextension',
    action: 'normalise',
    right: [movement('extension beyond neutral', 'knee.extension', 'hyperextends')],
    why: 'record as degrees of hyperextension',
  },
  {
    joint: 'knee',
    said: 'inversion',
    action: 'reject',
    right: [],
    why: 'belongs to the foot',
  },
  {
    joint: 'knee',
    said: 'deviation',
    action: 'reject',
    right: [],
    why: 'belongs to the wrist',
  },
  {
    joint: 'ankle',
    said: 'flexion',
    action: 'ask',
    right: [
      movement('dorsiflexion', 'ankle.dorsiflexion'),
      movement('plantar flexion', 'ankle.plantar-flexion'),
    ],
    why: 'at the ankle people mean opposite things by flexion',
  },
  {
    joint: 'ankle',
    said: 'extension',
    action: 'ask',
    right: [
      movement('plantar flexion', 'ankle.plantar-flexion'),
      movement('dorsiflexion', 'ankle.dorsiflexion'),
    ],
    why: 'at the ankle people mean opposite things by extension',
  },
  {
    joint: 'ankle',
    said: 'inversion',
    action: 'rehome',
    right: [movement('inversion of the foot', 'foot.inversion')],
    rehomeTo: 'foot',
    why: 'happens below the ankle; store at the foot',
  },
  {
    joint: 'ankle',
    said: 'eversion',
    action: 'rehome',
    right: [movement('eversion of the foot', 'foot.eversion')],
    rehomeTo: 'foot',
    why: 'happens below the ankle; store at the foot',
  },
  {
    joint: 'ankle',
    said: 'palmar flexion',
    action: 'suggest',
    right: [movement('plantar flexion', 'ankle.plantar-flexion')],
    why: 'palmar is the hand',
  },
  {
    joint: 'ankle',
    said: 'radial deviation',
    action: 'reject',
    right: [],
    why: 'belongs to the wrist',
  },
  {
    joint: 'ankle',
    said: 'ulnar deviation',
    action: 'reject',
    right: [],
    why: 'belongs to the wrist',
  },
  {
    joint: 'ankle',
    said: 'abduction',
    action: 'ask',
    right: [movement('eversion of the foot', 'foot.eversion')],
    why: 'say whether the toes turned out or the sole turned out',
  },
  {
    joint: 'ankle',
    said: 'adduction',
    action: 'ask',
    right: [movement('inversion of the foot', 'foot.inversion')],
    why: 'say whether the toes turned in or the sole turned in',
  },
  {
    joint: 'ankle',
    said: 'rotation',
    action: 'ask',
    right: [
      movement('internal rotation of the hip', 'hip.internal-rotation'),
      movement('external rotation of the hip', 'hip.external-rotation'),
    ],
    why: 'ankle circles are observed, not graded',
  },
  {
    joint: 'ankle',
    said: 'pronation',
    action: 'rehome',
    right: [movement('eversion of the foot', 'foot.eversion')],
    rehomeTo: 'foot',
    why: 'composite foot movement',
  },
  {
    joint: 'ankle',
    said: 'supination',
    action: 'rehome',
    right: [movement('inversion of the foot', 'foot.inversion')],
    rehomeTo: 'foot',
    why: 'composite foot movement',
  },
  {
    joint: 'foot',
    said: 'supination',
    action: 'suggest',
    right: [movement('inversion', 'foot.inversion')],
    why: 'composite movement; the nurse tests inversion',
  },
  {
    joint: 'foot',
    said: 'pronation',
    action: 'suggest',
    right: [movement('eversion', 'foot.eversion')],
    why: 'composite movement; the nurse tests eversion',
  },
  {
    joint: 'foot',
    said: 'radial deviation',
    action: 'reject',
    right: [movement('inversion', 'foot.inversion')],
    why: 'radial is the forearm',
  },
  {
    joint: 'foot',
    said: 'ulnar deviation',
    action: 'reject',
    right: [movement('eversion', 'foot.eversion')],
    why: 'ulnar is the forearm',
  },
  {
    joint: 'foot',
    said: 'flexion',
    action: 'ask',
    right: [
      movement('plantar flexion of the ankle', 'ankle.plantar-flexion'),
      movement('flexion of the toes', 'toes.flexion'),
    ],
    why: 'name the joint',
  },
  {
    joint: 'toes',
    said: 'dorsiflexion',
    action: 'normalise',
    right: [movement('extension', 'toes.extension')],
    why: 'store as toe extension',
  },
  {
    joint: 'toes',
    said: 'plantar flexion',
    action: 'normalise',
    right: [movement('flexion', 'toes.flexion')],
    why: 'store as toe flexion',
  },
  {
    joint: 'toes',
    said: 'inversion',
    action: 'rehome',
    right: [movement('inversion of the foot', 'foot.inversion')],
    rehomeTo: 'foot',
    why: 'foot movement',
  },
  {
    joint: 'toes',
    said: 'eversion',
    action: 'rehome',
    right: [movement('eversion of the foot', 'foot.eversion')],
    rehomeTo: 'foot',
    why: 'foot movement',
  },
  {
    joint: 'toes',
    said: 'opposition',
    action: 'reject',
    right: [],
    why: 'belongs to the thumb',
  },
];
