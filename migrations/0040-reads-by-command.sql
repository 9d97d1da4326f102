-- Why: an export by command holds what is known of everybody, and whoever runs it is signed in nowhere; it was written down
-- among no reads. Such a line names no person: it was somebody who has the machine.

CREATE TABLE personal_reads_new (
  id INTEGER PRIMARY KEY,
  -- The day at the business; `at` is when it was first read on that day.
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  at INTEGER NOT NULL,
  person_id TEXT REFERENCES people (id),
  -- As the record of changes calls it: 'customer 12', 'order 7'; or a list: 'customers'.
  subject TEXT NOT NULL CHECK (length(subject) BETWEEN 1 AND 100),
  way TEXT NOT NULL CHECK (way IN ('page', 'paper', 'file', 'command')),
  CHECK ((person_id IS NULL) = (way = 'command')),
  UNIQUE (person_id, on_day, subject, way)
) STRICT;
INSERT INTO personal_reads_new SELECT * FROM personal_reads;
DROP TABLE personal_reads;
ALTER TABLE personal_reads_new RENAME TO personal_reads;
CREATE INDEX personal_reads_by_time ON personal_reads (at);

CREATE TRIGGER personal_reads_are_not_changed BEFORE UPDATE ON personal_reads
BEGIN SELECT RAISE(ABORT, 'what was read is not changed'); END;
-- Four hundred days: a year can be looked back on whole.
CREATE TRIGGER personal_reads_are_kept BEFORE DELETE ON personal_reads
WHEN OLD.at > (SELECT max(at) FROM personal_reads) - 34560000000
BEGIN SELECT RAISE(ABORT, 'what was read is kept for 400 days'); END;
