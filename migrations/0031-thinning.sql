-- Why: a sensor that reads every minute writes half a million readings a year, of which only what a day came to is ever
-- asked for again. Single readings older than some months go; `climate_days` stays as it was, to the last digit.

-- For how many days single readings are kept; one row, made when the first thinning is considered or the owner says so.
CREATE TABLE climate_keeping (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  days INTEGER NOT NULL CHECK (days BETWEEN 30 AND 3650),
  -- nothing goes within a day of the last change
  changed_at INTEGER NOT NULL
) STRICT;

-- Days of which single readings are gone: what the day came to is not worked out anew, and takes no more readings.
CREATE TABLE climate_closed_days (
  place_id INTEGER NOT NULL REFERENCES places (id),
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  -- how many readings went
  readings INTEGER NOT NULL CHECK (readings > 0),
  closed_at INTEGER NOT NULL,
  PRIMARY KEY (place_id, on_day)
) STRICT, WITHOUT ROWID;
