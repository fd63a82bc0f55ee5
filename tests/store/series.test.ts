import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import {
  newId,
  readNames,
  readSeries,
  readSeriesTails,
  transact,
  writeResources,
} from '../../src/store/index.js';
import type { Database, Point } from '../../src/store/index.js';
import { freshDatabase } from '../database.js';
import type { FreshDatabase } from '../database.js';
import { markedExtractors } from './extractors.js';

let fresh: FreshDatabase;
let db: Database;
beforeAll(async () => {
  fresh = await freshDatabase({ extractors: markedExtractors });
  db = fresh.db;
});
afterAll(() => fresh.drop());

const grip = (digits: string, effective: number, more: Partial<Point> = {}): Point => ({
  ...{ item: 'grip', measure: 'grip', unit: 'kg', side: 'left' },
  ...{ value: Number(digits), digits, effective, status: 'final', asExpected: false, component: 0 },
  ...more,
});

async function put(id: string, patient: string, points: readonly Point[]): Promise<void> {
  const found = { references: [{ parameter: 'patient', type: 'Patient', id: patient }] };
  const resource = { resourceType: 'Observation', found, points };
  await transact(db, (tx) =>
    writeResources(tx, [{ method: 'update', type: 'Observation', id, resource }], { at: new Date() }),
  );
}

describe('the series of a patient', () => {
  it('hold each point in order of time, with the digits as typed', async () => {
    const patient = newId();
    await put(newId(), patient, [grip('30.50', 2000)]);
    await put(newId(), patient, [grip('31', 1000)]);
    await put(newId(), patient, [grip('29', 3000, { device: 'hydraulic' })]);
    const series = await readSeries(db, patient);
    expect(series.map(({ device }) => device)).toEqual([undefined, 'hydraulic']);
    expect(series[0]).toMatchObject({ item: 'grip', side: 'left', unit: 'kg' });
    expect(series[0]?.points.map(({ digits, value }) => [digits, value])).toEqual([
      ['31', 31],
      ['30.50', 30.5],
    ]);
  });

  it('are narrowed by item, side and measure', async () => {
    const patient = newId();
    await put(newId(), patient, [grip('30', 1), grip('33', 1, { side: 'right' })]);
    await put(newId(), patient, [grip('120', 2, { item: 'knee.flexion', measure: 'range', unit: 'deg' })]);
    expect(await readSeries(db, patient, { side: 'right' })).toHaveLength(1);
    expect(await readSeries(db, patient, { item: 'grip' })).toHaveLength(2);
    expect(await readSeries(db, patient, { measure: 'range', side: 'left' })).toHaveLength(1);
    expect(await readSeries(db, patient, { item: 'hip.flexion' })).toEqual([]);
  });

  it('have an end of a few points up to a moment, the same as the whole has there', async () => {
    const patient = newId();
    const visits = Array.from({ length: 9 }, (_, place) => (place + 1) * 1000);
    await put(
      newId(),
      patient,
      visits.map((at) => grip(String(20 + at / 1000), at)),
    );
    await put(
      newId(),
      patient,
      visits.map((at) => grip('35', at, { side: 'right' })),
    );
    await put(newId(), newId(), [grip('50', 1000)]);
    const whole = await readSeries(db, patient);
    const ends = await readSeriesTails(db, patient, { until: 7000, limit: 3 });
    const expected = whole.map((series) => ({
      ...series,
      points: series.points.filter(({ effective }) => effective <= 7000).slice(-3),
    }));
    expect(ends).toEqual(expected);
    expect(await readSeriesTails(db, patient, { until: 0, limit: 3 })).toEqual([]);
    expect(await readSeriesTails(db, 'nobody', { until: 7000, limit: 3 })).toEqual([]);
  });

  it('name the resource of each point', async () => {
    const [patient, id] = [newId(), newId()];
    await put(id, patient, [grip('30', 1)]);
    const key = (await readSeries(db, patient))[0]?.points[0]?.key ?? 0;
    expect((await readNames(db, [key])).get(key)).toEqual({ type: 'Observation', id });
  });

  it('follow a correction, a change of patient, a withdrawal and a deletion', async () => {
    const [one, other, id] = [newId(), newId(), newId()];
    const values = async (patient: string): Promise<readonly string[]> =>
      (await readSeries(db, patient)).flatMap(({ points }) => points.map(({ digits }) => digits));
    await put(id, one, [grip('30', 1)]);
    await put(id, one, [grip('20', 1, { status: 'corrected' })]);
    expect(await values(one)).toEqual(['20']);
    await put(id, other, [grip('21', 1)]);
    expect([await values(one), await values(other)]).toEqual([[], ['21']]);
    await put(id, other, [grip('21', 1, { status: 'entered-in-error' })]);
    expect(await values(other)).toEqual([]);
    await put(id, other, [grip('22', 1)]);
    await transact(db, (tx) =>
      writeResources(tx, [{ method: 'delete', type: 'Observation', id }], { at: new Date() }),
    );
    expect(await values(other)).toEqual([]);
  });

  it('are nothing for a patient who was never heard of', async () => {
    expect(await readSeries(db, 'nobody')).toEqual([]);
    expect(await readSeries(db, 'no\0body')).toEqual([]);
  });

  it('are read from the index alone, without a look at the table', async () => {
    const patient = newId();
    const points = Array.from({ length: 300 }, (_, place) => grip(`${20 + (place % 9)}.50`, place * 1000));
    for (const one of [patient, ...Array.from({ length: 20 }, newId)]) await put(newId(), one, points);
    await db.pool.query('vacuum (analyze) point');
    const [row] = await db.query<{ id: number }>({
      text: "select id from token where kind = 'reference' and parameter = 'patient' and code = $1",
      values: [patient],
    });
    const plan = await db.query<{ 'QUERY PLAN': string }>({
      text: `explain (analyze, costs off, timing off) select series, effective, key, value, component, as_expected,
             status, digits from point where patient = ${row?.id ?? 0} order by series, effective, key, component`,
    });
    const text = plan.map((line) => line['QUERY PLAN']).join('\n');
    expect(text).toContain('Index Only Scan using point_of_patient');
    expect(text).toContain('Heap Fetches: 0');
  });
});
