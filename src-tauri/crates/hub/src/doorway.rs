//! How many connections may be open at once, in all and from one household.
//!
//! A connection costs the hub memory and a file handle whether anything comes over it or not. One too many is closed before
//! its handshake: a phone then tries again later, as after any broken link, and whoever is connected goes on undisturbed.

use std::collections::BTreeMap;
use std::future::{Ready, ready};
use std::io::{self, IoSlice};
use std::net::IpAddr;
use std::pin::Pin;
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use std::task::{Context, Poll};

use axum_server::accept::Accept;
use tokio::io::{AsyncRead, AsyncWrite, ReadBuf};
use tokio::net::TcpStream;

use crate::household::household;

/// Lets connections in, and counts those that are open.
#[derive(Debug, Clone)]
pub(crate) struct Doorway(Arc<Inside>);

#[derive(Debug)]
struct Inside {
    most: usize,
    most_of_one: usize,
    open: Mutex<Open>,
}

#[derive(Debug, Default)]
struct Open {
    all: usize,
    /// Only those of whom one is open.
    households: BTreeMap<String, usize>,
}

impl Doorway {
    pub(crate) fn new(most: usize, most_of_one: usize) -> Doorway {
        Doorway(Arc::new(Inside { most, most_of_one, open: Mutex::default() }))
    }

    /// Returns a place for one more; none where there are too many.
    fn place(&self, from: Option<IpAddr>) -> Option<Place> {
        let name = household(from);
        let mut open = self.0.open();
        let own = open.households.get(&name).copied().unwrap_or_default();
        if open.all >= self.0.most || own >= self.0.most_of_one {
            return None;
        }
        open.all += 1;
        open.households.insert(name.clone(), own + 1);
        drop(open);
        Some(Place { of: Arc::clone(&self.0), household: name })
    }
}

impl Inside {
    fn open(&self) -> MutexGuard<'_, Open> {
        self.open.lock().unwrap_or_else(PoisonError::into_inner)
    }
}

/// The place of one connection, given back when it ends.
#[derive(Debug)]
struct Place {
    of: Arc<Inside>,
    household: String,
}

impl Drop for Place {
    fn drop(&mut self) {
        let mut open = self.of.open();
        open.all = open.all.saturating_sub(1);
        let left = open.households.get(&self.household).map_or(0, |own| own.saturating_sub(1));
        if left == 0 {
            open.households.remove(&self.household);
        } else {
            open.households.insert(self.household.clone(), left);
        }
    }
}

impl<S> Accept<TcpStream, S> for Doorway {
    type Stream = Counted;
    type Service = S;
    type Future = Ready<io::Result<(Counted, S)>>;

    fn accept(&self, stream: TcpStream, service: S) -> Self::Future {
        let from = stream.peer_addr().ok().map(|from| from.ip());
        ready(match self.place(from) {
            Some(place) => Ok((Counted { stream, _place: place }, service)),
            None => {
                tracing::warn!("too many connections are open; one more was closed");
                Err(io::Error::other("too many connections are open"))
            }
        })
    }
}

/// A connection that has its place.
#[derive(Debug)]
pub(crate) struct Counted {
    stream: TcpStream,
    _place: Place,
}

impl Counted {
    fn stream(self: Pin<&mut Self>) -> Pin<&mut TcpStream> {
        Pin::new(&mut self.get_mut().stream)
    }
}

impl AsyncRead for Counted {
    fn poll_read(self: Pin<&mut Self>, cx: &mut Context<'_>, into: &mut ReadBuf<'_>) -> Poll<io::Result<()>> {
        self.stream().poll_read(cx, into)
    }
}

impl AsyncWrite for Counted {
    fn poll_write(self: Pin<&mut Self>, cx: &mut Context<'_>, bytes: &[u8]) -> Poll<io::Result<usize>> {
        self.stream().poll_write(cx, bytes)
    }

    fn poll_write_vectored(
        self: Pin<&mut Self>,
        cx: &mut Context<'_>,
        bytes: &[IoSlice<'_>],
    ) -> Poll<io::Result<usize>> {
        self.stream().poll_write_vectored(cx, bytes)
    }

    fn is_write_vectored(&self) -> bool {
        self.stream.is_write_vectored()
    }

    fn poll_flush(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.stream().poll_flush(cx)
    }

    fn poll_shutdown(self: Pin<&mut Self>, cx: &mut Context<'_>) -> Poll<io::Result<()>> {
        self.stream().poll_shutdown(cx)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_household_cannot_take_all_places_and_each_is_given_back() {
        let doorway = Doorway::new(4, 2);
        let [asha, ben, ilse] = ["192.0.2.1", "192.0.2.2", "192.0.2.3"].map(|from| from.parse().ok());
        let mut held: Vec<Place> = (0..2).filter_map(|_| doorway.place(asha)).collect();
        assert!(held.len() == 2 && doorway.place(asha).is_none());
        held.extend((0..3).filter_map(|_| doorway.place(ben)));
        assert!(held.len() == 4 && doorway.place(ilse).is_none(), "four are open");
        held.remove(0);
        held.push(doorway.place(ilse).unwrap());
        assert!(doorway.place(asha).is_none(), "all places are taken again");
        held.clear();
        let open = doorway.0.open();
        assert_eq!((open.all, open.households.len()), (0, 0));
    }
}
