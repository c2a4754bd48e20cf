-- +goose Up
-- +goose StatementBegin

-- Times are RFC 3339 in UTC with nine decimals, so that they sort as text.
-- An empty text means that nothing was said, NULL that nothing was measured.

ALTER TABLE stretch ADD COLUMN
    worked_s    REAL CHECK (worked_s > 0); -- seconds of it at the wheel; NULL when not known

CREATE TABLE weighing (
    id           INTEGER PRIMARY KEY, -- number of the weighing
    lot_id       INTEGER REFERENCES lot (id), -- fibre lot that was weighed; NULL for singles
    bobbin_id    INTEGER REFERENCES bobbin (id), -- bobbin whose singles were weighed; NULL for fibre
    what         TEXT NOT NULL CHECK (what IN ('bought', 'scoured', 'prepared', 'sampled', 'left', 'waste', 'singles')), -- what lay on the scale
    mass_g       REAL NOT NULL CHECK (mass_g >= 0), -- grams that the scale showed, with the tare
    tare_g       REAL CHECK (tare_g BETWEEN 0 AND mass_g), -- grams of the empty bobbin or bag; NULL where mass_g is net
    before_g     REAL CHECK (before_g > 0), -- grams, net, that it came from; NULL for all there was, or where not weighed
    step_g       REAL CHECK (step_g > 0), -- grams, the finest step of the scale; NULL when not known
    humidity_pct REAL CHECK (humidity_pct BETWEEN 0 AND 100), -- % relative humidity of the room
    note         TEXT NOT NULL, -- free text
    weighed_at   TEXT NOT NULL CHECK (weighed_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time it was weighed
    recorded_at  TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    CHECK ((lot_id IS NULL) <> (bobbin_id IS NULL)),
    CHECK ((what = 'singles') = (bobbin_id IS NOT NULL))
) STRICT;
CREATE INDEX weighing_lot ON weighing (lot_id);
CREATE INDEX weighing_bobbin ON weighing (bobbin_id);

CREATE TABLE weighing_strike (
    weighing_id INTEGER PRIMARY KEY REFERENCES weighing (id), -- weighing that no longer counts
    reason      TEXT NOT NULL CHECK (reason <> ''), -- why
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE swatch (
    id              INTEGER PRIMARY KEY, -- number of the swatch
    project_id      INTEGER REFERENCES project (id), -- project it was made for; NULL for none
    name            TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    kind            TEXT NOT NULL CHECK (kind IN ('woven', 'knitted')), -- how it was made
    on_width_m      REAL CHECK (on_width_m > 0), -- metres wide on the loom
    on_length_m     REAL CHECK (on_length_m > 0), -- metres long on the loom
    off_width_m     REAL CHECK (off_width_m > 0), -- metres wide off the loom or the needles, relaxed
    off_length_m    REAL CHECK (off_length_m > 0), -- metres long off the loom or the needles, relaxed
    washed_width_m  REAL CHECK (washed_width_m > 0), -- metres wide, washed and dry
    washed_length_m REAL CHECK (washed_length_m > 0), -- metres long, washed and dry
    mass_g          REAL CHECK (mass_g > 0), -- grams, washed and dry
    note            TEXT NOT NULL, -- free text
    recorded_at     TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z'), -- time of recording
    supersedes_id   INTEGER UNIQUE REFERENCES swatch (id) CHECK (supersedes_id < id), -- swatch that it replaces
    CHECK (kind = 'woven' OR coalesce(on_width_m, on_length_m) IS NULL),
    CHECK (coalesce(on_width_m, on_length_m, off_width_m, off_length_m, washed_width_m, washed_length_m, mass_g) IS NOT NULL)
) STRICT;
CREATE INDEX swatch_project ON swatch (project_id);

CREATE TABLE swatch_strike (
    swatch_id   INTEGER PRIMARY KEY REFERENCES swatch (id), -- swatch that no longer counts
    reason      TEXT NOT NULL CHECK (reason <> ''), -- why
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE skein_use (
    id          INTEGER PRIMARY KEY, -- number of the entry
    skein_id    INTEGER NOT NULL REFERENCES skein (id), -- skein that left the stash, or came back
    how         TEXT NOT NULL CHECK (how IN ('used up', 'given away', 'sold', 'back in the stash')), -- what became of it
    note        TEXT NOT NULL, -- free text
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX skein_use_skein ON skein_use (skein_id);

CREATE TRIGGER weighing_stays BEFORE UPDATE ON weighing BEGIN SELECT RAISE(ABORT, 'a weighing is struck, never changed'); END;
CREATE TRIGGER weighing_strike_stays BEFORE UPDATE ON weighing_strike BEGIN SELECT RAISE(ABORT, 'a strike is never changed'); END;
CREATE TRIGGER swatch_stays BEFORE UPDATE ON swatch BEGIN SELECT RAISE(ABORT, 'a swatch is superseded or struck, never changed'); END;
CREATE TRIGGER swatch_strike_stays BEFORE UPDATE ON swatch_strike BEGIN SELECT RAISE(ABORT, 'a strike is never changed'); END;
CREATE TRIGGER skein_use_stays BEFORE UPDATE ON skein_use BEGIN SELECT RAISE(ABORT, 'what became of a skein is followed by a later entry, never changed'); END;
CREATE TRIGGER weighing_kept BEFORE DELETE ON weighing BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER weighing_strike_kept BEFORE DELETE ON weighing_strike BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER swatch_kept BEFORE DELETE ON swatch BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER swatch_strike_kept BEFORE DELETE ON swatch_strike BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER skein_use_kept BEFORE DELETE ON skein_use BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;

-- +goose StatementEnd
