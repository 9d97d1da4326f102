-- Why: what is spare can be shown to strangers, and they can ask for it. A request is nobody's order and reserves nothing:
-- it stands by itself, with the person who wrote it, until the owner takes it (then it leads to a draft) or refuses it.

-- How the list is shown. One row or none; none is off.
CREATE TABLE offer_list (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  is_on INTEGER NOT NULL CHECK (is_on IN (0, 1)),
  -- search engines may take it up
  may_be_found INTEGER NOT NULL CHECK (may_be_found IN (0, 1)),
  takes_requests INTEGER NOT NULL CHECK (takes_requests IN (0, 1)),
  -- above this many groups only "more than" is said
  most_shown INTEGER NOT NULL CHECK (most_shown BETWEEN 1 AND 99)
) STRICT;

-- Species for sale that the list leaves out.
CREATE TABLE unlisted_species (
  species_id INTEGER PRIMARY KEY REFERENCES species (id) ON DELETE CASCADE,
  made_at INTEGER NOT NULL
) STRICT;

CREATE TABLE order_requests (
  id INTEGER PRIMARY KEY,
  -- the form's key: sent twice it is one request
  form_key TEXT NOT NULL UNIQUE CHECK (length(form_key) BETWEEN 16 AND 120),
  state TEXT NOT NULL CHECK (state IN ('new', 'taken', 'refused')),
  -- whoever wrote it; emptied when the person is erased
  name TEXT NOT NULL CHECK (length(name) <= 120),
  email TEXT NOT NULL CHECK (length(email) <= 254),
  street TEXT NOT NULL CHECK (length(street) <= 300),
  postcode TEXT NOT NULL CHECK (length(postcode) <= 20),
  city TEXT NOT NULL CHECK (length(city) <= 120),
  region TEXT NOT NULL CHECK (length(region) <= 120),
  country TEXT NOT NULL CHECK (length(country) <= 2),
  language TEXT NOT NULL CHECK (language IN ('en', 'de', 'es')),
  note TEXT NOT NULL CHECK (length(note) <= 1000),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  order_id INTEGER REFERENCES orders (id),
  made_at INTEGER NOT NULL,
  settled_by TEXT REFERENCES people (id),
  settled_at INTEGER,
  CHECK ((state = 'new') = (settled_at IS NULL)),
  CHECK ((state = 'taken') = (order_id IS NOT NULL))
) STRICT;
CREATE INDEX order_requests_state ON order_requests (state, made_at);
CREATE INDEX order_requests_order ON order_requests (order_id);
CREATE INDEX order_requests_settled_by ON order_requests (settled_by);

CREATE TABLE order_request_lines (
  request_id INTEGER NOT NULL REFERENCES order_requests (id),
  species_id INTEGER NOT NULL REFERENCES species (id),
  groups INTEGER NOT NULL CHECK (groups BETWEEN 1 AND 1000),
  price_minor INTEGER NOT NULL CHECK (price_minor >= 0),
  PRIMARY KEY (request_id, species_id)
) STRICT;
CREATE INDEX order_request_lines_species ON order_request_lines (species_id);
