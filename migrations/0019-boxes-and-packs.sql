-- Why: whether animals arrive alive hangs on the box and the pack they travel with, so both are stock of their own, with
-- what the calculation of a parcel asks for. How well a box really keeps warm is measured from a log of its cooling, and
-- the log is kept as evidence.

CREATE TABLE boxes (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  length_mm REAL NOT NULL CHECK (length_mm > 0),
  width_mm REAL NOT NULL CHECK (width_mm > 0),
  height_mm REAL NOT NULL CHECK (height_mm > 0),
  wall_mm REAL NOT NULL CHECK (wall_mm > 0),
  -- of the wall, and where the figure comes from; stands in until the box was measured
  conductivity_w_per_mk REAL NOT NULL CHECK (conductivity_w_per_mk > 0),
  conductivity_source TEXT NOT NULL,
  -- measured or typed; wins over the wall
  conductance_w_per_k REAL CHECK (conductance_w_per_k > 0),
  conductance_log_id INTEGER REFERENCES box_logs (id),
  empty_mass_g REAL NOT NULL CHECK (empty_mass_g >= 0),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  -- null: not counted
  number_left INTEGER CHECK (number_left >= 0),
  note TEXT NOT NULL,
  made_at INTEGER NOT NULL,
  retired_at INTEGER,
  CHECK (conductance_log_id IS NULL OR conductance_w_per_k IS NOT NULL)
) STRICT;

-- What was read while a box of known contents cooled or warmed, and what that came to. Facts: never changed.
CREATE TABLE box_logs (
  id INTEGER PRIMARY KEY,
  box_id INTEGER NOT NULL REFERENCES boxes (id),
  contents_mass_g REAL NOT NULL CHECK (contents_mass_g > 0),
  contents_j_per_kg_k REAL NOT NULL CHECK (contents_j_per_kg_k > 0),
  -- [[hours, inside, outside], ...] in degrees Celsius
  readings TEXT NOT NULL CHECK (json_valid(readings)),
  conductance_w_per_k REAL NOT NULL CHECK (conductance_w_per_k > 0),
  standard_error REAL NOT NULL CHECK (standard_error >= 0),
  lower_w_per_k REAL NOT NULL,
  upper_w_per_k REAL NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX box_logs_by_box ON box_logs (box_id);
CREATE TRIGGER box_logs_are_not_changed BEFORE UPDATE ON box_logs BEGIN
  SELECT RAISE(ABORT, 'logs are not changed');
END;

CREATE TABLE packs (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 80),
  kind TEXT NOT NULL CHECK (kind IN ('heat', 'melting')),
  mass_g REAL NOT NULL CHECK (mass_g > 0),
  watts REAL CHECK (watts > 0),
  hours REAL CHECK (hours > 0),
  warm_up_hours REAL CHECK (warm_up_hours >= 0 AND warm_up_hours <= hours),
  melting_c REAL,
  latent_j_per_kg REAL CHECK (latent_j_per_kg > 0),
  heat_capacity_j_per_kg_k REAL CHECK (heat_capacity_j_per_kg_k > 0),
  start_temp_c REAL,
  -- in a smaller one it has no air, or no room
  smallest_box_l REAL NOT NULL CHECK (smallest_box_l >= 0),
  most_in_box INTEGER NOT NULL CHECK (most_in_box BETWEEN 1 AND 4),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  number_left INTEGER CHECK (number_left >= 0),
  source TEXT NOT NULL,
  note TEXT NOT NULL,
  made_at INTEGER NOT NULL,
  retired_at INTEGER,
  CHECK ((kind = 'heat') = (watts IS NOT NULL AND hours IS NOT NULL AND warm_up_hours IS NOT NULL)),
  CHECK ((kind = 'melting') = (melting_c IS NOT NULL AND latent_j_per_kg IS NOT NULL
    AND heat_capacity_j_per_kg_k IS NOT NULL AND start_temp_c IS NOT NULL))
) STRICT;
