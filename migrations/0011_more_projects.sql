-- An evening may make several projects: class.project_id is the first, these come after it.
-- A project in use can't be removed, so the row goes with its class alone.
CREATE TABLE class_project (
    class_id INTEGER NOT NULL REFERENCES class (id) ON DELETE CASCADE,
    position INTEGER NOT NULL,
    project_id INTEGER NOT NULL REFERENCES project (id),
    PRIMARY KEY (class_id, project_id)
) STRICT;
CREATE INDEX class_project_by_project ON class_project (project_id);
