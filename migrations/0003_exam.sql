-- Accepted exam documents, by the id their client gave them, and the drafts before them.
create table exam (
  id text collate "C" primary key,
  client_id text collate "C" not null unique,
  -- SHA-256 of the body, to tell the same document sent again from another one under the same id.
  body_digest bytea not null,
  answer text not null,
  patient text collate "C" not null,
  performed_at timestamptz not null,
  accepted_at timestamptz not null
);
create index exam_by_patient on exam (patient, performed_at desc, id);
create trigger exam_stays before update or delete or truncate on exam
  for each statement execute function refuse_change();

create table draft (
  client_id text collate "C" primary key,
  author_system text collate "C" not null,
  author_value text collate "C" not null,
  patient_system text collate "C",
  patient_value text collate "C",
  ward text collate "C",
  body text not null,
  created_at timestamptz not null,
  updated_at timestamptz not null
);
create index draft_by_author on draft (author_system, author_value, updated_at desc);
create index draft_by_ward on draft (ward, updated_at desc);
