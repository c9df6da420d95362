//! What a supervisor answered: a visit that comes back, and a proposal that was declined.

use anyhow::{Result, bail};
use domain::visit::Choice;
use field::view::CodeOutcome;
use kit::Office;
use serde_json::json;

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

/// A code that nobody claims.
const CODE: &str = "MDW/ASSET/40117";

/// Returns the screens by their names.
pub(crate) fn screens() -> Result<Screens> {
    let still = Still::ready()?;
    let office = Office::new()?;
    let phone = still.core.phone();
    let approved = Scene::of(&kit::known_empty()).signed(&still)?;
    let returned = Scene::of(&kit::dip()).signed(&still)?;
    let CodeOutcome::Unknown { code, .. } = phone.find_code(CODE)? else {
        bail!("the register claims the code that nobody should")
    };
    phone.link("LT-3107", &code)?;
    office.enrols(phone)?;
    office.approves(phone, 1)?;
    let words =
        "The three dips do not agree with each other. Dip once more, and photograph the mark on the hatch.";
    office.returns(phone, 2, words)?;
    let words = "This label belongs to the flow meter beside it.";
    office.declines(phone, 3, words)?;
    let confirm = serde_json::to_value(phone.instrument("LT-3107")?)?;
    let confirm = json!({
        "at": "confirm", "view": confirm, "foundBy": Choice::ByList.word(), "code": "", "message": null
    });
    Ok(Screens::from([
        ("home-answers", screen("home", phone.home()?)?),
        ("record-returned", screen("record", phone.record(&returned.id)?)?),
        ("record-approved", screen("record", phone.record(&approved.id)?)?),
        ("confirm-declined", confirm),
    ]))
}
