-- Who runs the workshop, and how they get in.
-- One instructor a server: the check on the id keeps a second row out.
-- Secrets are never stored: passwords as Argon2id, tokens as SHA-256.
-- Times are UTC text of one shape, 2026-11-28T10:00:00Z, so that they compare as text.

CREATE TABLE instructor (
    id            INTEGER PRIMARY KEY CHECK (id = 1),
    version       INTEGER NOT NULL DEFAULT 1,
    name          TEXT    NOT NULL,
    password_hash TEXT    NOT NULL,
    created_at    TEXT    NOT NULL
) STRICT;

CREATE TABLE session (
    id            INTEGER PRIMARY KEY,
    instructor_id INTEGER NOT NULL REFERENCES instructor (id) ON DELETE CASCADE,
    token_hash    BLOB    NOT NULL UNIQUE,
    created_at    TEXT    NOT NULL,
    last_seen_at  TEXT    NOT NULL,
    expires_at    TEXT    NOT NULL
) STRICT;

-- setup: choose a name and a password; sign_in: come in as the instructor who exists.
CREATE TABLE one_time_link (
    id         INTEGER PRIMARY KEY,
    purpose    TEXT    NOT NULL CHECK (purpose IN ('setup', 'sign_in')),
    token_hash BLOB    NOT NULL UNIQUE,
    expires_at TEXT    NOT NULL,
    used_at    TEXT
) STRICT;
