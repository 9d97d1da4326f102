-- Why: which rules touch a parcel on its way: from where, to where, with which animals, and whether they forbid it, ask for
-- a permit or warn. The owner keeps them; none is there until the owner puts it in. Null stands for "all" and "anywhere".

CREATE TABLE movement_rules (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  -- ISO 3166-1 countries and ISO 3166-2 regions
  from_country TEXT CHECK (length(from_country) = 2),
  from_region TEXT CHECK (from_region IS NULL OR substr(from_region, 1, 3) = from_country || '-'),
  to_country TEXT CHECK (length(to_country) = 2),
  to_region TEXT CHECK (to_region IS NULL OR substr(to_region, 1, 3) = to_country || '-'),
  border TEXT NOT NULL CHECK (border IN ('any', 'region', 'country')),
  about TEXT NOT NULL CHECK (about IN ('all', 'group', 'genus', 'species')),
  animal_group TEXT CHECK (animal_group IN ('isopod', 'springtail', 'pseudoscorpion', 'roach', 'beetle', 'millipede',
    'mantid', 'fly', 'other')),
  genus TEXT CHECK (length(genus) BETWEEN 1 AND 80),
  species_id INTEGER REFERENCES species (id),
  effect TEXT NOT NULL CHECK (effect IN ('block', 'permit', 'warn')),
  words TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 1000),
  source TEXT NOT NULL CHECK (length(source) BETWEEN 1 AND 300),
  -- null: nobody has read the rule where it is published; such a rule only warns
  checked_on TEXT CHECK (length(checked_on) = 10),
  permit_number TEXT NOT NULL CHECK (length(permit_number) <= 80),
  permit_expires_on TEXT CHECK (length(permit_expires_on) = 10),
  made_at INTEGER NOT NULL,
  retired_at INTEGER,
  CHECK ((about = 'group') = (animal_group IS NOT NULL)),
  CHECK ((about = 'genus') = (genus IS NOT NULL)),
  CHECK ((about = 'species') = (species_id IS NOT NULL)),
  CHECK (effect = 'permit' OR (permit_number = '' AND permit_expires_on IS NULL))
) STRICT;
CREATE INDEX movement_rules_species ON movement_rules (species_id);

-- The region parcels start in; their country is the business's. One row or none.
CREATE TABLE movement_origin (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  region TEXT NOT NULL CHECK (length(region) BETWEEN 4 AND 6)
) STRICT;
