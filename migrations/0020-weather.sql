-- Why: a parcel feels the weather of the places it comes through, so lows and highs by day are kept for each: by hand, from
-- a file, or fetched from a public forecast service, never without its source and the time it was made.

CREATE TABLE weather_places (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  -- a postcode or a town, as people know the place; nothing is looked up by it
  label TEXT NOT NULL,
  part TEXT NOT NULL CHECK (part IN ('origin', 'hub', 'destination')),
  latitude REAL NOT NULL CHECK (latitude BETWEEN -90 AND 90),
  longitude REAL NOT NULL CHECK (longitude BETWEEN -180 AND 180),
  made_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;

-- The newest word of each source on each day of each place.
CREATE TABLE weather_days (
  place_id INTEGER NOT NULL REFERENCES weather_places (id),
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  source TEXT NOT NULL COLLATE NOCASE CHECK (length(source) BETWEEN 1 AND 80),
  min_c REAL NOT NULL CHECK (min_c BETWEEN -50 AND 70),
  max_c REAL NOT NULL CHECK (max_c BETWEEN min_c AND 70),
  -- when the forecast was made, which is not when it was written down here
  forecast_at INTEGER NOT NULL,
  via TEXT NOT NULL CHECK (via IN ('page', 'file', 'service', 'demo')),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  PRIMARY KEY (place_id, on_day, source)
) STRICT, WITHOUT ROWID;

-- Services that may be asked; none is on until the owner turns it on.
CREATE TABLE weather_services (
  service TEXT PRIMARY KEY CHECK (service IN ('met.no', 'weather.gov')),
  is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
  address TEXT NOT NULL,
  -- sent along with every question, as their terms ask
  contact TEXT NOT NULL,
  changed_at INTEGER NOT NULL,
  -- the service asked to be left alone until then
  paused_until INTEGER,
  CHECK (is_on = 0 OR length(contact) > 0)
) STRICT, WITHOUT ROWID;

-- What came of asking last, for each place: nobody is asked again before the answer has run out.
CREATE TABLE weather_fetches (
  place_id INTEGER NOT NULL REFERENCES weather_places (id),
  service TEXT NOT NULL REFERENCES weather_services (service),
  asked_at INTEGER NOT NULL,
  next_at INTEGER NOT NULL,
  last_modified TEXT,
  failures INTEGER NOT NULL CHECK (failures >= 0),
  -- why the last question failed, in words; null where it did not
  trouble TEXT,
  PRIMARY KEY (place_id, service)
) STRICT, WITHOUT ROWID;
