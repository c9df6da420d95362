//! Writes a visit down as a technician answers it.

use domain::visit::{Choice, Draft, Instrument, Key, Moment, PieceId, PieceKind, Spot, Timing};

use crate::story::{Kind, Offset, Seen, Story, Told};

pub(crate) struct Pen<'a> {
    story: &'a Story,
    pub(crate) draft: Draft,
    clock: i64,
    /// When the display was read as found.
    found_at: i64,
}

/// Returns the draft of a visit up to the Shift step.
pub(crate) fn write(story: &Story) -> Draft {
    Pen::up_to_the_shift(story).draft
}

impl<'a> Pen<'a> {
    /// Writes a visit up to the Shift step.
    pub(crate) fn up_to_the_shift(story: &'a Story) -> Pen<'a> {
        let row: Instrument = serde_json::from_str(&story.register.row()).unwrap();
        let begun = Moment(1_795_600_000_000);
        let mut pen = Pen { story, draft: Draft::begin(row, begun), clock: begun.0, found_at: begun.0 };
        pen.choose(Key::TagMatches, Choice::Yes);
        pen.says(Key::SerialRead, story.serial);
        pen.choose(Key::RangeMatches, Choice::Yes);
        pen.found();
        pen.evidence();
        pen
    }
}

impl Pen<'_> {
    /// How far the level has moved since the display was read, when the next answer is entered.
    fn moved(&self) -> f64 {
        self.story.rate * ((self.clock + 20_000 - self.found_at) as f64 / 1000.0)
    }

    pub(crate) fn put(&mut self, spot: Spot, text: &str) {
        self.clock += 20_000;
        self.draft.answers.put(spot, text.to_owned(), Moment(self.clock));
    }

    pub(crate) fn says(&mut self, key: Key, text: &str) {
        self.put(Spot::of(key), text);
    }

    pub(crate) fn choose(&mut self, key: Key, choice: Choice) {
        self.put(Spot::of(key), choice.word());
    }

    pub(crate) fn reading(&mut self, spot: Spot, pascals: f64) {
        let text = self.story.register.written(pascals);
        self.put(spot, &text);
    }

    fn found(&mut self) {
        let story = self.story;
        let first = story.as_found().unwrap_or(0.0);
        let (choice, offset) = match story.offset {
            Offset::ReadToday(offset) => (Choice::OffsetReadToday, Some(offset)),
            Offset::OnRecord(offset) => (Choice::OffsetFromRecord, Some(offset)),
            Offset::Cleared(offset) => (Choice::OffsetClearedToday, Some(offset)),
            Offset::Unknown => (Choice::OffsetUnknown, None),
        };
        let cleared = choice == Choice::OffsetClearedToday;
        let display = if cleared { first + story.carried } else { first };
        self.reading(Spot::of(Key::Display), display);
        self.found_at = self.clock;
        for (row, off) in (0..).zip(story.repeats.iter().flatten()) {
            let digit = story.register.pascals(10_f64.powi(-(story.register.display.places as i32)));
            self.reading(Spot::row(Key::DisplayRepeat, row), first + off * digit);
        }
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
        if story.line {
            self.choose(Key::LineBled, Choice::BledClear);
        }
        if !story.closed {
            let vent = if story.vent_seen { Choice::VentClear } else { Choice::VentNotSeen };
            self.choose(Key::VentLooked, vent);
        }
        if let Some(celsius) = story.register.measured {
            self.says(Key::LiquidTemperature, &format!("{celsius:.1} degC"));
        }
        self.source(story.carried);
    }

    /// A five-point check as found.
    fn source(&mut self, offset: f64) {
        let story = self.story;
        let Some(check) = &story.check else { return };
        self.choose(Key::PressureSource, Choice::Yes);
        self.says(Key::SourceName, "Hand pump 3");
        self.says(Key::SourceUncertainty, &format!("{:.4} kPa", check.source / 1000.0));
        let applied = if check.simulated { Choice::SimulatedLevel } else { Choice::AppliedPressure };
        self.choose(Key::AppliedAs, applied);
        self.points(offset, Key::CheckApplied, Key::CheckDisplay);
    }

