import type { Generated } from 'kysely';

/** Operation that made a version. */
export type Operation = 'create' | 'update' | 'delete';

/** The tables as the migrations leave them; row types stay inside this room. */
export interface Tables {
  readonly token: TokenTable;
  readonly concept: ConceptTable;
  readonly resource: ResourceTable;
  readonly resource_history: ResourceHistoryTable;
  readonly change: ChangeTable;
  readonly search_date: SearchDateTable;
  readonly search_string: SearchStringTable;
  readonly search_quantity: SearchQuantityTable;
  readonly search_uri: SearchUriTable;
  readonly search_rare: SearchRareTable;
  readonly series: SeriesTable;
  readonly point: PointTable;
  readonly exam: ExamTable;
  readonly draft: DraftTable;
}

export interface TokenTable {
  id: Generated<number>;
  kind: 'coded' | 'reference' | 'present';
  parameter: string;
  system: string;
  code: string;
}

export interface ConceptTable {
  id: Generated<number>;
  tokens: number[];
}

export interface ResourceTable {
  key: Generated<number>;
  last_updated: Date;
  date_low: number;
  date_high: number | null;
  version: number;
  patient: number | null;
  concept: number | null;
  encoding: number;
  operation: Operation;
  type: string;
  id: string;
  tokens: number[];
  body: Buffer;
}

export interface ResourceHistoryTable {
  key: number;
  last_updated: Date;
  version: number;
  encoding: number;
  operation: Operation;
  body: Buffer;
}

export interface ChangeTable {
  sequence: Generated<number>;
  key: number;
  version: number;
  operation: Operation;
}

export interface SearchDateTable {
  key: number;
  low: number;
  high: number;
  parameter: number;
}

export interface SearchStringTable {
  key: number;
  parameter: number;
  folded: string;
  exact: string;
}

export interface SearchQuantityTable {
  key: number;
  value: number;
  parameter: number;
  unit: number | null;
  comparator: string | null;
}

export interface SearchUriTable {
  key: number;
  parameter: number;
  uri: string;
}

export interface SearchRareTable {
  key: number;
  field: number;
  value: string;
}

export interface SeriesTable {
  id: Generated<number>;
  item: string;
  measure: string;
  unit: string;
  side: string | null;
  direction: string | null;
  mode: string | null;
  method: string | null;
  level: string | null;
  position: string | null;
  rule: string | null;
  device: string | null;
  digit: string | null;
}

export interface PointTable {
  effective: number;
  key: number;
  value: number;
  patient: number;
  series: number;
  component: number;
  as_expected: boolean;
  status: string;
  digits: string | null;
}

export interface ExamTable {
  id: string;
  client_id: string;
  body_digest: Buffer;
  answer: string;
  patient: string;
  performed_at: Date;
  accepted_at: Date;
}

export interface DraftTable {
  client_id: string;
  author_system: string;
  author_value: string;
  patient_system: string | null;
  patient_value: string | null;
  ward: string | null;
  body: string;
  created_at: Date;
  updated_at: Date;
}
