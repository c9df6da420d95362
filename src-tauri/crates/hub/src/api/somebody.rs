//! Somebody, as answers name them.

use std::collections::BTreeMap;

use bodies::PersonId;
use serde::Serialize;

use super::{App, Problem};
use crate::names::hex;
use crate::people::names;

/// Somebody, as records name them, and as the hub does.
#[derive(Debug, Serialize, utoipa::ToSchema)]
pub(super) struct Somebody {
    /// The number, hexadecimal.
    number: String,
    /// The name; none where it was erased or was never here.
    name: Option<String>,
}

/// Whom the hub knows by name.
#[derive(Debug)]
pub(super) struct Names(BTreeMap<PersonId, String>);

impl Names {
    pub(super) async fn of(app: &App) -> Result<Names, Problem> {
        Ok(Names(names(&app.hub().store).await?))
    }

    pub(super) fn somebody(&self, person: PersonId) -> Somebody {
        Somebody { number: hex(&person.0), name: self.0.get(&person).cloned() }
    }
}
