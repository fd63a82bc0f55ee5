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
  const token = referenceKey({ parameter: PATIENT, type: 'Patient', id: patientId });
  const [patient] = await db.database.dictionary.findTokens([token]);
  if (patient === undefined) return [];
  const asked = Object.keys(filter).length > 0 ? await findSeries(db, filter) : undefined;
  const rows = await db.query<PointRow>(
    asked === undefined
      ? { ...POINTS_OF_PATIENT, values: [patient] }
      : { ...POINTS_OF_SERIES, values: [patient, asked] },
  );
  return groupBySeries(await keysOf(db, rows), rows);
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
