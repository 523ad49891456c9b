-- A project says whose hands make it and how many makers of 100 should succeed: sizes are judged
-- by both. Hands are JSON, a standard deviation for each operation; none are those of beginners.
ALTER TABLE project ADD COLUMN hands TEXT;
ALTER TABLE project ADD COLUMN wanted_of_100 INTEGER NOT NULL DEFAULT 95
    CHECK (wanted_of_100 BETWEEN 1 AND 99);

-- A project needs no punch board any more. SQLite cannot drop NOT NULL: a new column takes over.
ALTER TABLE project ADD COLUMN punch_board_id INTEGER REFERENCES tool (id);
UPDATE project SET punch_board_id = board_id;
ALTER TABLE project DROP COLUMN board_id;
ALTER TABLE project RENAME COLUMN punch_board_id TO board_id;
