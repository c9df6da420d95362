//! Who is written down at the hub: for whoever runs it.

use axum::Json;
use axum::extract::{Path, State};
use axum::http::StatusCode;
use bodies::{HubRole, PersonId};
use hubstore::{HubPerson, People};
use serde::{Deserialize, Serialize};

use super::allowed::{Allowed, Running};
use super::{App, Problem, ProblemBody};
use crate::chance;
use crate::changing::{PersonTo, can_be_called, change_person, write_down};
use crate::names::{entry_name, hex, unhex};
use crate::people::{Password, hash_password};

/// Somebody who is written down.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct WrittenDown {
    /// The number that records name the person by, hexadecimal.
    number: String,
    name: String,
    /// `read`, `supervise` or `administer`.
    role: &'static str,
    /// Whether the person has a password.
    signs_in: bool,
}

/// Returns everybody who is written down, by name.
#[utoipa::path(get, path = "/people", tag = "people", responses((status = 200, body = Vec<WrittenDown>)))]
pub(super) async fn get_people(
    State(app): State<App>,
    _: Allowed<Running>,
) -> Result<Json<Vec<WrittenDown>>, Problem> {
    let people = app.hub().store.persons().await?.into_iter().map(|person| WrittenDown {
        number: hex(&person.id.0),
        signs_in: !person.secret.is_empty(),
        name: person.name,
        role: person.role.word(),
    });
    Ok(Json(people.collect()))
}

/// Somebody to be written down.
#[derive(Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields)]
pub(super) struct Writing {
    /// The name. It stands at the hub only, where it can be erased.
    name: String,
    /// `read`, `supervise` or `administer`.
    role: String,
    /// The password; none for somebody who does not sign in.
    #[serde(default)]
    password: Option<String>,
    /// The number that records name them by already, hexadecimal; a new one is drawn where it is left out.
    #[serde(default)]
    number: Option<String>,
}

/// A change to a person, as a record.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct PersonChanged {
    /// The person's number, hexadecimal.
    number: String,
    /// The name of the record that says so; none where the person was so already.
    entry: Option<String>,
}

/// Writes somebody down. It is a record itself, which names nobody but by number.
#[utoipa::path(
    post, path = "/people", tag = "people", request_body = Writing,
    params(("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")),
    responses((status = 201, body = PersonChanged), (status = 409, description = "Somebody has this name or number", body = ProblemBody))
)]
pub(super) async fn post_people(
    State(app): State<App>,
    allowed: Allowed<Running>,
    Json(asked): Json<Writing>,
) -> Result<(StatusCode, Json<PersonChanged>), Problem> {
    let role = read_role(&asked.role)?;
    let id = match asked.number.as_deref() {
        Some(number) => read_person(number)?,
        None => PersonId(chance::bytes()?),
    };
    // Before a password is hashed, which costs much.
    can_be_called(&app.hub().store, &asked.name).await?;
    let secret = match asked.password.as_deref() {
        Some(password) => hash_password(Password::new(password)?).await?,
        None => String::new(),
    };
    let person = HubPerson { id, name: asked.name, secret, role };
    let entry = write_down(app.hub(), Some(allowed.person.id), &person).await?;
    let made = PersonChanged { number: hex(&id.0), entry: Some(entry_name(&entry)) };
    Ok((StatusCode::CREATED, Json(made)))
}

/// What somebody is to be from then on: one of these.
#[derive(Deserialize, utoipa::ToSchema)]
#[serde(deny_unknown_fields, rename_all = "snake_case")]
pub(super) enum Becoming {
    /// Another name.
    Name(String),
    /// Another role: `read`, `supervise` or `administer`.
    Role(String),
    /// Another password. All sign-ins of the person end.
    Password(String),
    /// `false` for no password: the person signs in no more.
    SignsIn(bool),
}

/// Changes what somebody is. It is a record itself, which holds neither name nor password.
#[utoipa::path(
    patch, path = "/people/{number}", tag = "people", request_body = Becoming,
    params(
        ("number" = String, Path, description = "The person's number, hexadecimal"),
        ("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")
    ),
    responses((status = 200, body = PersonChanged), (status = 409, description = "Nobody has this number, or somebody this name", body = ProblemBody))
)]
pub(super) async fn patch_person(
    State(app): State<App>,
    allowed: Allowed<Running>,
    Path(number): Path<String>,
    Json(becoming): Json<Becoming>,
) -> Result<Json<PersonChanged>, Problem> {
    let to = match becoming {
        Becoming::Name(name) => PersonTo::Name(name),
        Becoming::Role(role) => PersonTo::Role(read_role(&role)?),
        Becoming::Password(password) => PersonTo::Password(hash_password(Password::new(&password)?).await?),
        Becoming::SignsIn(false) => PersonTo::NoSignIn,
        Becoming::SignsIn(true) => {
            return Err(Problem::bad("Give them a password, and they sign in with it."));
        }
    };
    changed(&app, &allowed, &number, &to).await
}

/// Erases somebody's name, and all that the hub knows of them. Records go on naming the number.
#[utoipa::path(
    delete, path = "/people/{number}", tag = "people",
    params(
        ("number" = String, Path, description = "The person's number, hexadecimal"),
        ("x-headmark-csrf" = String, Header, description = "The second secret of the sign-in")
    ),
    responses((status = 200, body = PersonChanged), (status = 409, description = "Nobody has this number", body = ProblemBody))
)]
pub(super) async fn delete_person(
    State(app): State<App>,
    allowed: Allowed<Running>,
    Path(number): Path<String>,
) -> Result<Json<PersonChanged>, Problem> {
    changed(&app, &allowed, &number, &PersonTo::Erased).await
}

async fn changed(
    app: &App,
    allowed: &Allowed<Running>,
    number: &str,
    to: &PersonTo,
) -> Result<Json<PersonChanged>, Problem> {
    let person = read_person(number)?;
    let entry = change_person(app.hub(), Some(allowed.person.id), person, to).await?;
    Ok(Json(PersonChanged { number: hex(&person.0), entry: entry.as_ref().map(entry_name) }))
}

fn read_role(text: &str) -> Result<HubRole, Problem> {
    HubRole::from_word(text)
        .ok_or_else(|| Problem::bad("This is no role. Write read, supervise or administer."))
}

fn read_person(text: &str) -> Result<PersonId, Problem> {
    unhex(text)
        .map(PersonId)
        .ok_or_else(|| Problem::bad("This is no number of a person: 32 small hexadecimal digits."))
}
