//! Which server is the hub: the one that proves a key whose hash a hub certificate names.
//!
//! No authority of the web vouches here and no name is compared, for the hub may be reached by any address. What counts
//! is the SHA-256 of the SubjectPublicKeyInfo, and that the handshake proves the key. A certificate's dates do not
//! count either: the phone's clock may be wrong, and the organisation's word has no date.

use std::collections::BTreeSet;
use std::sync::{Arc, Mutex, PoisonError};

use rustls::client::danger::{HandshakeSignatureValid, ServerCertVerified, ServerCertVerifier};
use rustls::crypto::{CryptoProvider, verify_tls12_signature, verify_tls13_signature};
use rustls::pki_types::{CertificateDer, ServerName, UnixTime};
use rustls::server::ParsedCertificate;
use rustls::{CertificateError, ClientConfig, DigitallySignedStruct, SignatureScheme};
use sha2::{Digest, Sha256};

/// The SHA-256 of a SubjectPublicKeyInfo.
pub type KeyHash = [u8; 32];

/// Which keys are the hub's.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Pins {
    /// These: the current one and the next.
    Only(BTreeSet<KeyHash>),
    /// Not known yet, at enrolment: whichever is shown is remembered, and nothing secret is said until it was checked.
    ToBeChecked,
}

/// What a server has shown.
#[derive(Debug, Clone, Default)]
pub struct Shown(Arc<Mutex<Last>>);

#[derive(Debug, Clone, Copy, Default)]
struct Last {
    key: Option<KeyHash>,
    turned_away: bool,
}

impl Shown {
    /// Returns the hash of the key that was shown last.
    #[must_use]
    pub fn key(&self) -> Option<KeyHash> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).key
    }

    /// Returns whether the last server was turned away.
    pub(super) fn was_turned_away(&self) -> bool {
        self.0.lock().unwrap_or_else(PoisonError::into_inner).turned_away
    }

    fn put(&self, key: KeyHash, turned_away: bool) {
        *self.0.lock().unwrap_or_else(PoisonError::into_inner) = Last { key: Some(key), turned_away };
    }
}

/// Returns how to speak TLS with the hub.
pub(super) fn config(pins: Pins, shown: Shown) -> Result<ClientConfig, rustls::Error> {
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let verifier = Arc::new(Verifier { pins, shown, provider: Arc::clone(&provider) });
    let versions =
        ClientConfig::builder_with_provider(provider).with_protocol_versions(&[&rustls::version::TLS13])?;
    let mut config = versions.dangerous().with_custom_certificate_verifier(verifier).with_no_client_auth();
    // The name is never looked at, and a phone need not tell it to whoever listens.
    config.enable_sni = false;
    Ok(config)
}

#[derive(Debug)]
struct Verifier {
    pins: Pins,
    shown: Shown,
    provider: Arc<CryptoProvider>,
}

impl ServerCertVerifier for Verifier {
    fn verify_server_cert(
        &self,
        end_entity: &CertificateDer<'_>,
        _intermediates: &[CertificateDer<'_>],
        _server_name: &ServerName<'_>,
        _ocsp_response: &[u8],
        _now: UnixTime,
    ) -> Result<ServerCertVerified, rustls::Error> {
        let parsed = ParsedCertificate::try_from(end_entity)?;
        let key: KeyHash = Sha256::digest(parsed.subject_public_key_info()).into();
        let known = match &self.pins {
            Pins::Only(keys) => keys.contains(&key),
            Pins::ToBeChecked => true,
        };
        self.shown.put(key, !known);
        if known {
            Ok(ServerCertVerified::assertion())
        } else {
            Err(CertificateError::ApplicationVerificationFailure.into())
        }
    }

    fn verify_tls12_signature(
        &self,
        message: &[u8],
        cert: &CertificateDer<'_>,
        dss: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, rustls::Error> {
        verify_tls12_signature(message, cert, dss, &self.provider.signature_verification_algorithms)
    }

    fn verify_tls13_signature(
        &self,
        message: &[u8],
        cert: &CertificateDer<'_>,
        dss: &DigitallySignedStruct,
    ) -> Result<HandshakeSignatureValid, rustls::Error> {
        verify_tls13_signature(message, cert, dss, &self.provider.signature_verification_algorithms)
    }

    fn supported_verify_schemes(&self) -> Vec<SignatureScheme> {
        self.provider.signature_verification_algorithms.supported_schemes()
    }
}