    /// The rows of a check.
    pub(crate) fn points(&mut self, offset: f64, applied: Key, display: Key) {
        let story = self.story;
        for (row, (pressure, shown)) in (0..).zip(story.check.iter().flat_map(|check| check.rows(offset))) {
            self.put(Spot::row(applied, row), &format!("{:.5}", story.register.number(pressure)));
            self.reading(Spot::row(display, row), shown);
        }
    }

    fn evidence(&mut self) {
        let story = self.story;
        // Where levels differ each piece has its own reading; else the display as found stands for all.
        let own = story.kind.two_levels();
        for seen in &story.seen {
            self.level(seen, own, Timing::Before);
        }
        if let Some(measured) = story.measured {
            let id = self.add(PieceKind::Riser, Timing::Before);
            let text = story.register.length(measured);
            self.put(Spot::piece(id, Key::RiserHeight, 0), &text);
            self.put(Spot::piece(id, Key::RiserHow, 0), Choice::ByTape.word());
        }
        if let Some(vented) = story.vented {
            let id = self.add(PieceKind::Vented, Timing::Before);
            self.put(Spot::piece(id, Key::VentAllowed, 0), Choice::Yes.word());
            self.reading(Spot::piece(id, Key::VentedReading, 0), vented);
        }
        if story.kind == Kind::DipAndEarlier {
            let id = self.add(PieceKind::EarlierVisit, Timing::Before);
            self.put(Spot::piece(id, Key::EarlierSame, 0), Choice::Yes.word());
        }
    }

    /// A piece of evidence that tells a level, with a reading of its own where levels differ or move.
    pub(crate) fn level(&mut self, seen: &Seen, own: bool, timing: Timing) {
        let register = &self.story.register;
        let metre = self.story.truth.metre;
        let moving = self.story.rate != 0.0;
        let kind = match &seen.told {
            Told::Empty => PieceKind::KnownEmpty,
            Told::Dip(_) => PieceKind::Dip,
            Told::Drop(_) => PieceKind::Drop,
            Told::Overflow(_) => PieceKind::Overflow,
            Told::Other(_) => PieceKind::OtherInstrument,
        };
        let id = self.add(kind, timing);
        let at = |key| Spot::piece(id, key, 0);
        if own || moving {
            self.reading(at(Key::ReadingBefore), seen.shown + metre * self.moved());
        }
        match &seen.told {
            Told::Empty => self.put(at(Key::EmptySeen), Choice::SillSeen.word()),
            Told::Dip(rows) | Told::Drop(rows) => {
                let way = if kind == PieceKind::Dip { 1.0 } else { -1.0 };
                self.put(at(Key::TapeUsed), "T1");
                for (row, length) in (0..).zip(rows) {
                    let text = register.length(length + way * self.moved());
                    self.put(Spot::piece(id, Key::Dip, row), &text);
                }
            }
            Told::Overflow(None) => self.put(at(Key::OverflowSeen), Choice::Film.word()),
            Told::Overflow(Some(head)) => {
                self.put(at(Key::OverflowSeen), Choice::HeadMeasured.word());
                self.put(at(Key::OverflowHead), &register.length(*head));
            }
            Told::Other(level) => {
                self.put(at(Key::OtherUsed), crate::varied::OTHER.0);
                self.put(at(Key::OtherLevel), &register.length(*level));
            }
        }
        if moving {
            self.reading(at(Key::ReadingAfter), seen.shown + metre * self.moved());
        }
    }

    fn add(&mut self, kind: PieceKind, timing: Timing) -> PieceId {
        self.draft.add_piece(kind, timing)
    }
}
