-- Why: on a packing day the owner decides for each order which day it leaves, in which box, with which packs, by which
-- carrier. What was decided is kept with the curves and the weather it was decided by, so that it can be printed and read
-- as it was, whatever the weather turned into.

-- One row for each service of a carrier.
CREATE TABLE carriers (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  -- when a parcel must be handed over; null where there is no such time
  cut_off TEXT CHECK (cut_off GLOB '[0-2][0-9]:[0-5][0-9]'),
  -- weekdays after ISO 8601, 1 is Monday: '123'
  collects_on TEXT NOT NULL CHECK (length(collects_on) BETWEEN 1 AND 7 AND collects_on NOT GLOB '*[^1-7]*'),
  delivers_on TEXT NOT NULL CHECK (length(delivers_on) BETWEEN 1 AND 7 AND delivers_on NOT GLOB '*[^1-7]*'),
  -- whose public holidays it keeps; the region's code of the library of holidays
  country TEXT NOT NULL CHECK (country GLOB '[A-Z][A-Z]'),
  region TEXT,
  transit_days INTEGER NOT NULL CHECK (transit_days BETWEEN 0 AND 14),
  -- the latest it is delivered on its day
  delivered_by TEXT NOT NULL CHECK (delivered_by GLOB '[0-2][0-9]:[0-5][0-9]'),
  -- how late a late parcel is
  late_hours REAL NOT NULL CHECK (late_hours BETWEEN 1 AND 96),
  -- hours in the weather of the start and of the end; between them it is in the hub's, or the end's
  start_hours REAL NOT NULL CHECK (start_hours > 0 AND start_hours <= 48),
  end_hours REAL NOT NULL CHECK (end_hours > 0 AND end_hours <= 48),
  van_warmer_c REAL NOT NULL CHECK (van_warmer_c BETWEEN -20 AND 40),
  -- after the delivery: at the door, or on the counter at its temperature
  porch_hours REAL NOT NULL CHECK (porch_hours BETWEEN 0 AND 48),
  may_hold INTEGER NOT NULL CHECK (may_hold IN (0, 1)),
  hold_price_minor INTEGER NOT NULL CHECK (hold_price_minor >= 0),
  counter_hours REAL NOT NULL CHECK (counter_hours BETWEEN 0 AND 120),
  counter_c REAL NOT NULL CHECK (counter_c BETWEEN -20 AND 50),
  hub_place_id INTEGER REFERENCES weather_places (id),
  note TEXT NOT NULL,
  made_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;
CREATE INDEX carriers_by_hub ON carriers (hub_place_id) WHERE hub_place_id IS NOT NULL;

-- Which place's weather counts for parcels to a country, or to postcodes that begin so: the longest beginning wins.
CREATE TABLE weather_areas (
  id INTEGER PRIMARY KEY,
  place_id INTEGER NOT NULL REFERENCES weather_places (id),
  country TEXT NOT NULL CHECK (country GLOB '[A-Z][A-Z]'),
  postcode_start TEXT NOT NULL CHECK (length(postcode_start) <= 12 AND postcode_start NOT GLOB '*[^A-Z0-9]*'),
  made_at INTEGER NOT NULL,
  UNIQUE (country, postcode_start)
) STRICT;
CREATE INDEX weather_areas_by_place ON weather_areas (place_id);

-- How parcels are packed here, and what is taken for granted where nothing was weighed; one row or none.
CREATE TABLE parcel_habits (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  origin_place_id INTEGER REFERENCES weather_places (id),
  carrier_id INTEGER REFERENCES carriers (id),
  packed_at TEXT NOT NULL CHECK (packed_at GLOB '[0-2][0-9]:[0-5][0-9]'),
  -- how warm the contents are when the box is closed
  start_c REAL NOT NULL CHECK (start_c BETWEEN -10 AND 50),
  -- of a cup with its moist filling
  cup_g REAL NOT NULL CHECK (cup_g > 0),
  cup_l REAL NOT NULL CHECK (cup_l > 0),
  contents_j_per_kg_k REAL NOT NULL CHECK (contents_j_per_kg_k BETWEEN 100 AND 10000),
  -- what a forecast is off by: today, and more with each day ahead
  error_at_once_c REAL NOT NULL CHECK (error_at_once_c BETWEEN 0 AND 15),
  error_per_day_c REAL NOT NULL CHECK (error_per_day_c BETWEEN 0 AND 5),
  stale_hours INTEGER NOT NULL CHECK (stale_hours BETWEEN 1 AND 240)
) STRICT;

-- What is particular to an order's parcel; no row where nothing is.
CREATE TABLE order_parcels (
  order_id INTEGER PRIMARY KEY REFERENCES orders (id),
  place_id INTEGER REFERENCES weather_places (id),
  carrier_id INTEGER REFERENCES carriers (id),
  -- it waits for better weather until then
  not_before TEXT CHECK (not_before GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX order_parcels_by_place ON order_parcels (place_id) WHERE place_id IS NOT NULL;
CREATE INDEX order_parcels_by_carrier ON order_parcels (carrier_id) WHERE carrier_id IS NOT NULL;

-- What was decided for an order's parcel; one stands, those before are ended.
CREATE TABLE parcel_choices (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  dispatch_on TEXT NOT NULL CHECK (dispatch_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  arrives_on TEXT NOT NULL CHECK (arrives_on >= dispatch_on),
  dispatch_by TEXT,
  carrier_id INTEGER NOT NULL REFERENCES carriers (id),
  box_id INTEGER NOT NULL REFERENCES boxes (id),
  pack_id INTEGER REFERENCES packs (id),
  packs INTEGER NOT NULL CHECK (packs BETWEEN 0 AND 4),
  is_held INTEGER NOT NULL CHECK (is_held IN (0, 1)),
  -- why it is sent although it was refused; null where it was not
  reason TEXT CHECK (length(reason) BETWEEN 1 AND 500),
  lowest_c REAL NOT NULL CHECK (lowest_c BETWEEN -80 AND 100),
  highest_c REAL NOT NULL CHECK (highest_c BETWEEN lowest_c AND 100),
  hours_below_safe REAL NOT NULL CHECK (hours_below_safe >= 0),
  hours_above_safe REAL NOT NULL CHECK (hours_above_safe >= 0),
  transit_hours REAL NOT NULL CHECK (transit_hours > 0),
  -- box, pack, places with their weather's source and age, limits, curves, and what was refused, as they were
  decided TEXT NOT NULL CHECK (json_valid(decided)),
  -- the order's day before, and the choice that stood before
  dispatch_before TEXT,
  instead_of INTEGER UNIQUE REFERENCES parcel_choices (id),
  -- choices that were made in one step
  batch TEXT,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  -- when box and packs were taken out of the stock
  taken_at INTEGER,
  ended_by TEXT REFERENCES people (id),
  ended_at INTEGER,
  CHECK ((packs = 0) = (pack_id IS NULL)),
  CHECK (taken_at IS NULL OR ended_at IS NULL)
) STRICT;
CREATE UNIQUE INDEX parcel_choices_standing ON parcel_choices (order_id) WHERE ended_at IS NULL;
CREATE INDEX parcel_choices_of_order ON parcel_choices (order_id, id);
CREATE INDEX parcel_choices_by_batch ON parcel_choices (batch) WHERE batch IS NOT NULL;
CREATE INDEX parcel_choices_by_carrier ON parcel_choices (carrier_id);
CREATE INDEX parcel_choices_by_box ON parcel_choices (box_id);
CREATE INDEX parcel_choices_by_pack ON parcel_choices (pack_id) WHERE pack_id IS NOT NULL;
CREATE TRIGGER parcel_choices_stay BEFORE DELETE ON parcel_choices
BEGIN SELECT RAISE(ABORT, 'what was decided for a parcel is kept'); END;
CREATE TRIGGER parcel_choices_unchanged BEFORE UPDATE ON parcel_choices
WHEN NEW.order_id IS NOT OLD.order_id OR NEW.dispatch_on IS NOT OLD.dispatch_on OR NEW.box_id IS NOT OLD.box_id
  OR NEW.pack_id IS NOT OLD.pack_id OR NEW.packs IS NOT OLD.packs OR NEW.is_held IS NOT OLD.is_held
  OR NEW.reason IS NOT OLD.reason OR NEW.decided IS NOT OLD.decided OR NEW.made_at IS NOT OLD.made_at
BEGIN SELECT RAISE(ABORT, 'what was decided for a parcel is kept'); END;
