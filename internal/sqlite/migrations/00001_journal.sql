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

CREATE TABLE run (
    id            INTEGER PRIMARY KEY, -- number of the run of plying
    project_id    INTEGER NOT NULL REFERENCES project (id), -- project whose bobbins it plies
    name          TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    strands       INTEGER NOT NULL CHECK (strands BETWEEN 2 AND 4), -- count of strands in the ply
    chain         INTEGER NOT NULL CHECK (chain IN (0, 1)), -- 1: chain-plied
    offset_share  REAL NOT NULL CHECK (offset_share BETWEEN -0.5 AND 0.5), -- share of turns beyond balance
    direction     TEXT NOT NULL CHECK (direction IN ('', 'S', 'Z')), -- twist of the ply (ISO 2)
    treadle_turns REAL CHECK (treadle_turns > 0), -- turns of the flyer to a treadle
    flyer_rpm     REAL CHECK (flyer_rpm > 0), -- turns of the flyer in a minute
    draw_m        REAL CHECK (draw_m > 0), -- metres let in at a time
    beat_s        REAL CHECK (beat_s > 0), -- seconds that one draw takes
    note          TEXT NOT NULL, -- free text
    started_at    TEXT NOT NULL CHECK (started_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of its first metre
    ended_at      TEXT CHECK (ended_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of its last metre; NULL while it goes on
    recorded_at   TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (started_at <= ended_at),
    CHECK (chain = 0 OR strands = 3)
) STRICT;
CREATE INDEX run_project ON run (project_id);

CREATE TABLE feed (
    run_id        INTEGER NOT NULL REFERENCES run (id), -- run of plying that it feeds
    position      INTEGER NOT NULL CHECK (position BETWEEN 1 AND 4), -- in the order of the strands
    bobbin_id     INTEGER NOT NULL REFERENCES bobbin (id), -- bobbin on the holder
    rewound       INTEGER NOT NULL CHECK (rewound BETWEEN 0 AND 2), -- times it was wound over before plying
    over_end_adds TEXT NOT NULL CHECK (over_end_adds IN ('', 'S', 'Z')), -- twist that the last winding added over the end; empty for sideways
    package_mm    REAL CHECK (package_mm > 0), -- millimetres, across the full package drawn off over the end; NULL for sideways
    PRIMARY KEY (run_id, position),
    UNIQUE (bobbin_id, run_id),
    CHECK ((over_end_adds = '') = (package_mm IS NULL)),
    CHECK (over_end_adds = '' OR rewound > 0)
) STRICT;

CREATE TABLE skein (
    id          INTEGER PRIMARY KEY, -- number of the skein
    run_id      INTEGER REFERENCES run (id), -- run of plying that it comes from; NULL for singles
    bobbin_id   INTEGER REFERENCES bobbin (id), -- bobbin whose singles it is of; NULL for a ply
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    note        TEXT NOT NULL, -- free text
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((run_id IS NULL) <> (bobbin_id IS NULL))
) STRICT;
CREATE INDEX skein_run ON skein (run_id);
CREATE INDEX skein_bobbin ON skein (bobbin_id);

CREATE TABLE measure (
    id           INTEGER PRIMARY KEY, -- number of the measure
    skein_id     INTEGER NOT NULL REFERENCES skein (id), -- skein that was measured
    state        TEXT NOT NULL CHECK (state IN ('rested', 'washed')), -- off the wheel, or finished and dry
    loops        INTEGER CHECK (loops > 0), -- count of loops
    girth_m      REAL CHECK (girth_m > 0), -- metres once round
    load_g       REAL CHECK (load_g > 0), -- grams it hung under while its girth was measured
    mass_g       REAL CHECK (mass_g > 0), -- grams
    humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100), -- % relative humidity of the room
    wraps_per_m  REAL CHECK (wraps_per_m > 0), -- wraps of the yarn side by side in a metre
    recorded_at  TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (coalesce(loops, girth_m, mass_g, wraps_per_m) IS NOT NULL)
) STRICT;
CREATE INDEX measure_skein ON measure (skein_id);

CREATE TABLE wash (
    id          INTEGER PRIMARY KEY, -- number of the wash
    skein_id    INTEGER NOT NULL REFERENCES skein (id), -- skein that was finished
    treatment   TEXT NOT NULL CHECK (treatment IN ('soak', 'soak and snap', 'full', 'steam', 'weight', 'size')), -- how
    water_c     REAL CHECK (water_c BETWEEN 0 AND 100), -- degrees Celsius, of the water
    soak_min    REAL CHECK (soak_min >= 0), -- minutes in water or steam
    hung_g      REAL CHECK (hung_g > 0), -- grams it dried under; NULL when it hung free
    note        TEXT NOT NULL, -- free text
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX wash_skein ON wash (skein_id);

CREATE TABLE hang (
    id          INTEGER PRIMARY KEY, -- number of the hang test
    skein_id    INTEGER NOT NULL REFERENCES skein (id), -- skein that was hung as an open loop
    state       TEXT NOT NULL CHECK (state IN ('rested', 'washed')), -- off the wheel, or finished and dry
    direction   TEXT NOT NULL CHECK (direction IN ('', 'S', 'Z')), -- in which it turned about itself; empty for an open loop
    half_turns  REAL NOT NULL CHECK (half_turns >= 0), -- half turns about itself; 0 for an open loop
    length_m    REAL CHECK (length_m > 0), -- metres, of the hanging loop
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((half_turns > 0) = (direction <> ''))
) STRICT;
CREATE INDEX hang_skein ON hang (skein_id);

CREATE TABLE sample (
    id              INTEGER PRIMARY KEY, -- number of the sample
    bobbin_id       INTEGER REFERENCES bobbin (id), -- bobbin it was clipped off; NULL for a piece of yarn
    run_id          INTEGER REFERENCES run (id), -- run of plying that it is a piece of, or NULL
    skein_id        INTEGER REFERENCES skein (id), -- skein that it is a piece of, or NULL
    state           TEXT NOT NULL CHECK (state IN ('fresh', 'rested', 'rewet', 'rewet-dried', 'washed')), -- what had happened to it when read
    place           TEXT NOT NULL, -- samples of one place were cut side by side, or are one piece
    depth_share     REAL NOT NULL CHECK (depth_share BETWEEN 0 AND 1), -- 0 outermost layer, 1 on the core
    age_h           REAL CHECK (age_h >= 0), -- hours it had rested
    humidity_pct    REAL CHECK (humidity_pct BETWEEN 0 AND 100), -- % relative humidity of the room while it rested
    soak_min        REAL CHECK (soak_min >= 0), -- minutes it lay in water
    soak_started_at TEXT CHECK (soak_started_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time it went into the water
    water_c         REAL CHECK (water_c BETWEEN 0 AND 100), -- degrees Celsius, of the water
    load            TEXT NOT NULL CHECK (load IN ('free', 'light', 'at the wheel')), -- how it was held while read
    load_g          REAL CHECK (load_g > 0), -- grams it hung under
    note            TEXT NOT NULL, -- free text
    recorded_at     TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((bobbin_id IS NOT NULL) + (run_id IS NOT NULL) + (skein_id IS NOT NULL) = 1),
    CHECK (state <> 'washed' OR bobbin_id IS NULL),
    CHECK (load <> 'light' OR load_g IS NOT NULL)
) STRICT;
CREATE INDEX sample_bobbin ON sample (bobbin_id);
CREATE INDEX sample_run ON sample (run_id);
CREATE INDEX sample_skein ON sample (skein_id);

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
    kind       TEXT NOT NULL CHECK (kind IN ('project', 'bobbin', 'run')), -- table of the record that was changed
    record_id  INTEGER NOT NULL, -- number of that record
    changed_at TEXT NOT NULL CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of the change
    former     TEXT NOT NULL CHECK (json_valid(former)) -- the record before it, as JSON by column
) STRICT;
CREATE INDEX history_record ON history (kind, record_id);

-- All that a skein belongs to.
CREATE VIEW skein_owner AS
SELECT skein.id AS skein_id, run_id, NULL AS bobbin_id, project_id
FROM skein JOIN run ON run.id = run_id
UNION ALL
SELECT skein.id, NULL, bobbin_id, project_id
FROM skein JOIN bobbin ON bobbin.id = bobbin_id;

-- All that a sample belongs to: that of a skein also to the skein's run or bobbin.
CREATE VIEW sample_owner AS
SELECT sample.id AS sample_id, NULL AS skein_id, NULL AS run_id, bobbin_id, project_id
FROM sample JOIN bobbin ON bobbin.id = bobbin_id
UNION ALL
SELECT sample.id, NULL, run_id, NULL, project_id
FROM sample JOIN run ON run.id = run_id
UNION ALL
SELECT sample.id, skein_id, skein.run_id, NULL, project_id
FROM sample JOIN skein ON skein.id = skein_id JOIN run ON run.id = skein.run_id
UNION ALL
SELECT sample.id, skein_id, NULL, skein.bobbin_id, project_id
FROM sample JOIN skein ON skein.id = skein_id JOIN bobbin ON bobbin.id = skein.bobbin_id;

CREATE TRIGGER feed_of_one_project BEFORE INSERT ON feed
WHEN (SELECT project_id FROM run WHERE id = NEW.run_id) <> (SELECT project_id FROM bobbin WHERE id = NEW.bobbin_id)
BEGIN SELECT RAISE(ABORT, 'a run plies bobbins of its own project'); END;

-- What was read, measured, done or decided stays as it was recorded.
CREATE TRIGGER reading_stays BEFORE UPDATE ON reading BEGIN SELECT RAISE(ABORT, 'a reading is superseded or struck, never changed'); END;
CREATE TRIGGER strike_stays BEFORE UPDATE ON strike BEGIN SELECT RAISE(ABORT, 'a strike is never changed'); END;
CREATE TRIGGER target_stays BEFORE UPDATE ON target BEGIN SELECT RAISE(ABORT, 'a target is replaced by a later one, never changed'); END;
CREATE TRIGGER feed_stays BEFORE UPDATE ON feed BEGIN SELECT RAISE(ABORT, 'a feed is never changed'); END;
CREATE TRIGGER measure_stays BEFORE UPDATE ON measure BEGIN SELECT RAISE(ABORT, 'a measure is followed by a later one, never changed'); END;
CREATE TRIGGER wash_stays BEFORE UPDATE ON wash BEGIN SELECT RAISE(ABORT, 'a wash is never changed'); END;
CREATE TRIGGER hang_stays BEFORE UPDATE ON hang BEGIN SELECT RAISE(ABORT, 'a hang test is followed by a later one, never changed'); END;
CREATE TRIGGER history_stays BEFORE UPDATE ON history BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
CREATE TRIGGER project_kept BEFORE DELETE ON project BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER lot_kept BEFORE DELETE ON lot BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER bobbin_kept BEFORE DELETE ON bobbin BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER stretch_kept BEFORE DELETE ON stretch BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER run_kept BEFORE DELETE ON run BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER feed_kept BEFORE DELETE ON feed BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER skein_kept BEFORE DELETE ON skein BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER measure_kept BEFORE DELETE ON measure BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER wash_kept BEFORE DELETE ON wash BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER hang_kept BEFORE DELETE ON hang BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER sample_kept BEFORE DELETE ON sample BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER reading_kept BEFORE DELETE ON reading BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER strike_kept BEFORE DELETE ON strike BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER target_kept BEFORE DELETE ON target BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER history_kept BEFORE DELETE ON history BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;

-- +goose StatementEnd
