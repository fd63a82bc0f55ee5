import { referenceRange, type Side } from '../catalogue/index.js';
import type { Exam, Finding } from './exam.js';
import { findingKey } from './finding-key.js';
import type { PatientRecord, SeriesTail } from './patient-record.js';
import { inTrendUnit, readingsOf, type Reading } from './readings.js';
import type { RecordRules } from './record-rules.js';
import { clockWords } from './record-wording.js';
import type { SiteRules } from './rules.js';

/** An exam beside the patient's record: what every check against the record reads. */
export interface Visit {
  readonly exam: Exam;
  /** The exam's moment, in ms. */
  readonly at: number;
  readonly record: PatientRecord;
  readonly site: SiteRules;
  readonly rules: RecordRules;
  readonly readings: readonly Reading[];
  /** The same by their findings, and by the key of their series. */
  readonly byFinding: ReadonlyMap<Finding, readonly Reading[]>;
  readonly byKey: ReadonlyMap<string, Reading>;
  /** Live readings on record by the key of their series, oldest first, whatever their method. */
  readonly history: ReadonlyMap<string, readonly Past[]>;
  readonly places: ReadonlyMap<string, string>;
}

/** One reading on record. */
export interface Past {
  /** In ms. */
  readonly at: number;
  readonly value: number;
  readonly method?: string;
  readonly asExpected: boolean;
}

/** Lays an exam beside a record, its readings by series, so that each check need not search. */
export function openVisit(
  exam: Exam,
  places: ReadonlyMap<string, string>,
  record: PatientRecord,
  site: SiteRules,
  rules: RecordRules,
): Visit {
  const at = Date.parse(exam.performedAt);
  const byFinding = new Map(exam.findings.map((finding) => [finding, readingsOf(finding)]));
  const readings = [...byFinding.values()].flat();
  return {
    exam,
    at,
    record,
    site,
    rules,
    readings,
    byFinding,
    byKey: new Map(readings.map((reading) => [seriesKey(reading, reading.side), reading])),
    history: pastOf(record.series),
    places,
  };
}

/** R4 observation-status: a withdrawn value is compared with nothing. */
const WITHDRAWN: ReadonlySet<string> = new Set(['entered-in-error', 'cancelled']);

function pastOf(series: readonly SeriesTail[]): ReadonlyMap<string, readonly Past[]> {
  const history = new Map<string, Past[]>();
  for (const tail of series) {
    const key = seriesKey({ ...tail, unit: comparable(tail, 0).unit }, tail.side);
    const past = history.get(key) ?? [];
    history.set(key, past);
    for (const { effective, value, status, asExpected } of tail.points)
      if (!WITHDRAWN.has(status))
        past.push({
          at: effective,
          value: comparable(tail, value).value,
          asExpected,
          ...(tail.method && { method: tail.method }),
        });
  }
  for (const past of history.values())
    past.sort((one, other) => one.at - other.at || one.value - other.value);
  return history;
}

type Comparable = ReturnType<typeof inTrendUnit>;

/** A split grade (`4-`, on record a third of a step off) counts as the whole grade. */
function comparable({ measure, unit }: SeriesTail, value: number): Comparable {
  if (measure === 'strength') return { unit, value: Math.round(value) };
  return measure === 'range' ? { unit, value } : inTrendUnit(unit, value);
}

type SeriesWords = Pick<SeriesTail, 'item' | 'measure' | 'direction' | 'mode' | 'level' | 'digit' | 'unit'>;

function seriesKey(words: SeriesWords, side: Side | undefined): string {
  const { item, measure, direction = '', mode = '', level = '', digit = '', unit } = words;
  return `${item}|${measure}|${side ?? ''}|${direction}|${mode}|${level}|${digit}|${unit}`;
}

/** Readings of the same thing on a side, at any time, oldest first. */
export function readingsLike(visit: Visit, reading: SeriesWords, side?: Side): readonly Past[] {
  return visit.history.get(seriesKey(reading, side)) ?? [];
}

/** Those made before the exam. */
export function readingsBefore(
  visit: Visit,
  reading: SeriesWords & { readonly side?: Side },
  side = reading.side,
): readonly Past[] {
  return readingsLike(visit, reading, side).filter(({ at }) => at < visit.at);
}

/** The exam's own reading of the same thing on the other side. */
export function twinOf({ byKey }: Visit, reading: Reading): Reading | undefined {
  return reading.side && byKey.get(seriesKey(reading, otherSide(reading.side)));
}

/** The other side of a paired structure. */
export function otherSide(side: Side): Side;
export function otherSide(side: Side | undefined): Side | undefined;
export function otherSide(side: Side | undefined): Side | undefined {
  if (side === undefined) return undefined;
  return side === 'left' ? 'right' : 'left';
}

/**
 * Whether a difference is more than a margin. Decimals as typed (43.2 and 40.0) have no exact double, so a billionth
 * either way is none.
 */
export function exceeds(difference: number, margin: number): boolean {
  return difference - margin > 1e-9;
}

const HOUR_MS = 3_600_000;

/** Whether a reading on record is young enough to be held against one of the other side. */
export function isRecent({ at, rules }: Visit, past: Past): boolean {
  return at - past.at <= rules.recentHours * HOUR_MS;
}

/** What error of measurement alone may make between two readings of a range, in degrees. */
export function rangeError(rules: RecordRules, one: string | undefined, other: string | undefined): number {
  return Math.max(methodError(rules, one), methodError(rules, other));
}

function methodError({ rangeErrorDegrees, otherRangeErrorDegrees }: RecordRules, method?: string): number {
  return (method === undefined ? undefined : rangeErrorDegrees[method]) ?? otherRangeErrorDegrees;
}

/**
 * Whether an angle falls so far short of the read reference value, by share and by more than its error, that it is a
 * known limitation: age alone, and small ranges measured roughly, are none.
 */
export function isClearlyLimited(
  rules: RecordRules,
  movement: string,
  { value, method }: { readonly value: number; readonly method?: string },
): boolean {
  const usual = referenceRange(movement)?.value;
  return (
    usual !== undefined &&
    value < rules.limitedShare * usual &&
    exceeds(usual - value, rangeError(rules, method, method))
  );
}

/** Where in the document a finding stands. */
export function placeOf({ places }: Visit, finding: Finding): string {
  return places.get(findingKey(finding)) ?? '';
}

/** A moment on record, on the clock of the exam. */
export function whenWords({ exam }: Visit, ms: number): string {
  return clockWords(ms, exam.performedAt);
}

/** The entries by a key, in the order in which their keys first came. */
export function groupBy<T>(entries: readonly T[], keyOf: (entry: T) => string): readonly (readonly T[])[] {
  const groups = new Map<string, T[]>();
  for (const entry of entries) {
    const key = keyOf(entry);
    const group = groups.get(key);
    if (group === undefined) groups.set(key, [entry]);
    else group.push(entry);
  }
  return [...groups.values()];
}
