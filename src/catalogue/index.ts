export type { Aspect, Code, HowKnown, Side, Source } from './types.js';
