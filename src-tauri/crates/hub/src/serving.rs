//! Answering until told to stop: TLS, the router, the work in the background, and an orderly end.

use std::net::{SocketAddr, TcpListener};
use std::sync::Arc;
use std::time::Duration;

use axum_server::Handle;
use axum_server::tls_rustls::{RustlsAcceptor, RustlsConfig};
use hubstore::Access;
use hyper_util::rt::TokioTimer;
use rustls::ServerConfig;
use rustls::pki_types::pem::PemObject;
use rustls::pki_types::{CertificateDer, PrivateKeyDer};
use tokio::sync::watch;

use crate::Error;
use crate::api::{App, router};
use crate::doorway::Doorway;
use crate::folder::Folder;
use crate::recompute::work_through;

/// How long requests may go on after the hub was told to stop.
const TO_FINISH: Duration = Duration::from_secs(30);
/// How long a handshake may take.
const HANDSHAKE: Duration = Duration::from_secs(20);
/// How often what has expired is cleared away.
const SWEEP: Duration = Duration::from_secs(60);

/// Returns how the server speaks TLS: version 1.3 and 1.2, with the key that its certificate names.
///
/// # Errors
///
/// [`Error::Tls`], or when a file cannot be read.
pub fn tls(folder: &Folder) -> Result<ServerConfig, Error> {
    let bad = |error: &dyn std::fmt::Display| Error::Tls(error.to_string());
    let certificate = CertificateDer::from_pem_file(folder.tls_certificate()).map_err(|error| bad(&error))?;
    let key = PrivateKeyDer::from_pem_file(folder.tls_key()).map_err(|error| bad(&error))?;
    let provider = Arc::new(rustls::crypto::ring::default_provider());
    let builder = ServerConfig::builder_with_provider(provider);
    let builder = builder.with_safe_default_protocol_versions().map_err(|error| bad(&error))?;
    let builder = builder.with_no_client_auth();
    let mut config = builder.with_single_cert(vec![certificate], key).map_err(|error| bad(&error))?;
    config.alpn_protocols = vec![b"http/1.1".to_vec()];
    Ok(config)
}

/// Answers on a listener until `stop` says so; then lets what runs finish and closes.
///
/// # Errors
///
/// When the listener fails.
pub async fn serve(
    app: App,
    listener: TcpListener,
    tls: ServerConfig,
    stop: watch::Receiver<bool>,
) -> Result<(), Error> {
    let failed = |cause| Error::File { path: "the listener".into(), done: "used", cause };
    listener.set_nonblocking(true).map_err(failed)?;
    let handle = Handle::<SocketAddr>::new();
    let background = tokio::spawn(background(app.clone(), stop.clone()));
    let closing = tokio::spawn(close_when(handle.clone(), stop));
    let config = RustlsConfig::from_config(Arc::new(tls));
    let limits = app.limits();
    let doorway = Doorway::new(limits.connections, limits.connections_of_one);
    let acceptor = RustlsAcceptor::new(config).handshake_timeout(HANDSHAKE).acceptor(doorway);
    let server = axum_server::from_tcp(listener).map_err(failed)?;
    // Told apart from a later HTTP, a connection could be silent for ever.
    let mut server = server.acceptor(acceptor).handle(handle).http1_only();
    server.http_builder().http1().timer(TokioTimer::new()).header_read_timeout(limits.header);
    let service = router(app).into_make_service_with_connect_info::<SocketAddr>();
    let served = server.serve(service).await.map_err(failed);
    closing.abort();
    if served.is_err() {
        background.abort();
    }
    // The background stops by the same word; what it was at is claimed again later.
    let _ = background.await;
    served
}

async fn close_when(handle: Handle<SocketAddr>, mut stop: watch::Receiver<bool>) {
    while !*stop.borrow() {
        if stop.changed().await.is_err() {
            return;
        }
    }
    handle.graceful_shutdown(Some(TO_FINISH));
}

async fn background(app: App, stop: watch::Receiver<bool>) {
    let hub = app.hub();
    tokio::join!(work_through(&hub.store, &hub.clock, stop.clone()), sweep(&app, stop));
}

async fn sweep(app: &App, mut stop: watch::Receiver<bool>) {
    while !*stop.borrow() {
        let now = app.hub().now();
        if let Err(error) = app.hub().store.sweep(now, now.0.div_euclid(60_000) - 1).await {
            tracing::warn!(%error, "what has expired could not be cleared away; it is tried again");
        }
        tokio::select! {
            () = tokio::time::sleep(SWEEP) => {}
            changed = stop.changed() => if changed.is_err() { return },
        }
    }
}
