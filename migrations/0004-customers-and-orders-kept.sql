-- Why: two people who edit the same customer must not overwrite each other (version); a line that leaves an order
-- stays with the promises once made on it (withdrawn); a parcel leaves on a day, not at the instant somebody wrote
-- it down (sent_on); when something was not packed after all, a promise stands in the place of the packed one
-- (instead_of), which itself stays as it was; and customers are found by the beginning of any word of their name,
-- place or address.

ALTER TABLE customers ADD COLUMN version INTEGER NOT NULL DEFAULT 1;

ALTER TABLE orders ADD COLUMN sent_on TEXT
  CHECK (sent_on GLOB '[0-9][0-9][0-9][0-9]-[0-9][0-9]-[0-9][0-9]');

ALTER TABLE order_lines ADD COLUMN withdrawn INTEGER NOT NULL DEFAULT 0 CHECK (withdrawn IN (0, 1));

ALTER TABLE allocations ADD COLUMN instead_of INTEGER REFERENCES allocations (id);
CREATE UNIQUE INDEX allocations_instead ON allocations (instead_of) WHERE instead_of IS NOT NULL;

CREATE INDEX orders_by_dispatch ON orders (dispatch_on) WHERE dispatch_on IS NOT NULL;

-- The words of customers, accents folded; kept in step by the triggers below.
CREATE VIRTUAL TABLE customer_words USING fts5 (
  name, email, city, postcode,
  content = 'customers', content_rowid = 'id',
  tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
INSERT INTO customer_words (rowid, name, email, city, postcode)
  SELECT id, name, email, city, postcode FROM customers;

CREATE TRIGGER customer_words_added AFTER INSERT ON customers BEGIN
  INSERT INTO customer_words (rowid, name, email, city, postcode)
  VALUES (NEW.id, NEW.name, NEW.email, NEW.city, NEW.postcode);
END;
CREATE TRIGGER customer_words_changed AFTER UPDATE ON customers BEGIN
  INSERT INTO customer_words (customer_words, rowid, name, email, city, postcode)
  VALUES ('delete', OLD.id, OLD.name, OLD.email, OLD.city, OLD.postcode);
  INSERT INTO customer_words (rowid, name, email, city, postcode)
  VALUES (NEW.id, NEW.name, NEW.email, NEW.city, NEW.postcode);
END;
CREATE TRIGGER customer_words_removed AFTER DELETE ON customers BEGIN
  INSERT INTO customer_words (customer_words, rowid, name, email, city, postcode)
  VALUES ('delete', OLD.id, OLD.name, OLD.email, OLD.city, OLD.postcode);
END;
