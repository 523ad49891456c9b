-- How the sheets of a class are cut, and what of them went back on the shelf.

ALTER TABLE class ADD COLUMN cut_plan TEXT NOT NULL DEFAULT 'least_paper'
    CHECK (cut_plan IN ('least_paper', 'least_fiddling'));

-- Left-over pieces that became stock on hand: kept, so that nobody counts them twice.
CREATE TABLE left_over (
    id INTEGER PRIMARY KEY,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    -- The newest revision at that time; 0 before the first.
    revision INTEGER NOT NULL,
    booked_at TEXT NOT NULL,
    pieces INTEGER NOT NULL CHECK (pieces > 0)
) STRICT;
CREATE INDEX left_over_by_class ON left_over (class_id);
