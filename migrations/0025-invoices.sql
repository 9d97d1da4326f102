-- Why: invoices with numbers that have no gap, what was paid on them, and customers who are forgotten while their orders
-- stay. An invoice is a copy of what it printed and is never changed: a mistake is put right by a credit note.

-- How invoices are written; one row or none.
CREATE TABLE invoicing (
  id INTEGER PRIMARY KEY CHECK (id = 1),
  prefix TEXT NOT NULL CHECK (length(prefix) <= 20 AND prefix NOT GLOB '*[0-9]'),
  -- where counting begins; means nothing once there is an invoice
  first_number INTEGER NOT NULL CHECK (first_number BETWEEN 1 AND 99999999),
  tax_number TEXT NOT NULL CHECK (length(tax_number) <= 60),
  term_days INTEGER NOT NULL CHECK (term_days BETWEEN 0 AND 365),
  pay_words TEXT NOT NULL CHECK (length(pay_words) <= 600),
  -- no tax is charged; the sentences say why
  exempt INTEGER NOT NULL CHECK (exempt IN (0, 1)),
  exempt_en TEXT NOT NULL CHECK (length(exempt_en) <= 300),
  exempt_de TEXT NOT NULL CHECK (length(exempt_de) <= 300),
  exempt_es TEXT NOT NULL CHECK (length(exempt_es) <= 300),
  keep_years INTEGER NOT NULL CHECK (keep_years BETWEEN 0 AND 30),
  inactive_years INTEGER NOT NULL CHECK (inactive_years BETWEEN 1 AND 30)
) STRICT;

CREATE TABLE tax_rates (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 40),
  -- thousandths of a percent
  rate_thousandths INTEGER NOT NULL CHECK (rate_thousandths BETWEEN 0 AND 100000),
  mode TEXT NOT NULL CHECK (mode IN ('included', 'added')),
  on_goods INTEGER NOT NULL CHECK (on_goods IN (0, 1)),
  on_carriage INTEGER NOT NULL CHECK (on_carriage IN (0, 1)),
  from_on TEXT NOT NULL CHECK (length(from_on) = 10),
  until_on TEXT CHECK (until_on IS NULL OR until_on >= from_on),
  made_at INTEGER NOT NULL,
  retired_at INTEGER,
  CHECK (on_goods + on_carriage > 0)
) STRICT;

CREATE TABLE payment_ways (
  id INTEGER PRIMARY KEY,
  name TEXT NOT NULL COLLATE NOCASE UNIQUE CHECK (length(name) BETWEEN 1 AND 60),
  retired_at INTEGER
) STRICT;
INSERT INTO payment_ways VALUES (1, 'Bank transfer', NULL), (2, 'Cash', NULL), (3, 'Credit from another order', NULL);

-- The id is the place in the sequence of numbers.
CREATE TABLE invoices (
  id INTEGER PRIMARY KEY,
  number TEXT NOT NULL UNIQUE CHECK (length(number) BETWEEN 1 AND 40),
  kind TEXT NOT NULL CHECK (kind IN ('invoice', 'credit')),
  order_id INTEGER NOT NULL REFERENCES orders (id),
  -- the invoice that a credit note takes back, all of it or a part
  credits_id INTEGER REFERENCES invoices (id),
  amends_id INTEGER REFERENCES amends (id),
  currency TEXT NOT NULL CHECK (length(currency) = 3),
  issued_on TEXT NOT NULL CHECK (length(issued_on) = 10),
  supplied_on TEXT NOT NULL CHECK (length(supplied_on) = 10),
  due_on TEXT CHECK (length(due_on) = 10),
  language TEXT NOT NULL CHECK (language IN ('en', 'de', 'es')),
  locale TEXT NOT NULL,
  paper TEXT NOT NULL CHECK (paper IN ('A4', 'Letter')),
  seller_name TEXT NOT NULL,
  seller_address TEXT NOT NULL,
  seller_email TEXT NOT NULL,
  seller_tax_number TEXT NOT NULL,
  pay_words TEXT NOT NULL,
  exempt_words TEXT NOT NULL,
  reason TEXT NOT NULL CHECK (length(reason) <= 300),
  net_minor INTEGER NOT NULL,
  tax_minor INTEGER NOT NULL,
  total_minor INTEGER NOT NULL,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  CHECK (net_minor + tax_minor = total_minor),
  CHECK ((kind = 'credit') = (credits_id IS NOT NULL)),
  CHECK ((kind = 'credit') = (due_on IS NULL)),
  CHECK (CASE kind WHEN 'credit' THEN max(net_minor, tax_minor, total_minor) <= 0
         ELSE min(net_minor, tax_minor, total_minor) >= 0 END)
) STRICT;
CREATE INDEX invoices_of_order ON invoices (order_id, id);
CREATE INDEX invoices_by_day ON invoices (issued_on, id);
CREATE INDEX invoices_credits ON invoices (credits_id) WHERE credits_id IS NOT NULL;
CREATE INDEX invoices_amends ON invoices (amends_id) WHERE amends_id IS NOT NULL;

