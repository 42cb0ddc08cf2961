-- Schema 1: recipes, drafts, versions, settings. Never edited; what comes later is a new file.

-- One value each: settings (JSON), larder_rev (a number).
CREATE TABLE kept (
    name TEXT PRIMARY KEY,
    value TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Every text once: pasted texts, decisions (a sheet as JSON without its text), figures. The hash is
-- SHA-256 of the text. A long one is packed: four bytes of its length, little end first, and raw
-- deflate; where it has a base, that one's text is the dictionary.
CREATE TABLE body (
    id INTEGER PRIMARY KEY,
    hash BLOB NOT NULL UNIQUE,
    text ANY NOT NULL,
    base INTEGER REFERENCES body (id)
) STRICT;
CREATE TRIGGER body_stays BEFORE UPDATE ON body
BEGIN SELECT RAISE(ABORT, 'a kept text never changes'); END;

CREATE TABLE recipe (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    uid TEXT NOT NULL UNIQUE,
    original INTEGER NOT NULL REFERENCES body (id),
    who TEXT NOT NULL,
    created INTEGER NOT NULL,
    changed INTEGER NOT NULL,
    binned INTEGER,
    versions INTEGER NOT NULL DEFAULT 0,
    -- the summary
    title TEXT NOT NULL,
    stage TEXT NOT NULL,
    styles TEXT NOT NULL,
    to_check INTEGER NOT NULL,
    components TEXT NOT NULL,
    words TEXT NOT NULL
) STRICT;
CREATE INDEX recipe_changed ON recipe (changed DESC, id DESC) WHERE binned IS NULL;
CREATE TRIGGER original_stays BEFORE UPDATE OF uid, original, created ON recipe
WHEN NEW.uid IS NOT OLD.uid OR NEW.original IS NOT OLD.original
    OR NEW.created IS NOT OLD.created
BEGIN SELECT RAISE(ABORT, 'a recipe''s first text never changes'); END;

CREATE TABLE recipe_style (
    style TEXT NOT NULL,
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    PRIMARY KEY (style, recipe)
) STRICT, WITHOUT ROWID;
CREATE INDEX recipe_style_recipe ON recipe_style (recipe);

-- The draft stands at step `step` of its recipe's steps.
CREATE TABLE draft (
    recipe INTEGER PRIMARY KEY REFERENCES recipe (id),
    rev INTEGER NOT NULL,
    step INTEGER NOT NULL,
    based_on INTEGER,
    changed INTEGER NOT NULL
) STRICT;
-- States of the draft, for undo and redo. The words say which change led to the state.
CREATE TABLE step (
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    step INTEGER NOT NULL,
    text INTEGER NOT NULL REFERENCES body (id),
    rest INTEGER NOT NULL REFERENCES body (id),
    words TEXT NOT NULL,
    field TEXT NOT NULL,
    PRIMARY KEY (recipe, step)
) STRICT, WITHOUT ROWID;
-- What each of the last revs showed.
CREATE TABLE shown (
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    rev INTEGER NOT NULL,
    text INTEGER NOT NULL REFERENCES body (id),
    rest INTEGER NOT NULL REFERENCES body (id),
    PRIMARY KEY (recipe, rev)
) STRICT, WITHOUT ROWID;

CREATE TABLE version (
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    number INTEGER NOT NULL,
    who TEXT NOT NULL,
    at INTEGER NOT NULL,
    why TEXT NOT NULL,
    text INTEGER NOT NULL REFERENCES body (id),
    rest INTEGER NOT NULL REFERENCES body (id),
    figures INTEGER NOT NULL REFERENCES body (id),
    program TEXT NOT NULL,
    PRIMARY KEY (recipe, number)
) STRICT, WITHOUT ROWID;
CREATE TRIGGER version_stays BEFORE UPDATE ON version
BEGIN SELECT RAISE(ABORT, 'a version never changes'); END;
CREATE TRIGGER version_remains BEFORE DELETE ON version
BEGIN SELECT RAISE(ABORT, 'a version is never deleted'); END;

-- Which recipes use a component of which other: by the draft (draft = 1), by the newest version.
CREATE TABLE part_use (
    part TEXT NOT NULL,
    recipe INTEGER NOT NULL REFERENCES recipe (id),
    version INTEGER NOT NULL,
    draft INTEGER NOT NULL,
    PRIMARY KEY (part, recipe, version, draft)
) STRICT, WITHOUT ROWID;
CREATE INDEX part_use_recipe ON part_use (recipe, draft);

-- Search.
CREATE VIRTUAL TABLE found USING fts5 (
    title, text, components, foods,
    prefix = '2 3',
    tokenize = 'unicode61 remove_diacritics 2'
);
