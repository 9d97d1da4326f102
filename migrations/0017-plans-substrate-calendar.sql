-- Why: what is going to be split and repotted is planned for a day, so that the substrate for the week can be mixed and
-- the materials bought beforehand; and people read what is due in the calendar of their phone.

-- A split or a repot that somebody means to do. It is done when the diary says so: by an entry of its kind written after
-- `after_entry` was the diary's last, so that an undone split makes the plan open again.
CREATE TABLE culture_plans (
  id INTEGER PRIMARY KEY,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  what TEXT NOT NULL CHECK (what IN ('split', 'repot')),
  on_day TEXT NOT NULL CHECK (on_day GLOB '????-??-??'),
  -- how many enclosures of which kind are filled for it
  enclosure_id INTEGER NOT NULL REFERENCES enclosures (id),
  enclosures INTEGER NOT NULL CHECK (enclosures BETWEEN 1 AND 50),
  made_on TEXT NOT NULL CHECK (made_on GLOB '????-??-??'),
  after_entry INTEGER NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  -- what no entry tells: somebody called it off, or says that it is done
  ended TEXT CHECK (ended IN ('cancelled', 'done')),
  ended_by TEXT REFERENCES people (id),
  ended_at INTEGER,
  CHECK ((ended IS NULL) = (ended_at IS NULL))
) STRICT;
CREATE INDEX culture_plans_open ON culture_plans (culture_id) WHERE ended_at IS NULL;

-- What a species' cultures stand on in one kind of enclosure, where it is not what the species' page says. From the
-- floor up, like the layers of a species.
CREATE TABLE recipe_layers (
  id INTEGER PRIMARY KEY,
  species_id INTEGER NOT NULL REFERENCES species (id) ON DELETE CASCADE,
  enclosure_id INTEGER NOT NULL REFERENCES enclosures (id),
  position INTEGER NOT NULL CHECK (position >= 0),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 80),
  depth_mm REAL NOT NULL CHECK (depth_mm > 0),
  UNIQUE (species_id, enclosure_id, position)
) STRICT;
CREATE TABLE recipe_layer_parts (
  layer_id INTEGER NOT NULL REFERENCES recipe_layers (id) ON DELETE CASCADE,
  position INTEGER NOT NULL CHECK (position >= 0),
  material TEXT NOT NULL CHECK (length(material) BETWEEN 1 AND 80),
  parts REAL NOT NULL CHECK (parts > 0),
  settling REAL NOT NULL CHECK (settling > 0 AND settling <= 1),
  PRIMARY KEY (layer_id, position)
) STRICT, WITHOUT ROWID;

-- What stands on the shelf and the bags it is sold in; a material nobody wrote down here is bought by the litre.
CREATE TABLE materials (
  name TEXT PRIMARY KEY COLLATE NOCASE CHECK (length(name) BETWEEN 1 AND 80),
  in_hand_litres REAL CHECK (in_hand_litres >= 0),
  bag_litres REAL CHECK (bag_litres > 0)
) STRICT, WITHOUT ROWID;

-- How much more is mixed than is needed; one row or none.
CREATE TABLE mixing (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  spare_share REAL NOT NULL CHECK (spare_share BETWEEN 0 AND 2)
) STRICT;

-- The private address of somebody's calendar; only the hash of its token is kept.
CREATE TABLE calendar_feeds (
  id INTEGER PRIMARY KEY,
  person_id TEXT NOT NULL REFERENCES people (id),
  token_hash TEXT NOT NULL UNIQUE CHECK (length(token_hash) = 64),
  made_at INTEGER NOT NULL,
  used_at INTEGER,
  ended_at INTEGER
) STRICT;
CREATE UNIQUE INDEX calendar_feeds_open ON calendar_feeds (person_id) WHERE ended_at IS NULL;
