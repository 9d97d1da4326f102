-- Why: the stock: what is kept, in what, where, which line it belongs to, and the diary of each culture.
-- A diary entry is a fact: it is never changed or deleted. A later entry may name the one it replaces; an entry
-- marked withdrawn takes the one it replaces out without putting another in its place.

CREATE TABLE imports (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('cultures', 'diary')),
  file_name TEXT NOT NULL CHECK (length(file_name) BETWEEN 1 AND 200),
  state TEXT NOT NULL CHECK (state IN ('done', 'undoing', 'undone')),
  mapping TEXT NOT NULL CHECK (json_valid(mapping)),
  brought_in INTEGER NOT NULL CHECK (brought_in >= 0),
  already_there INTEGER NOT NULL CHECK (already_there >= 0),
  left_out TEXT NOT NULL CHECK (json_valid(left_out)),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  undone_by TEXT REFERENCES people (id),
  undone_at INTEGER
) STRICT;

-- What an import brought in, by the fingerprint of the row: running it twice adds nothing twice.
CREATE TABLE import_prints (
  print TEXT PRIMARY KEY,
  import_id INTEGER NOT NULL REFERENCES imports (id)
) STRICT, WITHOUT ROWID;
CREATE INDEX import_prints_by_import ON import_prints (import_id);

