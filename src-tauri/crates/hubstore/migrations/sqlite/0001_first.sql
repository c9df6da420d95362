-- Frozen. A hub somewhere has run this text; what changes is said by the next numbered file.
--
-- The same tables as in `migrations/postgres`, column by column. Nothing is NULL: an empty blob or text says "none".

PRAGMA application_id = 1214539874; -- 'Hdhb'

-- Numbers that follow the order of commits: taken and written back within the transaction that uses them.
CREATE TABLE counter (
    -- 'arrival' or 'version'.
    name TEXT NOT NULL DEFAULT '' PRIMARY KEY,
    -- The newest number that was given.
    value INTEGER NOT NULL DEFAULT 0
) STRICT;

INSERT INTO counter (name, value) VALUES ('arrival', 0), ('version', 0);

-- Which hub this is. One row or none.
CREATE TABLE hub (
    one INTEGER PRIMARY KEY DEFAULT 1 CHECK (one = 1),
    -- Random, new at every restore.
    epoch BLOB NOT NULL DEFAULT (x'') CHECK (length(epoch) = 16),
    -- The log that the hub signs in this epoch.
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    -- The organisation's public key, as COSE_Key.
    organisation BLOB NOT NULL DEFAULT (x'')
) STRICT;

CREATE TABLE setting (
    name TEXT NOT NULL DEFAULT '' PRIMARY KEY,
    value BLOB NOT NULL DEFAULT (x'')
) STRICT;

CREATE TABLE log (
    -- SHA-256 of the key.
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(log) = 32),
    -- The public key, as COSE_Key.
    key BLOB NOT NULL DEFAULT (x''),
    -- 0 parked, 1 known, 2 revoked.
    standing INTEGER NOT NULL DEFAULT 0 CHECK (standing IN (0, 1, 2)),
    -- Of a revoked log the last entry that counts; 0 and empty for none.
    last_seq INTEGER NOT NULL DEFAULT 0,
    last_hash BLOB NOT NULL DEFAULT (x'')
) STRICT, WITHOUT ROWID;

CREATE TABLE entry (
    -- The order in which entries came. Never a clock.
    arrival INTEGER PRIMARY KEY,
    -- Whose log, which place, SHA-256 of the payload: the identity.
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    seq INTEGER NOT NULL DEFAULT 0 CHECK (seq >= 1),
    hash BLOB NOT NULL DEFAULT (x'') CHECK (length(hash) = 32),
    -- The payload before it; empty for the first.
    previous BLOB NOT NULL DEFAULT (x'') CHECK (length(previous) IN (0, 32)),
    kind INTEGER NOT NULL DEFAULT 0,
    -- Length of the bytes, so that a page can be cut to measure without reading them.
    size INTEGER NOT NULL DEFAULT 0,
    -- Exactly as it arrived. Never encoded anew.
    bytes BLOB NOT NULL DEFAULT (x'') CHECK (length(bytes) > 0),
    UNIQUE (log, seq, hash)
) STRICT;

CREATE INDEX entry_by_kind ON entry (kind, arrival);

-- `recursive_triggers` is on, so that INSERT OR REPLACE meets the second one too.
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the ledger is never changed');
END;

CREATE TRIGGER entry_never_leaves BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the ledger is never deleted');
END;

-- What is held of a log without a gap. Two runs may cover one place: a fork.
CREATE TABLE run (
    log BLOB NOT NULL DEFAULT (x''),
    from_seq INTEGER NOT NULL DEFAULT 0,
    to_seq INTEGER NOT NULL DEFAULT 0,
    -- The payload at the last place.
    end_hash BLOB NOT NULL DEFAULT (x''),
    -- The payload that the first entry names; empty at the first place of a log.
    before BLOB NOT NULL DEFAULT (x''),
    -- Whether that payload is held too.
    rooted INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (log, to_seq, end_hash)
) STRICT, WITHOUT ROWID;

-- Places with more than one payload.
CREATE TABLE fork (
    log BLOB NOT NULL DEFAULT (x''),
    seq INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (log, seq)
) STRICT, WITHOUT ROWID;

-- Verified entries of logs that nobody vouches for yet.
CREATE TABLE parked (
    log BLOB NOT NULL DEFAULT (x''),
    seq INTEGER NOT NULL DEFAULT 0,
    hash BLOB NOT NULL DEFAULT (x''),
    -- Who brought it.
    carrier BLOB NOT NULL DEFAULT (x''),
    size INTEGER NOT NULL DEFAULT 0,
    bytes BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (log, seq, hash)
) STRICT;

CREATE INDEX parked_by_carrier ON parked (carrier, size);

-- Which entries the owner of a log has to hear of. An empty log stands for everyone.
CREATE TABLE concern (
    log BLOB NOT NULL DEFAULT (x''),
    arrival INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (log, arrival)
) STRICT, WITHOUT ROWID;

-- The newest receipt of each signer and grade.
CREATE TABLE receipt (
    -- The log it is about, and the log it stands in.
    log BLOB NOT NULL DEFAULT (x''),
    signer BLOB NOT NULL DEFAULT (x''),
    grade TEXT NOT NULL DEFAULT '',
    arrival INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (log, signer, grade)
) STRICT, WITHOUT ROWID;

