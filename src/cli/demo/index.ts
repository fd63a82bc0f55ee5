export { demoActs, type DemoAct } from './documents.js';
export { demoLinks } from './links.js';
export { loadDemo, reportLines, type DemoReport } from './load.js';
export { DEMO_TIME_ZONE } from './shifts.js';
