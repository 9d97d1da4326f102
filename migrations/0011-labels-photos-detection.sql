-- Why: a label on every enclosure opens its check when it is scanned, and the sheets that labels are printed on have
-- measures of their own. The photo of a wall or lid is kept with the taps that counted it. Pairs of counts that have
-- taught a species its share that shows are kept, so that none teaches twice.

CREATE TABLE label_sheets (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  columns INTEGER NOT NULL CHECK (columns BETWEEN 1 AND 20),
  rows INTEGER NOT NULL CHECK (rows BETWEEN 1 AND 50),
  margin_top_mm REAL NOT NULL CHECK (margin_top_mm >= 0),
  margin_left_mm REAL NOT NULL CHECK (margin_left_mm >= 0),
  -- null: as the margin opposite
  margin_right_mm REAL CHECK (margin_right_mm >= 0),
  margin_bottom_mm REAL CHECK (margin_bottom_mm >= 0),
  gap_across_mm REAL NOT NULL CHECK (gap_across_mm >= 0),
  gap_down_mm REAL NOT NULL CHECK (gap_down_mm >= 0),
  -- null: what the margins and gaps leave
  label_width_mm REAL CHECK (label_width_mm > 0),
  label_height_mm REAL CHECK (label_height_mm > 0),
  cut_lines INTEGER NOT NULL CHECK (cut_lines IN (0, 1)),
  -- the first unused label of the sheet in the printer, counted from 1 along the rows
  next_label INTEGER NOT NULL CHECK (next_label >= 1)
) STRICT;

-- A label with another code than the culture bears now is out of date.
CREATE TABLE label_prints (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  code TEXT NOT NULL COLLATE NOCASE CHECK (length(code) BETWEEN 1 AND 24),
  printed_by TEXT REFERENCES people (id),
  printed_at INTEGER NOT NULL
) STRICT;
CREATE INDEX label_prints_by_culture ON label_prints (culture_id, code);
CREATE INDEX label_prints_by_code ON label_prints (code);

CREATE TABLE count_photos (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  -- the place in the diary of the count it was tapped for; null until that is written down
  diary_id INTEGER UNIQUE REFERENCES diary (id) ON DELETE RESTRICT,
  width_px INTEGER NOT NULL CHECK (width_px > 0),
  height_px INTEGER NOT NULL CHECK (height_px > 0),
  sha256 TEXT NOT NULL CHECK (length(sha256) = 64),
  -- [[x, y], ...] in tenths of a thousandth of the width and height
  taps TEXT NOT NULL CHECK (json_valid(taps)),
  made_by TEXT NOT NULL REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX count_photos_by_culture ON count_photos (culture_id);
CREATE INDEX count_photos_open ON count_photos (made_by, made_at) WHERE diary_id IS NULL;

-- Apart from the rest, so that a list of photos does not read the pictures; in the database, so that a backup has both.
CREATE TABLE count_photo_files (
  photo_id INTEGER PRIMARY KEY REFERENCES count_photos (id) ON DELETE CASCADE,
  bytes BLOB NOT NULL CHECK (length(bytes) BETWEEN 1 AND 4000000)
) STRICT;

CREATE TABLE detection_updates (
  id INTEGER PRIMARY KEY,
  species_id INTEGER NOT NULL REFERENCES species (id) ON DELETE CASCADE,
  before_alpha REAL NOT NULL CHECK (before_alpha > 0),
  before_beta REAL NOT NULL CHECK (before_beta > 0),
  after_alpha REAL NOT NULL CHECK (after_alpha > 0),
  after_beta REAL NOT NULL CHECK (after_beta > 0),
  -- how many visits the belief rests on afterwards
  visits REAL NOT NULL CHECK (visits > 0),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX detection_updates_by_species ON detection_updates (species_id);

-- The two counts by their places in the diary. Figures, not references: undoing an import may take the counts out,
-- but what was learned from them stays learned.
CREATE TABLE detection_pairs (
  update_id INTEGER NOT NULL REFERENCES detection_updates (id) ON DELETE CASCADE,
  visible_id INTEGER NOT NULL,
  full_id INTEGER NOT NULL,
  visible_on TEXT NOT NULL CHECK (visible_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  full_on TEXT NOT NULL CHECK (full_on >= visible_on),
  seen INTEGER NOT NULL CHECK (seen >= 0),
  counted INTEGER NOT NULL CHECK (counted >= 0),
  PRIMARY KEY (visible_id, full_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX detection_pairs_by_update ON detection_pairs (update_id);
