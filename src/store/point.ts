/** What makes measured points comparable: they differ in nothing but their time. */
export interface SeriesKey {
  /** Id of the catalogue's movement or measure, e.g. `knee.flexion`. */
  readonly item: string;
  /** What was measured: range, strength, grip, pain ... */
  readonly measure: string;
  /** UCUM code. */
  readonly unit: string;
  readonly side?: 'left' | 'right';
  readonly direction?: string;
  readonly mode?: string;
  readonly method?: string;
  readonly level?: string;
  readonly position?: string;
  readonly rule?: string;
  readonly device?: string;
  readonly digit?: string;
}

/** One measured value of a resource. */
export interface Point extends SeriesKey {
  readonly value: number;
  /** The digits as typed. */
  readonly digits: string;
  /** Milliseconds since 1970 (UTC). */
  readonly effective: number;
  /** Status of the Observation; the reader decides what counts. */
  readonly status: string;
  /** Whether it stands for "within expected limits" rather than a measurement. */
  readonly asExpected: boolean;
  /** Place of the component in the resource; 0 for the resource's own value. */
  readonly component: number;
}

/** The columns of `series`, in one order for every statement. */
export const SERIES_COLUMNS = [
  'item',
  'measure',
  'unit',
  'side',
  'direction',
  'mode',
  'method',
  'level',
  'position',
  'rule',
  'device',
  'digit',
] as const satisfies readonly (keyof SeriesKey)[];
