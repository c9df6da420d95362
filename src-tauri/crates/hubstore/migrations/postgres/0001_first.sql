-- Frozen. A hub somewhere has run this text; what changes is said by the next numbered file.
--
-- The same tables as in `migrations/sqlite`, column by column. Text is compared by its bytes. Nothing is NULL: empty bytes
-- or an empty text say "none".

-- Numbers that follow the order of commits: taken and written back within the transaction that uses them.
CREATE TABLE counter (
    -- 'arrival' or 'version'.
    name TEXT COLLATE "C" NOT NULL DEFAULT '' PRIMARY KEY,
    -- The newest number that was given.
    value BIGINT NOT NULL DEFAULT 0
);

INSERT INTO counter (name, value) VALUES ('arrival', 0), ('version', 0);

-- Which hub this is. One row or none.
CREATE TABLE hub (
    one BIGINT PRIMARY KEY DEFAULT 1 CHECK (one = 1),
    -- Random, new at every restore.
    epoch BYTEA NOT NULL DEFAULT '' CHECK (length(epoch) = 16),
    -- The log that the hub signs in this epoch.
    log BYTEA NOT NULL DEFAULT '' CHECK (length(log) = 32),
    -- The organisation's public key, as COSE_Key.
    organisation BYTEA NOT NULL DEFAULT ''
);

CREATE TABLE setting (
    name TEXT COLLATE "C" NOT NULL DEFAULT '' PRIMARY KEY,
    value BYTEA NOT NULL DEFAULT ''
);

CREATE TABLE log (
    -- SHA-256 of the key.
    log BYTEA NOT NULL DEFAULT '' PRIMARY KEY CHECK (length(log) = 32),
    -- The public key, as COSE_Key.
    key BYTEA NOT NULL DEFAULT '',
    -- 0 parked, 1 known, 2 revoked.
    standing BIGINT NOT NULL DEFAULT 0 CHECK (standing IN (0, 1, 2)),
    -- Of a revoked log the last entry that counts; 0 and empty for none.
    last_seq BIGINT NOT NULL DEFAULT 0,
    last_hash BYTEA NOT NULL DEFAULT ''
);

CREATE TABLE entry (
    -- The order in which entries came. Never a clock.
    arrival BIGINT PRIMARY KEY,
    -- Whose log, which place, SHA-256 of the payload: the identity.
    log BYTEA NOT NULL DEFAULT '' CHECK (length(log) = 32),
    seq BIGINT NOT NULL DEFAULT 0 CHECK (seq >= 1),
    hash BYTEA NOT NULL DEFAULT '' CHECK (length(hash) = 32),
    -- The payload before it; empty for the first.
    previous BYTEA NOT NULL DEFAULT '' CHECK (length(previous) IN (0, 32)),
    kind BIGINT NOT NULL DEFAULT 0,
    -- Length of the bytes, so that a page can be cut to measure without reading them.
    size BIGINT NOT NULL DEFAULT 0,
    -- Exactly as it arrived. Never encoded anew.
    bytes BYTEA NOT NULL DEFAULT '' CHECK (length(bytes) > 0),
    UNIQUE (log, seq, hash)
);

-- Kept as they are: trying to pack each entry costs more of the processor than all the rest of keeping it.
ALTER TABLE entry ALTER COLUMN bytes SET STORAGE EXTERNAL;

CREATE INDEX entry_by_kind ON entry (kind, arrival);

CREATE FUNCTION entry_stays() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'an entry of the ledger is never changed or deleted';
END
$$;

CREATE TRIGGER entry_never_changes BEFORE UPDATE OR DELETE OR TRUNCATE ON entry
FOR EACH STATEMENT EXECUTE FUNCTION entry_stays();

