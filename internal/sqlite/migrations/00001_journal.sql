-- +goose Up
-- +goose StatementBegin

-- Times are RFC 3339 in UTC with nine decimals, so that they sort as text.
-- An empty text means that nothing was said, NULL that nothing was measured.

PRAGMA application_id = 1466651767; -- "WkTw": the file is a journal of this program

CREATE TABLE project (
    id           INTEGER PRIMARY KEY, -- number of the project
    name         TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    aim          TEXT NOT NULL, -- what the yarn is to become
    strands      INTEGER NOT NULL CHECK (strands BETWEEN 2 AND 4), -- count of strands in the ply wanted
    chain        INTEGER NOT NULL CHECK (chain IN (0, 1)), -- 1: chain-plied
    offset_share REAL NOT NULL CHECK (offset_share BETWEEN -0.5 AND 0.5), -- share of turns beyond balance
    want_deg     REAL CHECK (want_deg BETWEEN 1 AND 75), -- degrees, that a re-wet piece of the ply should show; NULL for what balances
    demo         INTEGER NOT NULL CHECK (demo IN (0, 1)), -- 1: made by the program to show the job
    created_at   TEXT NOT NULL CHECK (created_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    touched_at   TEXT NOT NULL CHECK (touched_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of the latest record under it
    finished_at  TEXT CHECK (finished_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time it was finished; NULL while in work
    CHECK (chain = 0 OR strands = 3)
) STRICT;

CREATE TABLE lot (
    id          INTEGER PRIMARY KEY, -- number of the fibre lot
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    fibre       TEXT NOT NULL, -- kind of fibre in the spinner's words
    preparation TEXT NOT NULL CHECK (preparation IN ('unknown', 'worsted', 'semi', 'woollen')), -- how it was prepared and drafted
    note        TEXT NOT NULL, -- free text
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE bobbin (
    id          INTEGER PRIMARY KEY, -- number of the bobbin
    project_id  INTEGER NOT NULL REFERENCES project (id), -- project it is spun for
    lot_id      INTEGER REFERENCES lot (id), -- fibre it is spun from; NULL when not recorded
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    direction   TEXT NOT NULL CHECK (direction IN ('', 'S', 'Z')), -- twist of the singles (ISO 2)
    diameter_mm REAL CHECK (diameter_mm > 0), -- millimetres, of the singles
    wraps_per_m REAL CHECK (wraps_per_m > 0), -- wraps of the singles side by side in a metre
    singles_deg REAL CHECK (singles_deg BETWEEN 0 AND 75), -- degrees, surface fibre to the axis of the singles
    note        TEXT NOT NULL, -- free text
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX bobbin_project ON bobbin (project_id);
CREATE INDEX bobbin_lot ON bobbin (lot_id);

CREATE TABLE stretch (
    id          INTEGER PRIMARY KEY, -- number of the stretch of spinning
    bobbin_id   INTEGER NOT NULL REFERENCES bobbin (id), -- bobbin it was spun onto
    started_at  TEXT NOT NULL CHECK (started_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of its first metre
    ended_at    TEXT NOT NULL CHECK (ended_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of its last metre
    length_m    REAL CHECK (length_m > 0), -- metres of singles spun in it
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (started_at <= ended_at)
) STRICT;
CREATE INDEX stretch_bobbin ON stretch (bobbin_id);

CREATE TABLE sample (
    id              INTEGER PRIMARY KEY, -- number of the sample
    bobbin_id       INTEGER NOT NULL REFERENCES bobbin (id), -- bobbin it was clipped off
    state           TEXT NOT NULL CHECK (state IN ('fresh', 'rested', 'rewet', 'rewet-dried')), -- what had happened to it when read
    place           TEXT NOT NULL, -- samples of one place were cut side by side, or are one piece
    depth_share     REAL NOT NULL CHECK (depth_share BETWEEN 0 AND 1), -- 0 outermost layer, 1 on the core
    age_h           REAL CHECK (age_h >= 0), -- hours it had rested
    soak_min        REAL CHECK (soak_min >= 0), -- minutes it lay in water
    soak_started_at TEXT CHECK (soak_started_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time it went into the water
    water_c         REAL CHECK (water_c BETWEEN 0 AND 100), -- degrees Celsius, of the water
    load            TEXT NOT NULL CHECK (load IN ('free', 'light', 'at the wheel')), -- how it was held while read
    load_g          REAL CHECK (load_g > 0), -- grams it hung under
    note            TEXT NOT NULL, -- free text
    recorded_at     TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (load <> 'light' OR load_g IS NOT NULL)
) STRICT;
CREATE INDEX sample_bobbin ON sample (bobbin_id);

CREATE TABLE reading (
    id              INTEGER PRIMARY KEY, -- number of the reading
    sample_id       INTEGER NOT NULL REFERENCES sample (id), -- sample that was read
    method          TEXT NOT NULL CHECK (method IN ('photograph', 'typed', 'dragged')), -- how it was read
    reader          TEXT NOT NULL, -- who or what read it
    structure       TEXT NOT NULL CHECK (structure IN ('', 'singles', 'ply')), -- what was read; empty when refused
    plies           INTEGER NOT NULL CHECK (plies >= 0), -- count of strands; 1 for singles, 0 when refused
    direction       TEXT NOT NULL CHECK (direction IN ('', 'S', 'Z')), -- of the twist read (ISO 2)
    line            TEXT NOT NULL CHECK (line IN ('', 'strand centre', 'visible border', 'surface fibre')), -- line that was read
    angle_deg       REAL NOT NULL, -- degrees from the axis of the yarn; 0 when refused
    sd_deg          REAL NOT NULL, -- degrees, standard deviation of the angle
    low_deg         REAL NOT NULL, -- degrees, lower end of the 90 % interval
    high_deg        REAL NOT NULL, -- degrees, upper end of the 90 % interval
    refused         TEXT NOT NULL, -- why the photograph carries no reading; empty when it does
    photo_sha256    TEXT CHECK (length(photo_sha256) = 64), -- hash of the photograph; NULL without one
    photo_width_px  INTEGER CHECK (photo_width_px > 0), -- pixels, of the upright photograph
    photo_height_px INTEGER CHECK (photo_height_px > 0), -- pixels, of the upright photograph
    trace           TEXT NOT NULL, -- what was read, in pixels of the photograph, as JSON; may be empty
    note            TEXT NOT NULL, -- free text
    recorded_at     TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    supersedes_id   INTEGER UNIQUE REFERENCES reading (id) CHECK (supersedes_id < id), -- reading that it replaces
    CHECK (method = 'typed' OR photo_sha256 IS NOT NULL),
    CHECK ((photo_sha256 IS NULL) = (photo_width_px IS NULL) AND (photo_sha256 IS NULL) = (photo_height_px IS NULL)),
    CHECK (refused <> '' OR (angle_deg BETWEEN 0 AND 75 AND sd_deg > 0 AND structure <> '' AND line <> ''))
) STRICT;
CREATE INDEX reading_sample ON reading (sample_id);

CREATE TABLE strike (
    reading_id  INTEGER PRIMARY KEY REFERENCES reading (id), -- reading that no longer counts
    reason      TEXT NOT NULL CHECK (reason <> ''), -- why
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE target (
    id              INTEGER PRIMARY KEY, -- number of the target
    project_id      INTEGER NOT NULL REFERENCES project (id), -- project it was set for
    strands         INTEGER NOT NULL CHECK (strands BETWEEN 2 AND 4), -- count of strands in the ply
    chain           INTEGER NOT NULL CHECK (chain IN (0, 1)), -- 1: chain-plied
    offset_share    REAL NOT NULL CHECK (offset_share BETWEEN -0.5 AND 0.5), -- share of turns beyond balance
    line            TEXT NOT NULL CHECK (line IN ('strand centre', 'visible border')), -- line that the angles are read on
    angle_deg       REAL NOT NULL, -- degrees, of a re-wet piece of the ply
    angle_low_deg   REAL NOT NULL, -- degrees, lower end of its 90 % interval
    angle_high_deg  REAL NOT NULL, -- degrees, upper end of its 90 % interval
    washed_deg      REAL NOT NULL, -- degrees, of the ply washed and dried
    washed_low_deg  REAL NOT NULL, -- degrees, lower end of its 90 % interval
    washed_high_deg REAL NOT NULL, -- degrees, upper end of its 90 % interval
    wheel_deg       REAL NOT NULL, -- degrees, the look to aim for at the wheel
    wheel_low_deg   REAL NOT NULL, -- degrees, lower end of its 90 % interval
    wheel_high_deg  REAL NOT NULL, -- degrees, upper end of its 90 % interval
    twist_tpm       REAL, -- turns per metre of ply; NULL without a diameter
    twist_low_tpm   REAL, -- turns per metre, lower end of the 90 % interval
    twist_high_tpm  REAL, -- turns per metre, upper end of the 90 % interval
    measured        INTEGER NOT NULL CHECK (measured IN (0, 1)), -- 1: no modelled step had a part in the angle
    note            TEXT NOT NULL, -- free text
    recorded_at     TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (angle_low_deg <= angle_deg AND angle_deg <= angle_high_deg),
    CHECK (washed_low_deg <= washed_deg AND washed_deg <= washed_high_deg),
    CHECK (wheel_low_deg <= wheel_deg AND wheel_deg <= wheel_high_deg),
    CHECK ((twist_tpm IS NULL) = (twist_low_tpm IS NULL) AND (twist_tpm IS NULL) = (twist_high_tpm IS NULL)),
    CHECK (twist_low_tpm <= twist_tpm AND twist_tpm <= twist_high_tpm),
    CHECK (chain = 0 OR strands = 3)
) STRICT;
CREATE INDEX target_project ON target (project_id);

CREATE TABLE history (
    id         INTEGER PRIMARY KEY, -- number of the entry
    kind       TEXT NOT NULL CHECK (kind IN ('project', 'bobbin')), -- table of the record that was changed
    record_id  INTEGER NOT NULL, -- number of that record
    changed_at TEXT NOT NULL CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of the change
    former     TEXT NOT NULL CHECK (json_valid(former)) -- the record before it, as JSON by column
) STRICT;
CREATE INDEX history_record ON history (kind, record_id);

-- What was read or decided stays as it was recorded.
CREATE TRIGGER reading_stays BEFORE UPDATE ON reading BEGIN SELECT RAISE(ABORT, 'a reading is superseded or struck, never changed'); END;
CREATE TRIGGER strike_stays BEFORE UPDATE ON strike BEGIN SELECT RAISE(ABORT, 'a strike is never changed'); END;
CREATE TRIGGER target_stays BEFORE UPDATE ON target BEGIN SELECT RAISE(ABORT, 'a target is replaced by a later one, never changed'); END;
CREATE TRIGGER history_stays BEFORE UPDATE ON history BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
CREATE TRIGGER project_kept BEFORE DELETE ON project BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER lot_kept BEFORE DELETE ON lot BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER bobbin_kept BEFORE DELETE ON bobbin BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER stretch_kept BEFORE DELETE ON stretch BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER sample_kept BEFORE DELETE ON sample BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER reading_kept BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER strike_kept BEFORE DELETE ON strike BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER target_kept BEFORE DELETE ON target BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER history_kept BEFORE DELETE ON history BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;

-- +goose StatementEnd
