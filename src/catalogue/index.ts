export { CANONICAL, SYSTEMS } from './canonical.js';
export { findJoint, joints } from './joints.js';
export type { Joint, JointId, Region } from './joints.js';
export {
  expectedItems,
  findLookFeelItem,
  lookFeelItems,
  lookFeelItemsOf,
  lookFeelWordsOf,
  readLookFeelWord,
} from './look-feel.js';
export type { LookFeelItem, LookFeelWord } from './look-feel.js';
export { misnomers } from './misnomers.js';
export type {
  InspectionTarget,
  Misnomer,
  MisnomerAction,
  MovementTarget,
  RightWord,
  Target,
} from './misnomers.js';
export { movementOfTarget, readMovementWord } from './movement-words.js';
export type { WordAnswer } from './movement-words.js';
export { findMovement, movements, movementsOf } from './movements.js';
export type { Movement, MovementLimits, MovementMeasure, SideRule } from './movements.js';
export type { Aspect, Code, HowKnown, Side, Source } from './types.js';
