-- Why: what the colonies eat lives in cultures too. How long one takes, what it gives and who eats from it decides what
-- to start now, so that no week runs short.

-- A species that is kept to be eaten, and what one culture of it does.
CREATE TABLE feeder_species (
  species_id INTEGER PRIMARY KEY REFERENCES species (id),
  lead_days INTEGER NOT NULL CHECK (lead_days BETWEEN 0 AND 400),
  productive_days INTEGER NOT NULL CHECK (productive_days BETWEEN 1 AND 3650),
  yield REAL NOT NULL CHECK (yield > 0),
  seed_adults REAL NOT NULL CHECK (seed_adults >= 0 AND seed_adults < yield),
  safety REAL NOT NULL CHECK (safety BETWEEN 1 AND 10)
) STRICT;

-- What an enclosure of a species eats of a feeder in a week when it is full.
CREATE TABLE feeder_diets (
  species_id INTEGER NOT NULL REFERENCES species (id),
  feeder_id INTEGER NOT NULL REFERENCES feeder_species (species_id),
  per_week REAL NOT NULL CHECK (per_week > 0),
  PRIMARY KEY (species_id, feeder_id),
  CHECK (species_id <> feeder_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX feeder_diets_by_feeder ON feeder_diets (feeder_id);
