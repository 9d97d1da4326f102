-- Why: the ground every page stands on: whose business this is, who may do what, and a record of who did it.
-- Instants are integer milliseconds UTC (sessions.expires_at alone is in seconds, as the session library wants);
-- days are text YYYY-MM-DD in the business's time zone. No default for time: the server's clock gives it.

CREATE TABLE business (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  address TEXT NOT NULL CHECK (length(address) <= 500),
  email TEXT NOT NULL CHECK (length(email) <= 254),
  country TEXT NOT NULL CHECK (length(country) = 2),
  time_zone TEXT NOT NULL,
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  locale TEXT NOT NULL,
  units TEXT NOT NULL CHECK (units IN ('metric', 'us')),
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  made_at INTEGER NOT NULL
) STRICT;

CREATE TABLE people (
  id TEXT PRIMARY KEY,
  sign_in_name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(sign_in_name) BETWEEN 2 AND 254),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 120),
  role TEXT NOT NULL CHECK (role IN ('owner', 'helper')),
  password_hash TEXT NOT NULL,
  active INTEGER NOT NULL CHECK (active IN (0, 1)),
  scheme TEXT NOT NULL CHECK (scheme IN ('system', 'light', 'dark')),
  made_at INTEGER NOT NULL,
  made_by TEXT REFERENCES people (id)
) STRICT;

-- Only the SHA-256 of the cookie's value is kept, so that a stolen file opens no session.
CREATE TABLE sessions (
  id TEXT PRIMARY KEY,
  user_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
  expires_at INTEGER NOT NULL,
  made_at INTEGER NOT NULL,
  device TEXT NOT NULL,
  notice TEXT CHECK (notice IS NULL OR json_valid(notice))
) STRICT;
CREATE INDEX sessions_by_person ON sessions (user_id);
CREATE INDEX sessions_by_end ON sessions (expires_at);

CREATE TABLE one_time_links (
  token_hash TEXT PRIMARY KEY,
  purpose TEXT NOT NULL CHECK (purpose IN ('set-up', 'invitation', 'reset')),
  role TEXT CHECK (role IN ('owner', 'helper')),
  name TEXT,
  person_id TEXT REFERENCES people (id) ON DELETE CASCADE,
  expires_at INTEGER NOT NULL,
  used_at INTEGER,
  made_at INTEGER NOT NULL,
  made_by TEXT REFERENCES people (id),
  CHECK ((purpose = 'invitation') = (role IS NOT NULL)),
  CHECK ((purpose = 'reset') = (person_id IS NOT NULL))
) STRICT;

CREATE TABLE sign_in_tries (
  id INTEGER PRIMARY KEY,
  account_hash TEXT NOT NULL,
  address_hash TEXT NOT NULL,
  tried_at INTEGER NOT NULL
) STRICT;
CREATE INDEX sign_in_tries_by_account ON sign_in_tries (account_hash, tried_at);
CREATE INDEX sign_in_tries_by_address ON sign_in_tries (address_hash, tried_at);

-- A browser somebody has signed in from. Its wrong tries are counted by themselves, so that a stranger who guesses
-- at an account cannot lock out the person it belongs to.
CREATE TABLE known_devices (
  token_hash TEXT NOT NULL,
  person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
  made_at INTEGER NOT NULL,
  used_at INTEGER NOT NULL,
  PRIMARY KEY (token_hash, person_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX known_devices_by_person ON known_devices (person_id);

-- One row per form that was acted on: the same form sent again is answered from here and acts once.
CREATE TABLE form_keys (
  form_key TEXT NOT NULL,
  person_id TEXT NOT NULL REFERENCES people (id),
  path TEXT NOT NULL,
  outcome TEXT NOT NULL CHECK (json_valid(outcome)),
  made_at INTEGER NOT NULL,
  PRIMARY KEY (person_id, path, form_key)
) STRICT, WITHOUT ROWID;
CREATE INDEX form_keys_by_time ON form_keys (made_at);

CREATE TABLE audit (
  id INTEGER PRIMARY KEY,
  at INTEGER NOT NULL,
  person_id TEXT REFERENCES people (id),
  action TEXT NOT NULL,
  subject TEXT NOT NULL,
  before TEXT CHECK (before IS NULL OR json_valid(before)),
  after TEXT CHECK (after IS NULL OR json_valid(after))
) STRICT;
CREATE INDEX audit_by_subject ON audit (subject, id);
CREATE TRIGGER audit_is_kept BEFORE DELETE ON audit BEGIN
  SELECT RAISE(ABORT, 'audit rows are kept');
END;
CREATE TRIGGER audit_is_not_changed BEFORE UPDATE ON audit BEGIN
  SELECT RAISE(ABORT, 'audit rows are not changed');
END;
