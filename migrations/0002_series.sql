-- Measured points of present versions, for trends: one index-only range per patient.

-- What makes two points comparable.
create table series (
  id int generated always as identity primary key,
  item text collate "C" not null,
  measure text collate "C" not null,
  unit text collate "C" not null,
  side text collate "C",
  direction text collate "C",
  mode text collate "C",
  method text collate "C",
  level text collate "C",
  position text collate "C",
  rule text collate "C",
  device text collate "C",
  digit text collate "C",
  unique nulls not distinct (item, measure, unit, side, direction, mode, method, level, position, rule, device, digit)
);

create table point (
  effective bigint not null,
  key bigint not null,
  value double precision not null,
  patient int not null,
  series int not null,
  component smallint not null,
  as_expected boolean not null,
  status text collate "C" not null,
  -- The digits as typed, where the number alone would not give them back (30.50).
  digits text collate "C"
);
create index point_of_patient on point (patient, series, effective, key, component)
  include (value, as_expected, status, digits);
