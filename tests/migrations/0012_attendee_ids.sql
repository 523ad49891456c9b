INSERT INTO attendee (class_id, position, name, colourway_id) VALUES (1, 2, 'Seat 2', 1);
