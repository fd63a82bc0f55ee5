import type { FastifyInstance } from 'fastify';
import { z } from 'zod';
import { DECIMAL, decimal, given, stringifyJson } from '../fhir/index.js';
import { readNames, readResource, readSeries } from '../store/index.js';
import type { Database, Series, SeriesPoint } from '../store/index.js';
import { changeFromBaseline } from '../trends/index.js';
import { answers, trends } from './answers.js';
import { FhirError } from './errors.js';
import { JSON_TYPE, queryBy } from './exchange.js';
import { jsonSchemaOf } from './json-schema.js';
import type { ServiceOptions } from './service-options.js';

/** What `GET /patients/{id}/trends` takes. */
const trendQuery = z.strictObject({
  item: z
    .string()
    .optional()
    .describe(
      'The series of one thing: knee.flexion, knee.extension-lacks, grip, knee.circumference, pain-rest ...',
    ),
  side: z.enum(['left', 'right']).optional(),
  measure: z.enum(['range', 'strength', 'grip', 'measure', 'pain']).optional(),
  observations: z
    .enum(['true', 'false'])
    .default('false')
    .describe('Whether each point names its Observation; costs a look-up of each.'),
});

/** Every series of a patient with its points and its change from the first of them. States come with the rules. */
export function trendDoors(app: FastifyInstance, { db }: ServiceOptions): void {
  app.get<{ Params: { id: string } }>('/patients/:id/trends', { schema: TRENDS }, async (request, reply) => {
    const { observations, ...filter } = given(queryBy(trendQuery, request));
    const { id } = request.params;
    await requirePatient(db, id);
    const series = await readSeries(db, id, filter);
    const names = observations === 'true' ? await namesOf(db, series) : undefined;
    return reply
      .type(JSON_TYPE)
      .send(stringifyJson({ patient: id, series: series.map((one) => toldSeries(one, names)) }));
  });
}

type Names = Awaited<ReturnType<typeof readNames>>;

async function requirePatient(db: Database, id: string): Promise<void> {
  const patient = await readResource(db, 'Patient', id);
  if (patient === undefined || patient.deleted) throw new FhirError('not-found', 'There is no such patient.');
}

function namesOf(db: Database, series: readonly Series[]): Promise<Names> {
  return readNames(db, [...new Set(series.flatMap(({ points }) => points.map(({ key }) => key)))]);
}

function toldSeries({ points, ...key }: Series, names: Names | undefined): object {
  const told = changeFromBaseline(points);
  return {
    ...key,
    ...(told === undefined
      ? {}
      : {
          baseline: toldPoint(told.baseline, names),
          latest: toldPoint(told.latest, names),
          change: decimal(told.change),
        }),
    points: points.map((point) => toldPoint(point, names)),
  };
}

function toldPoint(
  { effective, value, digits, status, asExpected, key }: SeriesPoint,
  names: Names | undefined,
): object {
  return {
    at: new Date(effective).toISOString(),
    value: DECIMAL.test(digits) ? decimal(digits) : value,
    ...(DECIMAL.test(digits) ? {} : { grade: digits }),
    status,
    ...(asExpected ? { asExpected } : {}),
    ...(names === undefined ? {} : { observation: names.get(key)?.id }),
  };
}

const TRENDS = {
  tags: ['trends'],
  summary: 'Every series of a patient, with its points and its change from the first of them',
  description:
    'A series holds what is comparable: the same item, side, direction, mode, method, level, rule, device and unit. Findings and changes, never a judgement.',
  querystring: jsonSchemaOf(trendQuery),
  response: answers({
    200: { description: 'The series, by item, side and measure.', schema: trends },
    400: 'The query cannot be read.',
    404: 'There is no such patient.',
  }),
};
