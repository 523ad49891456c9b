INSERT INTO form_use VALUES (zeroblob(32), '/projects/1', '2026-11-20T10:00:00Z');
