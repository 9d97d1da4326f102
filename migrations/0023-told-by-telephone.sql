-- Why: a customer also tells by telephone how the animals arrived; then somebody of the business writes the report down,
-- and it came by no address.

CREATE TABLE arrival_reports_new (
  id INTEGER PRIMARY KEY,
  order_id INTEGER NOT NULL REFERENCES orders (id),
  link_id INTEGER REFERENCES order_links (id),
  written_by TEXT REFERENCES people (id),
  all_well INTEGER NOT NULL CHECK (all_well IN (0, 1)),
  -- the form it came by, so that the same form sent again is the same report
  form_key TEXT NOT NULL CHECK (length(form_key) BETWEEN 16 AND 120),
  made_at INTEGER NOT NULL,
  seen_by TEXT REFERENCES people (id),
  seen_at INTEGER,
  UNIQUE (order_id, form_key),
  CHECK ((link_id IS NULL) <> (written_by IS NULL))
) STRICT;
INSERT INTO arrival_reports_new (id, order_id, link_id, all_well, form_key, made_at, seen_by, seen_at)
  SELECT id, order_id, link_id, all_well, form_key, made_at, seen_by, seen_at FROM arrival_reports;
DROP TRIGGER arrival_reports_stay;
DROP TRIGGER arrival_reports_unchanged;
DROP TABLE arrival_reports;
ALTER TABLE arrival_reports_new RENAME TO arrival_reports;

CREATE INDEX arrival_reports_of_order ON arrival_reports (order_id, id);
CREATE INDEX arrival_reports_unseen ON arrival_reports (order_id) WHERE seen_at IS NULL AND all_well = 0;
CREATE INDEX arrival_reports_by_link ON arrival_reports (link_id) WHERE link_id IS NOT NULL;
CREATE TRIGGER arrival_reports_stay BEFORE DELETE ON arrival_reports
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;
CREATE TRIGGER arrival_reports_unchanged BEFORE UPDATE ON arrival_reports
WHEN NEW.order_id IS NOT OLD.order_id OR NEW.all_well IS NOT OLD.all_well OR NEW.made_at IS NOT OLD.made_at
  OR NEW.form_key IS NOT OLD.form_key OR NEW.link_id IS NOT OLD.link_id OR NEW.written_by IS NOT OLD.written_by
  OR OLD.seen_at IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'what a customer reported is kept'); END;