-- What belongs to an invoice is written before it, in the same transaction: once the invoice is there, nothing is added.
CREATE TABLE invoice_lines (
  invoice_id INTEGER NOT NULL REFERENCES invoices (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  kind TEXT NOT NULL CHECK (kind IN ('goods', 'carriage')),
  words TEXT NOT NULL CHECK (length(words) <= 400),
  scientific_name TEXT NOT NULL CHECK (length(scientific_name) <= 200),
  detail TEXT NOT NULL CHECK (length(detail) <= 200),
  quantity INTEGER NOT NULL CHECK (quantity > 0),
  price_minor INTEGER NOT NULL,
  total_minor INTEGER NOT NULL CHECK (total_minor = quantity * price_minor),
  PRIMARY KEY (invoice_id, position)
) STRICT, WITHOUT ROWID;
CREATE TABLE invoice_taxes (
  invoice_id INTEGER NOT NULL REFERENCES invoices (id) DEFERRABLE INITIALLY DEFERRED,
  position INTEGER NOT NULL CHECK (position >= 0),
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 40),
  rate_thousandths INTEGER NOT NULL CHECK (rate_thousandths BETWEEN 0 AND 100000),
  mode TEXT NOT NULL CHECK (mode IN ('included', 'added')),
  on_goods INTEGER NOT NULL CHECK (on_goods IN (0, 1)),
  on_carriage INTEGER NOT NULL CHECK (on_carriage IN (0, 1)),
  base_minor INTEGER NOT NULL,
  tax_minor INTEGER NOT NULL,
  PRIMARY KEY (invoice_id, position)
) STRICT, WITHOUT ROWID;
-- To whom it was written: it goes when the customer was erased and the years of keeping are over.
CREATE TABLE invoice_buyers (
  invoice_id INTEGER PRIMARY KEY REFERENCES invoices (id) DEFERRABLE INITIALLY DEFERRED,
  name TEXT NOT NULL CHECK (length(name) BETWEEN 1 AND 200),
  address TEXT NOT NULL CHECK (length(address) <= 1000),
  country TEXT NOT NULL CHECK (length(country) = 2)
) STRICT;

CREATE TRIGGER invoices_have_no_gap BEFORE INSERT ON invoices
WHEN NEW.id IS NOT coalesce((SELECT max(id) + 1 FROM invoices), (SELECT first_number FROM invoicing), 1)
BEGIN SELECT RAISE(ABORT, 'the numbers of invoices have no gap'); END;
CREATE TRIGGER invoices_add_up BEFORE INSERT ON invoices
WHEN NOT EXISTS (SELECT 1 FROM invoice_lines WHERE invoice_id = NEW.id)
  OR NOT EXISTS (SELECT 1 FROM invoice_buyers WHERE invoice_id = NEW.id)
  OR NEW.tax_minor <> (SELECT coalesce(sum(tax_minor), 0) FROM invoice_taxes WHERE invoice_id = NEW.id)
  OR NEW.total_minor <> (SELECT sum(total_minor) FROM invoice_lines WHERE invoice_id = NEW.id)
    + (SELECT coalesce(sum(tax_minor), 0) FROM invoice_taxes WHERE invoice_id = NEW.id AND mode = 'added')
BEGIN SELECT RAISE(ABORT, 'the lines and taxes of an invoice come to its total'); END;
CREATE TRIGGER an_order_has_one_invoice BEFORE INSERT ON invoices WHEN NEW.kind = 'invoice' AND EXISTS (
  SELECT 1 FROM invoices AS other WHERE other.order_id = NEW.order_id AND other.kind = 'invoice'
  AND (NOT EXISTS (SELECT 1 FROM invoices WHERE credits_id = other.id)
    OR other.total_minor + (SELECT sum(total_minor) FROM invoices WHERE credits_id = other.id) > 0))
BEGIN SELECT RAISE(ABORT, 'this order has an invoice that stands'); END;
CREATE TRIGGER credit_notes_fit BEFORE INSERT ON invoices WHEN NEW.kind = 'credit' AND NOT EXISTS (
  SELECT 1 FROM invoices AS one WHERE one.id = NEW.credits_id AND one.kind = 'invoice' AND one.order_id = NEW.order_id
  AND one.currency = NEW.currency AND one.total_minor + NEW.total_minor
    + (SELECT coalesce(sum(total_minor), 0) FROM invoices WHERE credits_id = one.id) >= 0)
