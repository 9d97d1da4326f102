-- Why: a password can be seen over a shoulder, so people may add a code from their phone (RFC 6238), and an owner may
-- ask for it. And the record of changes becomes a chain: each row holds a hash of itself and of the row before, so
-- that a row changed or taken out behind the service's back shows.

-- The secret stands as it is: to work out a code it is needed in clear, and the file is the owner's alone.
-- Set up but not confirmed by a first code, it is asked of nobody. `last_step` is the newest code that was used.
CREATE TABLE second_factors (
  person_id TEXT PRIMARY KEY REFERENCES people (id) ON DELETE CASCADE,
  secret TEXT NOT NULL CHECK (length(secret) = 32),
  confirmed_at INTEGER,
  last_step INTEGER NOT NULL,
  made_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- For a lost phone: each opens once; only hashes are kept.
CREATE TABLE recovery_codes (
  code_hash TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
  used_at INTEGER,
  made_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX recovery_codes_by_person ON recovery_codes (person_id);

-- Whoever has told the password and not yet the code; over when the password changes meanwhile.
CREATE TABLE half_sign_ins (
  token_hash TEXT PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES people (id) ON DELETE CASCADE,
  password_print TEXT NOT NULL,
  made_at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX half_sign_ins_by_person ON half_sign_ins (person_id);
CREATE INDEX half_sign_ins_by_time ON half_sign_ins (made_at);

CREATE TABLE sign_in_rules (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  second_factor TEXT NOT NULL CHECK (second_factor IN ('nobody', 'owners', 'everybody'))
) STRICT;

ALTER TABLE sessions ADD COLUMN used_at INTEGER;
UPDATE sessions SET used_at = made_at;

-- `body_hash` is of `before`, `after` and a random `salt`: when a person is erased from both, the salt goes too, so that
-- nobody can guess at what stood there, and the chain holds all the same. Rows from before have none of the three.
ALTER TABLE audit ADD COLUMN salt TEXT;
ALTER TABLE audit ADD COLUMN body_hash TEXT;
ALTER TABLE audit ADD COLUMN chain TEXT;
CREATE INDEX audit_by_person ON audit (person_id, id);

CREATE TRIGGER audit_is_chained BEFORE INSERT ON audit
WHEN NEW.chain IS NULL OR NEW.body_hash IS NULL OR NEW.id <= (SELECT coalesce(max(id), 0) FROM audit)
BEGIN SELECT RAISE(ABORT, 'audit rows are chained'); END;

DROP TRIGGER audit_is_not_changed;
CREATE TRIGGER audit_is_not_changed BEFORE UPDATE ON audit
WHEN NEW.id IS NOT OLD.id OR NEW.at IS NOT OLD.at OR NEW.person_id IS NOT OLD.person_id
  OR NEW.action IS NOT OLD.action OR NEW.subject IS NOT OLD.subject
  OR NEW.before IS NOT iif(OLD.before IS NULL, NULL, '{"erased":true}')
  OR NEW.after IS NOT iif(OLD.after IS NULL, NULL, '{"erased":true}')
  OR NEW.body_hash IS NOT OLD.body_hash OR NEW.chain IS NOT OLD.chain
  OR (NEW.salt IS NOT NULL AND NEW.salt IS NOT OLD.salt)
  OR NOT EXISTS (SELECT 1 FROM erasures WHERE done = 0)
BEGIN SELECT RAISE(ABORT, 'audit rows are not changed'); END;
CREATE TRIGGER audit_salt_goes AFTER UPDATE OF before, after ON audit WHEN NEW.salt IS NOT NULL
BEGIN UPDATE audit SET salt = NULL WHERE id = NEW.id; END;
