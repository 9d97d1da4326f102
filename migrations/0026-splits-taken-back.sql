-- Why: a split that was written down by mistake can be taken back while nothing else is known of the new culture. Its
-- code stays, so that a label which was printed leads to words and not to another culture; its lineage goes.

ALTER TABLE cultures ADD COLUMN taken_back_at INTEGER
  CHECK (taken_back_at IS NULL OR (origin = 'split' AND status = 'retired'));

DROP TRIGGER lineage_is_kept;
-- Undoing an import takes out exactly what it brought in, and a split that was taken back never was.
CREATE TRIGGER lineage_is_kept BEFORE DELETE ON culture_parents
WHEN NOT EXISTS (SELECT 1 FROM imports i JOIN cultures c ON c.import_id = i.id
                 WHERE c.id = OLD.culture_id AND i.state = 'undoing')
  AND NOT EXISTS (SELECT 1 FROM cultures WHERE id = OLD.culture_id AND taken_back_at IS NOT NULL) BEGIN
  SELECT RAISE(ABORT, 'lineage is kept');
END;

CREATE TRIGGER nothing_of_a_split_taken_back BEFORE INSERT ON diary
WHEN EXISTS (SELECT 1 FROM cultures WHERE id = NEW.culture_id AND taken_back_at IS NOT NULL) BEGIN
  SELECT RAISE(ABORT, 'the split of this culture was taken back');
END;
