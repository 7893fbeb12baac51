-- The ledger of imports. A batch is a row of `imports`: sheets taken in, or an earlier batch
-- taken back. Batches from before this ledger have no link in the trail.
ALTER TABLE imports ADD COLUMN who TEXT;
ALTER TABLE imports ADD COLUMN rulebook TEXT;
ALTER TABLE imports ADD COLUMN takes_back INTEGER REFERENCES imports;
ALTER TABLE imports ADD COLUMN because TEXT;
ALTER TABLE imports ADD COLUMN link INTEGER;

-- The file as it stood, how it was read, and the header that its refused rows stand under.
ALTER TABLE import_sheets ADD COLUMN bytes INTEGER;
ALTER TABLE import_sheets ADD COLUMN sha256 TEXT;
ALTER TABLE import_sheets ADD COLUMN how_read TEXT;
ALTER TABLE import_sheets ADD COLUMN map TEXT;
ALTER TABLE import_sheets ADD COLUMN map_entry INTEGER;
ALTER TABLE import_sheets ADD COLUMN header TEXT;

CREATE TABLE column_maps (
    fingerprint TEXT NOT NULL PRIMARY KEY,
    text        TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- Rows refused whole, as they stood: a JSON array of cells, NULL where the row is too long to
-- be kept.
CREATE TABLE refused_rows (
    import INTEGER NOT NULL REFERENCES imports,
    place  INTEGER NOT NULL,
    line   INTEGER NOT NULL,
    cells  TEXT,
    PRIMARY KEY (import, place, line)
) STRICT, WITHOUT ROWID;

-- Refused rows that were mended and taken in by a later batch.
CREATE TABLE mended (
    import    INTEGER NOT NULL,
    place     INTEGER NOT NULL,
    line      INTEGER NOT NULL,
    mended_in INTEGER NOT NULL REFERENCES imports,
    PRIMARY KEY (import, place, line, mended_in),
    FOREIGN KEY (import, place, line) REFERENCES refused_rows
) STRICT, WITHOUT ROWID;

-- Rows of an import that said what the programme held already, as runs of their numbers in
-- the table of that kind (of draws, their record numbers). Such a row stands when the batch that
-- said it first is taken back.
CREATE TABLE said_again (
    import INTEGER NOT NULL REFERENCES imports,
    kind   TEXT NOT NULL,
    first  INTEGER NOT NULL,
    last   INTEGER NOT NULL,
    PRIMARY KEY (import, kind, first)
) STRICT, WITHOUT ROWID;

-- Place in the list of those that are known, counting from 1 without gaps; NULL once every
-- batch that named the row was taken back. Its number stays its own.
ALTER TABLE points ADD COLUMN listed INTEGER;
ALTER TABLE technicians ADD COLUMN listed INTEGER;
ALTER TABLE trainings ADD COLUMN listed INTEGER;
UPDATE points SET listed = number;
UPDATE technicians SET listed = number;
UPDATE trainings SET listed = number;