-- A file that was uploaded and is being looked at; gone when it is brought in or thrown away.
CREATE TABLE import_drafts (
  id TEXT PRIMARY KEY,
  file_name TEXT NOT NULL CHECK (length(file_name) BETWEEN 1 AND 200),
  bytes BLOB NOT NULL,
  mapping TEXT CHECK (mapping IS NULL OR json_valid(mapping)),
  made_by TEXT NOT NULL REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;

CREATE TABLE enclosures (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  shape TEXT NOT NULL CHECK (shape IN ('box', 'cylinder', 'frustum')),
  length_mm REAL CHECK (length_mm > 0),
  width_mm REAL CHECK (width_mm > 0),
  height_mm REAL NOT NULL CHECK (height_mm > 0),
  diameter_mm REAL CHECK (diameter_mm > 0),
  top_diameter_mm REAL CHECK (top_diameter_mm > 0),
  bottom_diameter_mm REAL CHECK (bottom_diameter_mm > 0),
  substrate_depth_mm REAL NOT NULL CHECK (substrate_depth_mm > 0 AND substrate_depth_mm <= height_mm),
  ventilation TEXT NOT NULL,
  measured INTEGER NOT NULL CHECK (measured IN (0, 1)),
  import_id INTEGER REFERENCES imports (id),
  retired_at INTEGER,
  CHECK ((shape = 'box') = (length_mm IS NOT NULL AND width_mm IS NOT NULL)),
  CHECK ((shape = 'cylinder') = (diameter_mm IS NOT NULL)),
  CHECK ((shape = 'frustum') = (top_diameter_mm IS NOT NULL AND bottom_diameter_mm IS NOT NULL))
) STRICT;

-- Rooms hold racks, racks hold shelves, shelves hold positions. shelf_order sorts all places in walking order.
CREATE TABLE places (
  id INTEGER PRIMARY KEY,
  parent_id INTEGER REFERENCES places (id),
  kind TEXT NOT NULL CHECK (kind IN ('room', 'rack', 'shelf', 'position')),
  name TEXT NOT NULL COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  full_name TEXT NOT NULL,
  shelf_order TEXT NOT NULL,
  import_id INTEGER REFERENCES imports (id),
  retired_at INTEGER
) STRICT;
CREATE UNIQUE INDEX places_by_name ON places (coalesce(parent_id, 0), name);
CREATE INDEX places_by_order ON places (shelf_order);

CREATE TABLE species (
  id INTEGER PRIMARY KEY,
  scientific_name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(scientific_name) BETWEEN 1 AND 120),
  common_name TEXT NOT NULL CHECK (length(common_name) <= 120),
  animal_group TEXT NOT NULL CHECK (animal_group IN
    ('isopod', 'springtail', 'pseudoscorpion', 'roach', 'beetle', 'millipede', 'mantid', 'fly', 'other')),
  sellable INTEGER NOT NULL CHECK (sellable IN (0, 1)),
  -- a starter group, its price and what is added for losses on the way
  group_adults INTEGER NOT NULL CHECK (group_adults >= 0),
  group_juveniles INTEGER NOT NULL CHECK (group_juveniles >= 0),
  group_extras INTEGER NOT NULL CHECK (group_extras >= 0),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  -- what is believed before anything is counted
  growth_per_week_median REAL NOT NULL CHECK (growth_per_week_median > 0),
  growth_sd_log REAL NOT NULL CHECK (growth_sd_log >= 0),
  capacity_per_litre_median REAL NOT NULL CHECK (capacity_per_litre_median > 0),
  capacity_sd_log REAL NOT NULL CHECK (capacity_sd_log >= 0),
  process_sd REAL NOT NULL CHECK (process_sd > 0),
  detection_alpha REAL NOT NULL CHECK (detection_alpha > 0),
  detection_beta REAL NOT NULL CHECK (detection_beta > 0),
  adult_alpha REAL NOT NULL CHECK (adult_alpha > 0),
  adult_beta REAL NOT NULL CHECK (adult_beta > 0),
  -- what must stay, and how sure the tool must be before it calls an animal spare
  reserve_animals INTEGER NOT NULL CHECK (reserve_animals >= 0),
  reserve_share REAL NOT NULL CHECK (reserve_share BETWEEN 0 AND 1),
  confidence REAL NOT NULL CHECK (confidence > 0.5 AND confidence < 1),
  -- breeding
  female_share REAL NOT NULL CHECK (female_share BETWEEN 0 AND 1),
  start_males INTEGER NOT NULL CHECK (start_males >= 0),
  start_females INTEGER NOT NULL CHECK (start_females >= 0),
  generation_days INTEGER NOT NULL CHECK (generation_days > 0),
  effective_ratio REAL NOT NULL CHECK (effective_ratio > 0 AND effective_ratio <= 1),
  -- rhythm and limits
  check_every_days INTEGER NOT NULL CHECK (check_every_days BETWEEN 1 AND 365),
  feed_every_days INTEGER NOT NULL CHECK (feed_every_days BETWEEN 1 AND 365),
  lethal_low_c REAL NOT NULL,
  safe_low_c REAL NOT NULL,
  ideal_low_c REAL NOT NULL,
  ideal_high_c REAL NOT NULL,
  safe_high_c REAL NOT NULL,
  lethal_high_c REAL NOT NULL,
  -- the home a customer is told to build
  home_enclosure_id INTEGER REFERENCES enclosures (id),
  cautions TEXT NOT NULL,
  import_id INTEGER REFERENCES imports (id),
  retired_at INTEGER,
  CHECK (group_adults + group_juveniles > 0),
  CHECK (lethal_low_c <= safe_low_c AND safe_low_c <= ideal_low_c AND ideal_low_c <= ideal_high_c
    AND ideal_high_c <= safe_high_c AND safe_high_c <= lethal_high_c)
) STRICT;

CREATE TABLE species_care (
  species_id INTEGER NOT NULL REFERENCES species (id) ON DELETE CASCADE,
  heading TEXT NOT NULL CHECK (heading IN
    ('enclosure', 'substrate', 'water', 'food', 'breeding', 'temperature', 'normal', 'not-normal')),
  text TEXT NOT NULL CHECK (length(text) <= 4000),
  PRIMARY KEY (species_id, heading)
) STRICT, WITHOUT ROWID;

