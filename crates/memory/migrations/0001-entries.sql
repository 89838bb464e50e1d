-- Every machine sheet a bike was brought in on, once, under the hash of its text.
CREATE TABLE sheets (
    hash TEXT PRIMARY KEY NOT NULL,
    text TEXT NOT NULL
) STRICT;

-- Everything that was ever recorded, in the order in which it was.
CREATE TABLE entries (
    seq     INTEGER PRIMARY KEY,
    id      TEXT    NOT NULL UNIQUE,
    bike    TEXT    NOT NULL,
    at      TEXT    NOT NULL,
    tap     TEXT    UNIQUE,
    kind    TEXT    NOT NULL,
    version INTEGER NOT NULL CHECK (version >= 1),
    body    TEXT    NOT NULL
) STRICT;

CREATE INDEX entries_of_a_bike ON entries (bike, seq);

CREATE TRIGGER entries_are_not_changed BEFORE UPDATE ON entries
BEGIN
    SELECT RAISE(ABORT, 'entries are only ever added');
END;

CREATE TRIGGER entries_are_not_removed BEFORE DELETE ON entries
BEGIN
    SELECT RAISE(ABORT, 'entries are only ever added');
END;

-- A list kept for speed: it can be rebuilt from the entries at any time.
CREATE TABLE yard (
    bike       TEXT    PRIMARY KEY NOT NULL,
    title      TEXT    NOT NULL,
    layout     TEXT    NOT NULL,
    sheet      TEXT    NOT NULL REFERENCES sheets (hash),
    came_in    TEXT    NOT NULL,
    first_seq  INTEGER NOT NULL REFERENCES entries (seq),
    last_seq   INTEGER NOT NULL REFERENCES entries (seq),
    last_at    TEXT    NOT NULL,
    entries    INTEGER NOT NULL
) STRICT;
