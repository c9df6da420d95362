//! Writes a visit down as a technician answers it.

use domain::visit::{Choice, Draft, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing};

use crate::story::{Offset, Story, Told};

struct Pen<'a> {
    story: &'a Story,
    draft: Draft,
    clock: i64,
}

/// Returns the draft of a visit up to the Shift step.
pub(crate) fn write(story: &Story) -> Draft {
    let row: Instrument = serde_json::from_str(&story.register.row()).unwrap();
    let begun = Moment(1_795_600_000_000);
    let mut pen = Pen { story, draft: Draft::begin(row, begun), clock: begun.0 };
    pen.choose(Key::TagMatches, Choice::Yes);
    pen.says(Key::SerialRead, story.serial);
    pen.choose(Key::RangeMatches, Choice::Yes);
    pen.found();
    pen.evidence();
    pen.draft
}

impl Pen<'_> {
    fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    fn says(&mut self, key: Key, text: &str) {
        self.put(Spot::of(key), text);
    }

    fn choose(&mut self, key: Key, choice: Choice) {
        self.put(Spot::of(key), choice.word());
    }

    fn reading(&mut self, spot: Spot, pascals: f64) {
        let text = self.story.register.written(pascals);
        self.put(spot, &text);
    }

    fn found(&mut self) {
        let story = self.story;
        let first = story.seen.first().map_or(0.0, |seen| seen.shown);
        let (choice, offset) = match story.offset {
            Offset::ReadToday(offset) => (Choice::OffsetReadToday, Some(offset)),
            Offset::OnRecord(offset) => (Choice::OffsetFromRecord, Some(offset)),
            Offset::Cleared(offset) => (Choice::OffsetClearedToday, Some(offset)),
            Offset::Unknown => (Choice::OffsetUnknown, None),
        };
        let cleared = choice == Choice::OffsetClearedToday;
        let display = if cleared { first + story.carried } else { first };
        self.reading(Spot::of(Key::Display), display);
        self.choose(Key::OffsetKnown, choice);
        if let Some(offset) = offset {
            self.says(Key::OffsetValue, &format!("{:.3}", story.register.number(offset)));
        }
        if cleared {
            self.reading(Spot::of(Key::DisplayCleared), first);
        }
        if let Some(current) = story.current {
            self.says(Key::LoopCurrent, &format!("{current:.2}"));
        }
        if let Some(room) = story.room {
            let text = story.register.length(room);
            self.says(Key::ControlRoom, &text);
        }
        let place = if story.head_in_offset { Choice::HeadInOffset } else { Choice::HeadNowhere };
        self.choose(Key::StandingHeadAt, place);
        self.choose(Key::LineBled, Choice::BledClear);
        self.choose(Key::VentLooked, Choice::VentClear);
    }

    fn evidence(&mut self) {
        let story = self.story;
        // Where levels differ each piece has its own reading; else the display as found stands for all.
        let own = story.kind.two_levels();
        for seen in &story.seen {
            let (kind, rows) = match &seen.told {
                Told::Empty => (PieceKind::KnownEmpty, &Vec::new()),
                Told::Dip(rows) => (PieceKind::Dip, rows),
                Told::Drop(rows) => (PieceKind::Drop, rows),
            };
            let id = self.add(kind);
            if own {
                self.reading(Spot::piece(id, Key::ReadingBefore, 0), seen.shown);
            }
            if kind == PieceKind::KnownEmpty {
                self.put(Spot::piece(id, Key::EmptySeen, 0), Choice::SillSeen.word());
            } else {
                self.put(Spot::piece(id, Key::TapeUsed, 0), "T1");
            }
            for (row, length) in rows.iter().enumerate() {
                let text = story.register.length(*length);
                self.put(Spot::piece(id, Key::Dip, u32::try_from(row).unwrap()), &text);
            }
        }
        if let Some(measured) = story.measured {
            let id = self.add(PieceKind::Riser);
            let text = story.register.length(measured);
            self.put(Spot::piece(id, Key::RiserHeight, 0), &text);
            self.put(Spot::piece(id, Key::RiserHow, 0), Choice::ByTape.word());
        }
        if let Some(vented) = story.vented {
            let id = self.add(PieceKind::Vented);
            self.put(Spot::piece(id, Key::VentAllowed, 0), Choice::Yes.word());
            self.reading(Spot::piece(id, Key::VentedReading, 0), vented);
        }
    }

    fn add(&mut self, kind: PieceKind) -> PieceId {
        self.draft.add_piece(kind, Timing::Before)
    }
}
