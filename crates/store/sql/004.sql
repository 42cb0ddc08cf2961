-- Schema 4: what is added to a bake after its batch was finished.

CREATE TABLE later (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    batch INTEGER NOT NULL REFERENCES batch (id),
    at INTEGER NOT NULL,
    who TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT;
CREATE INDEX later_batch ON later (batch, at);
CREATE TRIGGER later_is_later BEFORE INSERT ON later
WHEN (SELECT finished FROM batch WHERE id = NEW.batch) IS NULL
BEGIN SELECT RAISE(ABORT, 'a batch that is not finished takes no later notes'); END;
CREATE TRIGGER later_stays BEFORE UPDATE ON later
BEGIN SELECT RAISE(ABORT, 'a later note never changes'); END;
CREATE TRIGGER later_remains BEFORE DELETE ON later
BEGIN SELECT RAISE(ABORT, 'a later note is never deleted'); END;