-- What is held of a log without a gap. Two runs may cover one place: a fork.
CREATE TABLE run (
    log BYTEA NOT NULL DEFAULT '',
    from_seq BIGINT NOT NULL DEFAULT 0,
    to_seq BIGINT NOT NULL DEFAULT 0,
    -- The payload at the last place.
    end_hash BYTEA NOT NULL DEFAULT '',
    -- The payload that the first entry names; empty at the first place of a log.
    before BYTEA NOT NULL DEFAULT '',
    -- Whether that payload is held too.
    rooted BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (log, to_seq, end_hash)
);

-- Places with more than one payload.
CREATE TABLE fork (
    log BYTEA NOT NULL DEFAULT '',
    seq BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (log, seq)
);

-- Verified entries of logs that nobody vouches for yet.
CREATE TABLE parked (
    log BYTEA NOT NULL DEFAULT '',
    seq BIGINT NOT NULL DEFAULT 0,
    hash BYTEA NOT NULL DEFAULT '',
    -- Who brought it.
    carrier BYTEA NOT NULL DEFAULT '',
    size BIGINT NOT NULL DEFAULT 0,
    bytes BYTEA NOT NULL DEFAULT '',
    PRIMARY KEY (log, seq, hash)
);

CREATE INDEX parked_by_carrier ON parked (carrier, size);

-- Which entries the owner of a log has to hear of. An empty log stands for everyone.
CREATE TABLE concern (
    log BYTEA NOT NULL DEFAULT '',
    arrival BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (log, arrival)
);

-- The newest receipt of each signer and grade.
CREATE TABLE receipt (
    -- The log it is about, and the log it stands in.
    log BYTEA NOT NULL DEFAULT '',
    signer BYTEA NOT NULL DEFAULT '',
    grade TEXT COLLATE "C" NOT NULL DEFAULT '',
    arrival BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (log, signer, grade)
);

-- The list of visits: a view of the entries.
CREATE TABLE visit (
    arrival BIGINT PRIMARY KEY,
    log BYTEA NOT NULL DEFAULT '',
    seq BIGINT NOT NULL DEFAULT 0,
    hash BYTEA NOT NULL DEFAULT '',
    -- The tag folded for comparison, and as written.
    tag_key TEXT COLLATE "C" NOT NULL DEFAULT '',
    tag TEXT COLLATE "C" NOT NULL DEFAULT '',
    site TEXT COLLATE "C" NOT NULL DEFAULT '',
    -- What the phone's clock claimed, in milliseconds since 1970.
    claimed BIGINT NOT NULL DEFAULT 0,
    -- The verdict's word.
    verdict TEXT COLLATE "C" NOT NULL DEFAULT '',
    technician BYTEA NOT NULL DEFAULT '',
    -- The number of the measurement model.
    model BIGINT NOT NULL DEFAULT 0
);

CREATE INDEX visit_by_tag ON visit (tag_key, arrival);
CREATE INDEX visit_by_site ON visit (site, arrival);

-- Visits that wait to be worked out again.
CREATE TABLE job (
    arrival BIGINT PRIMARY KEY,
    -- Until when somebody holds it, by the caller's clock.
    until BIGINT NOT NULL DEFAULT 0,
    tries BIGINT NOT NULL DEFAULT 0
);

CREATE TABLE finding (
    arrival BIGINT PRIMARY KEY,
    word TEXT COLLATE "C" NOT NULL DEFAULT '',
    detail TEXT COLLATE "C" NOT NULL DEFAULT ''
);

CREATE INDEX finding_by_word ON finding (word, arrival);

-- Photos that records cite.
CREATE TABLE photo (
    -- BLAKE3 of its bytes.
    hash BYTEA NOT NULL DEFAULT '' PRIMARY KEY CHECK (length(hash) = 32),
    length BIGINT NOT NULL DEFAULT 0,
    media TEXT COLLATE "C" NOT NULL DEFAULT '',
    whole BIGINT NOT NULL DEFAULT 0
);

CREATE INDEX photo_missing ON photo (whole, hash);

