-- What people decided, a link a decision, each holding the hash of the one before. Nothing
-- but adding is allowed; docs/trail.md says how a link is hashed. AUTOINCREMENT keeps the
-- highest number ever given, so that a missing last link shows.
CREATE TABLE trail (
    link     INTEGER NOT NULL PRIMARY KEY AUTOINCREMENT,
    at       INTEGER NOT NULL,
    who      TEXT NOT NULL,
    kind     TEXT NOT NULL,
    what     TEXT NOT NULL,
    previous TEXT NOT NULL,
    hash     TEXT NOT NULL
) STRICT;

CREATE TRIGGER trail_is_not_rewritten BEFORE UPDATE ON trail BEGIN
    SELECT RAISE(ABORT, 'the trail is only added to');
END;

CREATE TRIGGER trail_is_not_shortened BEFORE DELETE ON trail BEGIN
    SELECT RAISE(ABORT, 'the trail is only added to');
END;

-- INSERT OR REPLACE would replace a link without asking the trigger above; and a link that
-- does not follow the last one would break the chain.
CREATE TRIGGER trail_goes_on BEFORE INSERT ON trail
WHEN NEW.link IS NOT (SELECT coalesce(max(link), 0) + 1 FROM trail)
    OR NEW.previous IS NOT coalesce(
        (SELECT hash FROM trail ORDER BY link DESC LIMIT 1),
        '0000000000000000000000000000000000000000000000000000000000000000'
    )
BEGIN
    SELECT RAISE(ABORT, 'the trail is only added to');
END;
