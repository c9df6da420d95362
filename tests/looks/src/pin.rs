//! A PIN: set, changed, taken off, asked for, mistyped, gone without.

use anyhow::{Context, Result};
use domain::visit::Step;
use field::Error;
use field::view::{Change, Confirming, Message, RecordView, VisitView};

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

const PIN: &str = "481516";

/// Returns the screens by their names.
pub(crate) fn screens() -> Result<Screens> {
    let still = Still::ready()?;
    let phone = still.core.phone();
    let none = screen("pin", phone.pin_view()?)?;
    let done = screen("pin", phone.pin_set(PIN, PIN)?)?;
    let set = screen("pin", phone.pin_view()?)?;
    let asked = Scene::of(&kit::dip()).play(&still, Step::Sign)?;
    let wrong = mistype(&still, &asked)?;
    for _ in 1..5 {
        mistype(&still, &asked)?;
    }
    let waits = screen("pin", phone.pin_view()?)?;
    let ask_waits = screen("visit", phone.visit_open(&asked.id)?)?;
    let without = without(&still, &asked)?;
    Ok(Screens::from([
        ("pin", none),
        ("pin-done", done),
        ("pin-set", set),
        ("pin-waits", waits),
        ("8-sign-pin", screen("visit", asked)?),
        ("8-sign-pin-waits", ask_waits),
        ("pin-wrong", serde_json::to_value(wrong)?),
        ("record-without-pin", screen("record", without)?),
    ]))
}

/// What is told of a wrong PIN.
fn mistype(still: &Still, asked: &VisitView) -> Result<Message> {
    let wrong = Confirming::Pin { pin: "4815".to_owned() };
    match still.core.phone().visit_sign_confirmed(&asked.id, &wrong) {
        Err(error @ Error::WrongPin { .. }) => Ok(error.message()),
        Err(other) => Err(other.into()),
        Ok(_) => anyhow::bail!("a wrong PIN signed"),
    }
}

/// Signs without it, with a reason.
fn without(still: &Still, asked: &VisitView) -> Result<RecordView> {
    let asks =
        asked.signing.as_ref().and_then(|signing| signing.pin.as_ref()).context("no PIN is asked for")?;
    let field = asks.without.reason.as_ref().context("no reason can be given")?;
    let text = "Set last winter, and forgotten since".to_owned();
    let change = Change::Answer { key: field.key, piece: field.piece, row: field.row, text };
    let phone = still.core.phone();
    phone.visit_change(&asked.id, &change)?;
    Ok(phone.visit_sign_confirmed(&asked.id, &Confirming::Without)?)
}
