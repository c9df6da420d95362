//! The check that shows what the sensor itself is off by.
//!
//! A sensor with one side at the liquid is isolated and vented. A differential cell has two connections: it is isolated from
//! the process and its sides are joined, and at whatever pressure they then stand it must show nothing but its zero and its
//! offset. The equation is the same; what a person does, and what can go wrong, is not.
//!
//! The order of the valves is common practice, no source of a standard: joining the sides before both are shut off keeps the
//! cell from a pressure on one side alone; on a level, unlike on a flow, the sides stand at different heights of liquid, so
//! that all valves open at once would let a leg run out or fill (D. W. Spitzer, "When Wrong Is Right", 2010, tells the same of
//! legs of condensate).

use super::asks::{Ask, Takes, one_of};
use super::{Choice, Draft, Instrument, Key, Mounted, Piece, Remark, Spot};

/// Tells whether the sensor is a differential cell with two connections that can be joined.
#[must_use]
pub fn equalised(instrument: &Instrument) -> bool {
    instrument.mounting.as_ref().is_some_and(Mounted::two_connections)
}

/// Returns what the check is called.
#[must_use]
pub fn check_name(instrument: &Instrument) -> &'static str {
    if equalised(instrument) { "Equalised zero" } else { "Vented check" }
}

/// Returns what the check asks.
pub(super) fn asks(draft: &Draft, piece: &Piece) -> Vec<Ask> {
    let at = |key| Spot::piece(piece.id, key, 0);
    let equalised = equalised(&draft.instrument);
    let named = |ask: Ask, label| if equalised { ask.called(label) } else { ask };
    let allowed = Ask::must(at(Key::VentAllowed), one_of(&[Choice::Yes, Choice::No]));
    let mut asked =
        vec![named(allowed, "Cold, harmless, and valves to shut the cell off and join its sides?")];
    if draft.answers.choice(at(Key::VentAllowed)) == Some(Choice::Yes) {
        let reading = Ask::must(at(Key::VentedReading), Takes::Reading);
        asked.push(named(reading, "Display with both sides joined and shut off from the process"));
        if !equalised {
            // With both sides joined a stub of liquid presses on both alike.
            asked.push(Ask::may(at(Key::VentedLeft), Takes::Length));
        }
    }
    asked
}

/// Returns what is to be said about the check.
pub(super) fn remarks(draft: &Draft, piece: &Piece) -> Vec<Remark> {
    let allowed = draft.answers.choice(Spot::piece(piece.id, Key::VentAllowed, 0));
    let equalised = equalised(&draft.instrument);
    let mut said = if equalised { joined() } else { vec![at_atmosphere()] };
    if allowed == Some(Choice::No) {
        let text = if equalised {
            "The cell must not be isolated and equalised on this service."
        } else {
            "A vented check must not be made on this service."
        };
        said.push(Remark::refusal(
            "vented.not_here",
            text,
            "Take this piece away and bring a level instead.",
        ));
    }
    said
}

fn at_atmosphere() -> Remark {
    Remark::danger(
        "vented.caution",
        "Only on a cold, harmless service that can be isolated, without seals. Pressure is trapped until it is vented.",
        "Isolate, vent slowly with your face turned away, and follow the site's own order of valves.",
    )
}

fn joined() -> Vec<Remark> {
    vec![
        Remark::danger(
            "equalised.caution",
            "Only on a cold, harmless service whose cell can be shut off, without seals. Pressure stays trapped between the valves.",
            "The site's own procedure and permit for this manifold come first. Open no drain or vent for this check.",
        ),
        Remark::danger(
            "equalised.order",
            "The order of the valves matters. Both isolating valves and the equalising valve open together let a leg run out, or fill; \
             one side under pressure while the other is shut off and not joined over-ranges the cell.",
            "Usual, where the site says nothing else: shut the isolating valve on the leg's side, open the equalising valve, shut the \
             other isolating valve, wait until the display stands, read. Back in the reverse order, slowly.",
        ),
    ]
}

/// Returns what is assumed of the check, where it does not say.
pub(super) fn assumption(draft: &Draft, checks: &[&Piece]) -> Option<Remark> {
    if checks.is_empty() {
        return None;
    }
    if equalised(&draft.instrument) {
        let text = "Assumed: in the equalised check the valves held tight, and both sides of the cell stood at one pressure.";
        return Some(Remark::note("assumed.equalised", text));
    }
    let stated = |piece: &&Piece| draft.answers.get(Spot::piece(piece.id, Key::VentedLeft, 0)).is_some();
    let text = "Assumed: nothing was left standing on the sensor in the vented check, no stub of water.";
    (!checks.iter().any(stated)).then(|| Remark::note("assumed.vented_dry", text))
}
