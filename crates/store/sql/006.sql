-- Schema 6: days, the serving time of a recipe's own plan, and the day that a batch is of.

-- A day: what is asked and the times it holds, with what stood before the last change.
CREATE TABLE day (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE,
    rev INTEGER NOT NULL,
    day TEXT NOT NULL,
    before TEXT,
    created INTEGER NOT NULL,
    changed INTEGER NOT NULL,
    binned INTEGER
) STRICT;
CREATE TRIGGER day_keeps_its_uid BEFORE UPDATE OF uid ON day WHEN OLD.uid <> NEW.uid
BEGIN SELECT RAISE(ABORT, 'the uid of a day never changes'); END;
CREATE TRIGGER day_remains BEFORE DELETE ON day
BEGIN SELECT RAISE(ABORT, 'a day is never deleted'); END;

-- On the kitchen clock, as 2026-11-30T16:00; empty for as soon as may be.
CREATE TABLE serving (
    recipe INTEGER PRIMARY KEY REFERENCES recipe (id),
    serve TEXT NOT NULL
) STRICT;

-- The uid of the day.
ALTER TABLE batch ADD COLUMN day TEXT;
