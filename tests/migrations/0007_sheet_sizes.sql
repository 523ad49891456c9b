INSERT INTO paper (name, width_nm, height_nm, gsm, caliper_nm, grain, direction, faces, price_minor, on_hand, same_as)
VALUES ('Moss card A4', 210000000, 297000000, 216.0, 250000, 'unknown', 'none', 'same_both_sides', NULL, 3, 1);
