export { changeFromBaseline } from './change.js';
export type { ChangeFromBaseline, MeasuredPoint } from './change.js';
export { pointsOf } from './point.js';
export type { Point, SeriesWords } from './point.js';
export { remarksOn, siteTokensOf } from './site.js';
