-- +goose Up
-- +goose StatementBegin

-- Wheels, spindles and motors. What is counted is added, never changed; a wrong
-- count is struck with a reason and stays.

CREATE TABLE machine (
    id          INTEGER PRIMARY KEY, -- number of the machine
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    kind        TEXT NOT NULL CHECK (kind IN ('flyer-led', 'bobbin-led', 'double drive', 'spindle', 'motor')), -- what is driven
    note        TEXT NOT NULL, -- free text
    demo        INTEGER NOT NULL CHECK (demo IN (0, 1)), -- 1: made by the program to show the job
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE machine_former (
    id         INTEGER PRIMARY KEY, -- number of the entry
    machine_id INTEGER NOT NULL REFERENCES machine (id), -- machine that was changed
    name       TEXT NOT NULL, -- its name before the change
    note       TEXT NOT NULL, -- its note before the change
    changed_at TEXT NOT NULL CHECK (changed_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of the change
) STRICT;
CREATE INDEX machine_former_machine ON machine_former (machine_id);

CREATE TABLE whorl (
    id           INTEGER PRIMARY KEY, -- number of the whorl, or of a way of flicking a spindle
    machine_id   INTEGER NOT NULL REFERENCES machine (id), -- machine that it is on
    name         TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    stated_turns REAL CHECK (stated_turns > 0), -- turns of what it drives to a treadle, by the maker; NULL when not stated
    recorded_at  TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX whorl_machine ON whorl (machine_id);

CREATE TABLE whorl_count (
    id          INTEGER PRIMARY KEY, -- number of the count
    whorl_id    INTEGER NOT NULL REFERENCES whorl (id), -- whorl that was counted
    seen_turns  REAL NOT NULL CHECK (seen_turns > 0), -- turns of what the whorl drives
    treadles    REAL NOT NULL CHECK (treadles > 0), -- count of treadles, or flicks of a spindle, over which they were counted
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX whorl_count_whorl ON whorl_count (whorl_id);

CREATE TABLE motor_setting (
    id          INTEGER PRIMARY KEY, -- number of the setting
    machine_id  INTEGER NOT NULL REFERENCES machine (id), -- machine whose motor it is
    name        TEXT NOT NULL CHECK (name <> ''), -- such as a position of the knob
    stated_rpm  REAL CHECK (stated_rpm > 0), -- turns of the flyer in a minute, as its display shows; NULL when not shown
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX motor_setting_machine ON motor_setting (machine_id);

CREATE TABLE timing (
    id          INTEGER PRIMARY KEY, -- number of the timing
    setting_id  INTEGER NOT NULL REFERENCES motor_setting (id), -- setting that was timed
    how         TEXT NOT NULL CHECK (how IN ('by eye', 'on film', 'by untwisting')), -- in which way the turns were counted
    seen_turns  REAL NOT NULL CHECK (seen_turns > 0), -- turns of the flyer
    over_s      REAL CHECK (over_s > 0), -- seconds over which they were counted; NULL on film
    frames      INTEGER CHECK (frames > 0), -- count of frames over which they were counted; NULL except on film
    film_fps    REAL CHECK (film_fps > 0), -- frames a second of the film; NULL except on film
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((how = 'on film') = (over_s IS NULL) AND (over_s IS NULL) = (frames IS NOT NULL) AND (frames IS NULL) = (film_fps IS NULL))
) STRICT;
CREATE INDEX timing_setting ON timing (setting_id);

CREATE TABLE spool (
    id          INTEGER PRIMARY KEY, -- number of the empty bobbin
    machine_id  INTEGER NOT NULL REFERENCES machine (id), -- machine that it fits
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    core_mm     REAL CHECK (core_mm > 0), -- millimetres, across the bare core; NULL when not measured
    full_mm     REAL CHECK (full_mm > core_mm), -- millimetres, across the full bobbin; NULL when not measured
    tare_g      REAL CHECK (tare_g > 0), -- grams, empty; NULL when not weighed
    holds_g     REAL CHECK (holds_g > 0), -- grams of yarn that it holds when full; NULL when not weighed
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK (full_mm IS NULL OR core_mm IS NOT NULL),
    CHECK (coalesce(core_mm, tare_g, holds_g) IS NOT NULL)
) STRICT;
CREATE INDEX spool_machine ON spool (machine_id);

CREATE TABLE slip (
    id          INTEGER PRIMARY KEY, -- number of the watching
    whorl_id    INTEGER NOT NULL REFERENCES whorl (id), -- whorl that it was watched on
    rhythm_bpm  REAL NOT NULL CHECK (rhythm_bpm > 0), -- treadles a minute
    how         TEXT NOT NULL CHECK (how IN ('by eye', 'on film', 'by untwisting')), -- in which way the turns were counted
    seen_turns  REAL NOT NULL CHECK (seen_turns > 0), -- turns of what the whorl drives
    over_s      REAL CHECK (over_s > 0), -- seconds over which they were counted; NULL on film
    frames      INTEGER CHECK (frames > 0), -- count of frames over which they were counted; NULL except on film
    film_fps    REAL CHECK (film_fps > 0), -- frames a second of the film; NULL except on film
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((how = 'on film') = (over_s IS NULL) AND (over_s IS NULL) = (frames IS NOT NULL) AND (frames IS NULL) = (film_fps IS NULL))
) STRICT;
CREATE INDEX slip_whorl ON slip (whorl_id);

CREATE TABLE machine_strike (
    id          INTEGER PRIMARY KEY, -- number of the strike
    machine_id  INTEGER UNIQUE REFERENCES machine (id), -- machine that is no longer used, or NULL
    whorl_id    INTEGER UNIQUE REFERENCES whorl (id), -- whorl that is no longer used, or NULL
    count_id    INTEGER UNIQUE REFERENCES whorl_count (id), -- count that no longer counts, or NULL
    setting_id  INTEGER UNIQUE REFERENCES motor_setting (id), -- setting that is no longer used, or NULL
    timing_id   INTEGER UNIQUE REFERENCES timing (id), -- timing that no longer counts, or NULL
    spool_id    INTEGER UNIQUE REFERENCES spool (id), -- empty bobbin that is no longer used, or NULL
    slip_id     INTEGER UNIQUE REFERENCES slip (id), -- watching of slip that no longer counts, or NULL
    reason      TEXT NOT NULL CHECK (reason <> ''), -- why
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((machine_id IS NOT NULL) + (whorl_id IS NOT NULL) + (count_id IS NOT NULL) + (setting_id IS NOT NULL)
        + (timing_id IS NOT NULL) + (spool_id IS NOT NULL) + (slip_id IS NOT NULL) = 1)
) STRICT;

-- What a run of plying is driven by, where it is a machine of the journal.
ALTER TABLE run ADD COLUMN
    machine_id INTEGER REFERENCES machine (id); -- machine; NULL when its figures are typed
ALTER TABLE run ADD COLUMN
    whorl_id INTEGER REFERENCES whorl (id); -- whorl of the machine, or NULL
ALTER TABLE run ADD COLUMN
    setting_id INTEGER REFERENCES motor_setting (id); -- setting of the machine's motor, or NULL
ALTER TABLE run ADD COLUMN
    spool_id INTEGER REFERENCES spool (id); -- bobbin of the machine on which the ply winds, or NULL
CREATE INDEX run_machine ON run (machine_id);
CREATE INDEX run_whorl ON run (whorl_id);
CREATE INDEX run_setting ON run (setting_id);
CREATE INDEX run_spool ON run (spool_id);

CREATE TRIGGER run_of_one_machine BEFORE INSERT ON run
WHEN (NEW.machine_id IS NOT NULL AND (NEW.treadle_turns IS NOT NULL OR NEW.flyer_rpm IS NOT NULL)
    OR NEW.whorl_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM whorl WHERE id = NEW.whorl_id)
    OR NEW.setting_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM motor_setting WHERE id = NEW.setting_id)
    OR NEW.spool_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM spool WHERE id = NEW.spool_id))
BEGIN SELECT RAISE(ABORT, 'a run is driven by one machine and its own parts, or by typed figures'); END;

CREATE TRIGGER run_stays_on_one_machine BEFORE UPDATE ON run
WHEN (NEW.machine_id IS NOT NULL AND (NEW.treadle_turns IS NOT NULL OR NEW.flyer_rpm IS NOT NULL)
    OR NEW.whorl_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM whorl WHERE id = NEW.whorl_id)
    OR NEW.setting_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM motor_setting WHERE id = NEW.setting_id)
    OR NEW.spool_id IS NOT NULL AND NEW.machine_id IS NOT (SELECT machine_id FROM spool WHERE id = NEW.spool_id))
