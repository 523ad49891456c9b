-- What an instructor owns, plans and teaches. Typed facts only: what can be derived is derived.
-- Lengths are whole nanometres (_nm), money is whole minor units (_minor), times are text.
-- `version` counts saves: a form that was opened before another save is refused, never merged.

CREATE TABLE tool (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    kind TEXT NOT NULL,
    name TEXT NOT NULL,
    count INTEGER NOT NULL CHECK (count BETWEEN 0 AND 1000),
    brought_by TEXT NOT NULL CHECK (brought_by IN ('instructor', 'attendee', 'venue')),
    -- Notch depth and ruler of a board, ruler of a trimmer: JSON, read through serde.
    params TEXT NOT NULL
) STRICT;

CREATE TABLE paper (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    name TEXT NOT NULL UNIQUE,
    width_nm INTEGER NOT NULL CHECK (width_nm > 0),
    height_nm INTEGER NOT NULL CHECK (height_nm > 0),
    gsm REAL,
    caliper_nm INTEGER NOT NULL CHECK (caliper_nm > 0),
    grain TEXT NOT NULL,
    direction TEXT NOT NULL,
    faces TEXT NOT NULL,
    price_minor INTEGER CHECK (price_minor >= 0),
    on_hand INTEGER NOT NULL DEFAULT 0 CHECK (on_hand >= 0)
) STRICT;

CREATE TABLE supply (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    name TEXT NOT NULL UNIQUE,
    -- 'each' is counted, 'length' is cut from a spool.
    unit TEXT NOT NULL CHECK (unit IN ('each', 'length')),
    price_minor INTEGER CHECK (price_minor >= 0),
    on_hand INTEGER NOT NULL DEFAULT 0 CHECK (on_hand >= 0),
    on_hand_nm INTEGER NOT NULL DEFAULT 0 CHECK (on_hand_nm >= 0)
) STRICT;

CREATE TABLE project (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    title TEXT NOT NULL,
    makes INTEGER NOT NULL CHECK (makes BETWEEN 1 AND 400),
    board_id INTEGER NOT NULL REFERENCES tool (id),
    trimmer_id INTEGER NOT NULL REFERENCES tool (id)
) STRICT;

CREATE TABLE piece (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    project_id INTEGER NOT NULL REFERENCES project (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    name TEXT NOT NULL,
    -- A column and not part of the JSON, so that a paper in use can't be removed.
    paper_id INTEGER NOT NULL REFERENCES paper (id),
    spec TEXT NOT NULL
) STRICT;
CREATE INDEX piece_by_project ON piece (project_id);

-- The supplies that a piece's JSON names: the same guard as for papers.
CREATE TABLE piece_supply (
    piece_id INTEGER NOT NULL REFERENCES piece (id) ON DELETE CASCADE,
    supply_id INTEGER NOT NULL REFERENCES supply (id),
    PRIMARY KEY (piece_id, supply_id)
) STRICT;

CREATE TABLE step_edit (
    project_id INTEGER NOT NULL REFERENCES project (id) ON DELETE CASCADE,
    -- An operation's key, or own-N for a step the instructor added.
    key TEXT NOT NULL,
    version INTEGER NOT NULL DEFAULT 1,
    title TEXT,
    text TEXT,
    tip TEXT,
    hidden INTEGER NOT NULL DEFAULT 0,
    phase TEXT CHECK (phase IN ('prep', 'class')),
    position REAL,
    seconds INTEGER,
    PRIMARY KEY (project_id, key)
) STRICT;

CREATE TABLE class (
    id INTEGER PRIMARY KEY,
    version INTEGER NOT NULL DEFAULT 1,
    project_id INTEGER NOT NULL REFERENCES project (id),
    title TEXT NOT NULL,
    -- Civil date (2026-11-28) and time (18:30) as the hall's clock shows them.
    date TEXT NOT NULL,
    starts TEXT NOT NULL,
    minutes INTEGER NOT NULL CHECK (minutes BETWEEN 10 AND 1440),
    place TEXT NOT NULL,
    -- One for each form that edits a list, so that only saves of the same list meet.
    colourways_version INTEGER NOT NULL DEFAULT 1,
    attendees_version INTEGER NOT NULL DEFAULT 1,
    tools_version INTEGER NOT NULL DEFAULT 1
) STRICT;

CREATE TABLE colourway (
    id INTEGER PRIMARY KEY,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    name TEXT NOT NULL,
    spare_kits INTEGER NOT NULL DEFAULT 0 CHECK (spare_kits BETWEEN 0 AND 400),
    UNIQUE (class_id, name)
) STRICT;

CREATE TABLE colourway_paper (
    colourway_id INTEGER NOT NULL REFERENCES colourway (id) ON DELETE CASCADE,
    role TEXT NOT NULL,
    paper_id INTEGER NOT NULL REFERENCES paper (id),
    PRIMARY KEY (colourway_id, role)
) STRICT;

CREATE TABLE attendee (
    id INTEGER PRIMARY KEY,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    name TEXT NOT NULL,
    colourway_id INTEGER NOT NULL REFERENCES colourway (id)
) STRICT;
CREATE INDEX attendee_by_class ON attendee (class_id);

-- How many of each tool stand on the tables that day, where that differs from the bench.
CREATE TABLE class_tool (
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    kind TEXT NOT NULL,
    count INTEGER NOT NULL CHECK (count BETWEEN 0 AND 1000),
    brought_by TEXT NOT NULL CHECK (brought_by IN ('instructor', 'attendee', 'venue')),
    PRIMARY KEY (class_id, kind)
) STRICT;

-- A link for attendees or for the host: the token itself is shown once and never stored.
CREATE TABLE link (
    id INTEGER PRIMARY KEY,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    role TEXT NOT NULL CHECK (role IN ('attendee', 'host')),
    token_hash TEXT NOT NULL UNIQUE,
    created_at TEXT NOT NULL,
    expires_at TEXT NOT NULL,
    revoked_at TEXT
) STRICT;
CREATE INDEX link_by_class ON link (class_id);

-- What was published: the facts, frozen. Phones and hosts see the newest one.
CREATE TABLE revision (
    id INTEGER PRIMARY KEY,
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    number INTEGER NOT NULL,
    published_at TEXT NOT NULL,
    facts TEXT NOT NULL,
    UNIQUE (class_id, number)
) STRICT;
