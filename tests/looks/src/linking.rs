//! A code whose instrument is looked for, what stands on both instruments that claim one, and the lists to pick from.

use anyhow::{Result, bail};
use domain::visit::Choice;
use field::view::CodeOutcome;
use serde_json::{Value, json};

use crate::scene::Scene;
use crate::screens::{Screens, screen};
use crate::still::Still;

/// A code with a mark in it that would turn round what stands behind it.
const HOSTILE: &str = "MDW/ASSET/40117\u{202e}gnp.exe";

/// Returns the screens by their names, and the lists as they are handed out.
pub(crate) fn screens() -> Result<Screens> {
    let still = Still::ready()?;
    let phone = still.core.phone();
    let code = scanned(&still, HOSTILE)?;
    let hits = serde_json::to_value(phone.search("")?)?;
    let link = json!({ "at": "link", "code": code, "hits": hits });
    let ask = screen("link-to", phone.link_ask("LT-3107", &code)?)?;
    phone.link("LT-3107", &code)?;
    // The same on a second instrument: a conflict, told before and on both.
    let conflict = screen("link-to", phone.link_ask("LT-2041", &code)?)?;
    phone.link("LT-2041", &code)?;
    Ok(Screens::from([
        ("find-several", several(&still)?),
        ("link", link),
        ("link-to", ask),
        ("link-to-conflict", conflict),
        ("confirm-linked", linked(&still, &code)?),
        ("lists", lists()?),
        ("near", serde_json::to_value(phone.near(Some([54.3115, -104.903]), 8.0)?)?),
        ("near-by-site", serde_json::to_value(phone.near(None, 0.0)?)?),
    ]))
}

fn scanned(still: &Still, code: &str) -> Result<String> {
    match still.core.phone().find_code(code)? {
        CodeOutcome::Unknown { code, linkable: true, .. } => Ok(code),
        other => bail!("the code is claimed, or cannot be linked: {other:?}"),
    }
}

/// A code that two instruments claim asks which is meant.
fn several(still: &Still) -> Result<Value> {
    let CodeOutcome::Several { hits, code, message } = still.core.phone().find_code(HOSTILE)? else {
        bail!("two instruments claim the code")
    };
    let hits = serde_json::to_value(hits)?;
    Ok(json!({ "at": "find", "code": code, "message": serde_json::to_value(message)?, "hits": hits }))
}

fn linked(still: &Still, code: &str) -> Result<Value> {
    let view = serde_json::to_value(still.core.phone().instrument("LT-3107")?)?;
    let found_by = Choice::ByCode.word();
    Ok(json!({ "at": "confirm", "view": view, "foundBy": found_by, "code": code, "message": null }))
}

fn lists() -> Result<Value> {
    let still = Still::ready()?;
    Scene::of(&kit::known_empty()).signed(&still)?;
    Scene::of(&kit::dip()).signed(&still)?;
    let lists = still.core.phone().lists()?;
    anyhow::ensure!(!lists.work.is_empty() && !lists.recent.is_empty(), "a list is empty: {lists:?}");
    Ok(serde_json::to_value(lists)?)
}
