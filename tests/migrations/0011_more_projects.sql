INSERT INTO project (id, title, makes, board_id, trimmer_id) VALUES (2, 'Seed-swap cards', 14, 1, 2);
INSERT INTO class_project (class_id, position, project_id) VALUES (1, 1, 2);
