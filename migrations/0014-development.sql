-- Why: when young appear and are adult follows from the warmth they get. How long a stage took at two temperatures is what
-- keepers and handbooks say; the threshold and the degree-days are worked out from it.

CREATE TABLE species_stages (
  species_id INTEGER NOT NULL REFERENCES species (id),
  -- eggs noted to young seen; a culture's start to its first adults
  stage TEXT NOT NULL CHECK (stage IN ('hatch', 'adult')),
  cool_c REAL NOT NULL CHECK (cool_c BETWEEN 0 AND 45),
  cool_days REAL NOT NULL CHECK (cool_days > 0),
  warm_c REAL NOT NULL CHECK (warm_c > cool_c AND warm_c <= 45),
  warm_days REAL NOT NULL CHECK (warm_days > 0 AND warm_days < cool_days),
  source TEXT NOT NULL CHECK (length(source) BETWEEN 1 AND 200),
  PRIMARY KEY (species_id, stage)
) STRICT, WITHOUT ROWID;
