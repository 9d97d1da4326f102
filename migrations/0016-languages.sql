-- Why: care sheets, mails and the customer's own page come in the customer's language. An order may be in another one
-- than its customer's (a gift, a friend who orders for somebody else).

ALTER TABLE business ADD COLUMN language TEXT NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'de', 'es'));
ALTER TABLE customers ADD COLUMN language TEXT NOT NULL DEFAULT 'en' CHECK (language IN ('en', 'de', 'es'));
-- null: as the customer
ALTER TABLE orders ADD COLUMN language TEXT CHECK (language IN ('en', 'de', 'es'));
