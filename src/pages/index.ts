export { startPage } from './start-page.js';
export type { NamedLink, StartPageFacts } from './start-page.js';
export { STYLESHEET } from './stylesheet.js';
