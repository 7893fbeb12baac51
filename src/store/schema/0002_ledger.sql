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
-- the table of that kind. Such a row stands when the batch that first said it is taken back.
CREATE TABLE said_again (
    import INTEGER NOT NULL REFERENCES imports,
    kind   TEXT NOT NULL,
    first  INTEGER NOT NULL,
    last   INTEGER NOT NULL,
    PRIMARY KEY (import, kind, first)
) STRICT, WITHOUT ROWID;

-- What was taken back: states of draws, with the names of point and technician since their
-- numbers may pass to others, and of the small tables, as JSON.
CREATE TABLE taken_back_draws (
    taken_back_in    INTEGER NOT NULL REFERENCES imports,
    record           INTEGER NOT NULL PRIMARY KEY,
    imported_in      INTEGER NOT NULL,
    superseded_in    INTEGER,
    supersedes       INTEGER,
    draw_id          TEXT,
    bottle_id        TEXT,
    point_id         TEXT NOT NULL,
    technician_id    TEXT NOT NULL,
    drawn_at         INTEGER NOT NULL,
    recorded_at      INTEGER,
    method           TEXT,
    machine_state    TEXT,
    stopped_min      REAL,
    oil_temp_c       REAL,
    machine_hours    REAL,
    oil_hours        REAL,
    topped_up_l      REAL,
    fluid            TEXT,
    point_cleaned    INTEGER,
    tube_new         INTEGER,
    bottle_ok        INTEGER,
    capped_at_once   INTEGER,
    flushed_ml       REAL,
    tube_mark_cm     REAL,
    fill_pct         REAL,
    looks            TEXT,
    second_fill      INTEGER NOT NULL,
    pair_of          TEXT,
    set_id           TEXT,
    purge_stage      TEXT,
    registered_at    INTEGER,
    dispatched_at    INTEGER,
    received_at      INTEGER,
    safety_confirmed INTEGER,
    remarks          TEXT,
    kept_aside       TEXT
) STRICT;

CREATE TABLE taken_back_rows (
    taken_back_in INTEGER NOT NULL REFERENCES imports,
    imported_in   INTEGER NOT NULL REFERENCES imports,
    kind          TEXT NOT NULL,
    state         TEXT NOT NULL
) STRICT;
