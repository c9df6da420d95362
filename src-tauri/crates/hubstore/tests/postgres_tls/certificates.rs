//! Authorities, and what they sign.

use std::path::PathBuf;
use std::sync::OnceLock;

use rcgen::{BasicConstraints, CertificateParams, CertifiedIssuer, DnType, IsCa, KeyPair, KeyUsagePurpose};

/// The name that the server's certificate is made out to.
pub(crate) const NAME: &str = "db.marrowby.example";

/// A certificate with its key, both in PEM.
pub(crate) struct Shown {
    pub(crate) certificate: String,
    pub(crate) key: String,
}

pub(crate) struct Certificates {
    /// The file of the authority that signed the server's certificate.
    pub(crate) authority_file: PathBuf,
    /// The file of another that has the same name.
    pub(crate) namesake_file: PathBuf,
    /// The file of another with a name of its own.
    pub(crate) stranger_file: PathBuf,
    /// The server's.
    pub(crate) server: Shown,
    /// Made out to the same name by the namesake.
    pub(crate) forged: Shown,
}

/// The same ones for all tests of this process.
pub(crate) fn certificates() -> &'static Certificates {
    static MADE: OnceLock<Certificates> = OnceLock::new();
    MADE.get_or_init(|| {
        let folder = tempfile::tempdir().unwrap().keep();
        let [authority, namesake, stranger] = ["Marrowby", "Marrowby", "Elsewhere"].map(authority);
        let file = |name: &str, issuer: &Issuer| {
            std::fs::write(folder.join(name), issuer.pem()).unwrap();
            folder.join(name)
        };
        Certificates {
            authority_file: file("authority.pem", &authority),
            namesake_file: file("namesake.pem", &namesake),
            stranger_file: file("stranger.pem", &stranger),
            server: signed_by(&authority),
            forged: signed_by(&namesake),
        }
    })
}

type Issuer = CertifiedIssuer<'static, KeyPair>;

fn authority(name: &str) -> Issuer {
    let mut params = CertificateParams::new(Vec::<String>::new()).unwrap();
    params.distinguished_name.push(DnType::CommonName, name);
    params.is_ca = IsCa::Ca(BasicConstraints::Unconstrained);
    params.key_usages = vec![KeyUsagePurpose::KeyCertSign];
    CertifiedIssuer::self_signed(params, KeyPair::generate().unwrap()).unwrap()
}

fn signed_by(issuer: &Issuer) -> Shown {
    let key = KeyPair::generate().unwrap();
    let params = CertificateParams::new(vec![NAME.to_owned()]).unwrap();
    let certificate = params.signed_by(&key, issuer).unwrap();
    Shown { certificate: certificate.pem(), key: key.serialize_pem() }
}
