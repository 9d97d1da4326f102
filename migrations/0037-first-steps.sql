-- Why: the owner of a new business sees the first steps on the round until all are done. What is done is read from the
-- records; only that somebody put the list away cannot be, so it stands here: one row, or none.

CREATE TABLE first_steps_away (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
