-- Frozen. A phone somewhere has run this text; what changes is said by the next numbered file.
--
-- The log of one phone becomes the log of many: entries of other phones that are carried, entries that come out of
-- order, two payloads at one place. Beside it what an exchange needs to know. `seal` as in the first file.

-- As it was, but one place may hold several payloads: a fork, of which both branches are kept.
CREATE TABLE entry_of_many_logs (
    arrival INTEGER PRIMARY KEY,
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    seq INTEGER NOT NULL DEFAULT 0 CHECK (seq >= 1),
    hash BLOB NOT NULL DEFAULT (x'') CHECK (length(hash) = 32),
    previous BLOB NOT NULL DEFAULT (x'') CHECK (length(previous) IN (0, 32)),
    kind INTEGER NOT NULL DEFAULT 0,
    bytes BLOB NOT NULL DEFAULT (x'') CHECK (length(bytes) > 0),
    seal BLOB NOT NULL DEFAULT (x''),
    UNIQUE (log, seq, hash)
) STRICT;

INSERT INTO entry_of_many_logs (arrival, log, seq, hash, previous, kind, bytes, seal)
SELECT arrival, log, seq, hash, previous, kind, bytes, seal FROM entry ORDER BY arrival;

DROP TABLE entry;
ALTER TABLE entry_of_many_logs RENAME TO entry;

CREATE TRIGGER entry_never_changes BEFORE UPDATE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the log is never changed');
END;

CREATE TRIGGER entry_never_leaves BEFORE DELETE ON entry
BEGIN
    SELECT RAISE(ABORT, 'an entry of the log is never deleted');
END;

CREATE INDEX entry_by_kind ON entry (kind, arrival);

CREATE INDEX entry_by_hash ON entry (hash);

-- 1 where an identity's log may lack its end (the file was damaged): it is still this phone's, and nothing is
-- written behind it any more.
ALTER TABLE identity ADD COLUMN closed INTEGER NOT NULL DEFAULT 0 CHECK (closed IN (0, 1));

-- The area of the hub's feed that a line came with; empty for a register loaded from a file.
ALTER TABLE instrument ADD COLUMN area TEXT NOT NULL DEFAULT '';

CREATE INDEX instrument_by_area ON instrument (area);

-- Public keys by the log that they sign.
CREATE TABLE key (
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(log) = 32),
    -- The COSE_Key, whose SHA-256 is the log's name: it needs no seal.
    cose BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Pieces of each log's chain that are held without a gap. A view of `entry`, kept in the same transactions.
CREATE TABLE run (
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    first INTEGER NOT NULL DEFAULT 0 CHECK (first >= 1),
    last INTEGER NOT NULL DEFAULT 0 CHECK (last >= first),
    -- Hash of the payload at the last place.
    finish BLOB NOT NULL DEFAULT (x'') CHECK (length(finish) = 32),
    -- What the first entry names as the payload before it; empty at the first place.
    before BLOB NOT NULL DEFAULT (x'') CHECK (length(before) IN (0, 32)),
    -- 1 where that payload is held too, or there is none before.
    rooted INTEGER NOT NULL DEFAULT 0 CHECK (rooted IN (0, 1)),
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (log, finish)
) STRICT;

-- Entries of logs that nobody has vouched for yet: kept and passed on, and nothing else.
CREATE TABLE parked (
    arrival INTEGER PRIMARY KEY,
    -- Who brought it.
    carrier TEXT NOT NULL DEFAULT '',
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    seq INTEGER NOT NULL DEFAULT 0 CHECK (seq >= 1),
    hash BLOB NOT NULL DEFAULT (x'') CHECK (length(hash) = 32),
    previous BLOB NOT NULL DEFAULT (x'') CHECK (length(previous) IN (0, 32)),
    kind INTEGER NOT NULL DEFAULT 0,
    bytes BLOB NOT NULL DEFAULT (x'') CHECK (length(bytes) > 0),
    seal BLOB NOT NULL DEFAULT (x''),
    UNIQUE (log, seq, hash)
) STRICT;

CREATE INDEX parked_by_carrier ON parked (carrier);

-- What is said to be held elsewhere: by the newest receipt of each issuer for each log, epoch and grade. A view of the
-- receipts in `entry`.
CREATE TABLE receipt (
    issuer BLOB NOT NULL DEFAULT (x'') CHECK (length(issuer) = 32),
    -- 16 bytes; empty for a relay's.
    epoch BLOB NOT NULL DEFAULT (x'') CHECK (length(epoch) IN (0, 16)),
    log BLOB NOT NULL DEFAULT (x'') CHECK (length(log) = 32),
    grade TEXT NOT NULL DEFAULT '',
    -- Its place in the issuer's log: the highest is the newest.
    seq INTEGER NOT NULL DEFAULT 0,
    -- Hash of its payload.
    hash BLOB NOT NULL DEFAULT (x'') CHECK (length(hash) = 32),
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (log, epoch, grade, issuer)
) STRICT;

