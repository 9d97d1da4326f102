-- Why: the surplus review says which counts free the most stock for the minutes they take: how this business counts, and
-- how long that takes it, is a setting. What is asked of today's round, and what is put off with a reason, is kept with who
-- asked and when. (What a count would free is worked out and held in memory: it is another one every day.)

-- How long a count takes here. No row: the figures the program begins with.
CREATE TABLE counting (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  visible_minutes REAL NOT NULL CHECK (visible_minutes > 0 AND visible_minutes <= 1440),
  sample_minutes REAL NOT NULL CHECK (sample_minutes > 0 AND sample_minutes <= 1440),
  full_minutes REAL NOT NULL CHECK (full_minutes > 0 AND full_minutes <= 1440),
  -- how much of the substrate is searched in a sample
  sample_share REAL NOT NULL CHECK (sample_share > 0 AND sample_share <= 1)
) STRICT;

-- How the animals of a group are usually counted here. No row: the way the program begins with.
CREATE TABLE counting_usual (
  animal_group TEXT PRIMARY KEY CHECK (animal_group IN
    ('isopod', 'springtail', 'pseudoscorpion', 'roach', 'beetle', 'millipede', 'mantid', 'fly', 'other')),
  method TEXT NOT NULL CHECK (method IN ('visible', 'sample', 'full'))
) STRICT, WITHOUT ROWID;

-- A count asked of the round of one day. It is done by a count of that day or a later one, and falls away with the day.
CREATE TABLE round_counts (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  -- what was said of it when it was asked for
  method TEXT NOT NULL CHECK (method IN ('visible', 'sample', 'full')),
  minutes REAL NOT NULL CHECK (minutes > 0),
  gain REAL NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  undone_by TEXT REFERENCES people (id),
  undone_at INTEGER
) STRICT;
CREATE UNIQUE INDEX round_counts_once ON round_counts (culture_id, on_day) WHERE undone_at IS NULL;
CREATE INDEX round_counts_by_day ON round_counts (on_day);

-- Work that is due and waits all the same, until a day, for a reason.
CREATE TABLE put_offs (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  what TEXT NOT NULL CHECK (what IN ('check', 'water', 'feed', 'fruit', 'count')),
  -- the first day on which it is due again
  until_on TEXT NOT NULL CHECK (until_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 3 AND 200),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  undone_by TEXT REFERENCES people (id),
  undone_at INTEGER
) STRICT;
CREATE INDEX put_offs_by_day ON put_offs (until_on) WHERE undone_at IS NULL;
CREATE INDEX put_offs_by_culture ON put_offs (culture_id);
