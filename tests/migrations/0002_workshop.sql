INSERT INTO tool (id, kind, name, count, brought_by, params) VALUES
    (1, 'punch_board', 'Blue board', 2, 'instructor',
     '{"board":{"notch_depth":"6.35 mm","ruler":{"unit":"in","step":"1.5875 mm","shortest":"12.7 mm","longest":"203.2 mm"}}}'),
    (2, 'trimmer', 'Trimmer', 1, 'instructor',
     '{"ruled":{"unit":"in","step":"1.5875 mm","shortest":"0 mm","longest":"304.8 mm"}}'),
    (3, 'scissors', 'Scissors', 1, 'attendee', '"none"');
INSERT INTO paper (id, name, width_nm, height_nm, gsm, caliper_nm, grain, direction, faces, price_minor, on_hand)
VALUES (1, 'Moss card', 304800000, 304800000, 216.0, 250000, 'unknown', 'none', 'same_both_sides', 60, 4);
INSERT INTO supply (id, name, unit, on_hand) VALUES (1, 'Seed packet', 'each', 40);
INSERT INTO supply (id, name, unit, on_hand_nm) VALUES (9, 'Twine', 'length', 2000000000);
INSERT INTO project (id, title, makes, board_id, trimmer_id) VALUES (1, 'Seed-swap gifts', 14, 1, 2);
INSERT INTO piece (id, project_id, position, name, paper_id, spec) VALUES
    (1, 1, 1, 'Seed envelope', 1,
     '{"version":"1","contents_name":"seed packet","contents":{"shape":"block","width":"70 mm","depth":"100 mm","height":"2 mm"},"contents_supply":1,"hazards":["small_parts"],"structure":"envelope","clearance":"3.175 mm","role":"main","by_hand":null,"band":null,"tag":null,"ribbon":null,"extras":[]}');
INSERT INTO piece_supply VALUES (1, 1);
INSERT INTO step_edit (project_id, key, title) VALUES (1, 'p1.cut', 'Cut your square');
INSERT INTO class (id, project_id, title, date, starts, minutes, place)
VALUES (1, 1, 'Seed-swap evening', '2026-11-28', '18:30', 120, 'Allotment hall');
INSERT INTO colourway (id, class_id, position, name, spare_kits) VALUES (1, 1, 1, 'Meadow', 1);
INSERT INTO colourway_paper VALUES (1, 'main', 1);
INSERT INTO attendee (class_id, position, name, colourway_id) VALUES (1, 1, 'Seat 1', 1);
INSERT INTO class_tool VALUES (1, 'punch_board', 2, 'instructor');
INSERT INTO link (class_id, role, token_hash, created_at, expires_at)
VALUES (1, 'host', 'c0ffee', '2026-11-20T10:00:00Z', '2026-12-20T10:00:00Z');
INSERT INTO revision (class_id, number, published_at, facts) VALUES (1, 1, '2026-11-20T10:00:00Z', '{"attendees": [{"id": 7}, {"id": 1}]}');
