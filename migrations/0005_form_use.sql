-- Forms that made something, for a day: the same form sent again (a double click, the way back)
-- leads to what the first one made. Only the hash of the form's random token is kept.

CREATE TABLE form_use (
    token_hash BLOB PRIMARY KEY CHECK (length(token_hash) = 32),
    -- Path of what was made.
    location TEXT NOT NULL,
    used_at TEXT NOT NULL
) STRICT;