-- Layers from the bottom up, and what each is mixed from.
CREATE TABLE species_layers (
  id INTEGER PRIMARY KEY,
  species_id INTEGER NOT NULL REFERENCES species (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 0),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  depth_mm REAL NOT NULL CHECK (depth_mm > 0),
  UNIQUE (species_id, position)
) STRICT;
CREATE TABLE species_layer_parts (
  layer_id INTEGER NOT NULL REFERENCES species_layers (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 0),
  material TEXT NOT NULL CHECK (length(material) BETWEEN 1 AND 80),
  parts REAL NOT NULL CHECK (parts > 0),
  settling REAL NOT NULL CHECK (settling > 0 AND settling <= 1),
  PRIMARY KEY (layer_id, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE lines (
  id INTEGER PRIMARY KEY,
  species_id INTEGER NOT NULL REFERENCES species (id),
  name TEXT NOT NULL COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  locality TEXT NOT NULL CHECK (length(locality) <= 200),
  note TEXT NOT NULL CHECK (length(note) <= 2000),
  import_id INTEGER REFERENCES imports (id),
  UNIQUE (species_id, name)
) STRICT;

CREATE TABLE cultures (
  id INTEGER PRIMARY KEY,
  code TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(code) BETWEEN 1 AND 24),
  species_id INTEGER NOT NULL REFERENCES species (id),
  morph TEXT NOT NULL CHECK (length(morph) <= 80),
  line_id INTEGER REFERENCES lines (id),
  enclosure_id INTEGER NOT NULL REFERENCES enclosures (id),
  place_id INTEGER REFERENCES places (id),
  founded_on TEXT NOT NULL CHECK (founded_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  origin TEXT NOT NULL CHECK (origin IN ('wild', 'bought', 'split', 'unknown')),
  founding_animals INTEGER NOT NULL CHECK (founding_animals > 0),
  founding_sd_log REAL NOT NULL CHECK (founding_sd_log >= 0),
  -- where the diary's moves, quarantines and retirement have brought it; the diary is the record
  status TEXT NOT NULL CHECK (status IN ('active', 'quarantine', 'retired')),
  note TEXT NOT NULL CHECK (length(note) <= 4000),
  import_id INTEGER REFERENCES imports (id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX cultures_by_species ON cultures (species_id, status);
CREATE INDEX cultures_by_place ON cultures (place_id);
CREATE INDEX cultures_by_line ON cultures (line_id);
CREATE INDEX cultures_by_import ON cultures (import_id) WHERE import_id IS NOT NULL;

CREATE TABLE culture_parents (
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  parent_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  animals INTEGER NOT NULL CHECK (animals > 0),
  PRIMARY KEY (culture_id, parent_id),
  CHECK (culture_id <> parent_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX culture_parents_by_parent ON culture_parents (parent_id);

CREATE TRIGGER lineage_has_no_cycle BEFORE INSERT ON culture_parents BEGIN
  SELECT RAISE(ABORT, 'lineage would have a cycle')
  WHERE NEW.culture_id IN (
    WITH RECURSIVE above (id) AS (
      SELECT NEW.parent_id
      UNION
      SELECT p.parent_id FROM culture_parents p JOIN above a ON p.culture_id = a.id
    )
    SELECT id FROM above
  );
  SELECT RAISE(ABORT, 'a culture cannot be founded before its parent')
  WHERE (SELECT founded_on FROM cultures WHERE id = NEW.culture_id)
      < (SELECT founded_on FROM cultures WHERE id = NEW.parent_id);
END;
CREATE TRIGGER lineage_is_not_changed BEFORE UPDATE ON culture_parents BEGIN
  SELECT RAISE(ABORT, 'lineage is not changed');
END;

CREATE TABLE diary (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  kind TEXT NOT NULL CHECK (kind IN ('check', 'count', 'water', 'feed', 'fruit-in', 'fruit-out', 'harvest',
    'addition', 'split', 'die-off', 'mites', 'mould', 'move', 'quarantine', 'release', 'retirement', 'note')),
  -- a correction keeps the place of the entry it corrects among the entries of a day
  root_id INTEGER REFERENCES diary (id),
  replaces_id INTEGER UNIQUE REFERENCES diary (id),
  withdrawn INTEGER NOT NULL CHECK (withdrawn IN (0, 1)),
  -- what moved: harvest, addition, split
  animals INTEGER CHECK (animals > 0),
  adults INTEGER CHECK (adults >= 0),
  juveniles INTEGER CHECK (juveniles >= 0),
  other_culture_id INTEGER REFERENCES cultures (id) ON DELETE RESTRICT,
  seeding_ml REAL CHECK (seeding_ml >= 0),
  -- what was seen at a check
  surface TEXT CHECK (surface IN ('wet', 'moist', 'dry')),
  springtails TEXT CHECK (springtails IN ('none', 'few', 'some', 'many')),
  springtails_where TEXT CHECK (springtails_where IN ('low', 'ranging')),
  feeders_left TEXT CHECK (feeders_left IN ('none', 'few', 'plenty')),
  young_seen INTEGER CHECK (young_seen IN (0, 1)),
  eggs_seen INTEGER CHECK (eggs_seen IN (0, 1)),
  mould_seen INTEGER CHECK (mould_seen IN (0, 1)),
  mites_seen INTEGER CHECK (mites_seen IN (0, 1)),
  deaths INTEGER CHECK (deaths >= 0),
  -- a count as the calculation takes it, and the words it was written in where they were rough
  count_input TEXT CHECK (count_input IS NULL OR json_valid(count_input)),
  wording TEXT CHECK (length(wording) <= 80),
  water_ml REAL CHECK (water_ml > 0),
  food TEXT CHECK (length(food) <= 80),
  survival_median REAL CHECK (survival_median > 0 AND survival_median <= 1),
  survival_sd_log REAL CHECK (survival_sd_log >= 0),
  place_id INTEGER REFERENCES places (id),
  order_id INTEGER REFERENCES orders (id),
  note TEXT NOT NULL CHECK (length(note) <= 4000),
  via TEXT NOT NULL CHECK (via IN ('page', 'import', 'packing', 'demo')),
  import_id INTEGER REFERENCES imports (id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  CHECK ((root_id IS NULL) = (replaces_id IS NULL)),
  CHECK (withdrawn = 0 OR replaces_id IS NOT NULL),
  CHECK (kind NOT IN ('harvest', 'addition', 'split') OR animals IS NOT NULL),
  CHECK (kind <> 'split' OR other_culture_id IS NOT NULL),
  CHECK (kind <> 'count' OR count_input IS NOT NULL),
  CHECK (kind <> 'die-off' OR (survival_median IS NOT NULL AND survival_sd_log IS NOT NULL)),
  CHECK (kind <> 'move' OR place_id IS NOT NULL),
  CHECK (kind <> 'water' OR withdrawn = 1 OR water_ml IS NOT NULL)
) STRICT;
CREATE INDEX diary_by_culture ON diary (culture_id, on_day);
CREATE INDEX diary_by_kind ON diary (culture_id, kind, on_day);
CREATE INDEX diary_by_other ON diary (other_culture_id) WHERE other_culture_id IS NOT NULL;
CREATE INDEX diary_by_import ON diary (import_id) WHERE import_id IS NOT NULL;
CREATE INDEX diary_by_order ON diary (order_id) WHERE order_id IS NOT NULL;
CREATE INDEX diary_by_day ON diary (on_day);

CREATE VIEW standing_diary AS
  SELECT d.* FROM diary d
  WHERE d.withdrawn = 0 AND NOT EXISTS (SELECT 1 FROM diary r WHERE r.replaces_id = d.id);

CREATE TRIGGER diary_is_not_changed BEFORE UPDATE ON diary BEGIN
  SELECT RAISE(ABORT, 'diary entries are not changed');
END;
-- Undoing an import takes out exactly what it brought in; nothing else may be deleted.
CREATE TRIGGER diary_is_kept BEFORE DELETE ON diary
WHEN NOT EXISTS (SELECT 1 FROM imports WHERE id = OLD.import_id AND state = 'undoing') BEGIN
  SELECT RAISE(ABORT, 'diary entries are kept');
END;
CREATE TRIGGER lineage_is_kept BEFORE DELETE ON culture_parents
WHEN NOT EXISTS (SELECT 1 FROM imports i JOIN cultures c ON c.import_id = i.id
                 WHERE c.id = OLD.culture_id AND i.state = 'undoing') BEGIN
  SELECT RAISE(ABORT, 'lineage is kept');
END;
CREATE TRIGGER diary_not_before_founding BEFORE INSERT ON diary BEGIN
  SELECT RAISE(ABORT, 'a diary entry cannot be older than its culture')
  WHERE NEW.on_day < (SELECT founded_on FROM cultures WHERE id = NEW.culture_id);
  SELECT RAISE(ABORT, 'a correction belongs to the same culture as the entry it corrects')
  WHERE NEW.replaces_id IS NOT NULL
    AND NEW.culture_id <> (SELECT culture_id FROM diary WHERE id = NEW.replaces_id);
END;
