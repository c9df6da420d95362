//! What people changed at the hub itself.

use axum::Json;
use axum::extract::{Query, State};
use bodies::{ChangeMade, Import, PersonChange};
use hubstore::Arrival;
use serde::Serialize;

use super::allowed::{Allowed, Looking};
use super::pages::{Asked, of_number};
use super::somebody::{Names, Somebody};
use super::{App, Problem, ProblemBody};
use crate::changes::{Line, changes};
use crate::counting::word;
use crate::names::{entry_name, hex};

/// A table that came in from a file.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Imported {
    /// `instruments`, or `sensors` that could be fitted.
    table: &'static str,
    /// SHA-256 of the file, hexadecimal.
    file: String,
    /// The number of the table's newest change before.
    before: u64,
    /// The number of its newest change from then on.
    after: u64,
    /// Rows that were not there before.
    added: u64,
    /// Rows that say something else.
    changed: u64,
    /// Rows that went to another area.
    moved: u64,
    /// Rows that were taken out.
    removed: u64,
}

/// A change that somebody made.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Changed {
    /// The record's name.
    id: String,
    /// When it was made, in milliseconds since 1970, as the hub's clock claimed.
    claimed: i64,
    /// Who made it; none by a command at the hub's machine that was not told who gave it.
    by: Option<Somebody>,
    /// `imported`, `person_added`, `person_renamed`, `person_erased`, `person_role`, `person_password`,
    /// `person_no_sign_in`, `phone_confirmed` or `phones_looked_through`.
    what: &'static str,
    /// The table that came in.
    imported: Option<Imported>,
    /// The person who is meant.
    person: Option<Somebody>,
    /// What the person may do from then on: `read`, `supervise` or `administer`.
    role: Option<&'static str>,
    /// Whether a person who was added signs in.
    signs_in: Option<bool>,
    /// The log of the phone that was confirmed, hexadecimal.
    phone: Option<String>,
    /// `counts`; `after_revocation` where a former hub said so after its key was revoked, `forked` where somebody else
    /// signed with its key from there or before.
    standing: &'static str,
}

/// A page of changes.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Changes {
    items: Vec<Changed>,
    /// The token of the next page; none at the end.
    next: Option<String>,
}

/// Returns a page of what people changed at the hub itself, newest first.
#[utoipa::path(
    get, path = "/changes", tag = "people", params(Asked),
    responses((status = 200, body = Changes), (status = 401, body = ProblemBody))
)]
pub(super) async fn get_changes(
    State(app): State<App>,
    _: Allowed<Looking>,
    Query(page): Query<Asked>,
) -> Result<Json<Changes>, Problem> {
    let most = usize::try_from(page.most()).unwrap_or(usize::MAX);
    let mut lines = changes(app.hub(), page.number()?.map(Arrival), most.saturating_add(1)).await?;
    let more = lines.len() > most;
    lines.truncate(most);
    let next = lines.last().filter(|_| more).map(|line| of_number(line.arrival.0));
    let names = Names::of(&app).await?;
    Ok(Json(Changes { items: lines.iter().map(|line| changed(line, &names)).collect(), next }))
}

fn changed(line: &Line, names: &Names) -> Changed {
    let made = &line.change.made;
    let (mut came, mut person, mut change, mut phone) = (None, None, None, None);
    match made {
        ChangeMade::Imported(import) => came = Some(imported(import)),
        ChangeMade::Person(who, what) => (person, change) = (Some(names.somebody(*who)), Some(*what)),
        ChangeMade::PhoneConfirmed(log) => phone = Some(hex(&log.0)),
        ChangeMade::PhonesLookedThrough => {}
    }
    let (role, signs_in) = match change {
        Some(PersonChange::Added { role, signs_in }) => (Some(role.word()), Some(signs_in)),
        Some(PersonChange::Role(role)) => (Some(role.word()), None),
        _ => (None, None),
    };
    Changed {
        id: entry_name(&line.id),
        claimed: line.claimed.millis,
        by: line.change.by.map(|by| names.somebody(by)),
        what: made.word(),
        imported: came,
        person,
        role,
        signs_in,
        phone,
        standing: word(line.standing),
    }
}

fn imported(Import { table, file, before, after, rows }: &Import) -> Imported {
    Imported {
        table: table.word(),
        file: hex(&file.0),
        before: *before,
        after: *after,
        added: rows.added,
        changed: rows.changed,
        moved: rows.moved,
        removed: rows.removed,
    }
}
