UPDATE class SET cut_plan = 'least_fiddling' WHERE id = 1;
INSERT INTO left_over (class_id, revision, booked_at, pieces)
VALUES (1, 1, '2026-11-29T09:00:00Z', 12);
