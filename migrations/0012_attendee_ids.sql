-- no-transaction
-- The number of an attendee who is gone never comes back: a published revision still knows it, and
-- a link of somebody else's would show that pack. SQLite counts on by itself only in a new table.
PRAGMA foreign_keys = OFF;
BEGIN IMMEDIATE;
CREATE TABLE attendee_kept (
    id INTEGER PRIMARY KEY AUTOINCREMENT,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    name TEXT NOT NULL,
    colourway_id INTEGER NOT NULL REFERENCES colourway (id)
) STRICT;
INSERT INTO attendee_kept (id, class_id, position, name, colourway_id)
SELECT id, class_id, position, name, colourway_id FROM attendee;
DROP TABLE attendee;
ALTER TABLE attendee_kept RENAME TO attendee;
CREATE INDEX attendee_by_class ON attendee (class_id);
DELETE FROM sqlite_sequence WHERE name = 'attendee';
INSERT INTO sqlite_sequence (name, seq)
SELECT 'attendee', MAX(COALESCE((SELECT MAX(id) FROM attendee), 0), COALESCE((
    SELECT MAX(json_extract(one.value, '$.id'))
    FROM revision, json_each(revision.facts, '$.attendees') AS one), 0));
COMMIT;
PRAGMA foreign_keys = ON;