BEGIN SELECT RAISE(ABORT, 'no more is given back than an invoice came to'); END;
CREATE TRIGGER invoices_stay BEFORE DELETE ON invoices
BEGIN SELECT RAISE(ABORT, 'invoices are kept'); END;
CREATE TRIGGER invoices_unchanged BEFORE UPDATE ON invoices
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_lines_whole BEFORE INSERT ON invoice_lines
WHEN EXISTS (SELECT 1 FROM invoices WHERE id = NEW.invoice_id)
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_lines_stay BEFORE DELETE ON invoice_lines
BEGIN SELECT RAISE(ABORT, 'invoices are kept'); END;
CREATE TRIGGER invoice_lines_unchanged BEFORE UPDATE ON invoice_lines
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_taxes_whole BEFORE INSERT ON invoice_taxes
WHEN EXISTS (SELECT 1 FROM invoices WHERE id = NEW.invoice_id)
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_taxes_stay BEFORE DELETE ON invoice_taxes
BEGIN SELECT RAISE(ABORT, 'invoices are kept'); END;
CREATE TRIGGER invoice_taxes_unchanged BEFORE UPDATE ON invoice_taxes
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_buyers_whole BEFORE INSERT ON invoice_buyers
WHEN EXISTS (SELECT 1 FROM invoices WHERE id = NEW.invoice_id)
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;
CREATE TRIGGER invoice_buyers_unchanged BEFORE UPDATE ON invoice_buyers
BEGIN SELECT RAISE(ABORT, 'invoices are never changed'); END;

-- What came in for an order and what went back; taken back by being ended.
CREATE TABLE payments (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  kind TEXT NOT NULL CHECK (kind IN ('payment', 'refund')),
  amount_minor INTEGER NOT NULL CHECK (amount_minor > 0),
  way_id INTEGER NOT NULL REFERENCES payment_ways (id),
  paid_on TEXT NOT NULL CHECK (length(paid_on) = 10),
  note TEXT NOT NULL CHECK (length(note) <= 200),
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  ended_by TEXT REFERENCES people (id),
  ended_at INTEGER
) STRICT;
CREATE INDEX payments_of_order ON payments (order_id, id);
CREATE INDEX payments_by_day ON payments (paid_on, id);
CREATE INDEX payments_by_way ON payments (way_id);
CREATE TRIGGER payments_stay BEFORE DELETE ON payments
BEGIN SELECT RAISE(ABORT, 'payments are kept'); END;
-- The words beside one may go, when the customer does.
CREATE TRIGGER payments_unchanged BEFORE UPDATE ON payments
WHEN NEW.order_id IS NOT OLD.order_id OR NEW.kind IS NOT OLD.kind OR NEW.amount_minor IS NOT OLD.amount_minor
  OR NEW.way_id IS NOT OLD.way_id OR NEW.paid_on IS NOT OLD.paid_on OR NEW.made_at IS NOT OLD.made_at
  OR (NEW.note IS NOT OLD.note AND NEW.note <> '')
  OR (OLD.ended_at IS NOT NULL AND NEW.ended_at IS NOT OLD.ended_at)
BEGIN SELECT RAISE(ABORT, 'payments are kept as they were'); END;

-- Customers who were erased, by number alone, so that it can be done again after an older backup was restored.
CREATE TABLE erasures (
  id INTEGER PRIMARY KEY,
  customer_id INTEGER NOT NULL UNIQUE REFERENCES customers (id),
  -- with the number it says that this is the same customer
  customer_made_at INTEGER NOT NULL,
  erased_at INTEGER NOT NULL,
  erased_by TEXT REFERENCES people (id),
  -- while it is 0, in the one transaction that erases, words may be taken out of the record of changes
  done INTEGER NOT NULL CHECK (done IN (0, 1))
) STRICT;
CREATE TRIGGER erasures_stay BEFORE DELETE ON erasures
BEGIN SELECT RAISE(ABORT, 'that somebody was erased is kept'); END;
CREATE TRIGGER erasures_end BEFORE UPDATE ON erasures
WHEN OLD.done = 1 OR NEW.customer_id IS NOT OLD.customer_id OR NEW.erased_at IS NOT OLD.erased_at
BEGIN SELECT RAISE(ABORT, 'that somebody was erased is kept'); END;
CREATE TRIGGER invoice_buyers_stay BEFORE DELETE ON invoice_buyers
WHEN NOT EXISTS (SELECT 1 FROM invoices JOIN orders ON orders.id = order_id
  JOIN erasures ON erasures.customer_id = orders.customer_id WHERE invoices.id = OLD.invoice_id)
BEGIN SELECT RAISE(ABORT, 'invoices are kept'); END;

DROP TRIGGER audit_is_not_changed;
CREATE TRIGGER audit_is_not_changed BEFORE UPDATE ON audit
WHEN NEW.id IS NOT OLD.id OR NEW.at IS NOT OLD.at OR NEW.person_id IS NOT OLD.person_id
  OR NEW.action IS NOT OLD.action OR NEW.subject IS NOT OLD.subject
  OR NEW.before IS NOT iif(OLD.before IS NULL, NULL, '{"erased":true}')
  OR NEW.after IS NOT iif(OLD.after IS NULL, NULL, '{"erased":true}')
  OR NOT EXISTS (SELECT 1 FROM erasures WHERE done = 0)
BEGIN SELECT RAISE(ABORT, 'audit rows are not changed'); END;

-- The words of somebody who was erased must not stay behind in the index's own pages.
INSERT INTO customer_words (customer_words, rank) VALUES ('secure-delete', 1);
INSERT INTO customer_words (customer_words) VALUES ('rebuild');

ALTER TABLE customers ADD COLUMN erased_at INTEGER;
