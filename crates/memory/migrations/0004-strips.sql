-- What the yard shows of a bike, kept for speed with the number of the bike's last entry: after another entry it is made
-- anew. `form` is the form the strip is written in; one of another form is as good as none.
CREATE TABLE strips (
    bike     TEXT    PRIMARY KEY NOT NULL,
    last_seq INTEGER NOT NULL,
    form     TEXT    NOT NULL,
    strip    TEXT    NOT NULL
) STRICT;
