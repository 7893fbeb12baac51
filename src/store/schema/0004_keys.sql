-- Secrets that never leave the file: random keys by what they are for.
CREATE TABLE keys (
    name TEXT NOT NULL PRIMARY KEY,
    key  BLOB NOT NULL
) STRICT;
