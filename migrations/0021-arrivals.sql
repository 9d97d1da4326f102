-- Why: customers say how their animals arrived, at an address of their own that needs no account; what was done about a
-- loss is written down, and losses are held against the temperatures that were worked out for the trip.

-- What the addresses are signed with: one row, made when the first address is.
CREATE TABLE link_key (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  secret BLOB NOT NULL CHECK (length(secret) = 32),
  made_at INTEGER NOT NULL
) STRICT;

-- The address itself is nowhere: it is made again from the order, the end, the nonce and the key.
CREATE TABLE order_links (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  nonce BLOB NOT NULL UNIQUE CHECK (length(nonce) = 8),
  -- whole seconds, as the address says it
  expires_at INTEGER NOT NULL CHECK (expires_at % 1000 = 0),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  ended_by TEXT REFERENCES people (id),
  ended_at INTEGER
) STRICT;
CREATE UNIQUE INDEX order_links_open ON order_links (order_id) WHERE ended_at IS NULL;
CREATE INDEX order_links_of_order ON order_links (order_id, id);
-- An address that was ended stays ended.
CREATE TRIGGER order_links_stay_ended BEFORE UPDATE ON order_links
WHEN OLD.ended_at IS NOT NULL OR NEW.nonce IS NOT OLD.nonce OR NEW.order_id IS NOT OLD.order_id
  OR NEW.expires_at IS NOT OLD.expires_at
BEGIN SELECT RAISE(ABORT, 'an address of an order is only ended'); END;

-- When customers may tell of losses; one row or none.
CREATE TABLE arrival_habits (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  ask_within_hours INTEGER NOT NULL CHECK (ask_within_hours BETWEEN 1 AND 48),
  usual_transit_days INTEGER NOT NULL CHECK (usual_transit_days BETWEEN 0 AND 30),
  report_days INTEGER NOT NULL CHECK (report_days BETWEEN 0 AND 30),
  link_days INTEGER NOT NULL CHECK (link_days BETWEEN 7 AND 365)
) STRICT;

-- How animals arrived, as the customer said it: the latest of an order counts.
CREATE TABLE arrival_reports (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  link_id INTEGER NOT NULL REFERENCES order_links (id),
  all_well INTEGER NOT NULL CHECK (all_well IN (0, 1)),
  -- the form it came by, so that the same form sent again is the same report
  form_key TEXT NOT NULL CHECK (length(form_key) BETWEEN 16 AND 120),
  made_at INTEGER NOT NULL,
  seen_by TEXT REFERENCES people (id),
  seen_at INTEGER,
  UNIQUE (order_id, form_key)
) STRICT;
CREATE INDEX arrival_reports_of_order ON arrival_reports (order_id, id);
CREATE INDEX arrival_reports_unseen ON arrival_reports (order_id) WHERE seen_at IS NULL AND all_well = 0;
CREATE INDEX arrival_reports_by_link ON arrival_reports (link_id);
CREATE TABLE arrival_losses (
  report_id INTEGER NOT NULL REFERENCES arrival_reports (id),
  species_id INTEGER NOT NULL REFERENCES species (id),
  sent INTEGER NOT NULL CHECK (sent > 0),
  dead INTEGER NOT NULL CHECK (dead >= 0),
  missing INTEGER NOT NULL CHECK (missing >= 0),
  PRIMARY KEY (report_id, species_id),
  CHECK (dead + missing <= sent)
) STRICT, WITHOUT ROWID;
CREATE INDEX arrival_losses_by_species ON arrival_losses (species_id);
-- The customer's own words and pictures go when the customer is to be forgotten; the numbers stay.
CREATE TABLE arrival_words (
  report_id INTEGER PRIMARY KEY REFERENCES arrival_reports (id),
  note TEXT NOT NULL CHECK (length(note) BETWEEN 1 AND 2000)
) STRICT;
CREATE TABLE arrival_photos (
  id INTEGER PRIMARY KEY,
  report_id INTEGER NOT NULL REFERENCES arrival_reports (id),
  width_px INTEGER NOT NULL CHECK (width_px > 0),
  height_px INTEGER NOT NULL CHECK (height_px > 0),
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
  UNIQUE (report_id, sha256)
) STRICT;
CREATE TABLE arrival_photo_files (
  photo_id INTEGER PRIMARY KEY REFERENCES arrival_photos (id) ON DELETE CASCADE,
  bytes BLOB NOT NULL
) STRICT;

CREATE TRIGGER arrival_reports_stay BEFORE DELETE ON arrival_reports
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;
CREATE TRIGGER arrival_reports_unchanged BEFORE UPDATE ON arrival_reports
WHEN NEW.order_id IS NOT OLD.order_id OR NEW.all_well IS NOT OLD.all_well OR NEW.made_at IS NOT OLD.made_at
  OR NEW.form_key IS NOT OLD.form_key OR NEW.link_id IS NOT OLD.link_id OR OLD.seen_at IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;
CREATE TRIGGER arrival_losses_stay BEFORE DELETE ON arrival_losses
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;
CREATE TRIGGER arrival_losses_unchanged BEFORE UPDATE ON arrival_losses
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;

-- What was done about a loss; taken back by being ended.
CREATE TABLE amends (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  kind TEXT NOT NULL CHECK (kind IN ('refund', 'credit', 'reship')),
  amount_minor INTEGER CHECK (amount_minor > 0),
  new_order_id INTEGER REFERENCES orders (id) CHECK (new_order_id <> order_id),
  reason TEXT NOT NULL CHECK (length(reason) BETWEEN 1 AND 500),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  ended_by TEXT REFERENCES people (id),
  ended_at INTEGER,
  CHECK ((kind = 'reship') = (amount_minor IS NULL)),
  CHECK ((kind = 'reship') = (new_order_id IS NOT NULL))
) STRICT;
CREATE INDEX amends_of_order ON amends (order_id, id);
CREATE INDEX amends_new_order ON amends (new_order_id) WHERE new_order_id IS NOT NULL;

-- What was worked out for a parcel's trip on the day it left: the latest of an order counts.
CREATE TABLE trips (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  box_id INTEGER REFERENCES boxes (id),
  pack_id INTEGER REFERENCES packs (id),
  lowest_c REAL NOT NULL CHECK (lowest_c BETWEEN -80 AND 100),
  highest_c REAL NOT NULL CHECK (highest_c BETWEEN -80 AND 100),
  hours_below_safe REAL NOT NULL CHECK (hours_below_safe >= 0),
  hours_above_safe REAL NOT NULL CHECK (hours_above_safe >= 0),
  transit_hours REAL NOT NULL CHECK (transit_hours > 0),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  CHECK (lowest_c <= highest_c)
) STRICT;
CREATE INDEX trips_of_order ON trips (order_id, id);
CREATE INDEX trips_by_box ON trips (box_id);
CREATE INDEX trips_by_pack ON trips (pack_id);
CREATE TRIGGER trips_stay BEFORE DELETE ON trips
BEGIN SELECT RAISE(ABORT, 'what was worked out for a trip is kept'); END;
CREATE TRIGGER trips_unchanged BEFORE UPDATE ON trips
BEGIN SELECT RAISE(ABORT, 'what was worked out for a trip is kept'); END;
