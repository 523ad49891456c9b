INSERT INTO prep_helper (class_id, key, name) VALUES (1, 'p1.cut', 'Robin');
