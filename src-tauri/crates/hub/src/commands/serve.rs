//! `serve`: answering until told to stop.

use std::io::Write;
use std::net::TcpListener;
use std::process::ExitCode;

use anyhow::{Context, Result, ensure};
use tokio::sync::watch;

use super::arguments::Serve;
use super::opened::Place;
use crate::api::{App, Limits};
use crate::restoring::restored;
use crate::serving::{serve as answer, tls};

pub(super) async fn serve(place: &Place, asked: &Serve, out: &mut (dyn Write + Send)) -> Result<ExitCode> {
    let settings = place.folder.settings()?;
    // Several processes share a PostgreSQL; a file in the folder is one process's.
    let _lock = if place.database.is_none() { Some(place.folder.lock()?) } else { None };
    let tls = tls(&place.folder)?;
    let hub = place.hub().await?;
    ensure!(
        hub.trusted().await?.trust().revoked(hub.identity.log).is_none(),
        "The organisation put this hub's key away: nothing that it signs counts any more. Start the hub that took its place."
    );
    let listener = TcpListener::bind(asked.listen).with_context(|| {
        format!("Nothing can listen at {}. Stop what does, or name another port with --listen.", asked.listen)
    })?;
    let at = listener.local_addr()?;
    if restored(&hub.store).await?.is_some() {
        tracing::warn!(
            "the hub was restored and its phones were not looked through: revocations may be missing"
        );
    }
    let app = App::new(hub, place.photo_store()?, settings.address, Limits::default());
    let stop = stop_signal()?;
    writeln!(out, "Listening at https://{at}")?;
    out.flush()?;
    tokio::spawn(clear_pieces(app.clone()));
    tracing::info!(store = app.hub().store.word(), "the hub answers");
    answer(app, listener, tls, stop).await?;
    tracing::info!("the hub has finished what it was at, and closes");
    Ok(ExitCode::SUCCESS)
}

/// Drops pieces of photos that nobody waits for any more. Whoever serves need not wait for it, and a store of photos that is
/// away for a while keeps no hub from starting.
async fn clear_pieces(app: App) {
    match app.photos().clear_pieces(&app.hub().store).await {
        Ok(0) => {}
        Ok(dropped) => tracing::info!(dropped, "pieces of photos that nobody waits for were dropped"),
        Err(error) => {
            tracing::warn!(%error, "pieces of photos could not be cleared; the next start tries again")
        }
    }
}

/// Tells when the system, or a person at the terminal, says to stop.
fn stop_signal() -> Result<watch::Receiver<bool>> {
    let (told, stop) = watch::channel(false);
    #[cfg(unix)]
    let mut terminate = tokio::signal::unix::signal(tokio::signal::unix::SignalKind::terminate())?;
    tokio::spawn(async move {
        #[cfg(unix)]
        tokio::select! {
            _ = terminate.recv() => {}
            _ = tokio::signal::ctrl_c() => {}
        }
        #[cfg(not(unix))]
        let _ = tokio::signal::ctrl_c().await;
        let _ = told.send(true);
        // Held until the process ends, so that who waits for the word does not take its loss for one.
        told.closed().await;
    });
    Ok(stop)
}
