-- Why: whatever somebody remembers of a culture, a species or a place finds it, by the beginning of any word and without
-- accents; the triggers keep the words in step.

CREATE VIRTUAL TABLE culture_words USING fts5 (
  code, morph, note,
  content = 'cultures', content_rowid = 'id',
  tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
INSERT INTO culture_words (rowid, code, morph, note) SELECT id, code, morph, note FROM cultures;
CREATE TRIGGER culture_words_added AFTER INSERT ON cultures BEGIN
  INSERT INTO culture_words (rowid, code, morph, note) VALUES (NEW.id, NEW.code, NEW.morph, NEW.note);
END;
CREATE TRIGGER culture_words_changed AFTER UPDATE OF code, morph, note ON cultures BEGIN
  INSERT INTO culture_words (culture_words, rowid, code, morph, note)
  VALUES ('delete', OLD.id, OLD.code, OLD.morph, OLD.note);
  INSERT INTO culture_words (rowid, code, morph, note) VALUES (NEW.id, NEW.code, NEW.morph, NEW.note);
END;
CREATE TRIGGER culture_words_removed AFTER DELETE ON cultures BEGIN
  INSERT INTO culture_words (culture_words, rowid, code, morph, note)
  VALUES ('delete', OLD.id, OLD.code, OLD.morph, OLD.note);
END;

CREATE VIRTUAL TABLE species_words USING fts5 (
  scientific_name, common_name,
  content = 'species', content_rowid = 'id',
  tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
INSERT INTO species_words (rowid, scientific_name, common_name) SELECT id, scientific_name, common_name FROM species;
CREATE TRIGGER species_words_added AFTER INSERT ON species BEGIN
  INSERT INTO species_words (rowid, scientific_name, common_name)
  VALUES (NEW.id, NEW.scientific_name, NEW.common_name);
END;
CREATE TRIGGER species_words_changed AFTER UPDATE OF scientific_name, common_name ON species BEGIN
  INSERT INTO species_words (species_words, rowid, scientific_name, common_name)
  VALUES ('delete', OLD.id, OLD.scientific_name, OLD.common_name);
  INSERT INTO species_words (rowid, scientific_name, common_name)
  VALUES (NEW.id, NEW.scientific_name, NEW.common_name);
END;
CREATE TRIGGER species_words_removed AFTER DELETE ON species BEGIN
  INSERT INTO species_words (species_words, rowid, scientific_name, common_name)
  VALUES ('delete', OLD.id, OLD.scientific_name, OLD.common_name);
END;

CREATE VIRTUAL TABLE place_words USING fts5 (
  full_name,
  content = 'places', content_rowid = 'id',
  tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
INSERT INTO place_words (rowid, full_name) SELECT id, full_name FROM places;
CREATE TRIGGER place_words_added AFTER INSERT ON places BEGIN
  INSERT INTO place_words (rowid, full_name) VALUES (NEW.id, NEW.full_name);
END;
CREATE TRIGGER place_words_changed AFTER UPDATE OF full_name ON places BEGIN
  INSERT INTO place_words (place_words, rowid, full_name) VALUES ('delete', OLD.id, OLD.full_name);
  INSERT INTO place_words (rowid, full_name) VALUES (NEW.id, NEW.full_name);
END;
CREATE TRIGGER place_words_removed AFTER DELETE ON places BEGIN
  INSERT INTO place_words (place_words, rowid, full_name) VALUES ('delete', OLD.id, OLD.full_name);
END;
