-- Frozen. A phone somewhere has run this text; what changes is said by the next numbered file.
--
-- `seal` in every table: the first 16 bytes of the SHA-256 over the row's other columns, each preceded by
-- its length. SQLite sees that a tree of pages is broken, not that a letter inside a row has turned.

PRAGMA application_id = 1214541163; -- 'Hdmk'

CREATE TABLE identity (
    -- Which of this phone's identities; the newest counts. A restored phone adds one.
    number INTEGER PRIMARY KEY,
    -- The log this identity writes: SHA-256 of its public key.
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    -- The secret key as the phone's key store sealed it. Opaque here.
    sealed_key BLOB NOT NULL DEFAULT (x''),
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

CREATE TABLE entry (
    -- The order in which entries came to this phone. Never a clock.
    arrival INTEGER PRIMARY KEY,
    -- Whose log.
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    -- Place in that log, from 1.
    seq INTEGER NOT NULL DEFAULT 0 CHECK (seq >= 1),
    -- SHA-256 of this entry's payload.
    hash BLOB NOT NULL DEFAULT (x'') CHECK (length(hash) = 32),
    -- SHA-256 of the payload before it; empty for the first.
    previous BLOB NOT NULL DEFAULT (x'') CHECK (length(previous) IN (0, 32)),
    -- What the entry is, as the record format numbers it.
    kind INTEGER NOT NULL DEFAULT 0,
    -- The entry exactly as it was signed or as it arrived. Never encoded anew.
    bytes BLOB NOT NULL DEFAULT (x'') CHECK (length(bytes) > 0),
    seal BLOB NOT NULL DEFAULT (x''),
    UNIQUE (log, seq)
) STRICT;

-- The log only grows. `recursive_triggers` is on, so that INSERT OR REPLACE meets the second one too.
CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the log is never changed');
END;

CREATE TRIGGER entry_never_leaves BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the log is never deleted');
END;

-- A view of the log: can be emptied and filled again from `entry`.
CREATE TABLE signed_visit (
    log BLOB NOT NULL DEFAULT (x''),
    seq INTEGER NOT NULL DEFAULT 0,
    -- Arrival of the entry: the order to show.
    arrival INTEGER NOT NULL DEFAULT 0 UNIQUE,
    -- The tag folded for comparison, and as written.
    tag_key TEXT NOT NULL DEFAULT '',
    tag TEXT NOT NULL DEFAULT '',
    service TEXT NOT NULL DEFAULT '',
    site TEXT NOT NULL DEFAULT '',
    -- What the phone's clock claimed, in milliseconds since 1970.
    signed_at INTEGER NOT NULL DEFAULT 0,
    -- The verdict in a line.
    verdict TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (log, seq)
) STRICT;

CREATE INDEX signed_visit_by_tag ON signed_visit (tag_key, arrival);

-- A visit under way. The one thing here that exists nowhere else until it is signed.
CREATE TABLE draft (
    id TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (id <> ''),
    tag TEXT NOT NULL DEFAULT '',
    -- Counts saves of all drafts: the highest was touched last.
    touched INTEGER NOT NULL DEFAULT 0 UNIQUE,
    -- What the phone's clock claimed at the last save, in milliseconds since 1970.
    saved_at INTEGER NOT NULL DEFAULT 0,
    -- The draft as its owner wrote it.
    body TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Which register is loaded. One row or none.
CREATE TABLE register (
    one INTEGER PRIMARY KEY DEFAULT 1 CHECK (one = 1),
    name TEXT NOT NULL DEFAULT '',
    -- The register's own date, as its file wrote it.
    dated TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- What a search goes through: short rows, apart from the long sheets.
CREATE TABLE instrument (
    -- The tag folded for comparison.
    tag_key TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (tag_key <> ''),
    tag TEXT NOT NULL DEFAULT '',
    service TEXT NOT NULL DEFAULT '',
    site TEXT NOT NULL DEFAULT '',
    serial TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- The whole register row of an instrument, as text.
CREATE TABLE sheet (
    tag_key TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (tag_key <> ''),
    body TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Codes that stand on instruments. One code may be claimed by several: that is for a person to settle.
-- A rowid table on purpose: the index below holds all columns, so a lookup reads nothing else, and the
-- table stands as the second copy that the check at opening compares it with.
CREATE TABLE code (
    number INTEGER PRIMARY KEY,
    -- The code's whole text.
    code TEXT NOT NULL DEFAULT '',
    tag TEXT NOT NULL DEFAULT '',
    UNIQUE (code, tag)
) STRICT;

CREATE TABLE setting (
    name TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (name <> ''),
    value TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;
