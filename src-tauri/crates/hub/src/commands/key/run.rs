//! From the command line to what is done with which key.

use std::io::Write;
use std::path::PathBuf;
use std::process::ExitCode;

use anyhow::Result;
use clap::Subcommand;

use super::{ByOrganisation, hub, organisation, tls};
use crate::commands::opened::Place;

/// Keys.
#[derive(Debug, Subcommand)]
pub enum Key {
    /// Certify the server's current key and the next one, so that phones know both.
    Certify(ByOrganisation),
    /// Have the server show its next key from its next start on. Phones know it already.
    Switch,
    /// Give the hub a new key of its own, in a new epoch, and put the old one away.
    Renew {
        /// The organisation key.
        #[command(flatten)]
        organisation: ByOrganisation,
        /// Why.
        #[arg(long, default_value = "renewed")]
        reason: String,
        /// Who renews it, by name.
        #[arg(long)]
        by: String,
    },
    /// Put the key of a former hub away: what it signs from here on counts in nothing.
    Revoke {
        /// The hub's log, hexadecimal; `headmark-hub status` lists them.
        log: String,
        /// The last place of it that is still trusted, 0 for none, or that record's name; all that is held of it where
        /// nothing is said.
        #[arg(long)]
        last: Option<String>,
        /// Why.
        #[arg(long)]
        reason: String,
        /// Who revokes it, by name.
        #[arg(long)]
        by: String,
        /// The organisation key.
        #[command(flatten)]
        organisation: ByOrganisation,
    },
    /// Make the organisation's next key. The old one says nothing more that counts.
    Succeed {
        /// The organisation key as it is now.
        #[command(flatten)]
        organisation: ByOrganisation,
        /// The file for the new one; it is not there yet.
        #[arg(long)]
        to: PathBuf,
        /// A file whose first line is the passphrase for the new one; asked for where it is left out.
        #[arg(long)]
        new_passphrase_file: Option<PathBuf>,
    },
}

pub(crate) async fn key(place: &Place, key: Key, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    match key {
        Key::Certify(by) => tls::certify(place, &by, out).await,
        Key::Switch => tls::switch(place, out).await,
        Key::Renew { organisation, reason, by } => {
            hub::renew(place, &organisation, (&reason, &by), out).await
        }
        Key::Revoke { log, last, reason, by, organisation } => {
            hub::revoke(place, &organisation, (&log, last.as_deref()), (&reason, &by), out).await
        }
        Key::Succeed { organisation, to, new_passphrase_file } => {
            organisation::succeed(place, &organisation, (&to, new_passphrase_file.as_deref()), out).await
        }
    }
}
