//! How the tape of a dip or drop hung: its temperature, its bob, its slant. When these are asked, and what they do.
//!
//! They are asked only where an ordinary departure would matter: where not knowing it would widen the uncertainty that is
//! stated for the tape by more than a tenth (2 mm of steel tape: from 7 m on for the temperature, from 10 m on for the
//! slant). Left open, the tape's stated uncertainty has to hold them, as it does for every shorter dip.

use uom::si::f64::{Length, TemperatureInterval, ThermodynamicTemperature};
use uom::si::length::meter;
use uom::si::temperature_interval::kelvin as kelvins;
use uom::si::thermodynamic_temperature::kelvin;

use super::asks::{Ask, MOST_DIPS, Takes};
use super::builder::dip_rows;
use super::entries::Entries;
use super::working::line;
use super::{Draft, Key, Known, KnownTape, Piece, Remark, Show, Spot, Value, WorkLine, known, moment, usual};
use crate::evidence::tape::{by_temperature, upright};
use crate::quantity::{LengthSystem, print_decimal, read_length};

/// What makes the reading of one dip's tape another length than the height it hung over.
pub(super) struct Hanging {
    pub(super) tape: KnownTape,
    /// The length as read: the mean of the repeats.
    pub(super) read: Length,
    /// How warm the tape was, where it was measured.
    pub(super) temperature: Option<ThermodynamicTemperature>,
    /// How far its foot hung sideways of its top, where that was seen and can be.
    pub(super) sideways: Option<Length>,
}

impl Hanging {
    pub(super) fn of(
        draft: &Draft,
        known: &Known,
        entries: &Entries,
        piece: &Piece,
        read: Length,
    ) -> Hanging {
        let spot = |key| Spot::piece(piece.id, key, 0);
        let temperature = match entries.at(spot(Key::TapeTemperature)).and_then(|entry| entry.value) {
            Some(Value::Temperature(temperature)) => Some(temperature),
            _ => None,
        };
        let sideways = entries.length(spot(Key::TapeSideways)).map(|(sideways, _)| sideways);
        let id = draft.answers.text(spot(Key::TapeUsed)).trim();
        Hanging {
            tape: known.tape(id),
            read,
            temperature,
            sideways: sideways.filter(|sideways| upright(read, *sideways).is_some()),
        }
    }

    /// By how much the tape is warmer than when it is true.
    pub(super) fn warmer(&self) -> Option<TemperatureInterval> {
        let at = self.tape.made.at.get::<kelvin>();
        self.temperature.map(|now| TemperatureInterval::new::<kelvins>(now.get::<kelvin>() - at))
    }

    fn by_temperature(&self) -> Option<Length> {
        Some(by_temperature(self.read, self.tape.made.expansion, self.warmer()?))
    }

    fn by_stretch(&self) -> Option<Length> {
        let stretch = self.tape.made.stretch;
        (stretch.value.abs() > 0.0).then(|| self.read * stretch)
    }

    /// By how much the line was longer than the height.
    pub(super) fn slant(&self) -> Option<Length> {
        Some(self.read - upright(self.read, self.sideways?)?)
    }

    /// The height that the tape hung over.
    fn height(&self) -> Length {
        let none = Length::default();
        let longer = self.by_temperature().unwrap_or(none) + self.by_stretch().unwrap_or(none);
        self.read + longer - self.slant().unwrap_or(none)
    }

    fn corrected(&self) -> bool {
        self.temperature.is_some() || self.sideways.is_some() || self.by_stretch().is_some()
    }

    /// The corrections line by line, and the height they leave; what was read where nothing is corrected.
    pub(super) fn working(&self, show: &Show<'_>) -> (Vec<WorkLine>, Length) {
        let metres = |length: Length| print_decimal(length.get::<meter>(), 4);
        let mut lines = Vec::new();
        if let (Some(by), Some(warmer), Some(now)) = (self.by_temperature(), self.warmer(), self.temperature)
        {
            let part = self.tape.made.expansion.value * 1e6;
            let how = format!(
                "{} m x {} millionths per K x {} K, true at {}",
                metres(self.read),
                print_decimal(part, 1),
                print_decimal(warmer.get::<kelvins>(), 1),
                show.temperature(self.tape.made.at),
            );
            lines.push(line(format!("tape at {}", show.temperature(now)), how, show.signed(by)));
        }
        if let Some(by) = self.by_stretch() {
            let part = print_decimal(self.tape.made.stretch.value * 1e6, 1);
            let how = format!("{} m x {part} millionths", metres(self.read));
            lines.push(line("tape under its bob", how, show.signed(by)));
        }
        if let (Some(slant), Some(sideways)) = (self.slant(), self.sideways) {
            let how = format!("root of {0} m x {0} m - {1} m x {1} m", metres(self.read), metres(sideways));
            lines.push(line(format!("line {} off plumb", show.small(sideways)), how, show.signed(-slant)));
        }
        if self.corrected() {
            let how = format!("read {} and what corrects it", show.length(self.read));
            lines.push(line("height by the tape", how, show.both(self.height())));
        }
        (lines, self.height())
    }
}

