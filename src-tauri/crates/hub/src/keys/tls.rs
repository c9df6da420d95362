//! Keys for TLS. A phone accepts the server's public key where a hub certificate names its hash, so the certificate
//! around it is self-signed and names no authority.

use std::path::Path;

use rcgen::{CertificateParams, DnType, KeyPair, PublicKeyData};
use sha2::{Digest, Sha256};

use super::private;
use crate::Error;

/// A key for TLS.
#[derive(Debug)]
pub struct TlsKey(KeyPair);

/// Returns the SHA-256 of a SubjectPublicKeyInfo, as certificates name it.
#[must_use]
pub fn spki_hash(spki: &[u8]) -> [u8; 32] {
    Sha256::digest(spki).into()
}

impl TlsKey {
    /// Makes a new key (ECDSA on P-256).
    ///
    /// # Errors
    ///
    /// When the system gives no chance.
    pub fn make() -> Result<TlsKey, Error> {
        KeyPair::generate().map(TlsKey).map_err(|error| tls(&error))
    }

    /// Reads a key from a file in PEM.
    ///
    /// # Errors
    ///
    /// When it cannot be read or is no key.
    pub fn read(path: &Path) -> Result<TlsKey, Error> {
        let pem = std::fs::read_to_string(path).map_err(Error::file(path, "read"))?;
        KeyPair::from_pem(&pem).map(TlsKey).map_err(|error| tls(&error))
    }

    /// Writes it to a new file that only its owner may read.
    ///
    /// # Errors
    ///
    /// When it cannot be written.
    pub fn write(&self, path: &Path) -> Result<(), Error> {
        private::write_private(path, self.0.serialize_pem().as_bytes())
    }

    /// Returns the hash that certificates name it by.
    #[must_use]
    pub fn hash(&self) -> [u8; 32] {
        spki_hash(&self.0.subject_public_key_info())
    }

    /// Returns a self-signed certificate for the names that the hub is reached by, in PEM.
    ///
    /// # Errors
    ///
    /// When a name is none.
    pub fn certificate(&self, names: &[String]) -> Result<String, Error> {
        let mut params = CertificateParams::new(names.to_vec()).map_err(|error| tls(&error))?;
        params.distinguished_name.push(DnType::CommonName, "headmark hub");
        let certificate = params.self_signed(&self.0).map_err(|error| tls(&error))?;
        Ok(certificate.pem())
    }

    /// Returns the key in PEM, for the server.
    #[must_use]
    pub fn pem(&self) -> zeroize::Zeroizing<String> {
        zeroize::Zeroizing::new(self.0.serialize_pem())
    }
}

fn tls(error: &rcgen::Error) -> Error {
    Error::Tls(error.to_string())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_key_that_was_written_is_read_with_the_same_hash() {
        let here = tempfile::tempdir().unwrap();
        let path = here.path().join("tls.key");
        let key = TlsKey::make().unwrap();
        key.write(&path).unwrap();
        assert_eq!(TlsKey::read(&path).unwrap().hash(), key.hash());
        assert_ne!(TlsKey::make().unwrap().hash(), key.hash());
        assert!(key.certificate(&["hub.marrowby.example".into(), "10.20.0.4".into()]).is_ok());
    }
}
