//! All subjects together.

use super::{Access, Dump, Jobs, Ledger, Logs, Meta, People, Photos, Register, Visits};

/// The whole storage of a hub.
pub trait HubStore:
    Meta + Ledger + Logs + Visits + Access + People + Register + Photos + Jobs + Dump + Send + Sync
{
}

impl<S> HubStore for S where
    S: Meta + Ledger + Logs + Visits + Access + People + Register + Photos + Jobs + Dump + Send + Sync
{
}
