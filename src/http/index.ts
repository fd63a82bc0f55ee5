export { extractorsOf } from './extractors.js';
export { buildServer } from './server.js';
export { BODY_LIMIT } from './service-options.js';
export type { Conformance, ServiceOptions } from './service-options.js';
