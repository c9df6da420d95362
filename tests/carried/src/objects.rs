//! The object store that `tests/lib/objects.sh` starts, as a hub is told of it.

use std::net::SocketAddr;
use std::process::Command;

use anyhow::{Context, Result};

/// A folder in the object store, by an address that leads to it.
#[derive(Debug, Clone)]
pub struct Objects {
    at: SocketAddr,
    folder: String,
    key: String,
    secret: String,
}

impl Objects {
    /// A folder of this name.
    ///
    /// # Errors
    ///
    /// When there is no store.
    pub fn folder(name: &str) -> Result<Objects> {
        let variable = |name: &str| {
            std::env::var(name)
                .context("There is no object store here. Run this through tests/lib/objects.sh")
        };
        let endpoint = variable("HEADMARK_TEST_S3_ENDPOINT")?;
        let at = endpoint.trim_start_matches("http://").parse()?;
        let (key, secret) = (variable("HEADMARK_TEST_S3_KEY")?, variable("HEADMARK_TEST_S3_SECRET")?);
        Ok(Objects { at, folder: name.to_owned(), key, secret })
    }

    /// Where it listens.
    #[must_use]
    pub fn at(&self) -> SocketAddr {
        self.at
    }

    /// The same by another address.
    #[must_use]
    pub fn by(&self, at: SocketAddr) -> Objects {
        Objects { at, ..self.clone() }
    }

    pub(crate) fn name_in(&self, command: &mut Command) {
        command.args(["--photos", &format!("s3://photos/{}", self.folder)]);
        command.env("HEADMARK_S3_ENDPOINT", format!("http://{}", self.at));
        command.env("HEADMARK_S3_KEY", &self.key).env("HEADMARK_S3_SECRET", &self.secret);
    }
}
