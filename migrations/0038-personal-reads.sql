-- Why: whose data was looked at, by whom and when, is what a customer may ask and what an owner must be able to answer; the record
-- of changes tells only of what was changed. A line for each person, matter, way and day: who comes back in the afternoon has
-- read it once, and most pages that are read write nothing.

CREATE TABLE personal_reads (
  id INTEGER PRIMARY KEY,
  -- The day at the business; `at` is when it was first read on that day.
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  at INTEGER NOT NULL,
  person_id TEXT NOT NULL REFERENCES people (id),
  -- As the record of changes calls it: 'customer 12', 'order 7'; or a list: 'customers'.
  subject TEXT NOT NULL CHECK (length(subject) BETWEEN 1 AND 100),
  way TEXT NOT NULL CHECK (way IN ('page', 'paper', 'file')),
  UNIQUE (person_id, on_day, subject, way)
) STRICT;
CREATE INDEX personal_reads_by_time ON personal_reads (at);

CREATE TRIGGER personal_reads_are_not_changed BEFORE UPDATE ON personal_reads
BEGIN SELECT RAISE(ABORT, 'what was read is not changed'); END;
-- Four hundred days: a year can be looked back on whole.
CREATE TRIGGER personal_reads_are_kept BEFORE DELETE ON personal_reads
WHEN OLD.at > (SELECT max(at) FROM personal_reads) - 34560000000
BEGIN SELECT RAISE(ABORT, 'what was read is kept for 400 days'); END;
