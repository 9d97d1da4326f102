-- Why: a customer who wants to begin with unrelated animals gets each group of a line of their order from another line of
-- cultures. Orders that are there already were made without that wish.

ALTER TABLE order_lines ADD COLUMN separate_lines INTEGER NOT NULL DEFAULT 0 CHECK (separate_lines IN (0, 1));
