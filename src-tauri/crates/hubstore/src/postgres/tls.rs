//! TLS beneath a connection, by the same rustls as everything else here.
//!
//! Written here, because the crates that do this bring nine more to read one number of a certificate, which is
//! [`super::binding`].

use std::convert::Infallible;
use std::error::Error as AnyError;
use std::io;
use std::pin::Pin;
use std::sync::Arc;
use std::sync::atomic::{AtomicBool, Ordering};
use std::task::{Context, Poll};

use deadpool_postgres::tokio_postgres::error::SqlState;
use deadpool_postgres::tokio_postgres::tls::{ChannelBinding, MakeTlsConnect, TlsConnect, TlsStream};
use deadpool_postgres::tokio_postgres::{Error as Failed, Socket};
use rustls::pki_types::ServerName;
use rustls::{CertificateError, ClientConfig};
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio_rustls::TlsConnector;
use tokio_rustls::client::TlsStream as Stream;

use super::binding::end_point;
use crate::Error;

/// Makes connections private.
#[derive(Clone)]
pub(super) struct Tls {
    config: Arc<ClientConfig>,
    done: Arc<AtomicBool>,
}

impl Tls {
    pub(super) fn by(config: ClientConfig) -> Tls {
        Tls { config: Arc::new(config), done: Arc::default() }
    }

    /// Returns whether a connection has been made private.
    pub(super) fn was_made(&self) -> bool {
        self.done.load(Ordering::SeqCst)
    }
}

impl MakeTlsConnect<Socket> for Tls {
    type Stream = Private;
    type TlsConnect = Handshake;
    type Error = Infallible;

    fn make_tls_connect(&mut self, host: &str) -> Result<Handshake, Infallible> {
        Ok(Handshake { tls: self.clone(), host: host.to_owned() })
    }
}

/// A connection that may be made private.
pub(super) struct Handshake {
    tls: Tls,
    host: String,
}

impl TlsConnect<Socket> for Handshake {
    type Stream = Private;
    type Error = Box<dyn AnyError + Send + Sync>;
    type Future = Pin<Box<dyn Future<Output = Result<Private, Self::Error>> + Send>>;

    fn connect(self, socket: Socket) -> Self::Future {
        Box::pin(async move {
            let server = ServerName::try_from(self.host)?;
            let stream = TlsConnector::from(self.tls.config).connect(server, socket).await.map_err(said)?;
            self.tls.done.store(true, Ordering::SeqCst);
            Ok(Private(stream))
        })
    }
}

/// Says what was wrong with a server; a connection that broke is left to say so itself.
fn said(error: io::Error) -> Box<dyn AnyError + Send + Sync> {
    let what = match error.get_ref().and_then(|inner| inner.downcast_ref::<rustls::Error>()) {
        Some(rustls::Error::InvalidCertificate(why)) => format!(
            "its server's certificate is not taken: {}. Compare it with sslrootcert and with the host in the address.",
            in_words(why)
        ),
        Some(other) => format!("its server and the hub do not agree how to speak TLS: {other}."),
        None => return error.into(),
    };
    Error::NotPrivate { what }.into()
}

fn in_words(why: &CertificateError) -> String {
    match why {
        CertificateError::UnknownIssuer => "no authority in sslrootcert signed it".to_owned(),
        CertificateError::BadSignature => "its signature is not that of the authority it names".to_owned(),
        other => other.to_string(),
    }
}

/// Returns why a connection failed, where it was not as private as one of the two sides wants it.
pub(super) fn not_private(error: &Failed) -> Option<Error> {
    let because = |what: &str| Some(Error::NotPrivate { what: what.to_owned() });
    if let Some(refused) = error.as_db_error() {
        let by_tls_only = *refused.code() == SqlState::INVALID_AUTHORIZATION_SPECIFICATION
            && refused.message().ends_with("no encryption");
        let text = "its server lets this user in by TLS only. Say sslmode=verify-full with sslrootcert=FILE, or require.";
        return because(text).filter(|_| by_tls_only);
    }
    let source = error.source()?;
    if let Some(said) = source.downcast_ref::<Error>() {
        return Some(said.clone());
    }
    // The client library has only these words for it.
    let text = "its server offers no TLS. Switch `ssl` on there; or say sslmode=disable, where the network is the database's own.";
    because(text).filter(|_| source.to_string() == "server does not support TLS")
}

/// A private connection.
pub(super) struct Private(Stream<Socket>);

impl TlsStream for Private {
    fn channel_binding(&self) -> ChannelBinding {
        let shown = self.0.get_ref().1.peer_certificates().and_then(<[_]>::first);
        let hash = shown.and_then(|certificate| end_point(certificate));
        hash.map_or_else(ChannelBinding::none, ChannelBinding::tls_server_end_point)
    }
}

impl AsyncRead for Private {
    fn poll_read(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        buffer: &mut ReadBuf<'_>,
    ) -> Poll<io::Result<()>> {
        Pin::new(&mut self.0).poll_read(context, buffer)
    }
}

impl AsyncWrite for Private {
    fn poll_write(
        mut self: Pin<&mut Self>,
        context: &mut Context<'_>,
        bytes: &[u8],
    ) -> Poll<io::Result<usize>> {
        Pin::new(&mut self.0).poll_write(context, bytes)
    }

    fn poll_flush(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.0).poll_flush(context)
    }

    fn poll_shutdown(mut self: Pin<&mut Self>, context: &mut Context<'_>) -> Poll<io::Result<()>> {
        Pin::new(&mut self.0).poll_shutdown(context)
    }
}
