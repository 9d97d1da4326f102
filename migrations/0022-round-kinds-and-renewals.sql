-- Why: the round also says when to look for young and first adults, when an old feeder culture has to go, when substrate
-- is old, and which feeder cultures to start: all of it can be put off, a look can say what it was looking for, and the
-- diary says when substrate was renewed.

-- More kinds of work can wait. The table is made anew, for a CHECK cannot be changed; nothing refers to it.
CREATE TABLE put_offs_now (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  what TEXT NOT NULL CHECK (what IN ('check', 'water', 'feed', 'fruit', 'young', 'adults', 'substrate', 'retire', 'count')),
  -- the first day on which it is due again
  until_on TEXT NOT NULL CHECK (until_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 3 AND 200),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  undone_by TEXT REFERENCES people (id),
  undone_at INTEGER
) STRICT;
INSERT INTO put_offs_now (id, culture_id, what, until_on, reason, made_by, made_at, undone_by, undone_at)
  SELECT id, culture_id, what, until_on, reason, made_by, made_at, undone_by, undone_at FROM put_offs;
DROP TABLE put_offs;
ALTER TABLE put_offs_now RENAME TO put_offs;
CREATE INDEX put_offs_by_day ON put_offs (until_on) WHERE undone_at IS NULL;
CREATE INDEX put_offs_by_culture ON put_offs (culture_id);

-- Feeder cultures that should be started and wait all the same; they are no culture yet.
CREATE TABLE start_put_offs (
  id INTEGER PRIMARY KEY,
  feeder_id INTEGER NOT NULL REFERENCES feeder_species (species_id) ON DELETE CASCADE,
  until_on TEXT NOT NULL CHECK (until_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 3 AND 200),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  undone_by TEXT REFERENCES people (id),
  undone_at INTEGER
) STRICT;
CREATE INDEX start_put_offs_by_feeder ON start_put_offs (feeder_id);

-- What a look was looking for and whether it found it. Older looks say only that young were seen; that none were can
-- mean that nobody looked.
ALTER TABLE diary ADD COLUMN looked_for TEXT CHECK (looked_for IN ('young', 'no-young', 'adults', 'no-adults'));

-- Substrate that was renewed: some of the old was mixed in, so that what lives in it goes on, or all of it is new.
ALTER TABLE diary ADD COLUMN substrate TEXT CHECK (substrate IN ('mixed', 'new'));
CREATE INDEX diary_substrate ON diary (culture_id, on_day) WHERE substrate IS NOT NULL;

-- Months after which old substrate is renewed; null: it never is. Nothing is set for species that are kept already: no
-- diary says when theirs was renewed last, and the round would ask for all of them at once.
ALTER TABLE species ADD COLUMN substrate_months INTEGER CHECK (substrate_months BETWEEN 1 AND 120);