fn mean(draft: &Draft, entries: &Entries, piece: &Piece) -> Option<Length> {
    let rows = dip_rows(draft, entries, piece);
    let repeats: Vec<_> = rows.into_iter().map(|row| row.repeat).collect();
    crate::evidence::Repeats::of(&repeats, usual::one_dip()).ok().map(|taken| taken.mean)
}

/// Returns what is asked of the tape beyond its name: nothing where it would not matter.
pub(super) fn asks(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key| Spot::piece(piece.id, key, 0);
    let longest = longest(draft, piece);
    let tape = known::tape_of(&draft.instrument, draft.answers.text(at(Key::TapeUsed)).trim());
    let matters = |half: &dyn Fn(Length) -> Length| {
        longest.is_some_and(|read| worth_asking(half(read), tape.standard_on(moment::day(draft))))
    };
    let warm = |read| by_temperature(read, tape.made.expansion, usual::tape_unmeasured());
    let slant = |read: Length| (read - upright(read, read * usual::OFF_PLUMB).unwrap_or(read)) * 0.5;
    // What was answered stays in sight, also where a shorter dip would not ask for it.
    let asked = |key, matters: bool| matters || draft.answers.get(at(key)).is_some();
    let mut more = Vec::new();
    if asked(Key::TapeTemperature, matters(&warm)) {
        more.push(Ask::may(at(Key::TapeTemperature), Takes::Temperature));
    }
    if asked(Key::TapeSideways, matters(&slant)) {
        more.push(Ask::may(at(Key::TapeSideways), Takes::Length));
    }
    more
}

/// Tells whether a half-width that nobody asks for would widen a standard uncertainty by more than is let go.
fn worth_asking(half: Length, standard: Length) -> bool {
    let with = libm::hypot(standard.value, half.value / libm::sqrt(3.0));
    with > standard.value * (1.0 + usual::WORTH_ASKING)
}

/// The longest of a piece's dips that can be read.
fn longest(draft: &Draft, piece: &Piece) -> Option<Length> {
    let people = LengthSystem::from_word(draft.instrument.site.lengths.trim())?;
    let text = |row| draft.answers.get(Spot::piece(piece.id, Key::Dip, row));
    let read = |row| read_length(&text(row)?.text, people).ok().map(|entry| entry.value);
    (0..MOST_DIPS).filter_map(read).reduce(Length::max)
}

/// Returns what is to be said of how the tape hung.
pub(super) fn remarks(
    draft: &Draft,
    known: &Known,
    entries: &Entries,
    piece: &Piece,
    show: &Show<'_>,
) -> Vec<Remark> {
    let Some(read) = mean(draft, entries, piece) else { return Vec::new() };
    let hanging = Hanging::of(draft, known, entries, piece, read);
    let mut said = Vec::new();
    if entries.length(Spot::piece(piece.id, Key::TapeSideways, 0)).is_some() && hanging.sideways.is_none() {
        said.push(Remark::impossible(
            "tape.sideways",
            "A line cannot hang further off plumb than it is long.",
            "Write how far its foot stood sideways of its top, or leave the field empty.",
        ));
    }
    if hanging.corrected() {
        let by = show.signed(hanging.height() - read);
        let level = "The level is reckoned with that; what was read stands as it was.";
        said.push(Remark::note("tape.corrected", format!("How the tape hung makes {by} of it. {level}")));
    }
    said
}

impl KnownTape {
    /// Returns its standard uncertainty on a day: wider where its check is overdue.
    pub(super) fn standard_on(&self, day: i64) -> Length {
        if moment::overdue(&self.due, day) { self.standard * usual::OVERDUE } else { self.standard }
    }
}
