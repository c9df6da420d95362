//! Entries to measure with.

use hubstore::{Index, NewEntry, VisitLine};
use record::{Claimed, EntryId, Kind, Link, LogId, PayloadHash, SecretKey, Seq, read_export, seal};

/// A phone's key.
pub(crate) fn phone(number: u8) -> SecretKey {
    SecretKey::take(&mut [number; 32])
}

/// A phone's log of visits: each says what the frozen example says, all of it, signed anew.
pub(crate) fn visits(key: &SecretKey, count: usize) -> Vec<Vec<u8>> {
    let file = include_bytes!("../../../../../tests/suite/wire/v2/visit.headmark");
    let example = read_export(file).unwrap();
    let (header, body) = (&example.entries[0].header, example.entries[0].body);
    let mut link = Link::First;
    let mut entries = Vec::with_capacity(count);
    for _ in 0..count {
        let new = record::NewEntry {
            link,
            kind: header.kind,
            body_version: header.body_version,
            claimed: header.claimed,
            boot: header.boot.clone(),
        };
        let sealed = seal(&new, body, key).unwrap();
        link = sealed.next();
        entries.push(sealed.bytes);
    }
    entries
}

/// A made-up log that grows: nobody signs what only fills a table.
pub(crate) struct MadeUp {
    log: LogId,
    seq: u64,
    tip: Option<PayloadHash>,
}

impl MadeUp {
    pub(crate) fn number(number: u32) -> MadeUp {
        MadeUp { log: LogId::of(&number.to_be_bytes()), seq: 0, tip: None }
    }

    pub(crate) fn log(&self) -> LogId {
        self.log
    }

    /// The next entry; 600 bytes that no packing makes short.
    pub(crate) fn next(&mut self, kind: Kind, index: Index) -> NewEntry {
        self.seq += 1;
        let payload = PayloadHash::of(&[&self.log.0[..], &self.seq.to_be_bytes()].concat());
        let bytes: Vec<u8> = payload.0.iter().cycle().take(600).copied().collect();
        let id = EntryId { log: self.log, seq: Seq::new(self.seq).unwrap(), payload };
        NewEntry { id, previous: self.tip.replace(payload), kind, bytes, index }
    }

    pub(crate) fn visit(&mut self, tag: u32) -> NewEntry {
        let claimed = Claimed { millis: 1_790_000_000_000, offset_minutes: 0 };
        let line = VisitLine {
            tag: format!("LT-{tag}"),
            site: format!("Site {}", tag % 300),
            claimed: claimed.millis,
            verdict: "verdict.inside".to_owned(),
            technician: bodies::PersonId([4; 16]),
            confirmed: bodies::Confirmed::Pin,
            model: 1,
        };
        self.next(bodies::VISIT, Index { visit: Some(line), ..Index::default() })
    }
}
