//! The screens before a visit: home, find, the instrument, the plan, the register.

use anyhow::{Context, Result};
use domain::visit::{Choice, Step};
use field::view::{CodeOutcome, LabelOrder, LabelsOf, Message};
use kit::Phone;
use serde_json::{Value, json};

use crate::register::careless;
use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

/// Returns the screens by their names.
pub(crate) fn screens() -> Result<Screens> {
    let mut all = home()?;
    all.extend(find()?);
    all.extend(plans()?);
    all.extend(labels()?);
    Ok(all)
}

fn home() -> Result<Screens> {
    let fresh = Still::fresh()?;
    let name = screen("name", fresh.core.phone().home()?)?;
    let still = Still::ready()?;
    Scene::of(&kit::known_empty()).signed(&still)?;
    Scene::of(&kit::dip()).signed(&still)?;
    Scene::of(&kit::vented()).play(&still, Step::Evidence)?;
    let home = screen("home", still.core.phone().home()?)?;
    let upload = still.core.upload(careless()?.to_string().as_bytes())?;
    let report = still.core.phone().register_load(&upload)?;
    let register = json!({ "at": "register", "report": serde_json::to_value(report)? });
    Ok(Screens::from([("name", name), ("home", home), ("home-empty", damaged()?), ("register", register)]))
}

/// The first screen after the data file was found damaged.
fn damaged() -> Result<Value> {
    let phone = Phone::new()?;
    std::fs::write(phone.data().join("headmark.db"), "power was lost here".repeat(400))?;
    let still = Still::on(phone)?;
    still.core.phone().set_technician("Asha Verma")?;
    screen("home", still.core.phone().home()?)
}

fn find() -> Result<Screens> {
    let still = Still::ready()?;
    let phone = still.core.phone();
    let hits = serde_json::to_value(phone.search("LT-20")?)?;
    let found = |code: &str, message: Option<&Message>| -> Result<Value> {
        Ok(json!({ "at": "find", "code": code, "message": serde_json::to_value(message)?, "hits": hits }))
    };
    let CodeOutcome::Unknown { code, message: unknown, .. } = phone.find_code("MDW/ASSET/40117")? else {
        anyhow::bail!("the register claims the code that nobody should")
    };
    let blank = std::fs::read(kit::photo("no-code.jpg"))?;
    let unread = kit::side_by_side(&[kit::painted_over()?])?;
    Ok(Screens::from([
        ("find", found("", None)?),
        ("find-live", json!({ "at": "find", "code": "", "message": null, "hits": null })),
        ("find-refused", found("", None)?),
        ("find-unknown", found(&code, Some(&unknown))?),
        ("find-not-read", found("", Some(&not_read(&still, &blank)?))?),
        ("find-unread", found("", Some(&not_read(&still, &unread)?))?),
        ("confirm", confirm(&still, "LT-2041", None)?),
        ("confirm-history", confirm(&still, "LT-3107", None)?),
        ("confirm-unread", confirm(&still, "LT-2041", Some(&beside(&still)?))?),
        ("confirm-refused", confirm(&still, "LT-5003", None)?),
    ]))
}

/// The screen that prints labels, and what it then shows of one.
fn labels() -> Result<Screens> {
    let still = Still::ready()?;
    let phone = still.core.phone();
    let view = phone.labels()?;
    let one = LabelsOf::One { tag: "LT-2041".to_owned() };
    let preview = phone.labels_preview(&LabelOrder { labels: one, first: 4, ..view.order.clone() })?;
    Ok(Screens::from([
        ("labels", screen("labels", view)?),
        ("label-preview", serde_json::to_value(preview)?),
    ]))
}

fn not_read(still: &Still, photo: &[u8]) -> Result<Message> {
    match still.core.phone().find_photo(&still.core.upload(photo)?)? {
        CodeOutcome::NotRead { message, .. } => Ok(message),
        other => anyhow::bail!("this photo shows no code that could be read: {other:?}"),
    }
}

/// What is said where another code was in view that could not be read.
fn beside(still: &Still) -> Result<Message> {
    let pictures = [kit::printed("https://id.marrowby.example/i/LT-2041")?, kit::painted_over()?];
    let photo = kit::side_by_side(&pictures)?;
    match still.core.phone().find_photo(&still.core.upload(&photo)?)? {
        CodeOutcome::Found { message, .. } => message.context("nothing was said of the other code"),
        other => anyhow::bail!("one of the codes can be read: {other:?}"),
    }
}

fn confirm(still: &Still, tag: &str, message: Option<&Message>) -> Result<Value> {
    let view = serde_json::to_value(still.core.phone().instrument(tag)?)?;
    Ok(
        json!({ "at": "confirm", "view": view, "foundBy": Choice::ByCode.word(), "code": "", "message": message }),
    )
}

fn plans() -> Result<Screens> {
    let still = Still::ready()?;
    let planned = |tag: &str| -> Result<Value> {
        let view = serde_json::to_value(still.core.phone().plan(tag)?)?;
        Ok(
            json!({ "at": "plan", "view": view, "foundBy": Choice::ByList.word(), "code": "", "message": null }),
        )
    };
    Ok(Screens::from([
        ("plan", planned("LT-2041")?),
        ("plan-above", planned("LT-4012")?),
        ("plan-dry-leg", planned("LT-4030")?),
        ("plan-interface", planned("LT-4040")?),
        ("plan-probe", planned("LT-2055")?),
        ("plan-refused", planned("LT-5003")?),
        ("plan-seal", planned("LT-2060")?),
        ("plan-two-seals", planned("LT-4031")?),
        ("plan-wet-leg", planned("LT-5004")?),
    ]))
}
