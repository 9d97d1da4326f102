-- Why: mites, mould and strange species travel on tools, old substrate and feeders. The diary knows most ways already
-- (splits, animals put in, harvests for orders, and now which culture the food came from); what it cannot tell is kept
-- here. Like a diary entry a contact is a fact: it is never changed or deleted, a later row withdraws it.

CREATE TABLE contacts (
  id INTEGER PRIMARY KEY,
  on_day TEXT NOT NULL CHECK (on_day GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]'),
  -- something went from one culture to the other: the tool was used at the first before
  from_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  to_id INTEGER NOT NULL REFERENCES cultures (id) ON DELETE RESTRICT,
  kind TEXT NOT NULL CHECK (kind IN ('shared tool', 'seeding', 'feeders')),
  note TEXT NOT NULL CHECK (length(note) <= 500),
  -- the diary entry it was written along with (its root, where that was corrected): it goes when that goes
  diary_id INTEGER REFERENCES diary (id),
  withdraws_id INTEGER UNIQUE REFERENCES contacts (id),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  CHECK (from_id <> to_id)
) STRICT;
CREATE INDEX contacts_by_day ON contacts (on_day);
CREATE INDEX contacts_by_from ON contacts (from_id);
CREATE INDEX contacts_by_to ON contacts (to_id);
CREATE INDEX contacts_by_diary ON contacts (diary_id) WHERE diary_id IS NOT NULL;

CREATE VIEW standing_contacts AS
  SELECT c.* FROM contacts c
  WHERE c.withdraws_id IS NULL AND NOT EXISTS (SELECT 1 FROM contacts w WHERE w.withdraws_id = c.id);

CREATE TRIGGER contacts_are_not_changed BEFORE UPDATE ON contacts BEGIN
  SELECT RAISE(ABORT, 'contacts are not changed');
END;
CREATE TRIGGER contacts_are_kept BEFORE DELETE ON contacts BEGIN
  SELECT RAISE(ABORT, 'contacts are kept');
END;
CREATE TRIGGER contacts_of_cultures_that_were_there BEFORE INSERT ON contacts BEGIN
  SELECT RAISE(ABORT, 'a contact cannot be older than its cultures')
  WHERE NEW.on_day < (SELECT max(founded_on) FROM cultures WHERE id IN (NEW.from_id, NEW.to_id));
  SELECT RAISE(ABORT, 'a contact is withdrawn as it was written')
  WHERE NEW.withdraws_id IS NOT NULL AND NOT EXISTS (
    SELECT 1 FROM contacts c WHERE c.id = NEW.withdraws_id AND c.withdraws_id IS NULL AND c.on_day = NEW.on_day
      AND c.from_id = NEW.from_id AND c.to_id = NEW.to_id AND c.kind = NEW.kind);
END;

-- Contacts that the diary tells, found by day without a look at the rest of it.
CREATE INDEX diary_contacts ON diary (kind, on_day, culture_id, other_culture_id) WHERE other_culture_id IS NOT NULL;
