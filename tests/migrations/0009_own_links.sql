INSERT INTO link (class_id, role, token_hash, created_at, expires_at, attendee_id, seed)
SELECT 1, 'attendee', 'decade', '2026-11-20T10:00:00Z', '2026-12-20T10:00:00Z', id,
       '000102030405060708090a0b0c0d0e0f'
FROM attendee;
