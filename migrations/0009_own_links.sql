-- A link may belong to one attendee: it shows their pack too, and goes with them.
-- Its token follows from the seed and a key that stands beside the database, never in it: so it
-- can be printed again, and a copy of the database opens nothing. Links made before have no seed.
ALTER TABLE link ADD COLUMN attendee_id INTEGER REFERENCES attendee (id) ON DELETE CASCADE;
ALTER TABLE link ADD COLUMN seed TEXT;
CREATE INDEX link_by_attendee ON link (attendee_id);
