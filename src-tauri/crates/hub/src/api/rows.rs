//! The register, for people.

use axum::Json;
use axum::extract::{Path, Query, State};
use bodies::RegisterRow;
use hubstore::{Register, Version};
use serde::Serialize;
use serde_json::Value;

use super::allowed::{Allowed, Looking};
use super::pages::{Asked, of_text};
use super::{App, Problem, ProblemBody};

/// A row of the register.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Row {
    tag: String,
    area: String,
    /// The instrument, as a register's own file has it.
    #[schema(value_type = Object)]
    instrument: Value,
}

impl Row {
    fn of(row: hubstore::Row) -> Result<Row, Problem> {
        let RegisterRow(instrument) = RegisterRow::decode(&row.bytes).map_err(crate::Error::from)?;
        let instrument = serde_json::to_value(instrument).unwrap_or_default();
        Ok(Row { tag: row.tag, area: row.area, instrument })
    }
}

/// A page of the register.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Page {
    items: Vec<Row>,
    /// The token of the next page; none at the end.
    next: Option<String>,
}

/// Returns a page of the register, by tag.
#[utoipa::path(get, path = "/register/rows", tag = "register", params(Asked), responses((status = 200, body = Page)))]
pub(super) async fn get_rows(
    State(app): State<App>,
    _: Allowed<Looking>,
    Query(page): Query<Asked>,
) -> Result<Json<Page>, Problem> {
    let after = page.text()?.unwrap_or_default();
    let most = page.most();
    let mut rows = app.hub().store.rows(&after, most + 1).await?;
    let more = rows.len() > usize::try_from(most).unwrap_or(usize::MAX);
    if more {
        rows.pop();
    }
    let next = rows.last().filter(|_| more).map(|row| of_text(&row.tag));
    let items = rows.into_iter().map(Row::of).collect::<Result<_, _>>()?;
    Ok(Json(Page { items, next }))
}

/// Returns one row.
#[utoipa::path(
    get, path = "/register/rows/{tag}", tag = "register", params(("tag" = String, Path)),
    responses((status = 200, body = Row), (status = 404, body = ProblemBody))
)]
pub(super) async fn get_row(
    State(app): State<App>,
    _: Allowed<Looking>,
    Path(tag): Path<String>,
) -> Result<Json<Row>, Problem> {
    let row = app.hub().store.row(&tag).await?;
    Ok(Json(Row::of(row.ok_or_else(|| Problem::not_found("The register has no instrument of this tag."))?)?))
}

/// An area of the register.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Area {
    area: String,
    /// The number of its newest change.
    version: u64,
}

/// Returns the areas of the register.
#[utoipa::path(get, path = "/register/areas", tag = "register", responses((status = 200, body = Vec<Area>)))]
pub(super) async fn get_areas(
    State(app): State<App>,
    _: Allowed<Looking>,
) -> Result<Json<Vec<Area>>, Problem> {
    let areas = app.hub().store.areas().await?.into_iter();
    Ok(Json(areas.map(|(area, Version(version))| Area { area, version }).collect()))
}
