//! Somebody between the hub and its database, with a certificate of their own.

use std::sync::Arc;

use hubstore::Error;
use rustls::crypto::ring;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer, ServerName};
use rustls::{ClientConfig, RootCertStore, ServerConfig};
use tokio::io::{AsyncReadExt, AsyncWriteExt, copy_bidirectional};
use tokio::net::{TcpListener, TcpStream};
use tokio_rustls::{TlsAcceptor, TlsConnector};

use crate::certificates::{NAME, certificates};
use crate::secured::{SPEAKS, Secured, connecting};

/// The question for TLS, as PostgreSQL's protocol has it: its length, and a number in the place of a version
/// (PostgreSQL's manual, "Message Formats", SSLRequest).
const FOR_TLS: [u8; 8] = [0, 0, 0, 8, 0x04, 0xd2, 0x16, 0x2f];

fn towards_the_hub() -> TlsAcceptor {
    let shown = &certificates().forged;
    let chain = vec![CertificateDer::from_pem_slice(shown.certificate.as_bytes()).unwrap()];
    let key = PrivateKeyDer::from_pem_slice(shown.key.as_bytes()).unwrap();
    let config = ServerConfig::builder_with_provider(Arc::new(ring::default_provider()));
    let config = config.with_safe_default_protocol_versions().unwrap().with_no_client_auth();
    TlsAcceptor::from(Arc::new(config.with_single_cert(chain, key).unwrap()))
}

fn towards_the_database() -> TlsConnector {
    let mut roots = RootCertStore::empty();
    roots.add(CertificateDer::from_pem_file(&certificates().authority_file).unwrap()).unwrap();
    let config = ClientConfig::builder_with_provider(Arc::new(ring::default_provider()));
    let config = config.with_safe_default_protocol_versions().unwrap();
    TlsConnector::from(Arc::new(config.with_root_certificates(roots).with_no_client_auth()))
}

/// Passes on one connection, and reads along. Whoever finds this out hangs up, which is no fault here.
async fn pass_on(mut hub: TcpStream, port: u16) -> std::io::Result<()> {
    let mut question = [0; 8];
    hub.read_exact(&mut question).await?;
    assert_eq!(question, FOR_TLS);
    hub.write_all(b"S").await?;
    let mut hub = towards_the_hub().accept(hub).await?;
    let mut database = TcpStream::connect(("127.0.0.1", port)).await?;
    database.write_all(&FOR_TLS).await?;
    assert_eq!(database.read_u8().await?, b'S');
    let mut database = towards_the_database().connect(ServerName::try_from(NAME).unwrap(), database).await?;
    copy_bidirectional(&mut hub, &mut database).await.map(drop)
}

/// Begins to stand between, and returns the port to be fooled at.
async fn stand_between(port: u16) -> u16 {
    let listener = TcpListener::bind("127.0.0.1:0").await.unwrap();
    let at = listener.local_addr().unwrap().port();
    tokio::spawn(async move {
        while let Ok((hub, _)) = listener.accept().await {
            tokio::spawn(pass_on(hub, port));
        }
    });
    at
}

#[tokio::test]
async fn somebody_between_is_found_out_by_the_authority_and_by_a_password() {
    let (server, _speaks) = (Secured::server().await, SPEAKS.read().await);
    let between = stand_between(server.port).await;
    let verified = "sslmode=verify-full&sslrootcert=AUTHORITY";
    let error = connecting("sealed", NAME, between, verified).open().await.unwrap_err();
    assert!(matches!(error, Error::NotPrivate { .. }), "{error}");
    // Without either nobody is known: that is how it is seen that somebody stands there at all.
    connecting("sealed", NAME, between, "sslmode=require").open().await.unwrap();
    let error = connecting("bound:dry%20words", NAME, between, "sslmode=require").open().await.unwrap_err();
    assert!(error.to_string().contains("channel binding"), "{error}");
}
