//! The fifty visits that were frozen for measuring: `tests/suite/wire/fifty-visits`.

use std::path::{Path, PathBuf};

use anyhow::{Context, Result};
use record::{PublicKey, SecretKey, read_export};

/// Fifty visits of one phone.
#[derive(Debug)]
pub struct Fifty {
    /// The phone's secret key, public and good for nothing else.
    pub secret: [u8; 32],
    /// Its key.
    pub key: PublicKey,
    /// The entries, first to last.
    pub entries: Vec<Vec<u8>>,
    /// The file that holds them, as it is.
    pub file: Vec<u8>,
}

impl Fifty {
    /// Returns the key that signed them.
    #[must_use]
    pub fn signer(&self) -> SecretKey {
        SecretKey::take(&mut self.secret.clone())
    }

    /// Returns the bodies of the visits with kind and version.
    ///
    /// # Errors
    ///
    /// When an entry cannot be read.
    pub fn bodies(&self) -> Result<Vec<Body>> {
        let body = |bytes: &Vec<u8>| {
            let entry = record::open(bytes)?;
            let kind = (entry.header.kind, entry.header.body_version);
            Ok(Body { kind, bytes: entry.body.to_vec() })
        };
        self.entries.iter().map(body).collect()
    }
}

/// The body of a visit.
#[derive(Debug, Clone)]
pub struct Body {
    /// Its kind and version.
    pub kind: (record::Kind, u32),
    /// What it says.
    pub bytes: Vec<u8>,
}

/// Reads the frozen visits.
///
/// # Errors
///
/// When they are not there, or not fifty.
pub fn fifty() -> Result<Fifty> {
    let file = std::fs::read(folder().join("fifty.headmark"))?;
    let export = read_export(&file)?;
    let entries: Vec<Vec<u8>> = export.entries.iter().map(|entry| entry.bytes.to_vec()).collect();
    anyhow::ensure!(entries.len() == 50, "{} visits are frozen, and not 50", entries.len());
    let key = export.key.clone();
    let hex = std::fs::read_to_string(folder().join("key.hex"))?;
    Ok(Fifty { secret: secret(hex.trim()).context("key.hex holds no key")?, key, entries, file })
}

/// Where they are kept.
#[must_use]
pub(crate) fn folder() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../suite/wire/fifty-visits")
}

fn secret(hex: &str) -> Option<[u8; 32]> {
    let byte = |at: usize| u8::from_str_radix(hex.get(2 * at..2 * at + 2)?, 16).ok();
    (0..32).map(byte).collect::<Option<Vec<u8>>>()?.try_into().ok()
}
