INSERT INTO supply (id, name, unit, on_hand, spools) VALUES
    (2, 'Jute ribbon', 'length', 0, '[5000000000,800000000]'),
    (3, 'Joint tape', 'length', 0, '[]');
INSERT INTO offer (paper_id, shop, pack, price_minor, multi_packs, multi_minor)
VALUES (1, 'Paper stall', 10, 450, 3, 900);
INSERT INTO offer (supply_id, shop, spool_nm, price_minor) VALUES (2, 'Market hall', 10000000000, 320);
INSERT INTO class_money (class_id, fee_minor, margin, venue_minor, consumables, adhesive_id, dots_apart_nm)
VALUES (1, 1200, 20, 3000, 'use', 3, 25000000);
