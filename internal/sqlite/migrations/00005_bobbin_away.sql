-- +goose Up

-- A bobbin that is put away is no longer waited for: it was used up elsewhere, or
-- recorded by mistake. What was read and weighed of it still counts.

ALTER TABLE bobbin ADD COLUMN
    away INTEGER NOT NULL DEFAULT 0 CHECK (away IN (0, 1)); -- 1: put away
