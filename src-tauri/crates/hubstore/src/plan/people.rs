//! What a change to somebody who is written down comes to.

use bodies::PersonId;

use crate::{Changed, HubPerson};

/// Whom a change is about; none where it is about nobody.
pub(crate) fn who(changed: &Changed<Option<HubPerson>>) -> Option<PersonId> {
    changed.was.as_ref().or(changed.is.as_ref()).map(|person| person.id)
}

/// Whether the person's sign-ins end: the password by which they came about is none any more.
pub(crate) fn ends_sign_ins(changed: &Changed<Option<HubPerson>>) -> bool {
    let secret = |person: &Option<HubPerson>| person.as_ref().map(|person| person.secret.clone());
    secret(&changed.was) != secret(&changed.is)
}
