-- Why: whether a culture is well is asked with every entry that changes its numbers. Mites and mould seen at a look are
-- rare; with an index of their own they are found at once, where the whole diary of the culture was read before.

CREATE INDEX diary_mites_seen ON diary (culture_id, on_day) WHERE mites_seen = 1;
CREATE INDEX diary_mould_seen ON diary (culture_id, on_day) WHERE mould_seen = 1;
