//! The list of visits, and one record with what was found about it.

use axum::Json;
use axum::extract::{Path, Query, State};
use base64::Engine;
use base64::engine::general_purpose::STANDARD;
use bodies::{VISIT, Visit};
use hubstore::{Arrival, Found, Jobs, Ledger, StoredEntry, TagKey, VisitRow, Visits, VisitsAsked};
use record::Entry;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use super::allowed::{Allowed, Looking};
use super::asked_names::read_entry;
use super::pages::{Asked, of_number};
use super::{App, Problem, ProblemBody};
use crate::counting::{Counting, standing, word};
use crate::names::{entry_name, hex};
use crate::recompute::detail;
use crate::restoring::restored;
use crate::trusted::Trusted;

/// Which visits.
#[derive(Debug, Default, Deserialize, utoipa::IntoParams)]
#[into_params(parameter_in = Query)]
pub(super) struct Which {
    /// Of the instrument of this tag.
    tag: Option<String>,
    /// Of this site.
    site: Option<String>,
}

/// A visit in the list.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Line {
    /// The record's name.
    id: String,
    tag: String,
    site: String,
    /// When it was signed, in milliseconds since 1970, as the phone's clock claimed.
    claimed: i64,
    /// The verdict's word.
    verdict: String,
    /// The technician's number, hexadecimal.
    technician: String,
    /// How the phone knew who signs: `unlocked` by the phone's own lock, `pin`, or `none`.
    confirmed: &'static str,
    /// The number of the model that worked it out.
    model: u32,
    /// `counts`, `adopted`, `after_revocation`, or `forked` where nobody has decided about a fork.
    standing: &'static str,
    /// `approved` or `returned`; none before a supervisor has decided.
    decision: Option<&'static str>,
    /// What is to be known before it is relied on: it came in after the hub was restored, and the phones were not looked
    /// through since.
    remark: Option<&'static str>,
}

/// A page of visits.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Lines {
    items: Vec<Line>,
    /// The token of the next page; none at the end.
    next: Option<String>,
}

/// Returns a page of visits, newest first.
#[utoipa::path(
    get, path = "/records", tag = "records", params(Which, Asked),
    responses((status = 200, body = Lines), (status = 401, body = ProblemBody))
)]
pub(super) async fn get_records(
    State(app): State<App>,
    _: Allowed<Looking>,
    Query(which): Query<Which>,
    Query(page): Query<Asked>,
) -> Result<Json<Lines>, Problem> {
    let most = page.most();
    let asked = VisitsAsked {
        tag: which.tag.as_deref().map(TagKey::of),
        site: which.site,
        before: page.number()?.map(Arrival),
        most: most + 1,
    };
    let mut rows = app.hub().store.visits(&asked).await?;
    let more = rows.len() > usize::try_from(most).unwrap_or(usize::MAX);
    if more {
        rows.pop();
    }
    let next = rows.last().filter(|_| more).map(|row| of_number(row.arrival.0));
    let mut counting = Counting::at(app.hub()).await?;
    let trusted = app.hub().trusted().await?;
    let restored = restored(&app.hub().store).await?;
    let mut items = Vec::with_capacity(rows.len());
    for row in rows {
        let standing = word(counting.standing(&row.id).await?);
        let remark = restored.and_then(|restored| restored.remark(row.arrival));
        items.push(Line { remark, ..line(row, standing, &trusted) });
    }
    Ok(Json(Lines { items, next }))
}

fn line(row: VisitRow, standing: &'static str, trusted: &Trusted) -> Line {
    let of = row.line;
    Line {
        id: entry_name(&row.id),
        tag: of.tag,
        site: of.site,
        claimed: of.claimed,
        verdict: of.verdict,
        technician: hex(&of.technician.0),
        confirmed: of.confirmed.word(),
        model: of.model,
        standing,
        decision: trusted.decided(&row.id).map(|decided| decided.decision.word()),
        remark: None,
    }
}

/// One record.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Record {
    id: String,
    /// The kind of record, by its number.
    kind: u32,
    /// When it was signed, in milliseconds since 1970, as the signer's clock claimed.
    claimed: i64,
    /// `counts`, `adopted`, `after_revocation`, or `forked` where nobody has decided about a fork.
    standing: &'static str,
    /// What is to be known before it is relied on, as in the list.
    remark: Option<&'static str>,
    /// What working the visit out again found: `agrees`, `differs`, `other_model` (an older one), `newer_model`,
    /// `unreadable`; none before.
    found: Option<&'static str>,
    /// What differs and by how much, or why it was not checked.
    detail: Option<String>,
    /// The technician's number, for a visit.
    technician: Option<String>,
    /// How the phone knew who signs, for a visit: `unlocked` by the phone's own lock, `pin`, or `none`.
    confirmed: Option<&'static str>,
    /// The visit, as it was signed.
    #[schema(value_type = Option<Object>)]
    visit: Option<Value>,
    /// All of the entry as it arrived, base64.
    entry: String,
}

/// Returns one record.
#[utoipa::path(
    get, path = "/records/{id}", tag = "records", params(("id" = String, Path, description = "The record's name, from a list")),
    responses((status = 200, body = Record), (status = 404, body = ProblemBody))
)]
pub(super) async fn get_record(
    State(app): State<App>,
    _: Allowed<Looking>,
    Path(id): Path<String>,
) -> Result<Json<Record>, Problem> {
    let id = read_entry(&id)?;
    let stored = app.hub().store.entry(id).await?;
    let stored = stored.ok_or_else(|| Problem::not_found("No such record is held here."))?;
    let found = app.hub().store.found(id).await?;
    let standing = word(standing(app.hub(), &id).await?);
    let restored = restored(&app.hub().store).await?;
    let remark = restored.and_then(|restored| restored.remark(stored.arrival));
    Ok(Json(Record { remark, ..record(&stored, found.as_ref(), standing)? }))
}

fn record(stored: &StoredEntry, found: Option<&Found>, standing: &'static str) -> Result<Record, Problem> {
    let entry = record::open(&stored.bytes).map_err(crate::Error::from)?;
    let visit = read(&entry);
    Ok(Record {
        id: entry_name(&stored.id),
        kind: stored.kind.0,
        claimed: entry.header.claimed.millis,
        standing,
        remark: None,
        found: found.map(Found::word),
        detail: found.and_then(detail),
        technician: visit.as_ref().map(|visit| hex(&visit.technician.person.0)),
        confirmed: visit.as_ref().map(|visit| visit.technician.confirmed.word()),
        visit: visit.and_then(|visit| serde_json::to_value(visit.finished).ok()),
        entry: STANDARD.encode(&stored.bytes),
    })
}

fn read(entry: &Entry<'_>) -> Option<Visit> {
    if entry.header.kind == VISIT { Visit::of_entry(entry).ok() } else { None }
}
