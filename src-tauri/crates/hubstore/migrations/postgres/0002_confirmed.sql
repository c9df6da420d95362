-- Frozen. A hub somewhere has run this text; what changes is said by the next numbered file.
--
-- How the phone knew who signs, beside the technician of a visit: `unlocked`, `pin` or `none`.
ALTER TABLE visit ADD COLUMN confirmed TEXT COLLATE "C" NOT NULL DEFAULT 'none';

-- What came before has it in its body: an array of two, the technician's 16 bytes, the word as a text (RFC 8949).
UPDATE visit SET confirmed = 'pin' FROM entry WHERE entry.arrival = visit.arrival
    AND position('\x8250'::bytea || visit.technician || '\x6370696e'::bytea IN entry.bytes) > 0;

UPDATE visit SET confirmed = 'unlocked' FROM entry WHERE entry.arrival = visit.arrival
    AND position('\x8250'::bytea || visit.technician || '\x68756e6c6f636b6564'::bytea IN entry.bytes) > 0;
