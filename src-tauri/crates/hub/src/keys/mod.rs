//! The hub's secrets: the organisation key that is kept away from the machine, the hub's own key, the keys for TLS.

mod organisation;
mod passphrase;
mod private;
mod sealed;
mod tls;

pub use organisation::{OrganisationFile, OrganisationKey, Place};
pub use passphrase::Passphrase;
pub use private::{make_folder, read_key, replace_private, write_private};
pub use sealed::Cost;
pub use tls::{TlsKey, spki_hash};
