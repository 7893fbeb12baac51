-- The programme file. Times are whole seconds since 1970 UTC, days ISO text, yes/no 1 and 0,
-- words the words of the sheets (they outlive the order of any list in a program), blanks
-- NULL. docs/programme-file.md says what each table is for.

CREATE TABLE imports (
    import   INTEGER NOT NULL PRIMARY KEY,
    taken_at INTEGER NOT NULL,
    program  TEXT NOT NULL,
    zone     TEXT NOT NULL
) STRICT;

CREATE TABLE import_sheets (
    import         INTEGER NOT NULL REFERENCES imports,
    place          INTEGER NOT NULL,
    sheet          TEXT NOT NULL,
    kind           TEXT NOT NULL,
    taken          INTEGER NOT NULL,
    unchanged      INTEGER NOT NULL,
    changed        INTEGER NOT NULL,
    refused_rows   INTEGER NOT NULL,
    refused_values INTEGER NOT NULL,
    remarks        TEXT NOT NULL,
    PRIMARY KEY (import, place)
) STRICT, WITHOUT ROWID;

CREATE TABLE refusals (
    import    INTEGER NOT NULL,
    place     INTEGER NOT NULL,
    line      INTEGER NOT NULL,
    "column"  TEXT NOT NULL,
    value     TEXT NOT NULL,
    reason    TEXT NOT NULL,
    whole_row INTEGER NOT NULL,
    FOREIGN KEY (import, place) REFERENCES import_sheets DEFERRABLE INITIALLY DEFERRED
) STRICT;

-- Points and technicians are never removed, so that `number - 1` is their place in every
-- list for good. The states they had before stand in the tables named former_….
CREATE TABLE points (
    number            INTEGER NOT NULL PRIMARY KEY,
    imported_in       INTEGER NOT NULL REFERENCES imports,
    point_id          TEXT NOT NULL UNIQUE,
    compartment_id    TEXT NOT NULL,
    machine           TEXT,
    site              TEXT,
    area              TEXT,
    machine_class     TEXT,
    kind              TEXT NOT NULL,
    place             TEXT,
    at_bend           INTEGER,
    agreed            INTEGER,
    method            TEXT,
    fluid             TEXT,
    iso_vg            REAL,
    viscosity_40_cst  REAL,
    viscosity_100_cst REAL,
    normal_temp_c     REAL,
    line_flow_l_min   REAL,
    line_bore_mm      REAL,
    line_pressure_bar REAL,
    tube_bore_mm      REAL,
    tube_length_cm    REAL,
    dead_extra_ml     REAL,
    tube_mark_cm      REAL,
    oil_depth_cm      REAL,
    bottle_ml         REAL,
    interval_h        REAL,
    interval_days     REAL,
    kept_aside        TEXT NOT NULL
) STRICT;

CREATE TABLE former_points (
    superseded_in     INTEGER NOT NULL REFERENCES imports,
    number            INTEGER NOT NULL REFERENCES points,
    imported_in       INTEGER NOT NULL,
    point_id          TEXT NOT NULL,
    compartment_id    TEXT NOT NULL,
    machine           TEXT,
    site              TEXT,
    area              TEXT,
    machine_class     TEXT,
    kind              TEXT NOT NULL,
    place             TEXT,
    at_bend           INTEGER,
    agreed            INTEGER,
    method            TEXT,
    fluid             TEXT,
    iso_vg            REAL,
    viscosity_40_cst  REAL,
    viscosity_100_cst REAL,
    normal_temp_c     REAL,
    line_flow_l_min   REAL,
    line_bore_mm      REAL,
    line_pressure_bar REAL,
    tube_bore_mm      REAL,
    tube_length_cm    REAL,
    dead_extra_ml     REAL,
    tube_mark_cm      REAL,
    oil_depth_cm      REAL,
    bottle_ml         REAL,
    interval_h        REAL,
    interval_days     REAL,
    kept_aside        TEXT NOT NULL
) STRICT;

CREATE TABLE technicians (
    number        INTEGER NOT NULL PRIMARY KEY,
    imported_in   INTEGER NOT NULL REFERENCES imports,
    technician_id TEXT NOT NULL UNIQUE,
    name          TEXT,
    crew          TEXT,
    active_from   TEXT,
    kept_aside    TEXT NOT NULL
) STRICT;

CREATE TABLE former_technicians (
    superseded_in INTEGER NOT NULL REFERENCES imports,
    number        INTEGER NOT NULL REFERENCES technicians,
    imported_in   INTEGER NOT NULL,
    technician_id TEXT NOT NULL,
    name          TEXT,
    crew          TEXT,
    active_from   TEXT,
    kept_aside    TEXT NOT NULL
) STRICT;

CREATE TABLE trainings (
    number        INTEGER NOT NULL PRIMARY KEY,
    imported_in   INTEGER NOT NULL REFERENCES imports,
    technician_id TEXT NOT NULL REFERENCES technicians (technician_id),
    topic         TEXT NOT NULL,
    held_on       TEXT NOT NULL,
    kept_aside    TEXT NOT NULL,
    UNIQUE (technician_id, topic, held_on)
) STRICT;

CREATE TABLE former_trainings (
    superseded_in INTEGER NOT NULL REFERENCES imports,
    number        INTEGER NOT NULL REFERENCES trainings,
    imported_in   INTEGER NOT NULL,
    technician_id TEXT NOT NULL,
    topic         TEXT NOT NULL,
    held_on       TEXT NOT NULL,
    kept_aside    TEXT NOT NULL
) STRICT;

-- One row a state of a draw. The live one has superseded_in NULL; a changed row of a later
-- sheet makes a new live row that names the one it supersedes.
CREATE TABLE draws (
    record           INTEGER NOT NULL PRIMARY KEY,
    imported_in      INTEGER NOT NULL REFERENCES imports,
    superseded_in    INTEGER REFERENCES imports,
    supersedes       INTEGER REFERENCES draws,
    draw_id          TEXT,
    bottle_id        TEXT,
    point            INTEGER NOT NULL REFERENCES points,
    technician       INTEGER NOT NULL REFERENCES technicians,
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

CREATE TABLE rulebooks (
    number      INTEGER NOT NULL PRIMARY KEY,
    fingerprint TEXT NOT NULL,
    name        TEXT NOT NULL,
    revision    TEXT NOT NULL,
    text        TEXT NOT NULL,
    adopted_at  INTEGER NOT NULL
) STRICT;

-- What is known of the live draws without reading their rows, in columns of equal length
-- ordered by drawn_at, then identity. At most one row in `judged`: how they were judged.
CREATE TABLE judged (
    only_row    INTEGER NOT NULL PRIMARY KEY CHECK (only_row = 1),
    format      INTEGER NOT NULL,
    draws       INTEGER NOT NULL,
    rulebook    TEXT NOT NULL,
    program     TEXT NOT NULL,
    stamp       INTEGER NOT NULL
) STRICT;

CREATE TABLE judged_columns (
    name TEXT NOT NULL PRIMARY KEY,
    data BLOB NOT NULL
) STRICT;
