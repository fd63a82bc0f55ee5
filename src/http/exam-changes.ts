import type { FastifyInstance } from 'fastify';
import type { ServiceOptions } from './service-options.js';
export function changeDoors(_app: FastifyInstance, _o: ServiceOptions): void {}
