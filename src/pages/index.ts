export { startPage } from './start-page.js';
export type { StartPageFacts } from './start-page.js';
export { STYLESHEET } from './stylesheet.js';
