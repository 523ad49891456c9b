-- A paper may be another one in another size: an A4 sheet, or what was left of a sheet. Classes use
-- up what is on hand of all sizes. It points to a paper that points to none; a paper that others
-- point to is in use, and is not removed.

ALTER TABLE paper ADD COLUMN same_as INTEGER REFERENCES paper (id) CHECK (same_as <> id);
CREATE INDEX paper_by_same_as ON paper (same_as);
