//! The entry of a change.

use bodies::{CHANGE, CHANGE_VERSION, Change, ChangeMade, PersonId};

use crate::Error;
use crate::saying::Say;

/// Returns what is to be said of a change. `by` is who made it; none at the hub's own machine, where nobody was named.
pub(crate) fn entry(by: Option<PersonId>, made: ChangeMade) -> Result<Say, Error> {
    Ok(Say { kind: CHANGE, version: CHANGE_VERSION, body: Change { by, made }.encode()? })
}
