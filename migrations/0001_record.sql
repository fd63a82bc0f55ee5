-- The record: resources with every version they ever had, what they are found by, and the sequence of changes.

-- Coded values and references are kept once and named by number in resource.tokens.
-- kind: 'coded' a code with its system ('' = none); 'reference' a type with an id, or 'url' with an address;
-- 'present' a parameter that has a value (its id also stands for the parameter in the search_ tables).
create table token (
  id int generated always as identity primary key,
  kind text collate "C" not null check (kind in ('coded', 'reference', 'present')),
  parameter text collate "C" not null,
  system text collate "C" not null,
  code text collate "C" not null,
  unique (parameter, code, system, kind)
);

-- The codes of one `code` element together: what a search for any one of them needs as an equality.
create table concept (
  id int generated always as identity primary key,
  tokens int[] not null unique
);
create index concept_by_token on concept using gin (tokens);

-- The present version of each resource. A deleted resource keeps its row, with an empty body.
create table resource (
  key bigint generated always as identity primary key,
  last_updated timestamptz not null,
  -- The range of the parameter `date` in milliseconds since 1970, high exclusive; date_high is null without a date.
  date_low bigint not null,
  date_high bigint,
  version int not null check (version > 0),
  patient int,
  concept int,
  -- 0: JSON text; 1: raw DEFLATE with the first preset dictionary.
  encoding smallint not null,
  operation text collate "C" not null check (operation in ('create', 'update', 'delete')),
  type text collate "C" not null,
  id text collate "C" not null,
  tokens int[] not null,
  body bytea not null,
  unique (id, type)
);
alter table resource alter column body set storage external;
-- Plans follow what was written within a minute, not after a tenth of the table.
alter table resource set (autovacuum_analyze_scale_factor = 0.01, autovacuum_analyze_threshold = 1000);
create index resource_by_patient on resource (patient, type, date_low desc, key desc) where patient is not null;
create index resource_by_patient_concept on resource (patient, concept, date_low desc, key desc)
  where patient is not null and concept is not null;
create index resource_by_concept on resource (concept, date_low desc, key desc) where concept is not null;
create index resource_by_date on resource (date_low, key) where date_high is not null;
create index resource_by_change on resource (last_updated, key);
-- A search reads the list of entries not yet merged from end to end: a short one costs it little.
create index resource_by_token on resource using gin (tokens) with (gin_pending_list_limit = 256);

-- Superseded versions; nothing here is ever changed.
create table resource_history (
  key bigint not null references resource,
  last_updated timestamptz not null,
  version int not null,
  encoding smallint not null,
  operation text collate "C" not null,
  body bytea not null,
  primary key (key, version)
);
alter table resource_history alter column body set storage external;

create function refuse_change() returns trigger language plpgsql as $$
begin
  raise exception '% of % is refused: what was recorded stays', tg_op, tg_table_name using errcode = 'restrict_violation';
end
$$;
create trigger history_stays before update or delete or truncate on resource_history
  for each statement execute function refuse_change();
create trigger token_stays before update or delete or truncate on token
  for each statement execute function refuse_change();
create trigger resource_stays before delete or truncate on resource
  for each statement execute function refuse_change();

-- Every version in the order in which it became visible.
create table change (
  sequence bigint generated always as identity primary key,
  key bigint not null,
  version int not null,
  operation text collate "C" not null
);
create trigger change_stays before update or delete or truncate on change
  for each statement execute function refuse_change();

-- Called as a transaction's last act: the lock makes the sequence follow the order of commits, so that a reader who
-- has seen number n never finds a lower one later.
create function append_changes(keys bigint[], versions int[], operations text[]) returns void language plpgsql as $$
begin
  perform pg_advisory_xact_lock(7460002);
  insert into change (key, version, operation) select * from unnest(keys, versions, operations);
end
$$;

-- Search values of present versions that are no tokens. parameter: token of kind 'present'. Numbers of tokens and keys
-- of resources stand here without foreign keys: those rows are never removed, and a check of each would make all
-- writers lock the same few rows of the dictionary.
create table search_date (
  key bigint not null,
  low bigint not null,
  high bigint not null,
  parameter int not null
);
create index search_date_by_key on search_date (key);
create index search_date_by_low on search_date (parameter, low, key);

create table search_string (
  key bigint not null,
  parameter int not null,
  folded text collate "C" not null,
  exact text collate "C" not null
);
create index search_string_by_key on search_string (key);
create index search_string_by_start on search_string (parameter, left(folded, 100), key);

create table search_quantity (
  key bigint not null,
  value double precision not null,
  parameter int not null,
  -- Token of the unit's system and code, or of the printed unit; null for a bare number.
  unit int,
  comparator text collate "C"
);
create index search_quantity_by_key on search_quantity (key);
create index search_quantity_by_value on search_quantity (parameter, unit, value, key);

create table search_uri (
  key bigint not null,
  parameter int not null,
  uri text collate "C" not null
);
create index search_uri_by_key on search_uri (key);
create index search_uri_by_start on search_uri (parameter, left(uri, 200), key);
