-- Values that are nearly all different (identifiers, references to single Observations) are no use in a dictionary:
-- each would cost an entry of its own. They are kept with their row.
create table search_rare (
  key bigint not null,
  -- Token of kind 'present': the parameter, with the system of a code or the type of a reference ('url' for an address).
  field int not null,
  value text collate "C" not null
);
create index search_rare_by_key on search_rare (key);
create index search_rare_by_value on search_rare (value, field, key);
