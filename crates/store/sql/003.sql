-- Schema 3: batches.

CREATE TABLE batch (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    title TEXT NOT NULL,
    version INTEGER,
    factor REAL NOT NULL,
    plan TEXT NOT NULL,
    who TEXT NOT NULL,
    started INTEGER NOT NULL,
    finished INTEGER,
    bake TEXT
) STRICT;
CREATE INDEX batch_recipe ON batch (recipe, started);
CREATE INDEX batch_open ON batch (started) WHERE finished IS NULL;
CREATE TRIGGER bake_stays BEFORE UPDATE ON batch WHEN OLD.finished IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'a finished batch never changes'); END;
CREATE TRIGGER batch_remains BEFORE DELETE ON batch
BEGIN SELECT RAISE(ABORT, 'a batch is never deleted'); END;

-- Each field with its own time (Unix milliseconds): the later one wins.
CREATE TABLE mark (
    batch INTEGER NOT NULL REFERENCES batch (id),
    item TEXT NOT NULL,
    ticked INTEGER NOT NULL DEFAULT 0,
    ticked_at INTEGER,
    actual REAL,
    actual_at INTEGER,
    PRIMARY KEY (batch, item)
) STRICT, WITHOUT ROWID;

CREATE TABLE timer (
    batch INTEGER NOT NULL REFERENCES batch (id),
    uid TEXT NOT NULL,
    timer TEXT NOT NULL,
    PRIMARY KEY (batch, uid)
) STRICT, WITHOUT ROWID;
