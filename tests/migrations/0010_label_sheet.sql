INSERT INTO label_sheet (id, paper_width_nm, paper_height_nm, columns, rows, left_nm, top_nm,
    width_nm, height_nm, across_nm, down_nm, outline)
VALUES (1, 210000000, 297000000, 2, 7, 10000000, 12000000, 95000000, 39000000, 0, 0, 1);
