-- The sheet of labels that a server prints on, as it was last kept: one row, or none.
CREATE TABLE label_sheet (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    paper_width_nm INTEGER NOT NULL CHECK (paper_width_nm > 0),
    paper_height_nm INTEGER NOT NULL CHECK (paper_height_nm > 0),
    columns INTEGER NOT NULL CHECK (columns > 0),
    rows INTEGER NOT NULL CHECK (rows > 0),
    left_nm INTEGER NOT NULL CHECK (left_nm >= 0),
    top_nm INTEGER NOT NULL CHECK (top_nm >= 0),
    width_nm INTEGER NOT NULL CHECK (width_nm > 0),
    height_nm INTEGER NOT NULL CHECK (height_nm > 0),
    across_nm INTEGER NOT NULL CHECK (across_nm >= 0),
    down_nm INTEGER NOT NULL CHECK (down_nm >= 0),
    -- Whether a thin line is printed round each label.
    outline INTEGER NOT NULL CHECK (outline IN (0, 1))
) STRICT;
