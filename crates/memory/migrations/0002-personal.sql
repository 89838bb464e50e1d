-- Personal data, outside the entries so that it can be erased: entries hold only the reference.
CREATE TABLE personal (
    id   TEXT PRIMARY KEY NOT NULL,
    what TEXT NOT NULL,
    text TEXT NOT NULL
) STRICT;
