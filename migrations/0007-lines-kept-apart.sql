-- Why: some lines must stay as they are: a locality, a morph that breeds true, stock that was promised unmixed. Two lines
-- can be marked never to be mixed, or one line to be mixed with nothing but itself (or its own locality). What a person
-- writes down on a page obeys; what was done before, and comes from a file, is a fact and stays one.

ALTER TABLE lines ADD COLUMN kept_pure TEXT NOT NULL DEFAULT 'no' CHECK (kept_pure IN ('no', 'line', 'locality'));

CREATE TABLE lines_apart (
  line_id INTEGER NOT NULL REFERENCES lines (id) ON DELETE RESTRICT,
  other_line_id INTEGER NOT NULL REFERENCES lines (id) ON DELETE RESTRICT,
  PRIMARY KEY (line_id, other_line_id),
  CHECK (line_id < other_line_id)
) STRICT, WITHOUT ROWID;
CREATE INDEX lines_apart_by_other ON lines_apart (other_line_id);

CREATE TRIGGER lines_apart_of_one_species BEFORE INSERT ON lines_apart BEGIN
  SELECT RAISE(ABORT, 'lines of two species are never mixed anyway')
  WHERE (SELECT species_id FROM lines WHERE id = NEW.line_id)
     <> (SELECT species_id FROM lines WHERE id = NEW.other_line_id);
END;

-- The last word on what shared/lines/page-apart.ts says first, with the words for a person. Corrections of an entry are
-- let through: it says what was done then.
CREATE TRIGGER what_is_kept_apart_is_not_mixed BEFORE INSERT ON diary
WHEN NEW.kind = 'addition' AND NEW.other_culture_id IS NOT NULL AND NEW.replaces_id IS NULL AND NEW.via = 'page' BEGIN
  SELECT RAISE(ABORT, 'these lines are kept apart')
  FROM cultures c
  JOIN cultures o ON o.id = NEW.other_culture_id
  LEFT JOIN lines a ON a.id = c.line_id
  LEFT JOIN lines b ON b.id = o.line_id
  WHERE c.id = NEW.culture_id AND c.line_id IS NOT o.line_id
    AND (a.kept_pure = 'line' OR b.kept_pure = 'line'
      OR ((a.kept_pure = 'locality' OR b.kept_pure = 'locality')
        AND (trim(coalesce(a.locality, '')) = ''
          OR lower(trim(coalesce(a.locality, ''))) <> lower(trim(coalesce(b.locality, '')))))
      OR EXISTS (SELECT 1 FROM lines_apart p
                 WHERE p.line_id = min(c.line_id, o.line_id) AND p.other_line_id = max(c.line_id, o.line_id)));
  SELECT RAISE(ABORT, 'animals of two species cannot be mixed')
  WHERE (SELECT species_id FROM cultures WHERE id = NEW.culture_id)
     <> (SELECT species_id FROM cultures WHERE id = NEW.other_culture_id);
  SELECT RAISE(ABORT, 'animals cannot come from a culture before its founding')
  WHERE NEW.on_day < (SELECT founded_on FROM cultures WHERE id = NEW.other_culture_id);
END;
