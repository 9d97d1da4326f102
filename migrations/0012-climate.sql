-- Why: how fast a culture dries, and when a brood hatches, depends on the air of its room, so rooms and shelves are
-- measured: by hand, from a file, or by a small sensor that sends its readings with a token of its own.

-- Only the hash of a token is kept: whoever reads the database cannot send readings.
CREATE TABLE climate_sensors (
  id INTEGER PRIMARY KEY,
  place_id INTEGER NOT NULL REFERENCES places (id),
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;

CREATE TABLE climate_readings (
  id INTEGER PRIMARY KEY,
  place_id INTEGER NOT NULL REFERENCES places (id),
  at INTEGER NOT NULL,
  -- the civil day at the business when it was read
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  temp_c REAL NOT NULL CHECK (temp_c BETWEEN -50 AND 70),
  humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100),
  via TEXT NOT NULL CHECK (via IN ('page', 'file', 'sensor', 'demo')),
  sensor_id INTEGER REFERENCES climate_sensors (id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  withdrawn_by TEXT REFERENCES people (id),
  withdrawn_at INTEGER,
  CHECK ((via = 'sensor') = (sensor_id IS NOT NULL))
) STRICT;
-- The same reading sent or brought in twice is one.
CREATE UNIQUE INDEX climate_readings_by_place ON climate_readings (place_id, at, coalesce(sensor_id, 0))
  WHERE withdrawn_at IS NULL;
CREATE INDEX climate_readings_by_day ON climate_readings (place_id, on_day);
CREATE TRIGGER climate_readings_are_not_changed BEFORE UPDATE ON climate_readings
WHEN OLD.withdrawn_at IS NOT NULL OR NEW.place_id <> OLD.place_id OR NEW.at <> OLD.at OR NEW.temp_c <> OLD.temp_c
  OR NEW.humidity_pct IS NOT OLD.humidity_pct BEGIN
  SELECT RAISE(ABORT, 'readings are not changed');
END;

-- What the readings of a day come to: charts of a year and the calculations read this, never all readings.
CREATE TABLE climate_days (
  place_id INTEGER NOT NULL REFERENCES places (id),
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  readings INTEGER NOT NULL CHECK (readings > 0),
  min_c REAL NOT NULL,
  max_c REAL NOT NULL CHECK (max_c >= min_c),
  mean_c REAL NOT NULL,
  mean_humidity_pct REAL,
  mean_vpd_kpa REAL,
  PRIMARY KEY (place_id, on_day)
) STRICT, WITHOUT ROWID;
