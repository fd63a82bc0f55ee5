export { buildServer } from './server.js';
export { BODY_LIMIT } from './service-options.js';
export type { ServiceOptions } from './service-options.js';
