//! What people are called.

use std::collections::BTreeMap;

use bodies::PersonId;
use hubstore::People;

use crate::Error;

/// Returns the names of all who are written down.
///
/// # Errors
///
/// What the store says.
pub async fn names(store: &impl People) -> Result<BTreeMap<PersonId, String>, Error> {
    Ok(store.persons().await?.into_iter().map(|person| (person.id, person.name)).collect())
}
