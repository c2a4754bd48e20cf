-- +goose Up
-- +goose StatementBegin

-- What plans are made from. A changed wish keeps its former texts: the latest
-- version is in force.

CREATE TABLE wish (
    id          INTEGER PRIMARY KEY, -- number of the wish
    demo        INTEGER NOT NULL CHECK (demo IN (0, 1)), -- 1: made by the program to show the job
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;

CREATE TABLE wish_version (
    id          INTEGER PRIMARY KEY, -- number of the version
    wish_id     INTEGER NOT NULL REFERENCES wish (id), -- wish that it is of
    project_id  INTEGER REFERENCES project (id), -- project that makes it; NULL for none yet
    name        TEXT NOT NULL CHECK (name <> ''), -- as the spinner calls it
    fields      TEXT NOT NULL CHECK (json_type(fields) = 'object'), -- values by the keys of their fields, as JSON
    recorded_at TEXT NOT NULL CHECK (recorded_at GLOB '[0-9][0-9][0-9][0-9]-??-??T*Z') -- time of recording
) STRICT;
CREATE INDEX wish_version_wish ON wish_version (wish_id);
CREATE INDEX wish_version_project ON wish_version (project_id);

CREATE TRIGGER wish_version_stays BEFORE UPDATE ON wish_version BEGIN SELECT RAISE(ABORT, 'a plan is followed by a later version, never changed'); END;
CREATE TRIGGER wish_kept BEFORE DELETE ON wish BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;
CREATE TRIGGER wish_version_kept BEFORE DELETE ON wish_version BEGIN SELECT RAISE(ABORT, 'nothing is deleted from a journal'); END;

-- +goose StatementEnd