CREATE TABLE receipt_run (
    issuer BLOB NOT NULL DEFAULT (x''),
    epoch BLOB NOT NULL DEFAULT (x''),
    log BLOB NOT NULL DEFAULT (x''),
    grade TEXT NOT NULL DEFAULT '',
    first INTEGER NOT NULL DEFAULT 0,
    last INTEGER NOT NULL DEFAULT 0,
    finish BLOB NOT NULL DEFAULT (x''),
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (log, epoch, grade, issuer, first, finish)
) STRICT;

-- Photos that a receipt names. A receipt names the newest few thousand: what one named once stays named.
CREATE TABLE receipt_photo (
    photo BLOB NOT NULL DEFAULT (x'') CHECK (length(photo) = 32),
    epoch BLOB NOT NULL DEFAULT (x''),
    grade TEXT NOT NULL DEFAULT '',
    issuer BLOB NOT NULL DEFAULT (x''),
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (photo, epoch, grade, issuer)
) STRICT;

-- Photos by the BLAKE3 hash of their bytes, which lie in files beside this one.
CREATE TABLE photo (
    hash BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(hash) = 32),
    length INTEGER NOT NULL DEFAULT 0 CHECK (length >= 0),
    media TEXT NOT NULL DEFAULT '',
    -- `awaited`, `here` or `freed`.
    state TEXT NOT NULL DEFAULT 'awaited',
    -- How many bytes of an awaited one are synced in its partial file.
    got INTEGER NOT NULL DEFAULT 0,
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Which entry names a photo. A view of the observations in `entry`.
CREATE TABLE photo_cite (
    photo BLOB NOT NULL DEFAULT (x'') CHECK (length(photo) = 32),
    -- The observation's entry.
    arrival INTEGER NOT NULL DEFAULT 0,
    -- The draft or visit that it was made for; may be empty.
    made_for TEXT NOT NULL DEFAULT '',
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (photo, arrival)
) STRICT;

CREATE INDEX photo_cite_by_arrival ON photo_cite (arrival);

-- Which observations a visit names. A view of the visits in `entry`.
CREATE TABLE visit_cite (
    -- The visit's entry.
    arrival INTEGER NOT NULL DEFAULT 0,
    -- Hash of the observation's payload.
    observation BLOB NOT NULL DEFAULT (x'') CHECK (length(observation) = 32),
    seal BLOB NOT NULL DEFAULT (x''),
    PRIMARY KEY (arrival, observation)
) STRICT;

-- What was proposed to the register. A view of the proposals in `entry`.
CREATE TABLE proposal (
    -- The proposal's entry.
    arrival INTEGER PRIMARY KEY,
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Where instruments stand and what is to be done there.
CREATE TABLE whereabouts (
    -- The tag folded for comparison.
    tag_key TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (tag_key <> ''),
    -- As the register writes it.
    position TEXT NOT NULL DEFAULT '',
    -- Its latitude in millionths of a degree, rounded down; null where the register gives no position.
    latitude INTEGER,
    -- The day its next visit is due.
    due TEXT NOT NULL DEFAULT '',
    -- Why it stands on the work list.
    work TEXT NOT NULL DEFAULT '',
    -- 1 where people count in feet.
    feet INTEGER NOT NULL DEFAULT 0,
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

CREATE INDEX whereabouts_by_latitude ON whereabouts (latitude) WHERE latitude IS NOT NULL;
CREATE INDEX whereabouts_to_do ON whereabouts (due) WHERE due <> '' OR work <> '';

-- How far the hub's feed was followed, by area. No row where the register was loaded from a file.
CREATE TABLE feed (
    area TEXT NOT NULL DEFAULT '' PRIMARY KEY,
    epoch BLOB NOT NULL DEFAULT (x'') CHECK (length(epoch) = 16),
    version INTEGER NOT NULL DEFAULT 0 CHECK (version >= 0),
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Logs of the hub: the one it writes now and, where it was restored, those it wrote before.
CREATE TABLE hub_log (
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(log) = 32),
    epoch BLOB NOT NULL DEFAULT (x'') CHECK (length(epoch) IN (0, 16)),
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Logs that somebody vouched for: their entries go into `entry`, those of others into `parked`.
CREATE TABLE known_log (
    log BLOB NOT NULL DEFAULT (x'') PRIMARY KEY CHECK (length(log) = 32),
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- What the exchange keeps in mind: the hub, its epoch, where the news ended.
CREATE TABLE mark (
    name TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (name <> ''),
    value BLOB NOT NULL DEFAULT (x''),
    seal BLOB NOT NULL DEFAULT (x'')
) STRICT;

-- Damaged files beside this one whose content was taken over as far as it could be proved.
CREATE TABLE salvage (
    -- The file's name, without its folder.
    name TEXT NOT NULL DEFAULT '' PRIMARY KEY CHECK (name <> ''),
    entries INTEGER NOT NULL DEFAULT 0,
    drafts INTEGER NOT NULL DEFAULT 0,
    instruments INTEGER NOT NULL DEFAULT 0,
    other INTEGER NOT NULL DEFAULT 0,
    -- Rows that were read and could not be proved.
    unproved INTEGER NOT NULL DEFAULT 0
) STRICT;
