//! `key`: the keys of the organisation, the hub and its server: the next one, and an end to an old one.

mod hub;
mod opened;
mod organisation;
mod run;
mod tls;

pub(super) use opened::ByOrganisation;
pub(super) use run::Key;
pub(super) use run::key;
