//! A person who fills a visit in, one answer after the other.

use domain::visit::{
    Assessment, Choice, Draft, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing, assess,
};

/// The visit, and the time of the last answer in milliseconds.
pub(crate) struct Person {
    pub(crate) draft: Draft,
    clock: i64,
}

impl Person {
    /// Before an instrument whose display was read; with an offset, one read today, that takes the standing head out.
    pub(crate) fn at(row: Instrument, display: &str, offset: Option<&str>) -> Person {
        let begun = Moment(1_795_600_000_000);
        let mut person = Person { draft: Draft::begin(row, begun), clock: begun.0 };
        person.put(Spot::of(Key::Display), display);
        let known = offset.map_or(Choice::OffsetUnknown, |_| Choice::OffsetReadToday);
        person.put(Spot::of(Key::OffsetKnown), known.word());
        if let Some(offset) = offset {
            person.put(Spot::of(Key::OffsetValue), offset);
        }
        person.put(Spot::of(Key::StandingHeadAt), Choice::HeadInOffset.word());
        person.put(Spot::of(Key::LineBled), Choice::BledClear.word());
        person
    }

    /// Before an instrument whose display was read, whose offset nobody knows and whose standing head is taken out nowhere;
    /// its vent was looked at.
    pub(crate) fn untrimmed(row: Instrument, display: &str) -> Person {
        let begun = Moment(1_795_600_000_000);
        let mut person = Person { draft: Draft::begin(row, begun), clock: begun.0 };
        for (key, text) in [
            (Key::Display, display),
            (Key::OffsetKnown, Choice::OffsetUnknown.word()),
            (Key::StandingHeadAt, Choice::HeadNowhere.word()),
            (Key::VentLooked, Choice::VentClear.word()),
        ] {
            person.put(Spot::of(key), text);
        }
        person
    }

    pub(crate) fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    pub(crate) fn piece(&mut self, kind: PieceKind) -> PieceId {
        self.draft.add_piece(kind, Timing::Before)
    }

    /// Adds a piece of evidence with its answers, by key and row.
    pub(crate) fn tells(&mut self, kind: PieceKind, answers: &[(Key, u32, &str)]) -> PieceId {
        let id = self.piece(kind);
        for (key, row, text) in answers {
            self.put(Spot::piece(id, *key, *row), text);
        }
        id
    }

    pub(crate) fn empty(mut self) -> Person {
        let id = self.piece(PieceKind::KnownEmpty);
        self.put(Spot::piece(id, Key::EmptySeen, 0), Choice::SillSeen.word());
        self
    }

    pub(crate) fn assessed(&self) -> Assessment {
        assess(&self.draft).unwrap()
    }
}
