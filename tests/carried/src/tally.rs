//! Counting what goes over a connection: all bytes, those of TLS after its handshake, and how often the turn changes.
//!
//! It reads only what TLS 1.3 leaves open: the five bytes before each record. What the client sends first under a key
//! ends its handshake; from there on everything counts as the application's, the records' own frames, tickets and alerts
//! included, so that the count is never too low.

use crate::Way;

/// The type of a record that holds what is encrypted (RFC 8446, 5.1).
const ENCRYPTED: u8 = 23;

/// What went over one connection, or several.
#[derive(Debug, Clone, Copy, Default, PartialEq, Eq)]
pub struct Counted {
    /// Connections.
    pub connections: u64,
    /// All bytes up, from the phone to the hub.
    pub up: u64,
    /// All bytes down.
    pub down: u64,
    /// Those up after the handshake.
    pub up_after: u64,
    /// Those down after the handshake.
    pub down_after: u64,
    /// Round trips after the handshake: how often the hub answered after the phone spoke.
    pub rounds: u64,
}

impl Counted {
    /// Adds another connection's.
    #[must_use]
    pub fn and(self, other: Counted) -> Counted {
        Counted {
            connections: self.connections + other.connections,
            up: self.up + other.up,
            down: self.down + other.down,
            up_after: self.up_after + other.up_after,
            down_after: self.down_after + other.down_after,
            rounds: self.rounds + other.rounds,
        }
    }
}

/// Counts one connection.
#[derive(Debug, Clone, Default)]
pub struct Tally {
    counted: Counted,
    up: Records,
    down: Records,
    ended_handshake: bool,
    hub_has_word: bool,
}

/// Where the borders between records are, in one direction.
#[derive(Debug, Clone, Default)]
struct Records {
    head: Vec<u8>,
    left: usize,
}

impl Tally {
    /// Begins to count a connection.
    #[must_use]
    pub fn of_connection() -> Tally {
        Tally { counted: Counted { connections: 1, ..Counted::default() }, ..Tally::default() }
    }

    /// Returns what was counted so far.
    #[must_use]
    pub fn counted(&self) -> Counted {
        self.counted
    }

    /// Bytes went over.
    pub fn went(&mut self, way: Way, bytes: &[u8]) {
        match way {
            Way::Up => self.counted.up += bytes.len() as u64,
            Way::Down => self.counted.down += bytes.len() as u64,
        }
        for byte in bytes {
            let records = if way == Way::Up { &mut self.up } else { &mut self.down };
            if let Some((kind, length)) = records.border(*byte) {
                self.record(way, kind, length);
            }
        }
    }

    fn record(&mut self, way: Way, kind: u8, length: usize) {
        let whole = length as u64 + 5;
        match (way, self.ended_handshake) {
            (Way::Up, false) => self.ended_handshake = kind == ENCRYPTED,
            (Way::Up, true) => {
                self.counted.up_after += whole;
                self.hub_has_word = true;
            }
            (Way::Down, true) => {
                self.counted.down_after += whole;
                self.counted.rounds += u64::from(self.hub_has_word);
                self.hub_has_word = false;
            }
            (Way::Down, false) => {}
        }
    }
}

impl Records {
    /// Takes a byte; returns type and length of the record that begins, once its head is whole.
    fn border(&mut self, byte: u8) -> Option<(u8, usize)> {
        if self.left > 0 {
            self.left -= 1;
            return None;
        }
        self.head.push(byte);
        let [kind, _, _, high, low] = *self.head.as_slice() else { return None };
        self.head.clear();
        self.left = usize::from(high) * 256 + usize::from(low);
        Some((kind, self.left))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn record(kind: u8, length: u8) -> Vec<u8> {
        let mut bytes = vec![kind, 3, 3, 0, length];
        bytes.resize(5 + usize::from(length), 0xee);
        bytes
    }

    /// A hello each way, the hub's flight, the phone's last word of the handshake; a question of two records, answered in
    /// one; a question, answered. Worked out by hand: up 105 + 41 + 2 * 15 + 15 + 8, down 65 + 75 + 25 + 25.
    #[test]
    fn a_connection_is_counted_however_it_is_cut_into_pieces() {
        let talk = [
            (Way::Up, record(22, 100)),
            (Way::Down, [record(22, 60), record(ENCRYPTED, 70)].concat()),
            (Way::Up, [record(ENCRYPTED, 36), record(ENCRYPTED, 10), record(ENCRYPTED, 10)].concat()),
            (Way::Down, record(ENCRYPTED, 20)),
            (Way::Up, record(ENCRYPTED, 10)),
            (Way::Down, record(ENCRYPTED, 20)),
            // A farewell, which nobody answers.
            (Way::Up, record(ENCRYPTED, 3)),
        ];
        let expected =
            Counted { connections: 1, up: 199, down: 190, up_after: 53, down_after: 50, rounds: 2 };
        for piece in [1, 3, 1000] {
            let mut tally = Tally::of_connection();
            for (way, bytes) in &talk {
                bytes.chunks(piece).for_each(|bytes| tally.went(*way, bytes));
            }
            assert_eq!(tally.counted(), expected, "in pieces of {piece}");
        }
    }
}
