import type { Connection } from './database.js';
import { PATIENT, referenceKey, withoutNul } from './found-by.js';
import { SERIES_COLUMNS } from './point.js';
import type { Point, SeriesKey } from './point.js';
import type { Statement } from './statement.js';

/** A series of one patient: its points in order of time. */
export interface Series extends SeriesKey {
  readonly points: readonly SeriesPoint[];
}

/** A point as kept, with the key of its resource (see `readNames`). */
export interface SeriesPoint extends Omit<Point, keyof SeriesKey> {
  readonly key: number;
}

/** Narrows what is read. */
export interface SeriesFilter {
  readonly item?: string;
  readonly side?: 'left' | 'right';
  readonly measure?: string;
}

interface PointRow {
  readonly series: number;
  readonly effective: number;
  readonly key: number;
  readonly value: number;
  readonly component: number;
  readonly as_expected: boolean;
  readonly status: string;
  readonly digits: string | null;
}

/** One index-only range: everything given out stands in the index itself. */
const POINTS_OF_PATIENT: Statement = {
  name: 'points-of-patient',
  text: `select series, effective, key, value, component, as_expected, status, digits from point
         where patient = $1 order by series, effective, key, component`,
};

/** The same for some of the patient's series. */
const POINTS_OF_SERIES: Statement = {
  name: 'points-of-series',
  text: `select series, effective, key, value, component, as_expected, status, digits from point
         where patient = $1 and series = any($2::int[]) order by series, effective, key, component`,
};

/**
 * Every series of a patient (id of the Patient resource), of present versions that are neither withdrawn nor
 * deleted: ordered by item, side and measure, the points of each by time.
 */
export async function readSeries(
  db: Connection,
  patientId: string,
  filter: SeriesFilter = {},
): Promise<readonly Series[]> {
  const patient = await findPatient(db, patientId);
  if (patient === undefined) return [];
  const asked = Object.keys(filter).length > 0 ? await findSeries(db, filter) : undefined;
  const rows = await db.query<PointRow>(
    asked === undefined
      ? { ...POINTS_OF_PATIENT, values: [patient] }
      : { ...POINTS_OF_SERIES, values: [patient, asked] },
  );
  return groupBySeries(await keysOf(db, rows), rows);
}

/** The patient's series by steps along the index, and the end of each: what is read does not grow with the history. */
const TAILS_OF_PATIENT: Statement = {
  name: 'tails-of-patient',
  text: `with recursive own (series) as (
           (select series from point where patient = $1 order by series limit 1)
           union all
           select (select point.series from point where patient = $1 and point.series > own.series
                   order by point.series limit 1)
           from own where own.series is not null
         )
         select series, effective, key, value, component, as_expected, status, digits
         from own cross join lateral (
           select effective, key, value, component, as_expected, status, digits from point
           where patient = $1 and point.series = own.series and effective <= $2
           order by effective desc, key desc limit $3
         ) tail
         where own.series is not null order by series, effective, key, component`,
};

/** Which end of each series is read. */
export interface TailFilter {
  /** No point after this, in ms since 1970 (UTC). */
  readonly until: number;
  /** At most so many points of each series, the latest. */
  readonly limit: number;
}

/** The series of a patient as `readSeries` gives them, with the last points of each up to a moment. */
export async function readSeriesTails(
  db: Connection,
  patientId: string,
  { until, limit }: TailFilter,
): Promise<readonly Series[]> {
  const patient = await findPatient(db, patientId);
  if (patient === undefined) return [];
  const rows = await db.query<PointRow>({ ...TAILS_OF_PATIENT, values: [patient, until, limit] });
  return groupBySeries(await keysOf(db, rows), rows);
}

/** The number that stands for a patient in the tables; none when nothing was ever written about them. */
async function findPatient(db: Connection, id: string): Promise<number | undefined> {
  const token = referenceKey({ parameter: PATIENT, type: 'Patient', id });
  const [patient] = await db.database.dictionary.findTokens([token]);
  return patient;
}

async function keysOf(db: Connection, rows: readonly PointRow[]): Promise<ReadonlyMap<number, SeriesKey>> {
  return db.database.dictionary.readSeries([...new Set(rows.map(({ series }) => series))]);
}

/** The rows come sorted by series and time. */
function groupBySeries(keys: ReadonlyMap<number, SeriesKey>, rows: readonly PointRow[]): readonly Series[] {
  const points = new Map<number, SeriesPoint[]>();
  for (const row of rows) {
    const own = points.get(row.series);
    if (own === undefined) points.set(row.series, [pointOf(row)]);
    else own.push(pointOf(row));
  }
  const series = [...keys].map(([number, key]) => ({ ...key, points: points.get(number) ?? [] }));
  return series.sort((one, other) => (placeOf(one) < placeOf(other) ? -1 : 1));
}

function pointOf(row: PointRow): SeriesPoint {
  const { key, effective, value, component, status } = row;
  const digits = row.digits ?? String(value);
  return { key, effective, value, digits, component, status, asExpected: row.as_expected };
}

/** Item, then side and the rest. */
function placeOf(key: SeriesKey): string {
  const { item, side = '', measure } = key;
  return [item, side, measure, ...SERIES_COLUMNS.map((column) => key[column] ?? '')].join('\0');
}

async function findSeries(db: Connection, filter: SeriesFilter): Promise<readonly number[]> {
  const rows = await db.query<{ id: number }>({
    name: 'find-series',
    text: `select id from series where ($1::text is null or item = $1) and ($2::text is null or side = $2)
           and ($3::text is null or measure = $3)`,
    values: [filter.item, filter.side, filter.measure].map((word) =>
      word === undefined ? null : withoutNul(word),
    ),
  });
  return rows.map(({ id }) => id);
}

/** The resources of points, by their keys. */
export async function readNames(
  db: Connection,
  keys: readonly number[],
): Promise<ReadonlyMap<number, { readonly type: string; readonly id: string }>> {
  const rows = await db.query<{ key: number; type: string; id: string }>({
    name: 'read-names',
    text: 'select key, type, id from resource where key = any($1::bigint[])',
    values: [keys],
  });
  return new Map(rows.map(({ key, type, id }) => [key, { type, id }]));
}
