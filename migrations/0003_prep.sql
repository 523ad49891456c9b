-- Who helps with what before a class. A name belongs to a prep operation or to a fence setting,
-- not to a batch: batches are planned anew each time, and names stay with what is done.

CREATE TABLE prep_helper (
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    -- An operation's key, or cut-, the pass, and the setting in nanometres.
    key TEXT NOT NULL,
    name TEXT NOT NULL,
    PRIMARY KEY (class_id, key)
) STRICT;

-- Counts the saves of the form with the helpers' names.
ALTER TABLE class ADD COLUMN helpers_version INTEGER NOT NULL DEFAULT 1;
