export { pointsOf } from './point.js';
export type { Point, SeriesWords } from './point.js';
