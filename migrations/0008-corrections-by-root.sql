-- Why: undoing an import deletes its diary entries, and for each SQLite looks whether a correction still names it as its
-- root. Without an index that is a look through the whole diary for every entry: minutes where seconds are enough.

CREATE INDEX diary_by_root ON diary (root_id) WHERE root_id IS NOT NULL;
