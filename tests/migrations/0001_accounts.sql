INSERT INTO instructor (name, password_hash, created_at)
VALUES ('Ines', '$argon2id$v=19$m=19456,t=2,p=1$c2FtcGxl$c2FtcGxl', '2026-11-01T09:00:00Z');

INSERT INTO session (instructor_id, token_hash, created_at, last_seen_at, expires_at)
VALUES (1, x'01', '2026-11-01T09:00:00Z', '2026-11-01T09:05:00Z', '2026-11-15T09:00:00Z');

INSERT INTO one_time_link (purpose, token_hash, expires_at, used_at)
VALUES ('setup', x'02', '2026-11-02T09:00:00Z', '2026-11-01T09:00:00Z'),
       ('sign_in', x'03', '2026-11-02T09:00:00Z', NULL);
