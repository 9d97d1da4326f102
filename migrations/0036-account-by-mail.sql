-- Why: whoever signs in from a browser that nobody knows, or changes a password or a code at sign-in, may not be the person whose
-- account it is. The person is written to, so mails have one more kind; the table is made anew for its list of kinds.

CREATE TABLE mails_new (
  id INTEGER PRIMARY KEY,
  kind TEXT NOT NULL CHECK (kind IN ('order confirmed', 'order sent', 'order held', 'test', 'warning', 'requests', 'account')),
  -- The step it tells of: a second mail about the same one cannot be written.
  tells_of TEXT NOT NULL UNIQUE CHECK (length(tells_of) BETWEEN 1 AND 100),
  order_id INTEGER REFERENCES orders (id),
  to_name TEXT NOT NULL CHECK (length(to_name) <= 200),
  to_address TEXT NOT NULL CHECK (length(to_address) BETWEEN 3 AND 254 AND to_address NOT GLOB '*[' || char(10, 13) || ']*'),
  language TEXT NOT NULL CHECK (language IN ('en', 'de', 'es')),
  subject TEXT NOT NULL CHECK (length(subject) BETWEEN 1 AND 200),
  plain TEXT NOT NULL CHECK (length(plain) <= 20000),
  html TEXT NOT NULL CHECK (length(html) <= 60000),
  with_care_sheets INTEGER NOT NULL CHECK (with_care_sheets IN (0, 1)),
  message_id TEXT NOT NULL UNIQUE,
  state TEXT NOT NULL CHECK (state IN ('waiting', 'sending', 'sent', 'unsure', 'refused', 'too late', 'stopped')),
  tries INTEGER NOT NULL DEFAULT 0 CHECK (tries >= 0),
  next_try_at INTEGER NOT NULL,
  give_up_at INTEGER NOT NULL,
  -- What the mail server said last, or why it was not reached.
  answer TEXT NOT NULL DEFAULT '' CHECK (length(answer) <= 500),
  settled_at INTEGER,
  made_by TEXT REFERENCES people (id),
  made_at INTEGER NOT NULL,
  CHECK ((settled_at IS NULL) = (state IN ('waiting', 'sending')))
) STRICT;

INSERT INTO mails_new (id, kind, tells_of, order_id, to_name, to_address, language, subject, plain, html, with_care_sheets,
  message_id, state, tries, next_try_at, give_up_at, answer, settled_at, made_by, made_at)
SELECT id, kind, tells_of, order_id, to_name, to_address, language, subject, plain, html, with_care_sheets,
  message_id, state, tries, next_try_at, give_up_at, answer, settled_at, made_by, made_at FROM mails;
DROP TABLE mails;
ALTER TABLE mails_new RENAME TO mails;

CREATE INDEX mails_to_send ON mails (next_try_at) WHERE state = 'waiting';
CREATE INDEX mails_need_somebody ON mails (id) WHERE state IN ('unsure', 'refused', 'too late');
CREATE INDEX mails_of_order ON mails (order_id, id);
