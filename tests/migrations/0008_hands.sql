INSERT INTO tool (id, kind, name, count, brought_by, params) VALUES
    (8, 'score_board', 'Score board', 2, 'instructor',
     '{"ruled":{"unit":"in","step":"1.5875 mm","shortest":"0 mm","longest":"304.8 mm"}}');
INSERT INTO project (id, title, makes, trimmer_id, hands, wanted_of_100)
VALUES (8, 'Trays without a punch board', 6, 2,
        '{"cut":"0.4 mm","score":"0.4 mm","punch":"0.4 mm","calibration":"0.17 mm","draw":"0.4 mm","fold":"0.3 mm"}', 90);
