-- Why: a packing sheet says how many cups of which size a parcel needs, how they are aired and padded, what it weighs and
-- what a customs form asks. All of it is the owner's to say: for a species, for all of its group, or for every parcel.

CREATE TABLE cups (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  -- outside, lid on; a round cup is as wide as it is long
  length_mm REAL NOT NULL CHECK (length_mm > 0),
  width_mm REAL NOT NULL CHECK (width_mm > 0),
  height_mm REAL NOT NULL CHECK (height_mm > 0),
  -- null: not weighed
  empty_mass_g REAL CHECK (empty_mass_g >= 0),
  note TEXT NOT NULL,
  made_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;

-- What is empty is asked one step further up: species, group, every parcel.
CREATE TABLE species_packing (
  species_id INTEGER PRIMARY KEY REFERENCES species (id) ON DELETE CASCADE,
  cup_id INTEGER REFERENCES cups (id),
  -- null: a group in each cup, however many animals it has
  animals_per_cup INTEGER CHECK (animals_per_cup >= 1),
  animal_mass_mg REAL CHECK (animal_mass_mg > 0),
  ventilation TEXT NOT NULL,
  padding TEXT NOT NULL
) STRICT;

CREATE TABLE group_packing (
  animal_group TEXT PRIMARY KEY CHECK (animal_group IN ('isopod', 'springtail', 'pseudoscorpion', 'roach', 'beetle',
    'millipede', 'mantid', 'fly', 'other')),
  cup_id INTEGER REFERENCES cups (id),
  animals_per_cup INTEGER CHECK (animals_per_cup >= 1),
  ventilation TEXT NOT NULL,
  padding TEXT NOT NULL
) STRICT;

-- One row or none.
CREATE TABLE packing_habits (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  cup_id INTEGER REFERENCES cups (id),
  -- kept free over the cups for a pack and its air
  room_for_pack_mm REAL NOT NULL CHECK (room_for_pack_mm >= 0),
  -- heading of the Harmonized System for a customs form; empty where the owner set none
  customs_heading TEXT NOT NULL
) STRICT;
