-- Frozen. A hub somewhere has run this text; what changes is said by the next numbered file.
--
-- How the phone knew who signs, beside the technician of a visit: `unlocked`, `pin` or `none`.
ALTER TABLE visit ADD COLUMN confirmed TEXT NOT NULL DEFAULT 'none';

-- What came before has it in its body: an array of two, the technician's 16 bytes, the word as a text (RFC 8949).
UPDATE visit SET confirmed = 'pin' WHERE EXISTS (
    SELECT 1 FROM entry WHERE entry.arrival = visit.arrival
    AND instr(entry.bytes, CAST(x'8250' || visit.technician || x'6370696e' AS BLOB)) > 0
);

UPDATE visit SET confirmed = 'unlocked' WHERE EXISTS (
    SELECT 1 FROM entry WHERE entry.arrival = visit.arrival
    AND instr(entry.bytes, CAST(x'8250' || visit.technician || x'68756e6c6f636b6564' AS BLOB)) > 0
);
