-- The layout of the record. The workshop leads every key, index and foreign key,
-- so that a workshop can be moved, or kept apart, as a whole. Times are
-- microseconds since 1970-01-01 UTC. Texts compare by their bytes (BINARY, the
-- default here).

PRAGMA application_id = 0x54575254;

-- size is the number of leaves in the workshop's ledger, and so the index of the
-- next one.
CREATE TABLE workshops (
  workshop   TEXT    NOT NULL PRIMARY KEY,
  size       INTEGER NOT NULL CHECK (size >= 0),
  created_us INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

CREATE TABLE builds (
  workshop   TEXT    NOT NULL REFERENCES workshops (workshop),
  build      TEXT    NOT NULL,
  opened_us  INTEGER NOT NULL,
  PRIMARY KEY (workshop, build)
) STRICT, WITHOUT ROWID;

CREATE INDEX builds_by_time ON builds (workshop, opened_us, build);

-- The record itself. envelope and payload are the leaf; the other columns repeat
-- what is searched. An empty text means that there is none; offset_us is NULL if
-- it was not measured. tools holds ids, one a line.
CREATE TABLE entries (
  workshop       TEXT    NOT NULL,
  build          TEXT    NOT NULL,
  seq            INTEGER NOT NULL CHECK (seq >= 1),
  entry_id       TEXT    NOT NULL,
  job            TEXT    NOT NULL,
  schema_version INTEGER NOT NULL CHECK (schema_version >= 1),
  kind           TEXT    NOT NULL,
  actor          TEXT    NOT NULL,
  tablet         TEXT    NOT NULL,
  tablet_seq     INTEGER NOT NULL,
  boot           TEXT    NOT NULL,
  monotonic_us   INTEGER NOT NULL,
  tablet_us      INTEGER NOT NULL,
  server_us      INTEGER NOT NULL,
  offset_us      INTEGER,
  based_on_seq   INTEGER NOT NULL CHECK (based_on_seq >= 0),
  tools          TEXT    NOT NULL,
  envelope       BLOB    NOT NULL CHECK (length(envelope) > 0),
  payload        BLOB    NOT NULL,
  ledger_index   INTEGER NOT NULL CHECK (ledger_index >= 0),
  PRIMARY KEY (workshop, build, seq),
  UNIQUE (workshop, entry_id),
  UNIQUE (workshop, ledger_index),
  FOREIGN KEY (workshop, build) REFERENCES builds (workshop, build)
) STRICT;

-- Lists beside the entries; both can be made anew from them.
CREATE TABLE jobs (
  workshop  TEXT    NOT NULL,
  build     TEXT    NOT NULL,
  job       TEXT    NOT NULL,
  open_seq  INTEGER NOT NULL,
  opened_us INTEGER NOT NULL,
  PRIMARY KEY (workshop, build, job),
  FOREIGN KEY (workshop, build, open_seq) REFERENCES entries (workshop, build, seq)
) STRICT, WITHOUT ROWID;

CREATE INDEX jobs_by_time ON jobs (workshop, opened_us, build, job);
CREATE INDEX jobs_by_build ON jobs (workshop, build, opened_us, job);

CREATE TABLE entry_tools (
  workshop  TEXT    NOT NULL,
  tool      TEXT    NOT NULL,
  server_us INTEGER NOT NULL,
  build     TEXT    NOT NULL,
  seq       INTEGER NOT NULL,
  PRIMARY KEY (workshop, tool, server_us, build, seq),
  FOREIGN KEY (workshop, build, seq) REFERENCES entries (workshop, build, seq)
) STRICT, WITHOUT ROWID;

-- Documents: version is the current one; every version stays.
CREATE TABLE documents (
  workshop TEXT    NOT NULL REFERENCES workshops (workshop),
  kind     TEXT    NOT NULL,
  id       TEXT    NOT NULL,
  version  INTEGER NOT NULL CHECK (version >= 1),
  PRIMARY KEY (workshop, kind, id)
) STRICT, WITHOUT ROWID;

CREATE TABLE document_versions (
  workshop  TEXT    NOT NULL,
  kind      TEXT    NOT NULL,
  id        TEXT    NOT NULL,
  version   INTEGER NOT NULL CHECK (version >= 1),
  actor     TEXT    NOT NULL,
  server_us INTEGER NOT NULL,
  erased_us INTEGER NOT NULL,
  body      BLOB    NOT NULL,
  PRIMARY KEY (workshop, kind, id, version),
  FOREIGN KEY (workshop, kind, id) REFERENCES documents (workshop, kind, id)
) STRICT;

-- Free text and photos, each with the key of the HMAC that an entry holds of it.
CREATE TABLE attachments (
  workshop   TEXT    NOT NULL REFERENCES workshops (workshop),
  id         TEXT    NOT NULL,
  build      TEXT    NOT NULL,
  person     TEXT    NOT NULL,
  media_type TEXT    NOT NULL,
  server_us  INTEGER NOT NULL,
  erased_us  INTEGER NOT NULL,
  body       BLOB    NOT NULL,
  hmac_key   BLOB    NOT NULL,
  PRIMARY KEY (workshop, id)
) STRICT;

CREATE INDEX attachments_by_build ON attachments (workshop, build, id);
CREATE INDEX attachments_by_person ON attachments (workshop, person, id);

-- What was answered to each request id.
CREATE TABLE requests (
  workshop   TEXT    NOT NULL REFERENCES workshops (workshop),
  request_id TEXT    NOT NULL,
  digest     BLOB    NOT NULL CHECK (length(digest) > 0),
  answer     BLOB    NOT NULL,
  server_us  INTEGER NOT NULL,
  PRIMARY KEY (workshop, request_id)
) STRICT;

-- What was recorded stays as it was. These triggers stop mistakes, in this
-- program or in a shell, not someone who may change the file: against that, only
-- a signed checkpoint of the ledger helps that is kept elsewhere.
CREATE TRIGGER entries_stay BEFORE UPDATE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are append-only'); END;

CREATE TRIGGER entries_remain BEFORE DELETE ON entries
BEGIN SELECT RAISE(ABORT, 'entries are append-only'); END;

CREATE TRIGGER workshops_grow BEFORE UPDATE ON workshops
WHEN NEW.size < OLD.size OR NEW.workshop <> OLD.workshop
BEGIN SELECT RAISE(ABORT, 'a ledger only grows'); END;

CREATE TRIGGER workshops_remain BEFORE DELETE ON workshops
BEGIN SELECT RAISE(ABORT, 'a ledger only grows'); END;

CREATE TRIGGER builds_stay BEFORE UPDATE ON builds
BEGIN SELECT RAISE(ABORT, 'a build only grows'); END;

CREATE TRIGGER builds_remain BEFORE DELETE ON builds
BEGIN SELECT RAISE(ABORT, 'a build only grows'); END;

CREATE TRIGGER documents_move_on BEFORE UPDATE ON documents
WHEN NEW.version <> OLD.version + 1 OR NEW.id <> OLD.id OR NEW.kind <> OLD.kind OR NEW.workshop <> OLD.workshop
BEGIN SELECT RAISE(ABORT, 'versions of a document only move on'); END;

CREATE TRIGGER documents_remain BEFORE DELETE ON documents
BEGIN SELECT RAISE(ABORT, 'documents are not removed'); END;

CREATE TRIGGER document_versions_stay BEFORE UPDATE ON document_versions
WHEN NEW.erased_us = 0 OR length(NEW.body) > 0 OR NEW.version <> OLD.version OR NEW.id <> OLD.id
  OR NEW.kind <> OLD.kind OR NEW.workshop <> OLD.workshop
  OR NEW.actor <> OLD.actor OR NEW.server_us <> OLD.server_us
BEGIN SELECT RAISE(ABORT, 'a version of a document can only be erased'); END;

CREATE TRIGGER document_versions_remain BEFORE DELETE ON document_versions
BEGIN SELECT RAISE(ABORT, 'a version of a document can only be erased'); END;

CREATE TRIGGER attachments_stay BEFORE UPDATE ON attachments
WHEN NEW.erased_us = 0 OR length(NEW.body) > 0 OR length(NEW.hmac_key) > 0
  OR NEW.id <> OLD.id OR NEW.workshop <> OLD.workshop OR NEW.build <> OLD.build
  OR NEW.person <> OLD.person OR NEW.server_us <> OLD.server_us
BEGIN SELECT RAISE(ABORT, 'an attachment can only be erased'); END;

CREATE TRIGGER attachments_remain BEFORE DELETE ON attachments
BEGIN SELECT RAISE(ABORT, 'an attachment can only be erased'); END;

CREATE TRIGGER requests_stay BEFORE UPDATE ON requests
BEGIN SELECT RAISE(ABORT, 'what was answered stays'); END;
