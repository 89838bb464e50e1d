-- Lists kept for speed, beside the yard: they can be rebuilt from the entries at any time.

-- Of each bike: what the yard must know without reading its log. Days are as written in the entries.
ALTER TABLE yard ADD COLUMN arrives TEXT;
ALTER TABLE yard ADD COLUMN expected INTEGER NOT NULL DEFAULT 0;
ALTER TABLE yard ADD COLUMN sold TEXT;
ALTER TABLE yard ADD COLUMN gone TEXT;

-- Minutes and money, a line each, of bikes and of the garage.
CREATE TABLE tally (
    entry    TEXT    PRIMARY KEY NOT NULL,
    subject  TEXT    NOT NULL,
    seq      INTEGER NOT NULL,
    day      TEXT    NOT NULL,
    what     TEXT    NOT NULL CHECK (what IN ('time', 'out', 'in')),
    kind     TEXT    NOT NULL,
    minutes  INTEGER,
    minor    INTEGER,
    currency TEXT
) STRICT;

CREATE INDEX tally_of_a_subject ON tally (subject, seq);

-- What the drawer holds. The thing is its JSON, keys in order.
CREATE TABLE drawer (
    thing  TEXT PRIMARY KEY NOT NULL,
    entry  TEXT NOT NULL,
    level  TEXT NOT NULL,
    count  INTEGER,
    place  TEXT,
    opened TEXT
) STRICT;

-- Lines of orders.
CREATE TABLE order_lines (
    ordered TEXT    NOT NULL,
    line    INTEGER NOT NULL,
    seq     INTEGER NOT NULL,
    thing   TEXT    NOT NULL,
    count   INTEGER NOT NULL,
    bike    TEXT,
    part    TEXT,
    due     TEXT,
    stands  TEXT    NOT NULL CHECK (stands IN ('to-come', 'arrived', 'cancelled')),
    PRIMARY KEY (ordered, line)
) STRICT;

CREATE INDEX order_lines_of_a_bike ON order_lines (bike, stands);

-- While there is a row in it, the lists are behind the entries and are made anew when the file is opened.
CREATE TABLE lists_behind (since TEXT NOT NULL) STRICT;
INSERT INTO lists_behind SELECT 'file version 3' WHERE EXISTS (SELECT 1 FROM entries);