CREATE TABLE cite (
    log BYTEA NOT NULL DEFAULT '',
    photo BYTEA NOT NULL DEFAULT '',
    -- The newest entry of the log that cites it.
    arrival BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (log, photo)
);

-- Pieces that are here, of photos that are not whole.
CREATE TABLE piece (
    photo BYTEA NOT NULL DEFAULT '',
    number BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (photo, number)
);

-- Sessions, one-time codes, sign-ins. Only the hash of a secret is kept.
CREATE TABLE token (
    -- 1 session, 2 code, 3 sign-in.
    purpose BIGINT NOT NULL DEFAULT 0,
    hash BYTEA NOT NULL DEFAULT '',
    holder BYTEA NOT NULL DEFAULT '',
    content BYTEA NOT NULL DEFAULT '',
    expires BIGINT NOT NULL DEFAULT 0,
    PRIMARY KEY (purpose, hash)
);

CREATE INDEX token_by_holder ON token (purpose, holder);
CREATE INDEX token_by_end ON token (expires);

-- Phones that wait to be confirmed.
CREATE TABLE enrolment (
    log BYTEA NOT NULL DEFAULT '' PRIMARY KEY,
    key BYTEA NOT NULL DEFAULT '',
    label TEXT COLLATE "C" NOT NULL DEFAULT '',
    content BYTEA NOT NULL DEFAULT '',
    digits TEXT COLLATE "C" NOT NULL DEFAULT '',
    asked BIGINT NOT NULL DEFAULT 0
);

-- Requests counted by window.
CREATE TABLE strike (
    bucket TEXT COLLATE "C" NOT NULL DEFAULT '' PRIMARY KEY,
    begun BIGINT NOT NULL DEFAULT 0,
    count BIGINT NOT NULL DEFAULT 0
);

-- The hub's people. Names stand here only, where they can be erased.
CREATE TABLE person (
    id BYTEA NOT NULL DEFAULT '' PRIMARY KEY CHECK (length(id) = 16),
    name TEXT COLLATE "C" NOT NULL DEFAULT '' UNIQUE,
    -- argon2, as text; empty for one who cannot sign in.
    secret TEXT COLLATE "C" NOT NULL DEFAULT '',
    role TEXT COLLATE "C" NOT NULL DEFAULT ''
);

CREATE TABLE device (
    log BYTEA NOT NULL DEFAULT '' PRIMARY KEY,
    label TEXT COLLATE "C" NOT NULL DEFAULT '',
    -- Who carries it; empty for nobody in particular.
    person BYTEA NOT NULL DEFAULT ''
);

-- The areas a phone gets. No row: all.
CREATE TABLE device_area (
    log BYTEA NOT NULL DEFAULT '',
    -- Their order as given.
    number BIGINT NOT NULL DEFAULT 0,
    area TEXT COLLATE "C" NOT NULL DEFAULT '',
    PRIMARY KEY (log, number)
);

-- The register: the newest change of each tag in each area.
CREATE TABLE register_row (
    tag TEXT COLLATE "C" NOT NULL DEFAULT '',
    area TEXT COLLATE "C" NOT NULL DEFAULT '',
    version BIGINT NOT NULL DEFAULT 0 UNIQUE,
    -- 1 where it is gone from the area.
    gone BIGINT NOT NULL DEFAULT 0,
    bytes BYTEA NOT NULL DEFAULT '',
    PRIMARY KEY (tag, area)
);

CREATE INDEX register_row_by_area ON register_row (area, version);

-- All changes there ever were.
CREATE TABLE register_change (
    version BIGINT PRIMARY KEY,
    tag TEXT COLLATE "C" NOT NULL DEFAULT '',
    area TEXT COLLATE "C" NOT NULL DEFAULT '',
    gone BIGINT NOT NULL DEFAULT 0,
    bytes BYTEA NOT NULL DEFAULT ''
);

CREATE INDEX register_change_by_tag ON register_change (tag, version);