BEGIN SELECT RAISE(ABORT, 'a run is driven by one machine and its own parts, or by typed figures'); END;

-- What was counted or seen stays as it was recorded; of a machine only name and note change.
CREATE TRIGGER whorl_stays BEFORE UPDATE ON whorl BEGIN SELECT RAISE(ABORT, 'a whorl is struck, never changed'); END;
CREATE TRIGGER whorl_count_stays BEFORE UPDATE ON whorl_count BEGIN SELECT RAISE(ABORT, 'a count is struck, never changed'); END;
CREATE TRIGGER motor_setting_stays BEFORE UPDATE ON motor_setting BEGIN SELECT RAISE(ABORT, 'a setting is struck, never changed'); END;
CREATE TRIGGER timing_stays BEFORE UPDATE ON timing BEGIN SELECT RAISE(ABORT, 'a timing is struck, never changed'); END;
CREATE TRIGGER spool_stays BEFORE UPDATE ON spool BEGIN SELECT RAISE(ABORT, 'a bobbin is struck, never changed'); END;
CREATE TRIGGER slip_stays BEFORE UPDATE ON slip BEGIN SELECT RAISE(ABORT, 'a watching of slip is struck, never changed'); END;
CREATE TRIGGER machine_strike_stays BEFORE UPDATE ON machine_strike BEGIN SELECT RAISE(ABORT, 'a strike is never changed'); END;
CREATE TRIGGER machine_former_stays BEFORE UPDATE ON machine_former BEGIN SELECT RAISE(ABORT, 'history is never changed'); END;
CREATE TRIGGER machine_kind_stays BEFORE UPDATE OF kind ON machine BEGIN SELECT RAISE(ABORT, 'what drives a machine is never changed'); END;
CREATE TRIGGER machine_kept BEFORE DELETE ON machine BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER whorl_kept BEFORE DELETE ON whorl BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER whorl_count_kept BEFORE DELETE ON whorl_count BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER motor_setting_kept BEFORE DELETE ON motor_setting BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER timing_kept BEFORE DELETE ON timing BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER spool_kept BEFORE DELETE ON spool BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER slip_kept BEFORE DELETE ON slip BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER machine_strike_kept BEFORE DELETE ON machine_strike BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER machine_former_kept BEFORE DELETE ON machine_former BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;

-- +goose StatementEnd