-- The list of visits: a view of the entries.
CREATE TABLE visit (
    arrival INTEGER PRIMARY KEY,
    log BLOB NOT NULL DEFAULT (x''),
    seq INTEGER NOT NULL DEFAULT 0,
    hash BLOB NOT NULL DEFAULT (x''),
    -- The tag folded for comparison, and as written.
    tag_key TEXT NOT NULL DEFAULT '',
    tag TEXT NOT NULL DEFAULT '',
    site TEXT NOT NULL DEFAULT '',
    -- What the phone's clock claimed, in milliseconds since 1970.
    claimed INTEGER NOT NULL DEFAULT 0,
    -- The verdict's word.
    verdict TEXT NOT NULL DEFAULT '',
    technician BLOB NOT NULL DEFAULT (x''),
    -- The number of the measurement model.
    model INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE INDEX visit_by_tag ON visit (tag_key, arrival);
CREATE INDEX visit_by_site ON visit (site, arrival);

-- Visits that wait to be worked out again.
CREATE TABLE job (
    arrival INTEGER PRIMARY KEY,
    -- Until when somebody holds it, by the caller's clock.
    until INTEGER NOT NULL DEFAULT 0,
    tries INTEGER NOT NULL DEFAULT 0
) STRICT;

CREATE TABLE finding (
    arrival INTEGER PRIMARY KEY,
    word TEXT NOT NULL DEFAULT '',
    detail TEXT NOT NULL DEFAULT ''
) STRICT;

CREATE INDEX finding_by_word ON finding (word, arrival);

-- Photos that records cite.
CREATE TABLE photo (
    -- BLAKE3 of its bytes.
    hash BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(hash) = 32),
    length INTEGER NOT NULL DEFAULT 0,
    media TEXT NOT NULL DEFAULT '',
    whole INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;

CREATE INDEX photo_missing ON photo (whole, hash);

CREATE TABLE cite (
    log BLOB NOT NULL DEFAULT (x''),
    photo BLOB NOT NULL DEFAULT (x''),
    -- The newest entry of the log that cites it.
    arrival INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (log, photo)
) STRICT, WITHOUT ROWID;

-- Pieces that are here, of photos that are not whole.
CREATE TABLE piece (
    photo BLOB NOT NULL DEFAULT (x''),
    number INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (photo, number)
) STRICT, WITHOUT ROWID;

-- Sessions, one-time codes, sign-ins. Only the hash of a secret is kept.
CREATE TABLE token (
    -- 1 session, 2 code, 3 sign-in.
    purpose INTEGER NOT NULL DEFAULT 0,
    hash BLOB NOT NULL DEFAULT (x''),
    holder BLOB NOT NULL DEFAULT (x''),
    content BLOB NOT NULL DEFAULT (x''),
    expires INTEGER NOT NULL DEFAULT 0,
    PRIMARY KEY (purpose, hash)
) STRICT, WITHOUT ROWID;

CREATE INDEX token_by_holder ON token (purpose, holder);
CREATE INDEX token_by_end ON token (expires);

-- Phones that wait to be confirmed.
CREATE TABLE enrolment (
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY,
    key BLOB NOT NULL DEFAULT (x''),
    label TEXT NOT NULL DEFAULT '',
    content BLOB NOT NULL DEFAULT (x''),
    digits TEXT NOT NULL DEFAULT '',
    asked INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;

-- Requests counted by window.
CREATE TABLE strike (
    bucket TEXT NOT NULL DEFAULT '' PRIMARY KEY,
    begun INTEGER NOT NULL DEFAULT 0,
    count INTEGER NOT NULL DEFAULT 0
) STRICT, WITHOUT ROWID;

-- The hub's people. Names stand here only, where they can be erased.
CREATE TABLE person (
    id BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(id) = 16),
    name TEXT NOT NULL DEFAULT '' UNIQUE,
    -- argon2, as text; empty for one who cannot sign in.
    secret TEXT NOT NULL DEFAULT '',
    role TEXT NOT NULL DEFAULT ''
) STRICT, WITHOUT ROWID;

CREATE TABLE device (
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY,
    label TEXT NOT NULL DEFAULT '',
    -- Who carries it; empty for nobody in particular.
    person BLOB NOT NULL DEFAULT (x'')
) STRICT, WITHOUT ROWID;

-- The areas a phone gets. No row: all.
CREATE TABLE device_area (
    log BLOB NOT NULL DEFAULT (x''),
    -- Their order as given.
    number INTEGER NOT NULL DEFAULT 0,
    area TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (log, number)
) STRICT, WITHOUT ROWID;

-- The register: the newest change of each tag in each area.
CREATE TABLE register_row (
    tag TEXT NOT NULL DEFAULT '',
    area TEXT NOT NULL DEFAULT '',
    version INTEGER NOT NULL DEFAULT 0 UNIQUE,
    -- 1 where it is gone from the area.
    gone INTEGER NOT NULL DEFAULT 0,
    bytes BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (tag, area)
) STRICT;

CREATE INDEX register_row_by_area ON register_row (area, version);

-- All changes there ever were.
CREATE TABLE register_change (
    version INTEGER PRIMARY KEY,
    tag TEXT NOT NULL DEFAULT '',
    area TEXT NOT NULL DEFAULT '',
    gone INTEGER NOT NULL DEFAULT 0,
    bytes BLOB NOT NULL DEFAULT (x'')
) STRICT;

CREATE INDEX register_change_by_tag ON register_change (tag, version);
