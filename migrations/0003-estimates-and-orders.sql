-- Why: what the calculations say of each culture, kept so that a page need not work it out again, and the
-- orders that promise animals. A promise is checked by the database itself against what was spare.

-- The filter's state after the standing events of a culture up to and including one of them. basis is a hash of
-- what the culture started from and what was believed of it: when that changes, the states say nothing any more.
CREATE TABLE population_states (
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  on_day TEXT NOT NULL,
  position INTEGER NOT NULL,
  events INTEGER NOT NULL CHECK (events > 0),
  basis TEXT NOT NULL,
  state BLOB NOT NULL,
  PRIMARY KEY (culture_id, on_day, position)
) STRICT;

-- What was believed just before and just after each event, for the curve.
CREATE TABLE estimate_points (
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE CASCADE,
  on_day TEXT NOT NULL,
  position INTEGER NOT NULL,
  before_median REAL NOT NULL,
  before_lower REAL NOT NULL,
  before_upper REAL NOT NULL,
  after_median REAL NOT NULL,
  after_lower REAL NOT NULL,
  after_upper REAL NOT NULL,
  PRIMARY KEY (culture_id, on_day, position)
) STRICT, WITHOUT ROWID;

CREATE TABLE culture_estimates (
  culture_id INTEGER PRIMARY KEY REFERENCES cultures (id) ON DELETE CASCADE,
  as_of TEXT NOT NULL,
  worked_out_at INTEGER NOT NULL,
  -- what the calculation said, or why it could say nothing
  fault TEXT,
  mean REAL,
  median REAL,
  lower REAL,
  upper REAL,
  growth_median REAL,
  growth_lower REAL,
  growth_upper REAL,
  capacity_median REAL,
  capacity_lower REAL,
  capacity_upper REAL,
  fullness_median REAL,
  fullness_lower REAL,
  fullness_upper REAL,
  extinct REAL,
  reserve REAL,
  promisable INTEGER NOT NULL CHECK (promisable >= 0),
  spare_animals INTEGER NOT NULL CHECK (spare_animals >= 0),
  spare_groups INTEGER NOT NULL CHECK (spare_groups >= 0),
  sustainable_median REAL,
  sustainable_lower REAL,
  sustainable_upper REAL,
  ready_on TEXT,
  limited_by TEXT CHECK (limited_by IN ('count too old', 'reserve', 'adults', 'promised', 'health')),
  health TEXT NOT NULL DEFAULT 'well' CHECK (health IN ('well', 'mites', 'mould', 'die-off', 'quarantine')),
  last_count_on TEXT,
  last_check_on TEXT,
  forecast TEXT CHECK (forecast IS NULL OR json_valid(forecast)),
  CHECK ((fault IS NULL) = (median IS NOT NULL))
) STRICT;
CREATE INDEX culture_estimates_by_day ON culture_estimates (as_of);

CREATE TABLE customers (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
  email TEXT NOT NULL CHECK (length(email) <= 254),
  phone TEXT NOT NULL CHECK (length(phone) <= 60),
  street TEXT NOT NULL CHECK (length(street) <= 300),
  postcode TEXT NOT NULL CHECK (length(postcode) <= 20),
  city TEXT NOT NULL CHECK (length(city) <= 120),
  region TEXT NOT NULL CHECK (length(region) <= 120),
  country TEXT NOT NULL CHECK (length(country) = 2),
  units TEXT NOT NULL CHECK (units IN ('metric', 'us')),
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  note TEXT NOT NULL CHECK (length(note) <= 2000),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  retired_at INTEGER
) STRICT;
CREATE INDEX customers_by_name ON customers (name COLLATE NOCASE);

CREATE TABLE orders (
  id INTEGER PRIMARY KEY,
  -- counted up without gaps: an order is never deleted
  number INTEGER NOT NULL UNIQUE,
  customer_id INTEGER NOT NULL REFERENCES customers (id),
  state TEXT NOT NULL CHECK (state IN ('draft', 'confirmed', 'packed', 'sent', 'closed', 'cancelled')),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  postage_minor INTEGER NOT NULL CHECK (postage_minor >= 0),
  dispatch_on TEXT,
  note TEXT NOT NULL CHECK (length(note) <= 2000),
  version INTEGER NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX orders_by_state ON orders (state, dispatch_on);
CREATE INDEX orders_by_customer ON orders (customer_id);
CREATE TRIGGER orders_are_kept BEFORE DELETE ON orders BEGIN
  SELECT RAISE(ABORT, 'orders are kept');
END;

CREATE TABLE order_lines (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id) ON DELETE RESTRICT,
  position INTEGER NOT NULL,
  species_id INTEGER NOT NULL REFERENCES species (id),
  groups INTEGER NOT NULL CHECK (groups BETWEEN 1 AND 1000),
  -- the make-up and price as they were when the line was written
  group_adults INTEGER NOT NULL CHECK (group_adults >= 0),
  group_juveniles INTEGER NOT NULL CHECK (group_juveniles >= 0),
  group_extras INTEGER NOT NULL CHECK (group_extras >= 0),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  CHECK (group_adults + group_juveniles > 0)
) STRICT;
CREATE INDEX order_lines_by_order ON order_lines (order_id, position);
CREATE INDEX order_lines_by_species ON order_lines (species_id);

CREATE TABLE order_history (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id) ON DELETE RESTRICT,
  state TEXT NOT NULL,
  note TEXT NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX order_history_by_order ON order_history (order_id, id);

CREATE TABLE allocations (
  id INTEGER PRIMARY KEY,
  order_line_id INTEGER NOT NULL REFERENCES order_lines (id) ON DELETE RESTRICT,
  culture_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  groups INTEGER NOT NULL CHECK (groups > 0),
  -- extras are promised too: they leave with the group
  animals INTEGER NOT NULL CHECK (animals > 0),
  state TEXT NOT NULL CHECK (state IN ('reserved', 'packed', 'released')),
  override_reason TEXT CHECK (length(override_reason) BETWEEN 3 AND 500),
  diary_id INTEGER REFERENCES diary (id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX allocations_by_line ON allocations (order_line_id);
CREATE INDEX allocations_open ON allocations (culture_id) WHERE state = 'reserved';

-- An animal is promised once: open promises of a culture never exceed what it could spare when each was made,
-- unless the owner overrode that with a reason, which is kept.
CREATE TRIGGER an_animal_is_promised_once BEFORE INSERT ON allocations
WHEN NEW.state = 'reserved' AND NEW.override_reason IS NULL BEGIN
  SELECT RAISE(ABORT, 'not that many animals are spare')
  WHERE NEW.animals + (SELECT coalesce(sum(animals), 0) FROM allocations
                       WHERE culture_id = NEW.culture_id AND state = 'reserved')
      > coalesce((SELECT promisable FROM culture_estimates WHERE culture_id = NEW.culture_id), 0);
  SELECT RAISE(ABORT, 'this culture is not for sale now')
  WHERE (SELECT status FROM cultures WHERE id = NEW.culture_id) <> 'active';
END;
CREATE TRIGGER a_promise_ends_once BEFORE UPDATE ON allocations
WHEN OLD.state <> 'reserved' OR NEW.animals <> OLD.animals OR NEW.culture_id <> OLD.culture_id
  OR NEW.order_line_id <> OLD.order_line_id OR NEW.groups <> OLD.groups BEGIN
  SELECT RAISE(ABORT, 'a promise is packed or released once, and not changed otherwise');
END;
CREATE TRIGGER promises_are_kept BEFORE DELETE ON allocations BEGIN
  SELECT RAISE(ABORT, 'promises are released, not deleted');
END;
