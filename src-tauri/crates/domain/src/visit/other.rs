//! Another instrument tells the level. It must have a sensor of its own: the same transmitter seen again, on a loop
//! display or in the control room, says nothing new.

use super::asks::{Ask, Opt, Takes, one_of};
use super::entries::Entries;
use super::known::KnownOther;
use super::{Choice, Draft, Key, Known, Piece, Remark, Spot};
use uom::si::f64::Length;

/// What another instrument tells.
pub(super) struct Told {
    pub(super) name: String,
    pub(super) level: Length,
    pub(super) step: Length,
    pub(super) expanded: Length,
    pub(super) by_hatch: bool,
    pub(super) by_pressure: bool,
}

/// Returns what another instrument tells, where it may be heard.
pub(super) fn told(draft: &Draft, known: &Known, entries: &Entries, piece: &Piece) -> Option<Told> {
    if same_transmitter(draft, piece) {
        return None;
    }
    let (level, step) = entries.piece_length(piece.id, Key::OtherLevel, 0)?;
    let name = name(draft, piece).to_owned();
    if let Some(other) = listed(draft, known, piece) {
        let KnownOther { expanded, by_hatch, by_pressure, .. } = *other;
        return Some(Told { name, level, step, expanded, by_hatch, by_pressure });
    }
    let own = draft.answers.choice(Spot::piece(piece.id, Key::OtherOwnSensor, 0)) == Some(Choice::Yes);
    let (expanded, _) = entries.piece_length(piece.id, Key::OtherUncertainty, 0)?;
    own.then_some(Told { name, level, step, expanded, by_hatch: false, by_pressure: false })
}

fn name<'d>(draft: &'d Draft, piece: &Piece) -> &'d str {
    draft.answers.text(Spot::piece(piece.id, Key::OtherUsed, 0)).trim()
}

fn listed<'k>(draft: &Draft, known: &'k Known, piece: &Piece) -> Option<&'k KnownOther> {
    let name = name(draft, piece);
    known.others.iter().find(|other| other.name == name)
}

/// Tells whether what was named is this very transmitter: by its tag, its serial, or as seen from the control room.
fn same_transmitter(draft: &Draft, piece: &Piece) -> bool {
    let plain = |text: &str| {
        text.chars().filter(|c| c.is_alphanumeric()).flat_map(char::to_lowercase).collect::<String>()
    };
    let named = plain(name(draft, piece));
    let instrument = &draft.instrument;
    let same = |text: &str| !named.is_empty() && named == plain(text);
    let room = named.contains("controlroom") || named.contains("scada");
    let denied = draft.answers.choice(Spot::piece(piece.id, Key::OtherOwnSensor, 0)) == Some(Choice::No);
    same(&instrument.tag) || same(&instrument.serial) || room || denied
}

/// Returns what is asked about another instrument; its uncertainty only where the register has none.
pub(super) fn asks(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key| Spot::piece(piece.id, key, 0);
    let others = &draft.instrument.others;
    let listed = |other: &super::Other| {
        Opt::data(other.name.trim(), format!("{}, ± {}", other.name.trim(), other.uncertainty))
    };
    let mut asked = vec![
        Ask::must(at(Key::OtherUsed), Takes::Text(others.iter().map(listed).collect())),
        Ask::may(at(Key::ReadingBefore), Takes::Reading),
        Ask::must(at(Key::OtherLevel), Takes::Length),
    ];
    let named = name(draft, piece);
    if !named.is_empty() && !others.iter().any(|other| other.name.trim() == named) {
        asked.push(Ask::must(at(Key::OtherOwnSensor), one_of(&[Choice::Yes, Choice::No])));
        asked.push(Ask::must(at(Key::OtherUncertainty), Takes::Length));
    }
    asked.push(Ask::may(at(Key::ReadingAfter), Takes::Reading));
    asked
}

/// Returns what is to be said about it.
pub(super) fn remarks(draft: &Draft, known: &Known, piece: &Piece) -> Vec<Remark> {
    if same_transmitter(draft, piece) {
        return vec![Remark::refusal(
            "other.same_transmitter",
            "That is this transmitter seen from another place: it repeats what is to be judged, so it is no evidence.",
            "Enter the control room's value under As found, where it is compared. Here name an instrument with a sensor of its own, or take this piece away.",
        )];
    }
    let shares = listed(draft, known, piece).filter(|other| other.by_hatch || other.by_pressure);
    let says = |other: &KnownOther| {
        let what = match (other.by_hatch, other.by_pressure) {
            (true, true) => "the hatch mark and the density of the liquid",
            (true, false) => "the hatch mark",
            _ => "the density of the liquid",
        };
        Remark::note("other.shares", format!("It shares {what} with other evidence, and cannot check that."))
    };
    shares.map(says).into_iter().collect()
}
