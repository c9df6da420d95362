//! What phones propose to the register, for whoever decides.

use axum::Json;
use axum::extract::{Query, State};
use serde::{Deserialize, Serialize};

use super::allowed::{Allowed, Looking};
use super::somebody::{Names, Somebody};
use super::{App, Problem, ProblemBody};
use crate::counting::word;
use crate::names::entry_name;
use crate::proposals::{Line, proposals};
use crate::proposed::Change;

/// Which proposals.
#[derive(Debug, Default, Deserialize, utoipa::IntoParams)]
#[into_params(parameter_in = Query)]
pub(super) struct Which {
    /// `true` for those that are decided too.
    #[serde(default)]
    all: bool,
}

/// A field of the register that would say something else.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct FieldChange {
    /// The field, as a register's own file names it.
    field: String,
    /// What it says now; empty where it says nothing.
    from: String,
    /// What it would say. A list's items stand with `;` between.
    to: String,
}

/// What was decided.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct DecisionMade {
    /// `accepted` or `declined`.
    decision: &'static str,
    /// What was said to it.
    note: String,
    by: Somebody,
    /// When, in milliseconds since 1970.
    claimed: i64,
}

/// A proposal to the register.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Proposed {
    /// The record's name, for `POST /reviews`.
    id: String,
    /// The instrument's tag.
    tag: String,
    /// `codes` where a code was found on the instrument, `serial` where another unit is fitted.
    field: &'static str,
    /// The code's whole text, or the serial number.
    value: String,
    /// What accepting it would change in the register as it stands.
    changes: Vec<FieldChange>,
    /// Who proposes it.
    by: Somebody,
    /// When it was signed, in milliseconds since 1970, as the phone's clock claimed.
    claimed: i64,
    /// The register that it was made beside: name and date.
    register: String,
    /// `counts`, `adopted`, `after_revocation`, or `forked` where nobody has decided about a fork.
    standing: &'static str,
    /// Whether it is still to be decided. One that was accepted and that the register does not say is open again.
    open: bool,
    /// What was decided last; none before.
    decision: Option<DecisionMade>,
    /// The tags of other instruments that hold the same code or serial number in the register.
    holders: Vec<String>,
    /// The names of other open proposals that say something else of the same.
    rivals: Vec<String>,
    /// Why it cannot be accepted as the register stands; none where it can.
    obstacle: Option<String>,
}

/// Returns what phones propose to the register, proposals that contradict each other side by side, the oldest first.
#[utoipa::path(
    get, path = "/proposals", tag = "register", params(Which),
    responses((status = 200, body = Vec<Proposed>), (status = 401, body = ProblemBody))
)]
pub(super) async fn get_proposals(
    State(app): State<App>,
    _: Allowed<Looking>,
    Query(which): Query<Which>,
) -> Result<Json<Vec<Proposed>>, Problem> {
    let lines = proposals(app.hub(), which.all).await?;
    let names = Names::of(&app).await?;
    Ok(Json(lines.into_iter().map(|line| proposed(line, &names)).collect()))
}

fn proposed(line: Line, names: &Names) -> Proposed {
    let (field, value) = line.field();
    let value = value.to_owned();
    let change = |Change { field, from, to }| FieldChange { field, from, to };
    let decision = line.decided.map(|decided| DecisionMade {
        decision: decided.decision.word(),
        note: decided.note,
        by: names.somebody(decided.person),
        claimed: decided.claimed.millis,
    });
    Proposed {
        id: entry_name(&line.id),
        tag: line.proposal.tag,
        field,
        value,
        changes: line.changes.into_iter().map(change).collect(),
        by: names.somebody(line.proposal.technician.person),
        claimed: line.claimed.millis,
        register: line.proposal.register,
        standing: word(line.standing),
        open: line.open,
        decision,
        holders: line.holders,
        rivals: line.rivals.iter().map(entry_name).collect(),
        obstacle: Some(line.obstacle).filter(|why| !why.is_empty()),
    }
}
