-- Schema 2: the kitchen's own larder entries and blends, each change kept.

CREATE TABLE own (
    id INTEGER PRIMARY KEY,
    key TEXT NOT NULL,
    at INTEGER NOT NULL,
    who TEXT NOT NULL,
    why TEXT NOT NULL,
    -- JSON; NULL where the entry was dropped
    entry TEXT
) STRICT;
CREATE INDEX own_key ON own (key, id);
CREATE TRIGGER own_stays BEFORE UPDATE ON own
BEGIN SELECT RAISE(ABORT, 'a change of the larder never changes'); END;
CREATE TRIGGER own_remains BEFORE DELETE ON own
BEGIN SELECT RAISE(ABORT, 'a change of the larder is never deleted'); END;

CREATE TABLE blend (
    key TEXT NOT NULL,
    version INTEGER NOT NULL,
    at INTEGER NOT NULL,
    who TEXT NOT NULL,
    why TEXT NOT NULL,
    blend TEXT NOT NULL,
    PRIMARY KEY (key, version)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER blend_stays BEFORE UPDATE ON blend
BEGIN SELECT RAISE(ABORT, 'a version of a blend never changes'); END;
CREATE TRIGGER blend_remains BEFORE DELETE ON blend
BEGIN SELECT RAISE(ABORT, 'a version of a blend is never deleted'); END;

CREATE TABLE blend_bin (
    key TEXT PRIMARY KEY,
    at INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

INSERT INTO kept (name, value) VALUES ('larder_rev', '0');
