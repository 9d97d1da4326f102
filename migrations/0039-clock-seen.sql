-- Why: a machine's clock can be set back, or start years behind or ahead. The latest instant that was seen says so at the
-- next start: what was over by then stays over, and nothing is thrown away for its age until the clock has gone on
-- steadily for a day. One row, or none.

CREATE TABLE clock_seen (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  latest_at INTEGER NOT NULL,
  steady_since INTEGER NOT NULL
) STRICT;
