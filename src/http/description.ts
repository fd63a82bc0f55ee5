import swagger from '@fastify/swagger';
import swaggerUi from '@fastify/swagger-ui';
import type { FastifyInstance } from 'fastify';
import type { ServiceOptions } from './service-options.js';

/** `/openapi.json` and `/docs`: the doors other than FHIR, described from the schemas that the doors are built with. */
export async function describeDoors(app: FastifyInstance, options: ServiceOptions): Promise<void> {
  await app.register(swagger, {
    openapi: {
      openapi: '3.1.0',
      info: {
        title: 'Limbledger',
        version: options.version,
        description: DESCRIPTION,
        license: { name: 'Apache-2.0', identifier: 'Apache-2.0' },
      },
      tags: [
        { name: 'exams', description: 'One bedside examination in the terms of the nurse.' },
        { name: 'drafts', description: 'Unsigned documents of their authors; never counted.' },
        { name: 'trends', description: 'Comparable series of one patient.' },
      ],
    },
  });
  // The badge of a validator would send the address of this service to another host.
  const uiConfig = { validatorUrl: null };
  await app.register(swaggerUi, {
    routePrefix: '/docs',
    uiConfig,
    theme: { title: 'Limbledger: its doors' },
  });
  app.get('/openapi.json', { schema: { hide: true } }, () => app.swagger());
}

const DESCRIPTION = `Bedside examinations of the musculoskeletal system, kept as HL7 FHIR R4 Observations.

Findings, never diagnoses. Local policy, ordered precautions and the judgement of licensed staff come first.

The FHIR base is \`/fhir\`; what it offers is stated at \`/fhir/metadata\`.`;
