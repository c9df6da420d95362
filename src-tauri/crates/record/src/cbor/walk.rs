//! Walks once through the bytes and finds the first flaw.

use super::{Fault, Flaw};

/// The most levels of arrays, maps and tags within each other.
pub const MAX_DEPTH: usize = 16;

/// Tags of numbers above 64 bits (RFC 8949, section 3.4.3).
const BIG_NUMBERS: [u64; 2] = [2, 3];

/// Checks that the bytes are one deterministic item and nothing else.
///
/// # Errors
///
/// The first flaw, with its place.
pub fn check(bytes: &[u8]) -> Result<(), Fault> {
    let (item, rest) = first(bytes)?;
    if rest.is_empty() { Ok(()) } else { Err(Fault { at: item.len(), flaw: Flaw::Trailing }) }
}

/// Checks the first item and returns it and what follows: the way to go through a CBOR sequence (RFC 8742).
///
/// # Errors
///
/// The first flaw within the first item, with its place.
pub fn first(bytes: &[u8]) -> Result<(&[u8], &[u8]), Fault> {
    let mut walk = Walk { bytes, at: 0 };
    walk.item(0)?;
    bytes.split_at_checked(walk.at).ok_or(Fault { at: walk.at, flaw: Flaw::CutShort })
}

struct Walk<'b> {
    bytes: &'b [u8],
    at: usize,
}

/// What the first byte of an item and its argument say.
struct Head {
    /// Where the item begins.
    at: usize,
    major: u8,
    /// The low five bits of the first byte.
    info: u8,
    argument: u64,
}

impl<'b> Walk<'b> {
    fn item(&mut self, depth: usize) -> Result<(), Fault> {
        let head = self.head()?;
        let wrong = |flaw| Err(Fault { at: head.at, flaw });
        if (4..=6).contains(&head.major) && depth >= MAX_DEPTH {
            return wrong(Flaw::TooDeep);
        }
        match head.major {
            0 | 1 => Ok(()),
            2 => self.take(head.argument, head.at).map(|_| ()),
            3 => match std::str::from_utf8(self.take(head.argument, head.at)?) {
                Ok(_) => Ok(()),
                Err(_) => wrong(Flaw::NotText),
            },
            4 => self.array(&head, depth),
            5 => self.map(&head, depth),
            6 if BIG_NUMBERS.contains(&head.argument) => wrong(Flaw::BigNumber),
            6 => self.item(depth + 1),
            _ => match head.info {
                20..=22 => Ok(()),
                25..=27 => wrong(Flaw::Float),
                _ => wrong(Flaw::Simple),
            },
        }
    }

    fn array(&mut self, head: &Head, depth: usize) -> Result<(), Fault> {
        (0..self.count(head, 1)?).try_for_each(|_| self.item(depth + 1))
    }

    fn map(&mut self, head: &Head, depth: usize) -> Result<(), Fault> {
        let mut before: &[u8] = &[];
        for _ in 0..self.count(head, 2)? {
            let from = self.at;
            self.item(depth + 1)?;
            let key = self.bytes.get(from..self.at).unwrap_or_default();
            // No encoded item is empty or begins with another, so the order of the bytes is the order of
            // section 4.2.1, and "not above" catches a key that stands twice.
            if key <= before {
                return Err(Fault { at: from, flaw: Flaw::KeyOrder });
            }
            before = key;
            self.item(depth + 1)?;
        }
        Ok(())
    }

    /// Returns a count of things of at least `each` bytes, refusing at once what cannot fit in what is left.
    fn count(&self, head: &Head, each: u64) -> Result<u64, Fault> {
        let left = self.bytes.len().saturating_sub(self.at) as u64;
        let fits = head.argument.checked_mul(each).is_some_and(|least| least <= left);
        if fits { Ok(head.argument) } else { Err(Fault { at: head.at, flaw: Flaw::CutShort }) }
    }

    fn head(&mut self) -> Result<Head, Fault> {
        let at = self.at;
        let byte = self.take(1, at)?.first().copied().unwrap_or_default();
        let (major, info) = (byte >> 5, byte & 31);
        let wrong = |flaw| Err(Fault { at, flaw });
        let (length, least) = match info {
            0..=23 => return Ok(Head { at, major, info, argument: u64::from(info) }),
            24 => (1, 24),
            25 => (2, 1 << 8),
            26 => (4, 1 << 16),
            27 => (8, 1 << 32),
            31 => return wrong(Flaw::Indefinite),
            _ => return wrong(Flaw::Reserved),
        };
        let argument = self.take(length, at)?.iter().fold(0, |sum, byte| sum << 8 | u64::from(*byte));
        // The bytes behind a float's head are the float itself and not a number to be kept short.
        if major != 7 && argument < least {
            return wrong(Flaw::NotShortest);
        }
        Ok(Head { at, major, info, argument })
    }

    fn take(&mut self, length: u64, item: usize) -> Result<&'b [u8], Fault> {
        let cut = Fault { at: item, flaw: Flaw::CutShort };
        let length = usize::try_from(length).map_err(|_| cut)?;
        let end = self.at.checked_add(length).ok_or(cut)?;
        let taken = self.bytes.get(self.at..end).ok_or(cut)?;
        self.at = end;
        Ok(taken)
    }
}
