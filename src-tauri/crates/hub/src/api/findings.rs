//! What working visits out again found.

use axum::Json;
use axum::extract::{Query, State};
use hubstore::{Arrival, Jobs};
use serde::{Deserialize, Serialize};

use super::allowed::{Allowed, Looking};
use super::pages::{Asked, MOST};
use super::{App, Problem};
use crate::counting::{Counting, word};
use crate::names::entry_name;
use crate::recompute::detail;

/// Which findings.
#[derive(Debug, Default, Deserialize, utoipa::IntoParams)]
#[into_params(parameter_in = Query)]
pub(super) struct WhichFound {
    /// `agrees`, `differs`, `other_model` (an older one), `newer_model` or `unreadable`; `differs` where nothing is said.
    found: Option<String>,
    /// Whether visits are listed too that count in nothing: signed after their phone was revoked, or of a fork that nobody
    /// has decided.
    #[serde(default)]
    all: bool,
}

/// What was found about a visit.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Finding {
    id: String,
    found: &'static str,
    /// `counts`, `adopted`, `after_revocation`, or `forked` where nobody has decided about a fork.
    standing: &'static str,
    /// What differs and by how much, or why it was not checked.
    detail: Option<String>,
}

/// Returns the visits that count of which working them out again found something, newest first.
#[utoipa::path(
    get, path = "/findings", tag = "records", params(WhichFound, Asked),
    responses((status = 200, body = Vec<Finding>))
)]
pub(super) async fn get_findings(
    State(app): State<App>,
    _: Allowed<Looking>,
    Query(which): Query<WhichFound>,
    Query(page): Query<Asked>,
) -> Result<Json<Vec<Finding>>, Problem> {
    let wanted = which.found.as_deref().unwrap_or("differs");
    let most = usize::try_from(page.most()).unwrap_or(usize::MAX);
    let mut before = page.number()?.map(Arrival);
    let mut counting = Counting::at(app.hub()).await?;
    let mut findings = Vec::new();
    loop {
        let piece = app.hub().store.findings(wanted, before, MOST).await?;
        for one in &piece {
            let standing = counting.standing(&one.id).await?;
            if which.all || standing.counts() {
                findings.push(Finding {
                    id: entry_name(&one.id),
                    found: one.found.word(),
                    standing: word(standing),
                    detail: detail(&one.found),
                });
            }
            if findings.len() == most {
                return Ok(Json(findings));
            }
        }
        match piece.last() {
            Some(last) => before = Some(last.arrival),
            None => return Ok(Json(findings)),
        }
    }
}
