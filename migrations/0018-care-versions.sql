-- Why: a care text is written in each customer's language and changes over the years. The sheet that lay in a box must be
-- printable again as it was, so every saved text stays as a version, and an order keeps what its sheets said.

CREATE TABLE care_versions (
  id INTEGER PRIMARY KEY,
  species_id INTEGER NOT NULL REFERENCES species (id) ON DELETE CASCADE,
  language TEXT NOT NULL CHECK (language IN ('en', 'de', 'es')),
  common_name TEXT NOT NULL CHECK (length(common_name) <= 200),
  cautions TEXT NOT NULL CHECK (length(cautions) <= 4000),
  -- the earlier version that was taken up again in this one
  again_of INTEGER REFERENCES care_versions (id) CHECK (again_of < id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL
) STRICT;
CREATE INDEX care_versions_newest ON care_versions (species_id, language, id);
CREATE INDEX care_versions_again ON care_versions (again_of) WHERE again_of IS NOT NULL;

CREATE TABLE care_version_texts (
  version_id INTEGER NOT NULL REFERENCES care_versions (id) ON DELETE CASCADE,
  heading TEXT NOT NULL CHECK (heading IN ('enclosure', 'substrate', 'water', 'food', 'breeding', 'temperature', 'normal',
    'not-normal')),
  text TEXT NOT NULL CHECK (length(text) BETWEEN 1 AND 4000),
  PRIMARY KEY (version_id, heading)
) STRICT, WITHOUT ROWID;

-- What layers, materials and the enclosure are called in another language than English.
CREATE TABLE care_version_terms (
  version_id INTEGER NOT NULL REFERENCES care_versions (id) ON DELETE CASCADE,
  term TEXT NOT NULL CHECK (length(term) BETWEEN 1 AND 400),
  words TEXT NOT NULL CHECK (length(words) BETWEEN 1 AND 400),
  PRIMARY KEY (version_id, term)
) STRICT, WITHOUT ROWID;

-- A version goes only together with its species.
CREATE TRIGGER care_versions_stay BEFORE DELETE ON care_versions
WHEN EXISTS (SELECT 1 FROM species WHERE id = OLD.species_id)
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;
CREATE TRIGGER care_versions_unchanged BEFORE UPDATE ON care_versions
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;
CREATE TRIGGER care_version_texts_stay BEFORE DELETE ON care_version_texts
WHEN EXISTS (SELECT 1 FROM care_versions WHERE id = OLD.version_id)
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;
CREATE TRIGGER care_version_texts_unchanged BEFORE UPDATE ON care_version_texts
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;
CREATE TRIGGER care_version_terms_stay BEFORE DELETE ON care_version_terms
WHEN EXISTS (SELECT 1 FROM care_versions WHERE id = OLD.version_id)
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;
CREATE TRIGGER care_version_terms_unchanged BEFORE UPDATE ON care_version_terms
BEGIN SELECT RAISE(ABORT, 'versions of care texts are kept'); END;

-- The care sheets that went into an order's box, with all that stood on them but the customer's name.
CREATE TABLE order_care_sheets (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  position INTEGER NOT NULL CHECK (position >= 0),
  culture_id INTEGER NOT NULL REFERENCES cultures (id),
  -- of the sheet's language; null where nothing was written in it
  version_id INTEGER REFERENCES care_versions (id),
  language TEXT NOT NULL CHECK (language IN ('en', 'de', 'es')),
  units TEXT NOT NULL CHECK (units IN ('metric', 'us')),
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  business_name TEXT NOT NULL,
  sheet TEXT NOT NULL CHECK (json_valid(sheet)),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  UNIQUE (order_id, position)
) STRICT;
CREATE INDEX order_care_sheets_by_culture ON order_care_sheets (culture_id);
CREATE INDEX order_care_sheets_by_version ON order_care_sheets (version_id);
CREATE TRIGGER order_care_sheets_unchanged BEFORE UPDATE ON order_care_sheets
BEGIN SELECT RAISE(ABORT, 'the care sheets of a box are kept as they were'); END;

INSERT INTO care_versions (species_id, language, common_name, cautions, made_at)
SELECT id, 'en', common_name, cautions, unixepoch() * 1000 FROM species
WHERE cautions <> '' OR EXISTS (SELECT 1 FROM species_care WHERE species_id = species.id AND text <> '');
INSERT INTO care_version_texts (version_id, heading, text)
SELECT care_versions.id, heading, text FROM care_versions JOIN species_care USING (species_id) WHERE text <> '';
