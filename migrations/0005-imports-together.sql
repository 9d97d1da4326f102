-- Why: files that were uploaded together are looked at, brought in and taken back together; a diary entry from a file
-- says who it is by in the words of the file, for whoever kept that diary need not have an account here; and what an
-- import changed of cultures that were there already must be put back when it is undone.

-- The choices about species, enclosures and rooms are of all files of an upload. version changes with every choice.
CREATE TABLE import_uploads (
  id TEXT PRIMARY KEY CHECK (length(id) BETWEEN 16 AND 60),
  choices TEXT NOT NULL CHECK (json_valid(choices)),
  version INTEGER NOT NULL CHECK (version > 0),
  made_by TEXT NOT NULL REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;

ALTER TABLE import_drafts ADD COLUMN upload_id TEXT REFERENCES import_uploads (id);
ALTER TABLE import_drafts ADD COLUMN position INTEGER NOT NULL DEFAULT 0;
CREATE INDEX import_drafts_by_upload ON import_drafts (upload_id, position);

-- The first import of those that came in together; null for that one itself.
ALTER TABLE imports ADD COLUMN first_id INTEGER REFERENCES imports (id);
CREATE INDEX imports_by_first ON imports (first_id) WHERE first_id IS NOT NULL;

ALTER TABLE diary ADD COLUMN said_by TEXT CHECK (length(said_by) BETWEEN 1 AND 120);

-- Cultures that were there before an import wrote into their diary, and how they stood.
CREATE TABLE import_touched (
  import_id INTEGER NOT NULL REFERENCES imports (id),
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  place_id INTEGER REFERENCES places (id),
  status TEXT NOT NULL CHECK (status IN ('active', 'quarantine', 'retired')),
  PRIMARY KEY (import_id, culture_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX import_touched_by_culture ON import_touched (culture_id);
